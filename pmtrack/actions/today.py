"""The list of a day: tasks, tools to sharpen, and shifts that nobody logged."""

from dataclasses import dataclass
from datetime import date, datetime

from pmtrack.actions.tooling import tool_list
from pmtrack.actions.view import View
from pmtrack.rules.due import TaskDue
from pmtrack.rules.rate import span_start
from pmtrack.rules.wear import ToolWear
from pmtrack.rules.worklist import MissingLog, missing_logs, worklist
from pmtrack.store import history

TOOL_STATES = ("overdue", "due", "soon")


@dataclass(frozen=True)
class Today:
    """What the technician sees for one day."""

    on: date
    items: list[TaskDue]
    tools: list[ToolWear]
    missing: list[MissingLog]


def today(view: View, now: datetime, within: int | None = None, every: bool = False) -> Today:
    """The list of the view's day, as known at `now`."""
    dues = (view.due(task) for task in view.tasks)
    return Today(
        on=view.day,
        items=worklist(dues, within, every),
        tools=[wear for wear in tool_list(view) if wear.state in TOOL_STATES],
        missing=_missing(view, now),
    )


def _missing(view: View, now: datetime) -> list[MissingLog]:
    """A machine is one logged by shift while its recent logs say so."""
    logged = {}
    for machine in view.shop.machines:
        days = view.machine_days(machine.code)[0]
        first = span_start(view.day, days)
        known = history.logged_shifts(view.store, machine.code, first, view.day)
        if known:
            logged[machine.code] = days, known
    return missing_logs(view.shop, logged, view.day, now)
