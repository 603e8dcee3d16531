"""Failures so far by operating hours: the worst machines, and the mean of all with its limits."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pmtrack.pictures.report_style import ACCENT, HALF, label, quiet_grid, report_style
from pmtrack.pictures.svg_file import svg
from pmtrack.statistics.histories import History
from pmtrack.statistics.mcf import MeanCount

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HEIGHT = 2.5  # inches
_LOOKS: tuple[dict[str, Any], ...] = (
    {"color": "black", "linestyle": "-"},
    {"color": ACCENT, "linestyle": "-."},
)


@dataclass(frozen=True)
class FailureChart:
    """Machines by name with their failures, and the mean function; none of a machine by itself."""

    title: str
    description: str
    machines: Sequence[tuple[str, History]]
    together: Sequence[MeanCount]


def failure_curve_svg(chart: FailureChart) -> bytes:
    """The picture as an SVG file. Raises Refused where the library for it is missing."""
    with report_style():
        from matplotlib.figure import Figure

        figure = Figure(figsize=(HALF, _HEIGHT), layout="constrained")
        axes = figure.add_subplot()
        end = max(history.end for _, history in chart.machines)
        _mean(axes, chart.together, end)
        for number in reversed(range(len(chart.machines))):
            _machine(axes, *chart.machines[number], number)
        axes.set_xlim(0, end)
        axes.set_ylim(bottom=0)
        axes.xaxis.set_major_formatter(lambda value, _: f"{value:,.10g}")
        axes.set_xlabel("operating hours since the watch began")
        axes.set_ylabel("failures so far")
        handles, names = axes.get_legend_handles_labels()
        axes.legend(handles[::-1], names[::-1], loc="upper left", frameon=False, fontsize=7,
                    handlelength=2.6)  # fmt: skip
        quiet_grid(axes)
        return svg(figure, chart.title, chart.description)


def _machine(axes: "Axes", name: str, history: History, number: int) -> None:
    """A step up for each failure, and the straight line of failures at a steady pace."""
    count = len(history.failures)
    ages = [0.0, *history.failures, history.end]
    axes.plot([0, history.end], [0, count], color="#777777", linewidth=0.7,
              label="at a steady pace" if number == 0 else None)  # fmt: skip
    axes.step(ages, [*range(count + 1), count], where="post", linewidth=1.5,
              label=label(name, 24), **_LOOKS[number % 2])  # fmt: skip


def _mean(axes: "Axes", steps: Sequence[MeanCount], end: float) -> None:
    """The mean of all machines, and the limits that its spread from machine to machine sets."""
    if not steps:
        return
    ages = [0.0, *(step.age for step in steps), max(end, steps[-1].age)]
    means = [0.0, *(step.mean.value for step in steps)]
    low = [0.0, *(step.mean.low or 0.0 for step in steps)]
    high = [0.0, *(step.mean.high or step.mean.value for step in steps)]
    axes.fill_between(ages, [*low, low[-1]], [*high, high[-1]], step="post", facecolor="#dddddd",
                      edgecolor="#777777", linewidth=0.5, label="its 90 % limits")  # fmt: skip
    axes.step(ages, [*means, means[-1]], where="post", color="black", linewidth=1.2,
              linestyle=(0, (1, 1)), label="mean of all machines")  # fmt: skip
