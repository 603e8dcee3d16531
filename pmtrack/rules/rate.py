"""The rate of a meter per working day, its spread, and the estimate for days not yet entered."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from itertools import pairwise
from math import sqrt

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.shop import PerTime, Shop
from pmtrack.rules.usage import ZERO, Tally, day_totals
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
        (after - before, workdays.between(start, end))
        for (start, before), (end, after) in pairwise(points)
    ]
    gained = sum((gain for gain, _ in increments), ZERO)
    days = sum(span for _, span in increments)
    if expected is not None:
        per_day = (PRIOR * expected + gained) / (PRIOR + days)
    elif days:
        per_day = gained / days
    else:
        return Rate(None)
    per_day = max(per_day, ZERO)
    return Rate(per_day, _spread(increments, per_day), gained, days)


def _points(recent: Recent, day: date, workdays: Workdays) -> list[tuple[date, Fraction]]:
    """Days with their total; days with no working day between them are taken as one."""
    first = span_start(day, workdays)
    totals = day_totals(list(recent.entries), recent.opening, recent.wraps_at)
    earlier = [d for d in totals if d < first]
    points: list[tuple[date, Fraction]] = []
    if earlier:
        points = [(max(earlier), totals[max(earlier)])]
    elif recent.from_first and recent.entries:
        points = [_start(recent.entries[0], recent, workdays)]
    for inside in sorted(d for d in totals if first <= d <= day):
        if points and workdays.between(points[-1][0], inside) == 0:
            points.pop()
        points.append((inside, totals[inside]))
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
    tally = recent.opening
    for entry in recent.entries:
        tally = tally.then(entry, recent.wraps_at)
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
