"""Working days: days with at least one shift scheduled that are not closed."""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Self

from pmtrack.rules.shop import Shift, Shop

_MONDAY = date(1900, 1, 1).toordinal()  # the first Monday of the dates that a shop file may hold


@dataclass(frozen=True)
class Workdays:
    """A calendar of working days: weekdays that work, less the dates taken out."""

    weekdays: frozenset[int]
    out: tuple[int, ...]  # ordinals of working weekdays that are closed, sorted

    @classmethod
    def of(cls, shop: Shop) -> Self:
        """The shop's own working days."""
        weekdays = frozenset(day for shift in shop.shifts for day in shift.weekdays)
        return cls(weekdays, ()).without(
            (closure.first, closure.last + timedelta(days=1)) for closure in shop.closed
        )

    def without(self, spans: Iterable[tuple[date, date]]) -> Self:
        """The same days less those in the spans (first included, last excluded)."""
        taken = set(self.out)
        for first, after in spans:
            days = range(first.toordinal(), after.toordinal())
            taken.update(day for day in days if (day + 6) % 7 in self.weekdays)
        if len(taken) == len(self.out):
            return self
        return type(self)(self.weekdays, tuple(sorted(taken)))

    @cached_property
    def _out(self) -> frozenset[int]:
        return frozenset(self.out)

    @cached_property
    def _before_weekday(self) -> tuple[int, ...]:
        """Working weekdays from Monday up to, not including, each weekday."""
        return tuple(sum(w < day for w in self.weekdays) for day in range(8))

    def __contains__(self, day: date) -> bool:
        return day.weekday() in self.weekdays and day.toordinal() not in self._out

    def _before(self, ordinal: int) -> int:
        """How many working days lie before the ordinal, from a fixed day on."""
        weeks, weekday = divmod(ordinal - _MONDAY, 7)
        scheduled = weeks * len(self.weekdays) + self._before_weekday[weekday]
        return scheduled - bisect_left(self.out, ordinal)

    def rank(self, day: date) -> int:
        """How many working days there are up to and including a day, from a fixed one on."""
        return self._before(day.toordinal() + 1)

    def between(self, after: date, through: date) -> int:
        """Working days later than `after`, up to and including `through`; 0 if none."""
        if through <= after:
            return 0
        return self._before(through.toordinal() + 1) - self._before(after.toordinal() + 1)

    def nth_after(self, day: date, n: int) -> date | None:
        """The n-th working day after `day` (n >= 1); None beyond the last date there is."""
        return self._at(self._before(day.toordinal() + 1) + n)

    def last_through(self, day: date) -> date | None:
        """The last working day on or before `day`; None before the first date kept."""
        rank = self._before(day.toordinal() + 1)
        return self._at(rank) if rank > 0 else None

    def back_from(self, day: date, n: int) -> date | None:
        """The first of the last n working days up to `day`; None where there are not so many."""
        rank = self._before(day.toordinal() + 1) - n + 1
        return self._at(rank) if rank > 0 else None

    @cached_property
    def _known(self) -> dict[int, date | None]:
        """Working days found already, by rank: many tasks of a shop ask for the same ones."""
        return {}

    def _at(self, rank: int) -> date | None:
        """The working day with that many working days up to and including it."""
        if rank not in self._known:
            self._known[rank] = self._find(rank)
        return self._known[rank]

    def _find(self, rank: int) -> date | None:
        each = len(self.weekdays)
        low = _MONDAY + 7 * ((rank - 1) // each)  # were no day closed, it would be in this week
        high = low + 7 * (len(self.out) // each + 2)
        if high >= date.max.toordinal():
            return None
        while low < high:
            middle = (low + high) // 2
            if self._before(middle + 1) >= rank:
                high = middle
            else:
                low = middle + 1
        return date.fromordinal(low)


def shifts_on(shop: Shop, days: Workdays, day: date) -> tuple[Shift, ...]:
    """The shifts scheduled to start on a date; none on a closed day."""
    if day not in days:
        return ()
    return tuple(shift for shift in shop.shifts if day.weekday() in shift.weekdays)


def work_by(due_on: date, after: date | None, workdays: Workdays) -> date:
    """The last working day on or before D and after the base; else the first one after D."""
    last = workdays.last_through(due_on)
    if last is not None and (after is None or last > after):
        return last
    return workdays.nth_after(due_on, 1) or due_on
