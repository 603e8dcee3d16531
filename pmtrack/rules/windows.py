"""The window of a job: the day to aim for, and the first and last day on which it is on time."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import floor

from pmtrack.rules.due import task_due
from pmtrack.rules.rate import Rate
from pmtrack.rules.shop import FixedSchedule, Interval, OneOff, Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.situation import Calendars, RuleDue, Situation
from pmtrack.rules.usage_due import soon_days
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class JobWindow:
    """When a job is due, the day to work by and to aim for, and its first and last day.

    The day to aim for is the day to work by, unless that lies before the first day.
    Around D lies the grace, 10 % of the interval unless the task says otherwise (common practice,
    no source). What an authority demands comes no later than D, and no earlier than its lead; a job
    of a fixed schedule no earlier than its lead too, since it would not be settled then.
    """

    due_on: date
    work_by: date
    target: date
    first: date
    last: date
    rule: RuleDue
    lead_days: int
    widened: bool = False  # to the last working day before, for want of one in the window


def job_window(task: Task, situation: Situation, calendars: Calendars) -> JobWindow | None:
    """The window of a task's next job; None where no due date can be told or none is to come."""
    if task.once and situation.base is not None:
        return None
    found = [
        _rule_window(task, rule, situation, calendars)
        for rule in task_due(task, situation, calendars).rules
        if rule.due_on is not None
    ]
    if not found:
        return None
    window = min(found, key=lambda w: w.due_on)
    window = replace(window, last=min(w.last for w in found))
    if situation.deferral and not task.authority:
        window = _put_off(window, situation.deferral.until, calendars.shop)
    return _with_a_day(window, calendars.shop)


def _put_off(window: JobWindow, until: date, workdays: Workdays) -> JobWindow:
    """The window of a task deferred through a date: it is done by then, and not much before."""
    last = max(window.last, until)
    if until <= window.work_by:
        return replace(window, last=last)
    by = workdays.last_through(until) or window.work_by
    return replace(window, last=last, work_by=by, target=by, first=by)


def _with_a_day(window: JobWindow, workdays: Workdays) -> JobWindow:
    """The window with a day to aim for inside: after D where none before it is a working day.

    Where it has no working day at all, it is widened to the day to work by.
    """
    if window.work_by >= window.first:
        return window
    after = workdays.nth_after(window.due_on, 1)
    if after is not None and after <= window.last:
        return replace(window, target=after)
    return replace(window, first=window.work_by, widened=True)


def _rule_window(
    task: Task, rule: RuleDue, situation: Situation, calendars: Calendars
) -> JobWindow:
    """The window of one interval; its first day never lies before the day after the base."""
    due_on, by = rule.due_on, rule.work_by
    assert due_on is not None and by is not None  # noqa: S101, PT018 - only such are asked
    before, after = _margins(task, rule, situation)
    lawful = task.authority is not None
    by_calendar = rule.unit == "day"
    if by_calendar:
        first = due_on - timedelta(days=before)
        last = due_on if lawful else max(due_on, by) + timedelta(days=after)
    else:
        first = calendars.machine.back_from(due_on, before + 1) or due_on
        last = due_on if lawful else calendars.machine.nth_after(due_on, after) or due_on
        last = max(last, due_on)
    if isinstance(rule.rule, FixedSchedule):
        first = max(first, by - timedelta(days=floor(rule.lead)))
    if situation.base:
        first = max(first, situation.base.moment.day + ONE_DAY)
    lead = floor(rule.lead) if by_calendar else soon_days(task)
    return JobWindow(due_on, by, by, first, last, rule, lead)


def _margins(task: Task, rule: RuleDue, situation: Situation) -> tuple[int, int]:
    """Days before and after D: calendar days, or of a usage interval working days at its rate."""
    early = rule.lead if task.authority or isinstance(rule.rule, OneOff) else rule.grace
    if rule.unit == "day":
        return floor(early), floor(rule.grace)
    assert isinstance(rule.rule, Interval)  # noqa: S101 - nothing else has a meter's unit
    view = (situation.meters or {}).get(rule.rule)
    per_day = view.standing.rate.per_day if view else None
    if not per_day:
        return 0, 0
    return floor(early / per_day), floor(rule.grace / per_day)


_Key = tuple[object, ...]


class Windows:
    """Windows worked out once: many tasks of a shop share rule, grace, lead and base."""

    def __init__(self) -> None:
        self._known: dict[_Key, JobWindow | None] = {}

    def of(self, task: Task, situation: Situation, calendars: Calendars) -> JobWindow | None:
        """As `job_window`, from what is known already where it is the same."""
        key = _key(task, situation, calendars)
        if key is None:
            return job_window(task, situation, calendars)
        try:  # a key holds all of a situation, so it is looked up once
            return self._known[key]
        except KeyError:
            self._known[key] = found = job_window(task, situation, calendars)
            return found


def _key(task: Task, situation: Situation, calendars: Calendars) -> _Key | None:
    """What the window of a job depends on; None where it depends on more.

    A task never done depends on its start, one with a base on the rates of its meters.
    """
    if situation.deferral or task.once:
        return None
    base, rates = situation.base, list[Rate]()
    for interval in task.every:
        if base and not interval.is_calendar:
            view = (situation.meters or {}).get(interval)
            if view is None or view.standing.usage != view.at_base.usage or view.standing.stale:
                return None
            rates.append(view.standing.rate)
    return (
        task.every,
        task.on,
        task.starts if task.on or not base else None,
        situation.first_applied if task.on or not base else None,
        task.grace,
        task.lead,
        task.authority is None,
        base.moment.day if base else None,
        situation.day,
        tuple(rates),
        calendars.machine if rates else None,
    )
