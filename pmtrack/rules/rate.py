"""The rate of a meter per working day, its spread, and the estimate for days not yet entered."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import sqrt
from typing import ClassVar

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.quantity import MILLION
from pmtrack.rules.shop import PerTime, Shop
from pmtrack.rules.usage import ZERO, Tally, day_totals, fold
from pmtrack.rules.workdays import Workdays

SPAN = 20  # working days that a rate looks back
PRIOR = 5  # working days that `expected` weighs
LEAST_INCREMENTS = 5  # for a spread
STALE_AFTER = 3  # working days that an estimate may add


@dataclass(frozen=True)
class Last:
    """Where a meter stands after its latest entry: the tally, the latest day, the instant."""

    tally: Tally
    day: date
    at: datetime


@dataclass(frozen=True)
class Recent:
    """The latest entries of a meter, up to the day asked about, and where they start from.

    They reach back at least to the last day with an entry before the span of the rate;
    `from_first` says that they begin with the first entry of all.
    """

    parts: ClassVar[int] = 1  # of a unit that totals are counted in

    opening: Tally
    entries: tuple[MeterEntry, ...]
    from_first: bool
    wraps_at: Fraction | None = None

    @cached_property
    def tallies(self) -> tuple[Tally, ...]:
        """The tally after each entry."""
        return tuple(fold(self.entries, self.opening, self.wraps_at))

    @property
    def last(self) -> Last | None:
        """None without entries."""
        if not self.entries:
            return None
        day = max(entry.day for entry in self.entries)
        return Last(self.tallies[-1], day, self.entries[-1].at)

    @property
    def totals(self) -> dict[date, Fraction]:
        """As `day_totals` of the entries."""
        days = [entry.day for entry in self.entries]
        if days != sorted(days):
            return day_totals(list(self.entries), self.opening, self.wraps_at)
        return {day: tally.usage for day, tally in zip(days, self.tallies, strict=True)}

    def start(self, workdays: Workdays) -> tuple[date, Fraction] | None:
        """Before the first entry of all: its level on the working day before; a dial is its own.

        None where the entries do not begin with it.
        """
        if not (self.from_first and self.entries):
            return None
        entry = self.entries[0]
        if entry.is_dial:
            return entry.day, self.tallies[0].usage
        before = workdays.last_through(entry.day - timedelta(days=1))
        return before or entry.day, self.opening.usage


@dataclass(frozen=True)
class Kept:
    """What the entries of a `Recent` come to, as it was kept when they were made.

    `usages` after each entry, in millionths, with its day; the days are in order and begin before
    the span of the rate.
    """

    parts: ClassVar[int] = MILLION

    last: Last
    usages: tuple[tuple[date, int], ...]

    @property
    def totals(self) -> dict[date, int]:
        """Usage at the end of each day with an entry."""
        return dict(self.usages)

    def start(self, workdays: Workdays) -> None:
        """They do not begin with the first entry of all."""


@dataclass(frozen=True)
class Rate:
    """Units per working day and their spread; None where there is nothing to tell it from."""

    per_day: Fraction | None
    spread: float | None = None
    gained: Fraction = ZERO
    days: int = 0


@dataclass(frozen=True)
class Standing:
    """A meter as of a day: usage entered, estimate, rate; None where it has no entries."""

    usage: Fraction | None
    estimate: Fraction | None
    rate: Rate
    stale: bool
    last_day: date | None = None
    last_at: datetime | None = None
    unlogged: Fraction = ZERO
    estimated_days: int = 0

    @property
    def estimated(self) -> bool:
        """Whether the estimate adds days that nobody has entered."""
        return self.estimated_days > 0


def per_working_day(shop: Shop, expected: PerTime | None) -> Fraction | None:
    """`expected` for one working day of the schedule; None if it is not given."""
    if expected is None:
        return None
    starts = [(shift, day) for shift in shop.shifts for day in shift.weekdays]
    days = len({day for _, day in starts})
    hours = sum((_hours(shift.start, shift.end) for shift, _ in starts), ZERO)
    in_a_week = {"day": Fraction(days), "shift": Fraction(len(starts)), "week": Fraction(1)}
    in_a_week |= {"hour": hours, "minute": hours * 60}
    return expected.amount * in_a_week[expected.per] / days


def _hours(start: time, end: time) -> Fraction:
    """Hours on the clock from start to end; the next day's end if it is not later."""
    minutes = [t.hour * 60 + t.minute for t in (start, end)]
    span = (minutes[1] - minutes[0]) % 1440 or 1440
    return Fraction(span, 60)


def span_start(day: date, workdays: Workdays) -> date:
    """The first of the working days that the rate of `day` looks at."""
    return workdays.back_from(day, SPAN) or date.min


def rate_day(day: date, last_day: date, workdays: Workdays) -> date:
    """The day whose rate holds on `day`: that of the last entry if the span has none."""
    return day if last_day >= span_start(day, workdays) else last_day


def rate_of(
    recent: Recent | Kept, day: date, workdays: Workdays, expected: Fraction | None
) -> Rate:
    """The rate on `day` from the increments of usage between days with entries."""
    points = _points(recent, day, workdays)
    increments = [
        (after - before, end - start) for (start, before), (end, after) in pairwise(points)
    ]
    gained = Fraction(points[-1][1] - points[0][1], recent.parts) if points else ZERO
    days = sum(span for _, span in increments)
    if expected is not None:
        per_day = (PRIOR * expected + gained) / (PRIOR + days)
    elif days:
        per_day = gained / days
    else:
        return Rate(None)
    per_day = max(per_day, ZERO)
    gains = [(float(gain / recent.parts), span) for gain, span in increments]
    return Rate(per_day, _spread(gains, per_day), gained, days)


_Point = tuple[int, Fraction | int]


def _points(recent: Recent | Kept, day: date, workdays: Workdays) -> list[_Point]:
    """Totals by the ranks of their days; days with no working day between them are taken as one."""
    first = span_start(day, workdays)
    totals: Mapping[date, Fraction | int] = recent.totals
    earlier = max((d for d in totals if d < first), default=None)
    start = recent.start(workdays) if earlier is None else (earlier, totals[earlier])
    points: list[_Point] = [(workdays.rank(start[0]), start[1])] if start else []
    for inside in sorted(d for d in totals if first <= d <= day):
        rank = workdays.rank(inside)
        if points and points[-1][0] >= rank:
            points.pop()
        points.append((rank, totals[inside]))
    return points


def _spread(increments: list[tuple[float, int]], per_day: Fraction) -> float | None:
    """Standard deviation for one working day; None under five increments."""
    if len(increments) < LEAST_INCREMENTS:
        return None
    rate = float(per_day)
    squares = sum((gain - rate * span) ** 2 / span for gain, span in increments)
    return sqrt(squares / (len(increments) - 1))


def standing(
    recent: Recent | Kept, day: date, workdays: Workdays, expected: Fraction | None
) -> Standing:
    """The meter as of the end of `day`."""
    last = recent.last
    if last is None:
        return Standing(None, None, Rate(expected), stale=True)
    usage = last.tally.total
    rate = rate_of(recent, rate_day(day, last.day, workdays), workdays, expected)
    unseen = days_unseen(last.day, day, workdays)
    known = rate.per_day is not None and unseen > 0
    return Standing(
        usage=usage,
        estimate=usage + (rate.per_day or ZERO) * unseen if known else None,
        rate=rate,
        stale=unseen > STALE_AFTER,
        last_day=last.day,
        last_at=last.at,
        unlogged=last.tally.unlogged,
        estimated_days=unseen if known else 0,
    )


def days_unseen(last_day: date, day: date, workdays: Workdays) -> int:
    """Working days after the last entry and before `day`: what nobody has entered yet."""
    return workdays.between(last_day, day - timedelta(days=1))
