"""What the plans and calendar files of other quarters have, so that each job is told by one."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date

from pmtrack.actions.view import View
from pmtrack.rules.dates import parse_quarter
from pmtrack.rules.forecast import PlannedJob
from pmtrack.rules.plan import PlacedJob, Quarter
from pmtrack.rules.revision import CalendarEntry, CalendarJob
from pmtrack.store.exports import OpenEvent, open_elsewhere
from pmtrack.store.planned import PlannedElsewhere, planned_elsewhere


class OtherQuarters:
    """The jobs that are told elsewhere.

    Of two saved plans with the same job the one saved later tells it, as on the list of the day. A
    quarter without a plan leaves it to one that has a plan, or to the file of the quarter in which
    the job is due, unless that is over.
    """

    def __init__(self, view: View, quarter: Quarter, has_plan: bool) -> None:
        self._today = view.day
        retired = view.stored.retired_on
        everything = planned_elsewhere(view.store, quarter.name)
        planned = [job for job in everything if job.task not in retired]
        self._ahead = [job for job in planned if job.day and job.day >= view.day]
        self._claim([job for job in planned if job.later] if has_plan else self._ahead)
        self._days = {(job.task, job.day) for job in self._ahead}
        found = open_elsewhere(view.store, quarter.name, view.day)
        self.events = [event for event in found if event.task not in retired]
        self._files = {event.uid: event.period for event in self.events}
        open_days = {(event.task, event.day) for event in self.events}
        self._keys = {job.key for job in self._ahead if (job.task, job.day) not in open_days}
        self._due_there = {} if has_plan else self._told_ahead()

    def _claim(self, jobs: Sequence[PlannedElsewhere]) -> None:
        self._claimed_keys = {job.key: job.period for job in jobs}
        self._claimed_days = {(job.task, job.day): job.period for job in jobs if job.day}

    def _told_ahead(self) -> dict[str, list[OpenEvent]]:
        """The open events, by task, of the files of quarters that are not over."""
        found: dict[str, list[OpenEvent]] = {}
        for event in self.events:
            if parse_quarter(event.period)[1] >= self._today:
                found.setdefault(event.task, []).append(event)
        return found

    def teller(self, job: PlannedJob | PlacedJob, uid: Callable[[str], str]) -> str | None:
        """The quarter that tells a job in place of the one that asks; `uid` is that of a key."""
        task = job.task.name
        planned = self._claimed_keys.get(job.key) or self._claimed_days.get((task, job.day))
        if planned:
            return planned
        for event in self._due_there.get(task, ()):
            first, last = parse_quarter(event.period)
            known = event.key == job.key if event.key else event.uid == uid(job.key)
            if (known or event.day == job.day) and first <= job.due_on <= last:
                return event.period
        return None

    def days_apart_from(self, jobs: Iterable[CalendarJob]) -> set[tuple[str, date]]:
        """Task and day of the others' planned jobs, from today on, but for the jobs given."""
        known = {job.key: (job.task, job.day) for job in jobs}
        days = set(known.values())
        return {
            (job.task, job.day)
            for job in self._ahead
            if job.day and job.key not in known and (job.task, job.day) not in days
        }

    def file_with(self, uid: str) -> str | None:
        """The quarter whose last file has the event as one still to come."""
        return self._files.get(uid)

    def plans(self, entry: CalendarEntry) -> bool:
        """Whether another quarter's plan has the job of an event, from today on.

        A key that has an event of its own there is that of another job since one was skipped.
        """
        job = entry.job
        if (job.task, job.day) in self._days:
            return True
        told = any(event.key == job.key and event.uid != job.uid for event in self.events)
        return job.key in self._keys and not told
