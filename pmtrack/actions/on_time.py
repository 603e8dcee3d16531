"""The jobs of a task that fell due in a period, from its completions and those that cover it."""

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from pmtrack.actions.view import View
from pmtrack.rules.base import instant_of, last_done_base
from pmtrack.rules.facts import Base, done_base
from pmtrack.rules.on_time import (
    LATE,
    OPEN,
    DoneJob,
    JobOutcome,
    UsageAtDone,
    done_outcome,
    fixed_outcomes,
)
from pmtrack.rules.settled import Deed
from pmtrack.rules.shop import Interval, Task
from pmtrack.rules.usage_due import is_overdue
from pmtrack.store import history


def outcomes(view: View, task: Task, first: date, last: date) -> list[JobOutcome]:
    """The jobs of a task due on the dates from first to last, as known on the view's day."""
    found = list(_fixed(view, task, last) if task.on else _every(view, task))
    return [job for job in found if first <= job.due_on <= last]


def bases(view: View, task: Task) -> list[Base]:
    """All that a task's intervals ever ran from, in time order, up to the view's day."""
    return [deed.base for deed in deeds(view, task)]


def deeds(view: View, task: Task) -> list[Deed]:
    """All that ever settled a task, with whose deed it was, in time order, up to that day."""
    found = list[Deed]()
    for name in (task.name, *view.coverers(task)):
        if before := last_done_base(view.task(name), view.day):
            found.append(Deed(name, before))
        for number, moment in history.completions(view.store, name, view.day):
            found.append(Deed(name, done_base(moment, number, name)))
    return sorted(found, key=lambda deed: instant_of(deed.base.moment, view.bare))


def _fixed(view: View, task: Task, last: date) -> Iterator[JobOutcome]:
    days = [base.moment.day for base in bases(view, task)]
    origin = (view.stored.applied_on(task.name), view.calendars(task.machine))
    for outcome in fixed_outcomes(task, days, (last, view.day), origin):
        if outcome.done_on or not _is_retired(view, task):
            yield outcome


def _every(view: View, task: Task) -> Iterator[JobOutcome]:
    known: list[Base | None] = [None, *bases(view, task)]
    first_applied = view.stored.applied_on(task.name)
    for start, end in pairwise(known):
        assert end is not None  # noqa: S101 - only the first has no base
        if end.entry is None:
            continue  # what came before pmtrack is not judged
        job = DoneJob(start, end, _usage_at(view, task, start, end))
        yield done_outcome(task, job, first_applied, view.calendars(task.machine))
    if not _is_retired(view, task):
        yield from _open_job(view, task)


def _usage_at(view: View, task: Task, start: Base | None, end: Base) -> dict[Interval, UsageAtDone]:
    """Each usage interval at the completion, by the usage entered up to then."""
    if start is None:
        return {}
    then = View(view.store, end.moment.day, view.stored)
    return {
        interval: _one_usage(view, then, (task, interval), (start, end))
        for interval in task.every
        if not interval.is_calendar
    }


def _one_usage(
    view: View, then: View, of: tuple[Task, Interval], between: tuple[Base, Base]
) -> UsageAtDone:
    (task, interval), (start, end) = of, between
    meter = view.meter(task.machine, interval.unit)
    began, ended = meter.usage_at(start), meter.usage_at(end)
    if ended is None:
        return UsageAtDone(None, overdue=False)
    target = (meter.level() if began is None else began) + interval.amount
    if ended < target:
        return UsageAtDone(None, overdue=False)
    reached = then.meter(task.machine, interval.unit).reached_on(target - meter.level())
    overdue = is_overdue(task, interval, ended - target, reached, end.moment.day)
    return UsageAtDone(reached, overdue)


def _open_job(view: View, task: Task) -> Iterator[JobOutcome]:
    """The job not done yet: late once its window is past."""
    due = view.due(task)
    dates = [rule.due_on for rule in due.rules if rule.due_on]
    if dates:
        late = any(rule.state == "overdue" for rule in due.rules)
        yield JobOutcome(task.name, min(dates), None, LATE if late else OPEN)


def _is_retired(view: View, task: Task) -> bool:
    retired = view.stored.retired_day(task.name)
    return retired is not None and retired <= view.day
