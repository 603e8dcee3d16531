"""Calendar intervals and fixed schedules: when they run out, and how they stand on a day."""

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from pmtrack.rules import intervals
from pmtrack.rules.recurrence import occurrences
from pmtrack.rules.shop import FixedSchedule, Interval, OneOff, Rule, Task
from pmtrack.rules.situation import Calendars, RuleDue, Situation
from pmtrack.rules.usage import ZERO
from pmtrack.rules.usage_due import soon_days
from pmtrack.rules.workdays import Workdays, work_by


@dataclass(frozen=True)
class _Window:
    """A due date with the last day to work and the days of grace and lead around them."""

    due_on: date
    work_by: date
    grace: int
    lead: int

    def state(self, day: date, authority: str | None) -> str:
        """The state by calendar; the law's due date is never moved by a closed day."""
        if day > max(self.due_on, self.work_by) + timedelta(days=self.grace):
            return "overdue"
        if authority and day > self.due_on:
            return "overdue"
        if day >= self.work_by:
            return "due"
        return "soon" if day >= self.work_by - timedelta(days=self.lead) else "ok"


def _rule_due(rule: Rule, window: _Window, task: Task, situation: Situation) -> RuleDue:
    return RuleDue(
        rule=rule,
        state=window.state(situation.day, task.authority),
        due_on=window.due_on,
        work_by=window.work_by,
        grace=Fraction(window.grace),
        lead=Fraction(window.lead),
        used=_share_of_days(situation, window.due_on),
    )


def _share_of_days(situation: Situation, due_on: date) -> Fraction | None:
    if situation.base is None or due_on <= situation.base.moment.day:
        return None
    start = situation.base.moment.day
    return Fraction((situation.day - start).days, (due_on - start).days)


def calendar_due(
    task: Task, interval: Interval, situation: Situation, calendars: Calendars
) -> RuleDue:
    """A calendar interval, counted from the base."""
    assert situation.base is not None  # noqa: S101 - without a base the task's start counts
    start = situation.base.moment.day
    due_on = intervals.add_interval(start, interval)
    length = (due_on - start).days
    window = _Window(
        due_on,
        work_by(due_on, start, calendars.shop),
        intervals.grace_days(task, length),
        intervals.lead_days(task, length),
    )
    return _rule_due(interval, window, task, situation)


def without_base(task: Task, situation: Situation, calendars: Calendars) -> RuleDue:
    """A task never done: due at `starts`, or on the day it was first applied."""
    due_on = task.starts or situation.first_applied
    lengths = {
        i: (intervals.add_interval(due_on, i) - due_on).days for i in task.every if i.is_calendar
    }
    if lengths:
        interval = min(lengths, key=lambda i: lengths[i])
        grace = intervals.grace_days(task, lengths[interval])
        lead = intervals.lead_days(task, lengths[interval])
    else:
        interval, grace = task.every[0], 0
        lead = soon_days(task)
    window = _Window(due_on, work_by(due_on, None, calendars.shop), grace, lead)
    return _rule_due(interval, window, task, situation)


def once_due(task: Task, once: OneOff, situation: Situation, calendars: Calendars) -> RuleDue:
    """A one-off job: on the list from when it is raised until it is done; no grace."""
    if situation.base is not None:
        return RuleDue(once, "ok", None, None, ZERO, ZERO, remark="done")
    by = work_by(once.due_on, None, calendars.shop)
    lead = max((by - situation.first_applied).days, 0)
    return _rule_due(once, _Window(once.due_on, by, 0, lead), task, situation)


def fixed_due(
    task: Task, schedule: FixedSchedule, situation: Situation, calendars: Calendars
) -> RuleDue:
    """The first occurrence that no completion has settled."""
    index = unsettled(task, situation, calendars)
    dates = occurrences(schedule.rule, task.starts or situation.first_applied, calendars.zone)
    due_on = dates[index]
    if due_on is None:
        remark = "the schedule has no further date"
        return RuleDue(schedule, "ok", None, None, ZERO, ZERO, remark=remark)
    length = dates.gap(index) or 0
    window = _Window(
        due_on,
        work_by(due_on, None, calendars.shop),
        intervals.grace_days(task, length),
        intervals.lead_days(task, length),
    )
    return _rule_due(schedule, window, task, situation)


def unsettled(task: Task, situation: Situation, calendars: Calendars) -> int:
    """Index of the first occurrence whose lead had not begun when the task was last done."""
    assert task.on is not None  # noqa: S101
    if situation.base is None:
        return 0
    dates = occurrences(task.on.rule, task.starts or situation.first_applied, calendars.zone)
    done = situation.base.moment.day
    index = dates.count_through(done)
    while (ahead := dates[index]) is not None and _settles(
        task, dates.gap(index), ahead, done, calendars.shop
    ):
        index += 1
    while (
        index
        and (behind := dates[index - 1]) is not None
        and not _settles(task, dates.gap(index - 1), behind, done, calendars.shop)
    ):
        index -= 1
    return index


def _settles(task: Task, gap: int | None, due_on: date, done: date, workdays: Workdays) -> bool:
    lead = timedelta(days=intervals.lead_days(task, gap or 0))
    return work_by(due_on, None, workdays) - lead <= done
