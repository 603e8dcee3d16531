"""The load of each week: in-house work planned, against the crew's hours."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Protocol

from pmtrack.rules.dates import monday_of
from pmtrack.rules.shop import Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.usage import ZERO
from pmtrack.rules.workdays import Workdays

Span = tuple[date, date]


class TaskOnDay(Protocol):
    """A job on the day planned for it, whatever plans it."""

    @property
    def task(self) -> Task:
        """The task to be done."""

    @property
    def day(self) -> date:
        """The day on which it is planned."""


@dataclass(frozen=True)
class WeekLoad:
    """A week from its Monday on: jobs, in-house hours, and the crew's hours if they are known.

    Those are of the working days that the plan is for, and of days past them that have jobs of it.
    """

    monday: date
    jobs: int
    hours: Fraction
    available: Fraction | None


def week_loads(
    jobs: Iterable[TaskOnDay], workdays: Workdays, crew_hours: Fraction | None, span: Span
) -> list[WeekLoad]:
    """The weeks with jobs, in order; an outside firm's jobs take none of the crew's hours.

    `span` is the first and last day that the jobs are planned for; late ones may come after it.
    """
    weeks: dict[date, list[TaskOnDay]] = {}
    for job in jobs:
        weeks.setdefault(monday_of(job.day), []).append(job)
    return [
        WeekLoad(
            monday=monday,
            jobs=len(planned),
            hours=sum((_hours(job) for job in planned), ZERO),
            available=None if crew_hours is None else crew_hours * len(days),
        )
        for monday, planned in sorted(weeks.items())
        for days in [_days_of(monday, workdays, span) | {job.day for job in planned}]
    ]


def in_house_minutes(jobs: Iterable[TaskOnDay]) -> defaultdict[int, float]:
    """The crew's minutes of each day (an ordinal); an outside firm's jobs take none."""
    minutes: defaultdict[int, float] = defaultdict(float)
    for job in jobs:
        if not job.task.crew:
            minutes[job.day.toordinal()] += job.task.minutes or 0
    return minutes


def _hours(job: TaskOnDay) -> Fraction:
    return ZERO if job.task.crew else Fraction(job.task.minutes or 0, 60)


def _days_of(monday: date, workdays: Workdays, span: Span) -> set[date]:
    """The working days of a week that lie in the span."""
    days = (monday + n * ONE_DAY for n in range(7))
    return {day for day in days if span[0] <= day <= span[1] and day in workdays}
