"""Stretches of time between instants in UTC, their arithmetic, and the scheduled ones.

Hours are elapsed hours, exact. A stop that begins in a shift is of that shift's date, as the
shift itself is; one that begins outside any shift is of its local date.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from pmtrack.rules.facts import DaysOut, Span
from pmtrack.rules.shop import Shop
from pmtrack.rules.shoptime import ONE_DAY, end_of_day, local_date, shift_span
from pmtrack.rules.workdays import Workdays, shifts_on

Stretch = tuple[datetime, datetime]  # from, to; the end itself is outside

_MICROSECOND = timedelta(microseconds=1)
_MICROSECONDS_AN_HOUR = 3_600_000_000


def stretch(span: Span, now: datetime) -> Stretch:
    """The part of a span up to `now`; empty where the span begins later."""
    end = now if span.end is None else min(span.end, now)
    return span.start, max(span.start, end)


def joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The same time in order, each instant once: what overlaps or touches becomes one stretch."""
    result: list[Stretch] = []
    for start, end in sorted(one for one in stretches if one[0] < one[1]):
        if result and start <= result[-1][1]:
            result[-1] = (result[-1][0], max(result[-1][1], end))
        else:
            result.append((start, end))
    return result


def common(some: Iterable[Stretch], others: Sequence[Stretch]) -> list[Stretch]:
    """The parts of `some` that lie within `others`; `others` as `joined` leaves them."""
    result = []
    for start, end in some:
        place = bisect_right(others, start, key=_end)
        while place < len(others) and others[place][0] < end:
            result.append((max(start, others[place][0]), min(end, others[place][1])))
            place += 1
    return result


def without(some: Iterable[Stretch], others: Sequence[Stretch]) -> list[Stretch]:
    """The parts of `some` that lie outside `others`; `others` as `joined` leaves them."""
    result = []
    for start, end in some:
        for begin, finish in common([(start, end)], others):
            if start < begin:
                result.append((start, begin))
            start = finish
        if start < end:
            result.append((start, end))
    return result


def hours(stretches: Iterable[Stretch]) -> Fraction:
    """Elapsed hours of the stretches together, exact; overlaps count as often as they come."""
    elapsed = sum((end - start for start, end in stretches), timedelta(0))
    return Fraction(elapsed // _MICROSECOND, _MICROSECONDS_AN_HOUR)


def _end(one: Stretch) -> datetime:
    return one[1]


class ScheduledShift(NamedTuple):
    """One shift of a date, from and to in UTC, as far as it has run."""

    name: str
    day: date
    start: datetime
    end: datetime


@dataclass(frozen=True)
class Period:
    """Dates, both included, as of `now`, with their shifts.

    `start` and `end` bound the instants of these dates: midnight, or the end of the night shift
    before it. What begins at or after `start` and before `end` is of these dates. `idle` are the
    shifts of days on which the machine asked about is out of service, `out` those days.
    """

    first: date
    last: date
    start: datetime
    end: datetime
    now: datetime
    shifts: tuple[ScheduledShift, ...]
    idle: tuple[ScheduledShift, ...] = ()
    out: tuple[DaysOut, ...] = ()

    @cached_property
    def scheduled(self) -> list[Stretch]:
        """Scheduled time in order; where two shifts overlap it counts once."""
        return joined((shift.start, shift.end) for shift in self.shifts)

    @cached_property
    def not_scheduled(self) -> list[Stretch]:
        """What would be scheduled time if the machine were not out of service."""
        return without(joined((shift.start, shift.end) for shift in self.idle), self.scheduled)

    def of_machine(self, out: Iterable[DaysOut]) -> "Period":
        """The period of a machine: no shift of a day on which it is out of service is scheduled.

        Such a day is out whole, as it is no working day of the machine's meters either.
        """
        out = tuple(out)
        kept, idle = list[ScheduledShift](), list[ScheduledShift]()
        for shift in self.shifts:
            (idle if any(days.holds(shift.day) for days in out) else kept).append(shift)
        return replace(self, shifts=tuple(kept), idle=tuple(idle), out=out)

    def holds(self, instant: datetime) -> bool:
        """Whether what begins at that instant is of the period's dates."""
        return self.start <= instant < self.end


def period_shifts(
    shop: Shop, workdays: Workdays, first: date, last: date, now: datetime
) -> list[ScheduledShift]:
    """The shifts of the dates that began before `now`, as far as each has run by then.

    A last night shift is whole: what of it lies past the midnight belongs to its date.

    One that begins as a night shift of the date before ends is not yet of that date's view.
    """
    through = min(last, local_date(now, shop.zone))
    days = (date.fromordinal(n) for n in range(first.toordinal(), through.toordinal() + 1))
    spans = (
        (shift.name, day, *shift_span(shift, day, shop.zone))
        for day in days
        for shift in shifts_on(shop, workdays, day)
    )
    return [
        ScheduledShift(name, day, start, min(end, now))
        for name, day, start, end in spans
        if start < min(now, end)
    ]


def period_of(shop: Shop, workdays: Workdays, first: date, last: date, now: datetime) -> Period:
    """The period of the dates `first` to `last`, both included, as of `now`."""
    start, end = (
        end_of_day(day, shifts_on(shop, workdays, day), shop.zone)
        for day in (first - ONE_DAY, last)
    )
    shifts = period_shifts(shop, workdays, first, last, now)
    return Period(first, last, start, end, now, tuple(shifts))
