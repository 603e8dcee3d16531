"""The list of a day: tasks, tools, machines that are down, and shifts that nobody logged."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from zoneinfo import ZoneInfo

from pmtrack.actions.view import View
from pmtrack.actions.waking import waking
from pmtrack.rules.due import TaskDue
from pmtrack.rules.facts import Stop
from pmtrack.rules.rate import span_start
from pmtrack.rules.shop import Task
from pmtrack.rules.wear import ToolWear
from pmtrack.rules.worklist import MissingLog, missing_logs, slots_to_log, worklist
from pmtrack.store import history
from pmtrack.store.planned import days_ahead, planned_on
from pmtrack.store.running_stops import running_stops


@dataclass(frozen=True)
class PlannedToday:
    """A job that a saved plan has on the day, alone or in a firm's visit; not done yet."""

    task: Task
    visit: str | None


@dataclass(frozen=True)
class Today:
    """What the technician sees for one day."""

    on: date
    zone: ZoneInfo
    items: list[TaskDue]
    tools: list[ToolWear]
    missing: list[MissingLog]
    planned: list[PlannedToday] = field(default_factory=list)
    next_planned: dict[str, date] = field(default_factory=dict)
    down: list[Stop] = field(default_factory=list)


def today(view: View, now: datetime, within: int | None = None, every: bool = False) -> Today:
    """The list of the view's day, as known at `now`."""
    tasks = view.tasks if every else waking(view, within or 0)
    items = worklist((view.due(task) for task in tasks), within, every)
    return Today(
        on=view.day,
        zone=view.bare.zone,
        items=items,
        tools=_tools(view),
        missing=_missing(view, now),
        planned=_planned(view),
        next_planned=_next_planned(view, items),
        down=running_stops(view.store, view.day),
    )


def _tools(view: View) -> list[ToolWear]:
    """The tools to sharpen or to replace."""
    if not view.stored.tools:
        return []
    from pmtrack.actions.tooling import worn_tools

    return worn_tools(view)


def _next_planned(view: View, items: Iterable[TaskDue]) -> dict[str, date]:
    """The day that a saved plan has for the job that each task is due for, by task."""
    ahead = days_ahead(view.store, view.day)
    if not ahead:
        return {}
    from pmtrack.actions.calendar import next_key
    from pmtrack.rules.job_key import task_of
    from pmtrack.rules.settled import is_skipped

    days = defaultdict[str, list[date]](list)
    for key, day in ahead.items():
        days[task_of(key)].append(day)
    found = {}
    for due in items:
        task, base = due.task, due.situation.base
        if task.every:  # its jobs are numbered otherwise since one was skipped
            last = base.moment.day if base else None
            later = [day for day in days.get(task.name, ()) if not is_skipped(task, day, last)]
            if later:
                found[task.name] = min(later)
        elif task.name in days:
            at = ahead.get(next_key(view, due) or "")
            found |= {task.name: at} if at else {}
    return found


def _planned(view: View) -> list[PlannedToday]:
    """The day's jobs of saved plans that are still to be done."""
    rows = planned_on(view.store, view.day)
    if not rows:
        return []
    found = []
    for key, name, visit in rows:
        task = view.task(name)
        if view.stored.retired_day(task.name) is None and not _is_settled(view, task, key):
            found.append(PlannedToday(task, visit))
    return found


def _is_settled(view: View, task: Task, key: str) -> bool:
    """Whether a planned job is done, or skipped: the task was done that day, as another job."""
    from pmtrack.actions.settled import is_done
    from pmtrack.rules.settled import is_skipped

    base = view.base(task)
    last = base.moment.day if base else None
    return is_skipped(task, view.day, last) or is_done(view, task, key)


def _missing(view: View, now: datetime) -> list[MissingLog]:
    """A machine is one logged by shift while its recent logs say so."""
    logged = {}
    for code in _perhaps_missing(view, now):
        days = view.machine_days(code)[0]
        known = history.logged_shifts(view.store, code, span_start(view.day, days), view.day)
        if known:
            logged[code] = days, known
    return missing_logs(view.bare, logged, view.day, now)


def _perhaps_missing(view: View, now: datetime) -> list[str]:
    """The machines that lack a log of the last shifts, and those that were out of service."""
    slots = slots_to_log(view.bare, view.workdays, view.day, now)
    return history.machines_perhaps_lacking(view.store, slots, view.day)
