"""Jobs on time month by month: all of them, and those that a law or standard demands."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from pmtrack.pictures.report_style import ACCENT, HALF, quiet_grid, report_style
from pmtrack.pictures.svg_file import svg

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HEIGHT = 2.5  # inches
_LABELS = 7  # at most, along the foot
_STEP = 10  # percent
_ALL: dict[str, Any] = {"color": "black", "linewidth": 1.3, "marker": "o", "markersize": 4}
_LAW: dict[str, Any] = {"color": ACCENT, "linewidth": 1.1, "marker": "s", "markersize": 5.5,
                        "markerfacecolor": "white", "linestyle": "--"}  # fmt: skip


@dataclass(frozen=True)
class MonthShare:
    """A month by its first date, with its two shares on time; None without a job decided."""

    first: date
    all: float | None
    demanded: float | None

    @property
    def name(self) -> str:
        """Like `Jul 2026`."""
        return f"{self.first:%b %Y}"


@dataclass(frozen=True)
class OnTimeChart:
    """The months in order."""

    title: str
    description: str
    months: Sequence[MonthShare]


def floor_of(months: Sequence[MonthShare]) -> int:
    """Where the axis begins, in percent: whole tens, so that small differences show."""
    known = [share for m in months for share in (m.all, m.demanded) if share is not None]
    return max(0, min(90, int(100 * min(known, default=0.0) // _STEP) * _STEP) - _STEP)


def on_time_line_svg(chart: OnTimeChart) -> bytes:
    """The picture as an SVG file. Raises Refused where the library for it is missing."""
    with report_style():
        from matplotlib.figure import Figure

        figure = Figure(figsize=(HALF, _HEIGHT), layout="constrained")
        axes = figure.add_subplot()
        _line(axes, [month.demanded for month in chart.months], "by law or standard", _LAW)
        _line(axes, [month.all for month in chart.months], "all jobs", _ALL)
        floor = floor_of(chart.months)
        axes.set_ylim(floor, 100 + 0.03 * (100 - floor))
        axes.set_xlim(-0.5, len(chart.months) - 0.5)
        step = -(-len(chart.months) // _LABELS)
        ticks = range(0, len(chart.months), step)
        axes.set_xticks(ticks, [_tick(chart.months, n, step) for n in ticks])
        axes.set_ylabel("jobs on time, %")
        axes.locator_params(axis="y", integer=True)
        axes.yaxis.set_major_formatter(lambda value, _: f"{value:.0f}")
        axes.legend(loc="lower right", frameon=False, fontsize=7, ncols=2, handlelength=3)
        quiet_grid(axes)
        return svg(figure, chart.title, chart.description)


def _tick(months: Sequence[MonthShare], at: int, step: int) -> str:
    """A month, with the year under it where that is a new one."""
    first = months[at].first
    is_new = at < step or months[at - step].first.year != first.year
    return f"{first:%b}\n{first.year}" if is_new else f"{first:%b}"


def _line(axes: "Axes", shares: Sequence[float | None], name: str, look: dict[str, Any]) -> None:
    if all(share is None for share in shares):
        return
    known = [float("nan") if share is None else 100 * share for share in shares]
    axes.plot(range(len(known)), known, label=name, clip_on=False, zorder=3, **look)
