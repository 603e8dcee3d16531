"""Calendar intervals and fixed schedules: when they run out, and how they stand on a day."""

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from pmtrack.rules import intervals
from pmtrack.rules.recurrence import Occurrences, occurrences
from pmtrack.rules.shop import FixedSchedule, Interval, OneOff, Rule, Task
from pmtrack.rules.situation import Calendars, RuleDue, Situation
from pmtrack.rules.usage import ZERO
from pmtrack.rules.usage_due import soon_days
from pmtrack.rules.workdays import Workdays, work_by


@dataclass(frozen=True)
class Window:
    """A due date with the last day to work, and the days of grace and lead around them."""

    due_on: date
    work_by: date
    grace: int
    lead: int
    lawful: bool = False  # demanded by an authority

    @property
    def last_day(self) -> date:
        """The last day that is not overdue; the law's due date is not moved by a closed day."""
        if self.lawful:
            return self.due_on
        return max(self.due_on, self.work_by) + timedelta(days=self.grace)

    @property
    def opens(self) -> date:
        """The day on which the job is announced."""
        return self.work_by - timedelta(days=self.lead)

    def state(self, day: date) -> str:
        """How a job with this window stands on a day."""
        if day > self.last_day:
            return "overdue"
        if day >= self.work_by:
            return "due"
        return "soon" if day >= self.opens else "ok"


def _window(task: Task, due_on: date, by: date, length: int) -> Window:
    return Window(
        due_on=due_on,
        work_by=by,
        grace=intervals.grace_days(task, length),
        lead=intervals.lead_days(task, length),
        lawful=task.authority is not None,
    )


def interval_window(task: Task, interval: Interval, start: date, workdays: Workdays) -> Window:
    """The window of a calendar interval that runs from the base day `start`."""
    due_on = intervals.add_interval(start, interval)
    return _window(task, due_on, work_by(due_on, start, workdays), (due_on - start).days)


def start_window(task: Task, first_applied: date, workdays: Workdays) -> Window:
    """The window of a task never done: due at `starts`, or on the day it was first applied.

    Grace and lead are those of the shortest calendar interval that begins then.
    """
    due_on = task.starts or first_applied
    by = work_by(due_on, None, workdays)
    shortest = _shortest(task, due_on)
    if shortest is None:
        return Window(due_on, by, 0, soon_days(task), task.authority is not None)
    return _window(task, due_on, by, (intervals.add_interval(due_on, shortest) - due_on).days)


def _shortest(task: Task, start: date) -> Interval | None:
    calendar = [interval for interval in task.every if interval.is_calendar]
    return min(calendar, key=lambda i: intervals.add_interval(start, i), default=None)


def fixed_window(task: Task, dates: Occurrences, index: int, workdays: Workdays) -> Window | None:
    """The window of one occurrence of a fixed schedule; None after the last."""
    due_on = dates[index]
    if due_on is None:
        return None
    return _window(task, due_on, work_by(due_on, None, workdays), dates.gap(index) or 0)


def dates_of(task: Task, first_applied: date, zone: ZoneInfo) -> Occurrences:
    """The dates of a task's fixed schedule, from its start or the day it was first applied."""
    assert task.on is not None  # noqa: S101 - asked only of tasks with a schedule
    return occurrences(task.on.rule, task.starts or first_applied, zone)


def first_unsettled(task: Task, dates: Occurrences, done: date | None, workdays: Workdays) -> int:
    """Index of the first occurrence whose lead had not begun on the day the task was last done."""
    if done is None:
        return 0
    index = dates.count_through(done)
    while (window := fixed_window(task, dates, index, workdays)) and window.opens <= done:
        index += 1
    while index and (window := fixed_window(task, dates, index - 1, workdays)):
        if window.opens <= done:
            break
        index -= 1
    return index


def _rule_due(rule: Rule, window: Window, situation: Situation) -> RuleDue:
    return RuleDue(
        rule=rule,
        state=window.state(situation.day),
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
    return _rule_due(interval, interval_window(task, interval, start, calendars.shop), situation)


def without_base(task: Task, situation: Situation, calendars: Calendars) -> RuleDue:
    """A task never done."""
    window = start_window(task, situation.first_applied, calendars.shop)
    interval = _shortest(task, window.due_on) or task.every[0]
    return _rule_due(interval, window, situation)


def once_window(once: OneOff, raised: date, workdays: Workdays) -> Window:
    """The window of a one-off job: announced from the day it is raised; no grace."""
    by = work_by(once.due_on, None, workdays)
    return Window(once.due_on, by, 0, max((by - raised).days, 0))


def once_due(once: OneOff, situation: Situation, calendars: Calendars) -> RuleDue:
    """A one-off job: on the list from when it is raised until it is done."""
    if situation.base is not None:
        return RuleDue(once, "ok", None, None, ZERO, ZERO, remark="done")
    window = once_window(once, situation.first_applied, calendars.shop)
    return _rule_due(once, window, situation)


def fixed_due(
    task: Task, schedule: FixedSchedule, situation: Situation, calendars: Calendars
) -> RuleDue:
    """The first occurrence of a fixed schedule that no completion has settled."""
    dates = dates_of(task, situation.first_applied, calendars.zone)
    done = situation.base.moment.day if situation.base else None
    index = first_unsettled(task, dates, done, calendars.shop)
    window = fixed_window(task, dates, index, calendars.shop)
    if window is None:
        remark = "the schedule has no further date"
        return RuleDue(schedule, "ok", None, None, ZERO, ZERO, remark=remark)
    return _rule_due(schedule, window, situation)
