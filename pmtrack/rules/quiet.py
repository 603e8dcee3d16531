"""Which tasks are certainly not on the list of a day, told from a few figures of each.

A bound may call a task up too early, never too late: a task that it leaves out stands as `ok` by
`rules.due`, which judges all others. Nothing of it is kept, so that nothing can be out of date.
"""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cache
from math import ceil, floor

from pmtrack.rules import intervals
from pmtrack.rules.calendar_due import dates_of, first_unsettled, fixed_window
from pmtrack.rules.rate import PRIOR
from pmtrack.rules.shop import Interval, Task
from pmtrack.rules.situation import Calendars
from pmtrack.rules.usage_due import soon_days
from pmtrack.rules.workdays import Workdays

LONGEST_DAYS = {"day": 1, "week": 7, "month": 31, "year": 366}
MILLION = 10**6


@dataclass(frozen=True)
class Asked:
    """The day of the list, and how many days ahead it looks for what is not yet announced."""

    day: date
    within: int = 0

    def ahead(self, days: int) -> date:
        """So many days after the day asked about; the last date there is where that is past it."""
        return date.fromordinal(min(self.day.toordinal() + days, date.max.toordinal()))

    def reach(self, lead: int) -> date:
        """A job with so many days of lead is on the list if it is to be worked by that day."""
        return self.ahead(max(lead, self.within))


def done_after(task: Task, asked: Asked, workdays: Workdays) -> date:
    """A day: by its calendar intervals, the task is quiet if it was last done later than that."""
    found = (_done_after(task, i, asked, workdays) for i in task.every if i.is_calendar)
    return max(found, default=date.min)


def _done_after(task: Task, interval: Interval, asked: Asked, workdays: Workdays) -> date:
    """The last base day from which the job may be listed; later ones are due later.

    It is worked on the last working day up to the due date, or later, and announced at most the
    lead of the longest such interval before. Done that longest interval ago, it is due by now.
    """
    length = int(interval.amount) * LONGEST_DAYS[interval.unit]
    reach = asked.reach(intervals.lead_days(task, length))
    high = asked.day.toordinal()
    low = max(high - length, 1)
    while low < high:
        middle = (low + high + 1) // 2
        due_on = intervals.add_interval(date.fromordinal(middle), interval)
        if (workdays.last_through(due_on) or due_on) <= reach:
            low = middle
        else:
            high = middle - 1
    return date.fromordinal(low)


def is_settled(task: Task, days: tuple[date, date], asked: Asked, calendars: Calendars) -> bool:
    """Whether a fixed schedule is quiet; `days`: the task was first applied, and done last."""
    first, done = days
    dates = dates_of(task, first, calendars.zone)
    index = first_unsettled(task, dates, done, calendars.shop)
    window = fixed_window(task, dates, index, calendars.shop)
    if window is None:
        return True
    return asked.day <= window.due_on and asked.reach(window.lead) < window.work_by


@dataclass(frozen=True)
class Pace:
    """A meter on the day asked about: usage since its level, and when it was last read.

    Usage is in millionths; `fastest` is at least its rate, in millionths a working day.
    """

    usage: int
    last_day: date
    fastest: int


def prior_of(expected: Fraction | None) -> int | None:
    """What `expected` a working day weighs beside the latest entries, in millionths, rounded up."""
    return None if expected is None else ceil(PRIOR * expected * MILLION)


def fastest_rate(gained: int, days: int, prior: int | None) -> int:
    """At least the rate that the latest entries give, in millionths a working day.

    `gained` millionths since before the span of the rate, in `days` working days or more (1 at
    least): the increments that `rules.rate` adds up come to the last total less the first.
    """
    made = max(gained, 0)
    return -(-made // days) if prior is None else -(-(prior + made) // (PRIOR + days))


@dataclass(frozen=True)
class Countdown:
    """A usage interval (rounded down) and its lead (rounded up) in millionths of its unit."""

    unit: str
    amount: int
    lead: int
    soon_days: int


def countdowns(task: Task) -> tuple[Countdown, ...]:
    """The usage intervals of a task."""
    return tuple(
        Countdown(
            unit=interval.unit,
            amount=floor(interval.amount * MILLION),
            lead=ceil(intervals.lead_units(task, interval) * MILLION),
            soon_days=soon_days(task),
        )
        for interval in task.every
        if not interval.is_calendar
    )


class Passing:
    """Usage intervals that are quiet on machines with the same working days."""

    def __init__(self, asked: Asked, workdays: Workdays) -> None:
        self._asked = asked
        self._workdays = workdays
        self._days = cache(self._days_after)

    def passed(self, interval: Countdown, pace: Pace) -> int:
        """Usage in millionths: the interval is quiet if the meter stood above that at its base.

        Then the estimate has not come to the lead; half the interval is not gone, or the due date
        is not near; and it lies past the days that the list looks ahead.
        """
        unseen, near, within = self._days(pace.last_day, interval.soon_days)
        estimated = pace.fastest * unseen
        half = interval.amount // 2 + 1 + estimated
        soon = max(interval.lead + estimated, min(half, pace.fastest * near))
        return pace.usage - interval.amount + max(soon, pace.fastest * within)

    def _days_after(self, last_day: date, soon_days: int) -> tuple[int, int, int]:
        """Working days after the last entry: before the day asked about, to where it looks ahead.

        That is to the day on which the job is announced at the latest, and to the list's reach.
        """
        ends = (-1, soon_days, self._asked.within)
        unseen, near, within = (
            self._workdays.between(last_day, self._asked.ahead(days)) for days in ends
        )
        return unseen, near, within
