"""One task on one day: when it is due and how it stands."""

from dataclasses import dataclass
from datetime import date

from pmtrack.rules.calendar_due import calendar_due, fixed_due, once_due, without_base
from pmtrack.rules.shop import FixedSchedule, OneOff, Rule, Task
from pmtrack.rules.situation import Calendars, RuleDue, Situation
from pmtrack.rules.usage_due import usage_due

STATES = ("overdue", "due", "soon", "deferred", "paused", "ok", "retired")


@dataclass(frozen=True)
class TaskDue:
    """A task on a day: its state, the interval that governs it, and all its intervals."""

    task: Task
    state: str
    governing: RuleDue
    rules: tuple[RuleDue, ...]
    situation: Situation

    @property
    def days_past_due(self) -> int:
        """Days from the due date to the day asked about; 0 when it is not past."""
        due_on = self.governing.due_on
        return max((self.situation.day - due_on).days, 0) if due_on else 0


def task_due(task: Task, situation: Situation, calendars: Calendars) -> TaskDue:
    """How a task stands on the day of the situation."""
    if situation.base is None and task.every:
        found: tuple[RuleDue, ...] = (without_base(task, situation, calendars),)
    else:
        found = tuple(_rule_due(task, rule, situation, calendars) for rule in task.rules)
    governing = min(found, key=_worst_first)
    return TaskDue(task, _state(governing, situation), governing, found, situation)


def _rule_due(task: Task, rule: Rule, situation: Situation, calendars: Calendars) -> RuleDue:
    if isinstance(rule, FixedSchedule):
        return fixed_due(task, rule, situation, calendars)
    if isinstance(rule, OneOff):
        return once_due(rule, situation, calendars)
    if rule.is_calendar:
        return calendar_due(task, rule, situation, calendars)
    return usage_due(task, rule, situation, calendars)


def _worst_first(rule: RuleDue) -> tuple[int, date]:
    return STATES.index(rule.state), rule.due_on or date.max


def _state(governing: RuleDue, situation: Situation) -> str:
    """The governing state, or what stands in its place."""
    if situation.retired_on and situation.day >= situation.retired_on:
        return "retired"
    if governing.state not in ("overdue", "due", "soon"):
        return governing.state
    if situation.out_of_service:
        return "paused"
    if situation.deferral and situation.day <= situation.deferral.until:
        return "deferred"
    return governing.state
