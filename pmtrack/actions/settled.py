"""What the calendar tells of jobs that are done: when, and by which completion."""

from collections.abc import Collection

from pmtrack.actions.on_time import deeds
from pmtrack.actions.view import View
from pmtrack.rules.base import instant_of, last_done_base
from pmtrack.rules.revision import Completed
from pmtrack.rules.settled import Deed, Settled, Times, job_is_done, settled_jobs
from pmtrack.rules.shop import Task
from pmtrack.store import history


def completed_jobs(view: View, tasks: Collection[str]) -> dict[str, Completed]:
    """Each job of the tasks named that is done on the view's day, by its key; retired ones too."""
    return {
        key: _completed(view, task, settled)
        for task in view.stored.tasks
        if task.name in tasks
        for key, settled in _settled(view, task).items()
    }


def settled_deeds(view: View, tasks: Collection[str]) -> dict[str, Deed]:
    """What settled each job of the tasks named that is done on the view's day, by its key."""
    return {
        key: settled.deed
        for task in view.stored.tasks
        if task.name in tasks
        for key, settled in _settled(view, task).items()
    }


def is_done(view: View, task: Task, key: str) -> bool:
    """Whether a job of a task is done on the view's day."""
    first_applied = view.stored.applied_on(task.name)
    return job_is_done(
        task, key, first_applied, times_done(view, task), view.calendars(task.machine)
    )


def times_done(view: View, task: Task) -> Times:
    """On how many days a task was done, itself or by a task that covers it, and when last."""
    tasks = (task, *map(view.task, view.coverers(task)))
    count, last = history.times_done(view.store, [one.name for one in tasks], view.day)
    bases = (last_done_base(one, view.day) for one in tasks)
    days = [base.moment.day for base in bases if base]
    return Times(count, max([*days, *filter(None, [last])], default=None))


def _settled(view: View, task: Task) -> dict[str, Settled]:
    first_applied = view.stored.applied_on(task.name)
    return settled_jobs(task, first_applied, deeds(view, task), view.calendars(task.machine))


def _completed(view: View, task: Task, settled: Settled) -> Completed:
    deed = settled.deed
    moment = deed.base.moment
    at = instant_of(moment, view.bare)
    clock = f" at {at.astimezone(view.bare.zone):%H:%M}" if moment.at else ""
    through = "" if deed.task == task.name else f" with {deed.task}, which covers it"
    source = deed.base.source if deed.base.entry is None else f"entry {deed.base.entry}"
    told = f"Done on {moment.day:%a %Y-%m-%d}{clock}{through} ({source})."
    return Completed(moment.day, at, told, settled.along)
