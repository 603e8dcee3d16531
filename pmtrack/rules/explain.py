"""Why a task stands where it does: the arithmetic of each interval in words."""

from datetime import date

from pmtrack.rules.calendar_due import Window
from pmtrack.rules.due import TaskDue
from pmtrack.rules.quantity import show
from pmtrack.rules.rate import Rate
from pmtrack.rules.schedule_words import schedule_words
from pmtrack.rules.shop import FixedSchedule, Interval, OneOff, Task
from pmtrack.rules.situation import MeterView, RuleDue


def reason(due: TaskDue) -> str:
    """Why a task is on the list, in a few words."""
    rule, past = due.governing, due.days_past_due
    if rule.due_on is None:
        return rule.remark or "no due date is known"
    if rule.target is not None:
        share = f"{show(100 * rule.used, 0)} % of " if rule.used is not None else ""
        return f"{share}{rule.rule.text}{' (estimated)' if rule.estimated else ''}"
    ahead = (rule.due_on - due.situation.day).days
    when = f"{past} d past due" if past else ("due today" if ahead == 0 else f"due in {ahead} d")
    return f"{governs(rule)}, {when}"


def governs(rule: RuleDue) -> str:
    """The interval in words: every 1 month, every week on Monday, once."""
    if isinstance(rule.rule, Interval):
        return f"every {rule.rule.text}"
    if isinstance(rule.rule, FixedSchedule):
        return schedule_words(rule.rule.text)
    return rule.rule.text


def explain(due: TaskDue) -> list[str]:
    """Line by line: each interval's rule and arithmetic, and what stands in its place."""
    lines = []
    for rule in due.rules:
        mark = " (governs)" if rule is due.governing and len(due.rules) > 1 else ""
        lines.append(f"{governs(rule)}: {rule.state}{mark}")
        lines += [f"  {line}" for line in _rule_lines(due, rule)]
    return lines + _in_place(due)


def _rule_lines(due: TaskDue, rule: RuleDue) -> list[str]:
    if rule.due_on is None and rule.target is None:
        return [rule.remark] if rule.remark else []
    lines = _usage_lines(due, rule) if rule.target is not None else [_calendar_line(due, rule)]
    if rule.due_on is not None and rule.work_by is not None:
        lines.append(_window_line(due.task, rule))
    return lines + ([rule.remark] if rule.remark else [])


def _calendar_line(due: TaskDue, rule: RuleDue) -> str:
    base = due.situation.base
    if isinstance(rule.rule, OneOff):
        return f"raised {due.situation.first_applied}, wanted by {rule.due_on}"
    if isinstance(rule.rule, FixedSchedule):
        since = f"last done {base.moment.day} ({base.source})" if base else "never done"
        return f"{since}; first date of the schedule not settled: {_day(rule.due_on)}"
    if base is None:
        origin = "its start date" if due.task.starts else "the day it was first applied"
        return f"never done; due on {origin}, {_day(rule.due_on)}"
    return f"{base.moment.day} ({base.source}) + {rule.rule.text} = {_day(rule.due_on)}"


def _window_line(task: Task, rule: RuleDue) -> str:
    """Work-by day, grace and lead, and when the state changes."""
    assert rule.work_by is not None and rule.due_on is not None  # noqa: S101, PT018
    by = f"work by {_day(rule.work_by)}"
    if rule.target is not None:
        return f"{by}; grace {show(rule.grace)} {rule.unit}, lead {show(rule.lead)} {rule.unit}"
    lawful = task.authority is not None
    window = Window(rule.due_on, rule.work_by, int(rule.grace), int(rule.lead), lawful)
    return (
        f"{by}; soon from {window.opens} (lead {show(rule.lead)} d), "
        f"overdue after {window.last_day} (grace {show(rule.grace)} d)"
    )


def _usage_lines(due: TaskDue, rule: RuleDue) -> list[str]:
    assert isinstance(rule.rule, Interval)  # noqa: S101
    view = (due.situation.meters or {})[rule.rule]
    assert rule.target is not None  # noqa: S101
    base = due.situation.base
    since = f"{base.moment.day} ({base.source})" if base else "the start"
    lines = [
        f"{show(view.at_base.usage)} at {since} + {show(rule.rule.amount)} = "
        f"{show(rule.target)} {rule.unit}"
    ]
    return [*lines, *_standing_lines(rule, view), *_passage_lines(rule, view)]


def _standing_lines(rule: RuleDue, view: MeterView) -> list[str]:
    standing = view.standing
    if standing.usage is None or standing.last_day is None:
        return ["the meter has no entry yet"]
    line = f"{show(standing.usage)} entered up to {standing.last_day}"
    if rule.estimated and rule.usage is not None:
        days = standing.estimated_days
        line += f", estimated {show(rule.usage)} with {days} working day(s) not entered"
    return [line]


def _passage_lines(rule: RuleDue, view: MeterView) -> list[str]:
    rate = view.standing.rate
    if view.at_base.reached_on:
        return [f"the target was reached on {_day(view.at_base.reached_on)}"]
    if rate.per_day is None or rule.due_on is None or rule.target is None:
        return []
    entered = view.standing.usage
    remaining = rule.target - (entered if entered is not None else view.at_base.usage)
    days = remaining / rate.per_day
    lines = [
        f"rate {show(rate.per_day)} a working day{_rate_origin(rate)}",
        f"{show(remaining)} / {show(rate.per_day)} = {show(days, 2)}, so working day "
        f"{-(-days.numerator // days.denominator)} after it: {_day(rule.due_on)}",
    ]
    if rule.due_range:
        lines.append(f"80 % range {rule.due_range[0]} to {rule.due_range[1]}")
    if rule.likely_range and rule.likely_range != rule.due_range:
        first, last = rule.likely_range
        lines.append(f"likely range {first} to {last}, as the rate may not stay as it is")
    return lines


def _rate_origin(rate: Rate) -> str:
    if not rate.days:
        return " (expected)"
    return f" ({show(rate.gained)} in the last {rate.days} with entries{_weighed(rate)})"


def _weighed(rate: Rate) -> str:
    """Whether the shop file's expectation has part in the rate."""
    plain = rate.per_day == rate.gained / rate.days if rate.days else True
    return "" if plain else ", weighed with what is expected"


def _in_place(due: TaskDue) -> list[str]:
    """What stands in place of the state: retired, out of service, put off."""
    situation = due.situation
    if due.state == "retired":
        return [f"retired since {situation.retired_on}: no longer in the shop file"]
    if due.state == "paused":
        return ["paused: the machine is out of service"]
    if due.state == "deferred" and situation.deferral:
        put_off = situation.deferral
        return [f"put off through {put_off.until}: {put_off.why} (entry {put_off.entry})"]
    return []


def _day(day: date | None) -> str:
    return f"{day:%a %Y-%m-%d}" if day else "not known"
