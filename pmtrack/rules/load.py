"""The load of each week: in-house work planned, against the crew's hours."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import Protocol

from pmtrack.rules.dates import monday_of
from pmtrack.rules.shop import Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.usage import ZERO
from pmtrack.rules.workdays import Workdays


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
    """A week from its Monday on: jobs, in-house hours, and the crew's hours if they are known."""

    monday: date
    jobs: int
    hours: Fraction
    available: Fraction | None


def week_loads(
    jobs: Iterable[TaskOnDay], workdays: Workdays, crew_hours: Fraction | None
) -> list[WeekLoad]:
    """The weeks with jobs, in order; an outside firm's jobs take none of the crew's hours."""
    weeks: dict[date, list[TaskOnDay]] = {}
    for job in jobs:
        weeks.setdefault(monday_of(job.day), []).append(job)
    return [
        WeekLoad(
            monday=monday,
            jobs=len(planned),
            hours=sum((_hours(job) for job in planned), ZERO),
            available=_available(monday, workdays, crew_hours),
        )
        for monday, planned in sorted(weeks.items())
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


def _available(monday: date, workdays: Workdays, crew_hours: Fraction | None) -> Fraction | None:
    if crew_hours is None:
        return None
    return crew_hours * workdays.between(monday - ONE_DAY, monday + timedelta(days=6))
