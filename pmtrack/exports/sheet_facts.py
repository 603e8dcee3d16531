"""What a quarter's sheet shows, and the questions that its parts ask of it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from pmtrack.rules.dates import monday_of
from pmtrack.rules.load import WeekLoad
from pmtrack.rules.plan import PlacedJob, Quarter, UnfitJob, Visit
from pmtrack.rules.shop import Closure

_WEEK = timedelta(days=7)


@dataclass(frozen=True)
class QuarterSheet:
    """A quarter for the wall. `weekdays` are the working ones, 0 is Monday.

    `visits` hold jobs that stand in `jobs` too; `notes` are sentences for the foot, such as what
    the sheet leaves out.
    """

    shop: str
    quarter: Quarter
    made_on: date
    jobs: tuple[PlacedJob, ...] = ()
    visits: tuple[Visit, ...] = ()
    unfit: tuple[UnfitJob, ...] = ()
    closures: tuple[Closure, ...] = ()
    weekdays: tuple[int, ...] = (0, 1, 2, 3, 4)
    loads: tuple[WeekLoad, ...] = ()
    notes: tuple[str, ...] = ()

    @cached_property
    def columns(self) -> tuple[int, ...]:
        """The weekdays to show: the working ones, and any other with a job."""
        return tuple(sorted({*self.weekdays, *(day.weekday() for day in self._days)}))

    @cached_property
    def mondays(self) -> tuple[date, ...]:
        """The Monday of each week of the quarter, and of those with jobs beyond it."""
        days = {self.quarter.first, self.quarter.last, *self._days}
        first, last = monday_of(min(days)), monday_of(max(days))
        return tuple(first + n * _WEEK for n in range((last - first) // _WEEK + 1))

    @cached_property
    def _days(self) -> set[date]:
        return {job.day for job in self.jobs} | {visit.day for visit in self.visits}

    @cached_property
    def _in_visits(self) -> set[str]:
        return {job.key for visit in self.visits for job in visit.jobs}

    @cached_property
    def _loads(self) -> dict[date, WeekLoad]:
        return {load.monday: load for load in self.loads}

    @cached_property
    def _own(self) -> dict[date, list[PlacedJob]]:
        return _by_day(job for job in self.jobs if job.key not in self._in_visits)

    def own_jobs(self, day: date) -> list[PlacedJob]:
        """The jobs of a day that belong to no visit, by machine."""
        return self._own.get(day, [])

    def visits_on(self, day: date) -> list[Visit]:
        """The visits of a day."""
        return [visit for visit in self.visits if visit.day == day]

    def load(self, monday: date) -> WeekLoad | None:
        """The load of a week, None if nothing is planned in it."""
        return self._loads.get(monday)

    def closure(self, day: date) -> Closure | None:
        """Why the shop is closed on a day, None if it is not."""
        return next((c for c in self.closures if c.first <= day <= c.last), None)


def _by_day(jobs: Iterable[PlacedJob]) -> dict[date, list[PlacedJob]]:
    days: dict[date, list[PlacedJob]] = {}
    for job in sorted(jobs, key=lambda job: (job.day, job.task.name, job.key)):
        days.setdefault(job.day, []).append(job)
    return days
