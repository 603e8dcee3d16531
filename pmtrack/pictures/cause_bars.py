"""Causes of breakdowns as bars, the most hours first, with the share of them together (Pareto)."""

from collections.abc import Sequence
from dataclasses import dataclass

from pmtrack.pictures.report_style import (
    ACCENT,
    UNPLANNED,
    WIDTH,
    label,
    report_style,
)
from pmtrack.pictures.svg_file import svg

_ROW, _MARGINS = 0.185, 0.5  # inches
_NAME = 34  # letters
_ROOM = 1.42  # to the right of the longest bar, for its figures


@dataclass(frozen=True)
class CauseBar:
    """A cause with its unplanned hours and stops, and the share of it and those before it."""

    cause: str
    hours: float
    stops: int
    so_far: float


@dataclass(frozen=True)
class CauseChart:
    """The bars from the top down."""

    title: str
    description: str
    bars: Sequence[CauseBar]


def cause_bars_svg(chart: CauseChart) -> bytes:
    """The picture as an SVG file. Raises Refused where the library for it is missing."""
    with report_style():
        from matplotlib.figure import Figure

        figure = Figure(figsize=(WIDTH, _MARGINS + _ROW * len(chart.bars)), layout="constrained")
        axes = figure.add_subplot()
        for row, bar in enumerate(chart.bars):
            axes.barh(row, bar.hours, 0.66, **UNPLANNED)
            axes.annotate(
                _figures(bar), (bar.hours, row), xytext=(4, 0), textcoords="offset points",
                va="center", color=ACCENT,
            )  # fmt: skip
        axes.set_yticks(range(len(chart.bars)), [label(bar.cause, _NAME) for bar in chart.bars])
        axes.set_ylim(len(chart.bars) - 0.4, -0.6)
        axes.set_xlim(0, _ROOM * max(bar.hours for bar in chart.bars))
        axes.set_xlabel("scheduled hours down, unplanned")
        axes.xaxis.set_major_formatter(lambda value, _: f"{value:,.10g}")
        axes.tick_params(axis="y", length=0)
        return svg(figure, chart.title, chart.description)


def _figures(bar: CauseBar) -> str:
    stops = f"{bar.stops} stop{'' if bar.stops == 1 else 's'}"
    return f"{bar.hours:,.1f} h in {stops}; so far {100 * bar.so_far:.0f} % of all"
