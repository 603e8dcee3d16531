"""The list of a day: tasks, tools to sharpen, and shifts that nobody logged."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime

from pmtrack.actions.calendar import next_key
from pmtrack.actions.settled import is_done
from pmtrack.actions.tooling import tool_list
from pmtrack.actions.view import View
from pmtrack.rules.due import TaskDue
from pmtrack.rules.rate import span_start
from pmtrack.rules.shop import Task
from pmtrack.rules.wear import ToolWear
from pmtrack.rules.worklist import MissingLog, missing_logs, worklist
from pmtrack.store import history
from pmtrack.store.plans import days_ahead, planned_on

TOOL_STATES = ("overdue", "due", "soon")


@dataclass(frozen=True)
class PlannedToday:
    """A job that a saved plan has on the day, alone or in a firm's visit; not done yet."""

    task: Task
    visit: str | None


@dataclass(frozen=True)
class Today:
    """What the technician sees for one day."""

    on: date
    items: list[TaskDue]
    tools: list[ToolWear]
    missing: list[MissingLog]
    planned: list[PlannedToday] = field(default_factory=list)
    next_planned: dict[str, date] = field(default_factory=dict)


def today(view: View, now: datetime, within: int | None = None, every: bool = False) -> Today:
    """The list of the view's day, as known at `now`."""
    items = worklist((view.due(task) for task in view.tasks), within, every)
    return Today(
        on=view.day,
        items=items,
        tools=[wear for wear in tool_list(view) if wear.state in TOOL_STATES],
        missing=_missing(view, now),
        planned=_planned(view),
        next_planned=_next_planned(view, items),
    )


def _next_planned(view: View, items: Iterable[TaskDue]) -> dict[str, date]:
    """The day that a saved plan has for the job that each task is due for, by task."""
    ahead = days_ahead(view.store, view.day)
    if not ahead:
        return {}
    keys = {due.task.name: next_key(view, due.task) for due in items}
    return {task: ahead[key] for task, key in keys.items() if key in ahead}


def _planned(view: View) -> list[PlannedToday]:
    """The day's jobs of saved plans that are still to be done."""
    found = []
    for key, name, visit in planned_on(view.store, view.day):
        task = view.task(name)
        if task.name not in view.stored.retired_on and not is_done(view, task, key):
            found.append(PlannedToday(task, visit))
    return found


def _missing(view: View, now: datetime) -> list[MissingLog]:
    """A machine is one logged by shift while its recent logs say so."""
    logged = {}
    for machine in view.stored.machines_on(view.day):
        days = view.machine_days(machine.code)[0]
        first = span_start(view.day, days)
        known = history.logged_shifts(view.store, machine.code, first, view.day)
        if known:
            logged[machine.code] = days, known
    return missing_logs(view.shop, logged, view.day, now)
