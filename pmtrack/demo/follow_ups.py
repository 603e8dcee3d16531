"""Findings of a service that become jobs: two mended since, one still open."""

from datetime import date, datetime, timedelta

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.technician import NewCompletion, NewJob, complete, raise_job
from pmtrack.demo.floor import Floor
from pmtrack.demo.profile import FOLLOW_UPS
from pmtrack.rules.shop import Task

_MENDED = 2
_SETTLED_IN = 30  # days after adoption before the first finding
_BIG_SERVICE = 150  # days from one to the next
_LONG_AGO = 20  # working days up to now
_WANTED_IN = timedelta(days=7)
_OPEN_SINCE = 4  # working days up to now
_OPEN_FOR = timedelta(days=3)
_MENDED_AFTER = 3  # working days


class FollowUps:
    """Decides which completions raise a job, and has it entered and done."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._raised: set[str] = set()
        self._open = False

    def after(self, task: Task, length: int, day: date) -> bool:
        """Whether a completion of a task raises a job."""
        year = self._floor.year
        if task.machine not in FOLLOW_UPS or task.machine in self._raised or length <= 1:
            return False
        if year.is_recent(day, _OPEN_SINCE) and not self._open:
            self._open = True
            self._raised.add(task.machine)
            return True
        old = (day - year.first).days > _SETTLED_IN and not year.is_recent(day, _LONG_AGO)
        if old and length > _BIG_SERVICE and len(self._raised) < _MENDED:
            self._raised.add(task.machine)
            return True
        return False

    def raise_from(self, recorder: Recorder, task: Task, completion: int, at: datetime) -> None:
        """Enter the job found during a completion, and when it will be done."""
        floor, moment = self._floor, self._floor.moment(at)
        still_open = floor.year.is_recent(moment.day, _OPEN_SINCE)
        wanted = floor.year.today + _OPEN_FOR if still_open else moment.day + _WANTED_IN
        title = FOLLOW_UPS[task.machine]
        new = NewJob(task.machine, title, moment, wanted, found_in=completion, minutes=45)
        _, job = raise_job(recorder, new)
        floor.diary.job_raised()
        if not still_open:
            self._mend(job, floor.year.moved(moment.day, _MENDED_AFTER), recorder.by)

    def _mend(self, job: Task, day: date, by: str) -> None:
        at = self._floor.year.shifts(day)[0].start + timedelta(hours=3)
        done = NewCompletion(job.name, self._floor.moment(at), minutes=50)
        self._floor.diary.note(at, by, lambda recorder: complete(recorder, done))
