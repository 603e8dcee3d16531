"""How many lives last how long: lines with bars for the terminal."""

from bisect import bisect_right
from dataclasses import dataclass
from math import ceil

from rich.table import Table

from pmtrack.actions.tool_advice import FamilyLife, Study
from pmtrack.screens.life_words import amount_of, percent, unit_of
from pmtrack.screens.terminal import bar, table
from pmtrack.statistics.interval_advice import step_of

_BAR = 24
_LINES = 6  # at least
_MARKS = 8  # so many are drawn one by one


@dataclass(frozen=True)
class BarLine:
    """Up to a share of the interval: the share alive then, and lives that ended since the line."""

    until: float
    alive: float
    failed: int
    cut_short: int
    marks: tuple[str, ...] = ()


def bar_lines(told: FamilyLife) -> list[BarLine]:
    """The lives of a family in even steps of its unit, at least to the present interval."""
    study, factor = told.whole, float(told.family.interval or 100)
    furthest = max(study.longest, 1.0) * factor
    step = step_of(furthest / _LINES)
    edges = [float(step * n) / factor for n in range(1, ceil(furthest / step - 1e-9) + 1)]
    before = [0.0, *edges]
    return [_line(study, start, end) for start, end in zip(before, edges, strict=False)]


def _line(study: Study, start: float, end: float) -> BarLine:
    ended = [life.failed for life in study.shares if _within(start, life.amount, end)]
    marks = [name for name, at in _marked(study) if _within(start, at, end)]
    return BarLine(end, _alive(study, end), sum(ended), len(ended) - sum(ended), tuple(marks))


def _within(start: float, amount: float, end: float) -> bool:
    return start * (1 + 1e-12) < amount <= end * (1 + 1e-12)


def _alive(study: Study, share: float) -> float:
    """The share of lives that outlast an amount."""
    place = bisect_right([step.amount for step in study.steps], share * (1 + 1e-12))
    return study.steps[place - 1].alive.value if place else 1.0


def _marked(study: Study) -> list[tuple[str, float]]:
    """What is marked beside the bars, in order: B10, what is aimed at by costs, the interval."""
    found = [("interval", 1.0)]
    if study.b10:
        found.append(("B10", study.b10.value))
    aims = {a.aim.age.value for a in study.advice if a.aim and a.aim.by_costs}
    found += [("least cost", age) for age in aims]
    return sorted(found, key=lambda mark: mark[1])


def bar_table(told: FamilyLife) -> Table:
    """The bars: how many last, an x for each failure, an o for each life cut short."""
    unit = unit_of(told.family) if told.family.interval else "Of interval"
    head = unit[0].upper() + unit[1:]
    made = table(head, "Last", "", "Failed", "Cut short", "", right=(head, "Last"))
    for line in bar_lines(told):
        made.add_row(
            amount_of(told, line.until),
            percent(line.alive),
            bar(line.alive, _BAR),
            _drawn("x", line.failed),
            _drawn("o", line.cut_short),
            ", ".join(line.marks),
        )
    return made


def _drawn(mark: str, count: int) -> str:
    extra = f" +{count - _MARKS}" if count > _MARKS else ""
    return mark * min(count, _MARKS) + extra
