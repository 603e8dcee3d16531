"""How the expected days of a meter came out: each forecast told again from what was known then.

A case is told on a day with an entry, from the entries up to that day: with T = h - 1/2 working
days to go at the rate of that day, D is the h-th working day. It is held against the day on which
usage came to that target. The next case begins where the one before came out, so that the cases
of a band never look at the same days.
"""

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import cycle
from statistics import median

from pmtrack.rules.first_passage import Passage
from pmtrack.rules.meter_past import MeterPast
from pmtrack.rules.rate import Rate
from pmtrack.rules.workdays import Workdays

HALF = Fraction(1, 2)  # so that D is as far from the next whole day as from the one before


@dataclass(frozen=True)
class Band:
    """How far ahead is looked: from `first` to `last` working days, each in turn."""

    first: int
    last: int


BANDS = (Band(1, 5), Band(6, 15), Band(16, 40))


@dataclass(frozen=True)
class Case:
    """One forecast and what came of it; `came` is None where usage is not there yet."""

    told_on: date
    due_on: date
    due_range: tuple[date, date]
    likely_range: tuple[date, date]
    came: date | None
    error: int  # working days from D to the day it came: above 0 if later than told


@dataclass(frozen=True)
class Held:
    """How many of the days came inside a range, before it began and after it had ended."""

    inside: int
    early: int
    late: int

    @property
    def cases(self) -> int:
        """All of them."""
        return self.inside + self.early + self.late

    @property
    def share(self) -> float | None:
        """The share that came inside; None without a case."""
        return self.inside / self.cases if self.cases else None


@dataclass(frozen=True)
class Outcome:
    """What became of a number of forecasts."""

    cases: tuple[Case, ...] = ()

    @property
    def due(self) -> Held:
        """Against the range that is shown with D."""
        return _held((case.came, case.due_range) for case in self.cases)

    @property
    def likely(self) -> Held:
        """Against the wider range."""
        return _held((case.came, case.likely_range) for case in self.cases)

    @property
    def miss(self) -> float | None:
        """Median distance between D and the day it came, in working days."""
        return median(abs(case.error) for case in self.cases) if self.cases else None

    @property
    def lean(self) -> float | None:
        """Median error in working days: above 0 if usage came later than told."""
        return median(case.error for case in self.cases) if self.cases else None

    def __add__(self, other: "Outcome") -> "Outcome":
        return Outcome(self.cases + other.cases)


def _held(came: Iterable[tuple[date | None, tuple[date, date]]]) -> Held:
    inside = early = late = 0
    for day, (first, last) in came:
        if day is None or day > last:
            late += 1
        elif day < first:
            early += 1
        else:
            inside += 1
    return Held(inside, early, late)


def replay(past: MeterPast, band: Band) -> Outcome:
    """All forecasts of a band, one after another.

    A case counts only if its ranges have ended by the last entry, however it came out; else the
    late ones among the latest would be missing.
    """
    return Outcome(tuple(_cases(past, band)))


def _cases(past: MeterPast, band: Band) -> Iterator[Case]:
    horizons, place = cycle(range(band.first, band.last + 1)), 0
    while place < len(past.days):
        told = _told(past, place)
        if told is None:
            place += 1
            continue
        case = _case(past, place, told, next(horizons))
        if case is None:
            return
        yield case
        if case.came is None:
            return
        place = max(bisect_left(past.days, case.came), place + 1)


def _told(past: MeterPast, place: int) -> Rate | None:
    """The rate of a day; None where no range can be told from it."""
    rate = past.standing(place).rate
    return rate if rate.per_day and rate.spread is not None else None


def _case(past: MeterPast, place: int, rate: Rate, ahead: int) -> Case | None:
    """The forecast for a target so many working days ahead; None if it may not be judged yet."""
    assert rate.per_day is not None  # noqa: S101
    day, last = past.days[place], past.days[-1]
    passage = Passage(day, (ahead - HALF) * rate.per_day, rate, past.workdays)
    due_on, due, likely = passage.day, passage.range(day), passage.likely_range(day)
    if due_on is None or due is None or likely is None or max(due[1], likely[1]) > last:
        return None
    came = past.reached(place, past.totals[place] + passage.remaining)
    return Case(day, due_on, due, likely, came, _error(past.workdays, due_on, came or last))


def _error(days: Workdays, due_on: date, came: date) -> int:
    """Working days from D to the day it came."""
    return days.between(due_on, came) - days.between(came, due_on)
