"""The rate of a meter per working day, its spread, and the estimate for days not yet entered."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import sqrt

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.shop import PerTime, Shop
from pmtrack.rules.usage import ZERO, Tally, day_totals, fold
from pmtrack.rules.workdays import Workdays

SPAN = 20  # working days that a rate looks back
PRIOR = 5  # working days that `expected` weighs
LEAST_INCREMENTS = 5  # for a spread
STALE_AFTER = 3  # working days that an estimate may add


@dataclass(frozen=True)
class Recent:
    """The latest entries of a meter, up to the day asked about, and where they start from.

    They reach back at least to the last day with an entry before the span of the rate;
    `from_first` says that they begin with the first entry of all.
    """

    opening: Tally
    entries: tuple[MeterEntry, ...]
    from_first: bool
    wraps_at: Fraction | None = None

    @cached_property
    def tallies(self) -> tuple[Tally, ...]:
        """The tally after each entry."""
        return tuple(fold(self.entries, self.opening, self.wraps_at))

    def totals(self) -> dict[date, Fraction]:
        """As `day_totals` of the entries."""
        days = [entry.day for entry in self.entries]
        if days != sorted(days):
            return day_totals(list(self.entries), self.opening, self.wraps_at)
        return {day: tally.usage for day, tally in zip(days, self.tallies, strict=True)}


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


def rate_of(recent: Recent, day: date, workdays: Workdays, expected: Fraction | None) -> Rate:
    """The rate on `day` from the increments of usage between days with entries."""
    points = _points(recent, day, workdays)
    increments = [
        (after - before, end - start) for (start, before), (end, after) in pairwise(points)
    ]
    gained = points[-1][1] - points[0][1] if points else ZERO
    days = sum(span for _, span in increments)
    if expected is not None:
        per_day = (PRIOR * expected + gained) / (PRIOR + days)
    elif days:
        per_day = gained / days
    else:
        return Rate(None)
    per_day = max(per_day, ZERO)
    return Rate(per_day, _spread(increments, per_day), gained, days)


def _points(recent: Recent, day: date, workdays: Workdays) -> list[tuple[int, Fraction]]:
    """Totals by the ranks of their days; days with no working day between them are taken as one."""
    first = span_start(day, workdays)
    totals = recent.totals()
    earlier = [d for d in totals if d < first]
    points: list[tuple[int, Fraction]] = []
    if earlier:
        points = [(workdays.rank(max(earlier)), totals[max(earlier)])]
    elif recent.from_first and recent.entries:
        start, total = _start(recent.entries[0], recent, workdays)
        points = [(workdays.rank(start), total)]
    for inside in sorted(d for d in totals if first <= d <= day):
        rank = workdays.rank(inside)
        if points and points[-1][0] >= rank:
            points.pop()
        points.append((rank, totals[inside]))
    return points


def _start(entry: MeterEntry, recent: Recent, workdays: Workdays) -> tuple[date, Fraction]:
    """Before the first entry of all: its level on the working day before; a dial is its own."""
    if entry.is_dial:
        return entry.day, recent.opening.then(entry, recent.wraps_at).usage
    before = workdays.last_through(entry.day - timedelta(days=1))
    return before or entry.day, recent.opening.usage


def _spread(increments: list[tuple[Fraction, int]], per_day: Fraction) -> float | None:
    """Standard deviation for one working day; None under five increments."""
    if len(increments) < LEAST_INCREMENTS:
        return None
    rate = float(per_day)
    squares = sum((float(gain) - rate * span) ** 2 / span for gain, span in increments)
    return sqrt(squares / (len(increments) - 1))


def standing(recent: Recent, day: date, workdays: Workdays, expected: Fraction | None) -> Standing:
    """The meter as of the end of `day`."""
    if not recent.entries:
        return Standing(None, None, Rate(expected), stale=True)
    tally = recent.tallies[-1]
    last_day = max(entry.day for entry in recent.entries)
    rate = rate_of(recent, rate_day(day, last_day, workdays), workdays, expected)
    unseen = days_unseen(last_day, day, workdays)
    known = rate.per_day is not None and unseen > 0
    return Standing(
        usage=tally.total,
        estimate=tally.total + (rate.per_day or ZERO) * unseen if known else None,
        rate=rate,
        stale=unseen > STALE_AFTER,
        last_day=last_day,
        last_at=recent.entries[-1].at,
        unlogged=tally.unlogged,
        estimated_days=unseen if known else 0,
    )


def days_unseen(last_day: date, day: date, workdays: Workdays) -> int:
    """Working days after the last entry and before `day`: what nobody has entered yet."""
    return workdays.between(last_day, day - timedelta(days=1))
