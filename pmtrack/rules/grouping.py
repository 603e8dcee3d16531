"""By what a report groups its figures, and the weeks, months and quarters of a period."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from pmtrack.rules.dates import monday_of, quarter_name, week_name
from pmtrack.rules.shoptime import ONE_DAY


class Grouping(StrEnum):
    """What a line of a report stands for."""

    MACHINE = "machine"
    KIND = "kind"
    CAUSE = "cause"
    WEEK = "week"
    MONTH = "month"
    QUARTER = "quarter"

    @property
    def is_calendar(self) -> bool:
        """Whether its lines are spans of dates."""
        return self in _STEPS


@dataclass(frozen=True)
class Slice:
    """The dates of a week, month or quarter as far as they are of a period, both included."""

    name: str
    first: date
    last: date


def _week(day: date) -> tuple[str, date]:
    """The ISO 8601 week of a date, and its last date."""
    return week_name(day), monday_of(day) + timedelta(days=6)


def _months(day: date, each: int) -> date:
    """The last date of the span of so many months of the year that holds a date."""
    passed = day.month - 1 - (day.month - 1) % each + each  # months of the year gone at its end
    return date(day.year + passed // 12, passed % 12 + 1, 1) - ONE_DAY


def _month(day: date) -> tuple[str, date]:
    return f"{day:%Y-%m}", _months(day, 1)


def _quarter(day: date) -> tuple[str, date]:
    return quarter_name(day), _months(day, 3)


_STEPS = {Grouping.WEEK: _week, Grouping.MONTH: _month, Grouping.QUARTER: _quarter}


def slices(by: Grouping, first: date, last: date) -> list[Slice]:
    """The weeks, months or quarters from the first to the last date, in order."""
    result = []
    while first <= last:
        name, end = _STEPS[by](first)
        result.append(Slice(name, first, min(end, last)))
        first = end + ONE_DAY
    return result


def period_before(first: date, last: date) -> tuple[date, date]:
    """The dates of the period of equal length before a period."""
    return first - (last - first) - ONE_DAY, first - ONE_DAY
