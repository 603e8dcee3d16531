"""Downtime week by week as bars, over what was made in the same weeks."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from pmtrack.pictures.report_style import (
    LINE,
    PLANNED,
    UNPLANNED,
    WIDTH,
    label,
    quiet_grid,
    report_style,
)
from pmtrack.pictures.svg_file import svg

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_LABELS = 14  # at most, along the foot
_HEIGHT, _PANEL = 1.6, 0.95  # inches of the bars, and of each line under them


@dataclass(frozen=True)
class WeekSpan:
    """A week, or another span of dates, with its hours; `whole` without days cut off or closed."""

    name: str
    first: date
    scheduled: float
    planned: float
    unplanned: float
    whole: bool


@dataclass(frozen=True)
class Series:
    """An amount for each span; None where it is not known."""

    name: str
    amounts: Sequence[float | None]


@dataclass(frozen=True)
class WeekChart:
    """The spans in order and what was made in them."""

    title: str
    description: str
    spans: Sequence[WeekSpan]
    made: Sequence[Series]


def week_bars_svg(chart: WeekChart) -> bytes:
    """The picture as an SVG file. Raises Refused where the library for it is missing."""
    with report_style():
        from matplotlib.figure import Figure

        heights = [_HEIGHT, *(_PANEL for _ in chart.made)]
        figure = Figure(figsize=(WIDTH, sum(heights)), layout="constrained")
        rows = figure.subplots(len(heights), 1, sharex=True, squeeze=False, height_ratios=heights)
        panels: list[Axes] = [row[0] for row in rows]
        _bars(panels[0], chart.spans)
        for axes, series in zip(panels[1:], chart.made, strict=True):
            _line(axes, series, chart.spans)
        _foot(panels[-1], chart.spans)
        for axes in panels:
            _closed(axes, chart.spans)
        figure.align_ylabels(panels)
        return svg(figure, chart.title, chart.description)


def _bars(axes: "Axes", spans: Sequence[WeekSpan]) -> None:
    at = range(len(spans))
    unplanned = [span.unplanned for span in spans]
    axes.bar(at, unplanned, 0.72, **UNPLANNED, label="down, unplanned")
    axes.bar(at, [span.planned for span in spans], 0.72, bottom=unplanned, **PLANNED,
             label="in planned stops")  # fmt: skip
    axes.set_ylabel("machine hours")
    axes.set_ylim(0, 1.08 * max([span.unplanned + span.planned for span in spans]) or 1)
    axes.legend(loc="lower right", bbox_to_anchor=(1, 0.98), ncols=2, frameon=False, fontsize=8)
    axes.set_title("Hours down")
    quiet_grid(axes)


def _line(axes: "Axes", series: Series, spans: Sequence[WeekSpan]) -> None:
    """Points joined by a line; hollow where the span is not whole, a gap where none was worked."""
    made = [
        float("nan") if amount is None or not span.scheduled else amount
        for amount, span in zip(series.amounts, spans, strict=True)
    ]
    axes.plot(range(len(spans)), made, **LINE)
    short = [(n, made[n]) for n, span in enumerate(spans) if not span.whole]
    axes.plot([n for n, _ in short], [amount for _, amount in short], **LINE | {
        "linestyle": "none", "markerfacecolor": "white"})  # fmt: skip
    axes.set_title(label(series.name, 100))
    most = max([amount for amount in made if amount == amount], default=0.0)
    axes.set_ylim(0, 1.12 * most or 1)
    axes.locator_params(axis="y", nbins=4)
    axes.yaxis.set_major_formatter(lambda value, _: f"{value:,.10g}")
    axes.set_ylabel("made")
    quiet_grid(axes)


def _foot(axes: "Axes", spans: Sequence[WeekSpan]) -> None:
    """Names of some of the spans, by their first days."""
    step = -(-len(spans) // _LABELS)
    ticks = range(0, len(spans), step)
    axes.set_xticks(ticks, [_tick(spans, n, step) for n in ticks])
    axes.set_xlim(-0.7, len(spans) - 0.3)


def _tick(spans: Sequence[WeekSpan], at: int, step: int) -> str:
    """A name, with the year under it where that is a new one."""
    year = spans[at].first.year
    is_new = at < step or spans[at - step].first.year != year
    return f"{spans[at].name}\n{year}" if is_new else spans[at].name


def _closed(axes: "Axes", spans: Sequence[WeekSpan]) -> None:
    """Grey where nothing was scheduled."""
    for number, span in enumerate(spans):
        if not span.scheduled:
            axes.axvspan(number - 0.5, number + 0.5, color="#e4e4e4", linewidth=0, zorder=0)
