"""The span of the invented history: from the day of adoption, a year ago, up to now."""

from bisect import bisect_right
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import NamedTuple

from pmtrack.demo.seed import stream
from pmtrack.rules.shop import Shop
from pmtrack.rules.shoptime import ONE_DAY, local_date, shift_span
from pmtrack.rules.workdays import Workdays, shifts_on

SLOW = 0.68  # share of the usual pace in the slow season
OVERTIME_DAYS = 7  # Saturdays worked in the year
_SATURDAY = 5
_AHEAD = timedelta(days=20)  # a repair begun now ends within the shifts of these days
_OVERRUN = timedelta(hours=2)
_BEFORE_SHIFT = timedelta(minutes=40)


def pace(day: date) -> float:
    """Work of a date against the usual: a slow winter and summer, a shorter Friday."""
    winter = (day.month, day.day) >= (12, 14) or day.month == 1
    season = SLOW if winter or day.month in (7, 8) else 1.06
    return season * (0.92 if day.weekday() == 4 else 1.0)


class Watch(NamedTuple):
    """One shift of a date, from and to in UTC; `place` is 0 for the first of the date."""

    name: str
    day: date
    start: datetime
    end: datetime
    place: int = 0


@dataclass(frozen=True)
class Year:
    """The dates, shifts and working days from adoption up to now."""

    shop: Shop
    now: datetime

    @cached_property
    def workdays(self) -> Workdays:
        """The shop's working days."""
        return Workdays.of(self.shop)

    @cached_property
    def today(self) -> date:
        """The shop's date now."""
        return local_date(self.now, self.shop.zone)

    @cached_property
    def first(self) -> date:
        """The day of adoption: the last working day that lies a year back."""
        back = self.today - timedelta(days=365)
        return self.workdays.last_through(back) or back

    @cached_property
    def adopted_at(self) -> datetime:
        """When the shop file was applied: before the first shift of that day."""
        return self.shifts(self.first)[0].start - _BEFORE_SHIFT

    @cached_property
    def eve(self) -> date:
        """The last working day before today."""
        return self.moved(self.today, -1)

    def moved(self, day: date, working_days: int) -> date:
        """So many working days after a date, or before it; for 0 the last one up to it."""
        if working_days > 0:
            return self.workdays.nth_after(day, working_days) or day
        if working_days == 0:
            return self.workdays.last_through(day) or day
        return self.workdays.back_from(day - ONE_DAY, -working_days) or day

    def is_recent(self, day: date, working_days: int) -> bool:
        """Whether a date is one of the last working days, today's included."""
        return self.workdays.between(day - ONE_DAY, self.today) <= working_days

    @cached_property
    def overtime(self) -> tuple[date, ...]:
        """Saturdays of the busy season on which a few machines run."""
        count = (self.today - self.first).days
        days = (self.first + timedelta(days=n) for n in range(1, count))
        free = [
            d
            for d in days
            if d.weekday() == _SATURDAY
            and d not in self.workdays
            and pace(d) > SLOW
            and not any(c.first <= d <= c.last for c in self.shop.closed)
        ]
        return tuple(sorted(stream("overtime").sample(free, min(OVERTIME_DAYS, len(free)))))

    @cached_property
    def days(self) -> tuple[date, ...]:
        """Every date from adoption to today on which somebody works."""
        count = (self.today - self.first).days + 1
        days = (self.first + timedelta(days=n) for n in range(count))
        return tuple(d for d in days if d in self.workdays or d in self.overtime)

    def shifts(self, day: date) -> list[Watch]:
        """The shifts of a date in order; on a Saturday of overtime the first shift of the shop."""
        found = shifts_on(self.shop, self.workdays, day)
        if not found and day in self.overtime:
            found = self.shop.shifts[:1]
        spans = [Watch(s.name, day, *shift_span(s, day, self.shop.zone)) for s in found]
        ordered = sorted(spans, key=lambda shift: shift.start)
        return [shift._replace(place=place) for place, shift in enumerate(ordered)]

    @cached_property
    def _scheduled(self) -> list[Watch]:
        count = (self.today - self.first + _AHEAD).days
        days = (self.first + timedelta(days=n) for n in range(count))
        return [shift for day in days if day in self.workdays for shift in self.shifts(day)]

    def _overrun(self, shift: Watch) -> timedelta:
        """How long a repair may still go on when a shift has ended."""
        return _OVERRUN if shift.place == len(self.shifts(shift.day)) - 1 else timedelta(0)

    def after_work(self, start: datetime, work: timedelta) -> datetime:
        """When that much work begun at `start` is over: by night only what is nearly done."""
        place = bisect_right(self._scheduled, start, key=lambda shift: shift.end)
        for shift in self._scheduled[place:]:
            begin = max(start, shift.start)
            if begin + work <= shift.end + self._overrun(shift):
                return begin + work
            work -= shift.end - begin
        return start + _AHEAD
