"""One task through the year: from one completion to the next, reckoned with the rules."""

from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from pmtrack.demo.counters import expected_per_day
from pmtrack.demo.year import Year
from pmtrack.rules.calendar_due import calendar_due, fixed_due
from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.intervals import add_interval
from pmtrack.rules.recurrence import occurrences
from pmtrack.rules.shop import FixedSchedule, Interval, Rule, Task
from pmtrack.rules.situation import Calendars, RuleDue, Situation

NEVER = date.max


@dataclass(frozen=True)
class Target:
    """When a job is to be done by calendar: announced, worked by, on time through."""

    announced: date = NEVER
    work_by: date = NEVER
    on_time_through: date = NEVER


@dataclass
class Chain:
    """A task with its last completion, what comes next, and the day the crew has in mind."""

    task: Task
    length: int  # days from one completion to the next, about
    covers: tuple[str, ...] = ()
    base: date = date.min
    target: Target = field(default_factory=Target)
    planned: date = NEVER
    limits: dict[str, Fraction] = field(default_factory=dict)  # usage at which an interval is gone
    patience: Fraction = Fraction(1)  # share of a usage interval after which it is done

    @property
    def is_daily(self) -> bool:
        """Whether it is done every working day."""
        return self.length <= 1

    def begin(self, base: date, target: Target, usage: dict[str, Fraction]) -> None:
        """Start anew from a completion."""
        self.base, self.target = base, target
        self.limits = {
            i.unit: usage[i.unit] + i.amount for i in self.task.every if not i.is_calendar
        }

    def share_over(self, unit: str, usage: Fraction) -> Fraction:
        """Usage beyond the limit, in shares of the interval; below 0 before it."""
        amount = next(i.amount for i in self.task.every if i.unit == unit)
        return (usage - self.limits[unit]) / amount


def target_after(task: Task, base: date, year: Year) -> Target:
    """What comes next by calendar after a completion, reckoned with the rules."""
    situation = Situation(day=base, first_applied=year.first, base=Base(Moment(base), "done"))
    calendars = Calendars(year.workdays, year.workdays, year.shop.zone)
    targets = [
        _target(calendar_due(task, rule, situation, calendars))
        for rule in task.every
        if rule.is_calendar
    ]
    if task.on:
        targets.append(_target(fixed_due(task, task.on, situation, calendars)))
    return min(targets, key=lambda target: target.work_by, default=Target())


def _target(due: RuleDue) -> Target:
    if due.due_on is None or due.work_by is None:
        return Target()
    return Target(
        announced=due.work_by - timedelta(days=int(due.lead)),
        work_by=due.work_by,
        on_time_through=max(due.due_on, due.work_by) + timedelta(days=int(due.grace)),
    )


def length_in_days(task: Task, year: Year) -> int:
    """About how many days pass between two completions: the shortest of the task's intervals."""
    return min(_length(task, rule, year) for rule in task.rules)


def _length(task: Task, rule: Rule, year: Year) -> int:
    if isinstance(rule, FixedSchedule):
        return occurrences(rule.rule, year.first, year.shop.zone).gap(1) or 1
    if isinstance(rule, Interval) and rule.is_calendar:
        return (add_interval(year.first, rule) - year.first).days
    return _usage_length(task, rule, year) if isinstance(rule, Interval) else 1


def _usage_length(task: Task, rule: Interval, year: Year) -> int:
    machine = next(m for m in year.shop.machines if m.code == task.machine)
    meter = machine.meter(rule.unit)
    daily = expected_per_day(year, meter) if meter else Fraction(0)
    return max(int(rule.amount / daily * 7 / 5), 2) if daily else 365
