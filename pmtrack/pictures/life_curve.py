"""The life curve of a family of tools: lives, the law fitted to them, and the interval advised."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pmtrack.pictures.svg_file import style, svg
from pmtrack.rules.quantity import shorten
from pmtrack.rules.text import shown
from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.kaplan_meier import Step
from pmtrack.statistics.lives import Life
from pmtrack.statistics.weibull import Weibull

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_SIZE = (8.0, 5.6)  # inches
_POINTS = 200  # of the fitted curve
_ROOM = 1.08  # to the right of what is drawn
_NEAR = 0.2  # of the width: names of upright lines nearer than that would meet
_LAW = "#0b3d91"  # dark enough for a black and white print


@dataclass(frozen=True)
class Point:
    """An amount with its limits at which a share of lives still lasts, and its name."""

    name: str
    amount: Estimate
    alive: float


@dataclass(frozen=True)
class LifeChart:
    """What is drawn; all amounts in one unit, which the axis names."""

    title: str
    under: str
    axis: str
    description: str
    lives: Sequence[Life]
    steps: Sequence[Step]
    law: Weibull | None
    points: Sequence[Point]
    lines: Sequence[tuple[str, float]]  # upright ones with their names
    percent: bool = False  # amounts are in percent of an interval

    @property
    def furthest(self) -> float:
        """How far the axis goes."""
        amounts = [life.amount for life in self.lives] + [at for _, at in self.lines]
        return _ROOM * max(amounts + [point.amount.value for point in self.points])


def life_curve_svg(chart: LifeChart) -> bytes:
    """The picture as an SVG file. Raises Refused where the library for it is missing."""
    with style():
        from matplotlib.figure import Figure

        figure = Figure(figsize=_SIZE, layout="constrained")
        axes = figure.add_subplot()
        _frame(axes, chart)
        _draw_steps(axes, chart)
        _draw_law(axes, chart)
        _draw_lives(axes, chart)
        for number, point in enumerate(chart.points):
            _draw_point(axes, point, "Ds"[number % 2], chart.furthest)
        _draw_lines(axes, chart)
        figure.legend(loc="outside lower center", ncols=3, frameon=False, fontsize=9)
        return svg(figure, chart.title, chart.description)


def _frame(axes: "Axes", chart: LifeChart) -> None:
    title = shorten(shown(chart.title), 70)
    under = shorten(shown(chart.under), 100)
    axes.figure.suptitle(title, x=0.01, ha="left", fontsize=13, fontweight="bold")
    axes.set_title(under, loc="left", fontsize=9, pad=20)
    axes.set_xlabel(shorten(shown(chart.axis), 80))
    axes.set_ylabel("share of lives that last, %")
    axes.set_xlim(0, chart.furthest)
    axes.set_ylim(0, 1.02)
    axes.set_yticks([n / 10 for n in range(0, 11, 2)])
    axes.yaxis.set_major_formatter(lambda value, _: f"{value * 100:.0f}")
    axes.xaxis.set_major_formatter(lambda value, _: f"{value:,.10g}{' %' if chart.percent else ''}")
    axes.grid(True, color="#dddddd", linewidth=0.6)
    axes.set_axisbelow(True)


def _draw_steps(axes: "Axes", chart: LifeChart) -> None:
    """The product-limit curve, to the longest life and no further, with its limits."""
    end = max(life.amount for life in chart.lives)
    ages = [0.0, *(step.amount for step in chart.steps), end]
    alive = [1.0, *(step.alive.value for step in chart.steps)]
    axes.step(ages, [*alive, alive[-1]], where="post", color="black", linewidth=1.6,
              label="lives seen (Kaplan-Meier)")  # fmt: skip
    if not chart.steps:
        return
    for number, side in enumerate(_sides(chart.steps)):
        axes.step(ages, [1.0, *side, side[-1]], where="post", color="black", linewidth=0.9,
                  linestyle=":", label="" if number else "their 90 % limits")  # fmt: skip


def _sides(steps: Sequence[Step]) -> tuple[list[float], list[float]]:
    low = [0.0 if s.alive.low is None else s.alive.low for s in steps]
    high = [s.alive.value if s.alive.high is None else s.alive.high for s in steps]
    return low, high


def _draw_law(axes: "Axes", chart: LifeChart) -> None:
    if chart.law is None:
        return
    ages = [chart.furthest * n / _POINTS for n in range(_POINTS + 1)]
    alive = [chart.law.reliability(age) for age in ages]
    axes.plot(ages, alive, color=_LAW, linewidth=2, linestyle="--", label="life curve (Weibull)")


def _draw_lives(axes: "Axes", chart: LifeChart) -> None:
    """Each life at the foot: a cross where it failed, a tick where it was cut short."""
    failed = [life.amount for life in chart.lives if life.failed]
    others = [life.amount for life in chart.lives if not life.failed]
    foot: dict[str, Any] = {"linestyle": "none", "color": "black", "clip_on": False}
    axes.plot(failed, [0.065] * len(failed), marker="x", markersize=7, **foot,
              label=f"failed: {len(failed)}")  # fmt: skip
    axes.plot(others, [0.02] * len(others), marker="|", markersize=8, **foot,
              label=f"cut short: {len(others)}")  # fmt: skip


def _draw_point(axes: "Axes", point: Point, marker: str, furthest: float) -> None:
    """A point with its limits; where there is no upper one the line runs out of the picture."""
    value, low = point.amount.value, point.amount.low or 0.0
    high = 2 * furthest if point.amount.high is None else point.amount.high
    reach = [[value - low], [high - value]]
    axes.errorbar([value], [point.alive], xerr=reach, marker=marker, markersize=7,
                  color=_LAW, markerfacecolor="white", markeredgewidth=1.6, linewidth=1.6,
                  capsize=5, linestyle="none", label=point.name)  # fmt: skip


def _draw_lines(axes: "Axes", chart: LifeChart) -> None:
    """Upright lines, each under its name; the names of near ones lean away from each other."""
    lines = sorted(chart.lines, key=lambda line: line[1])
    near = len(lines) > 1 and lines[-1][1] - lines[0][1] < _NEAR * chart.furthest
    for number, (name, at) in enumerate(lines):
        dashes = "-." if name == chart.lines[0][0] else (0, (1, 1))
        axes.axvline(at, color="black", linewidth=1.3, linestyle=dashes)
        axes.annotate(name, (at, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 3),
                      textcoords="offset points", va="bottom", fontsize=9,
                      ha=("right", "left")[number] if near else "center")  # fmt: skip
