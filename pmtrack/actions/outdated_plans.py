"""What a saved plan does not know: tasks that went since, and what an apply changed."""

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date

from pmtrack.actions.view import View
from pmtrack.rules.dates import parse_quarter
from pmtrack.rules.plan import Plan
from pmtrack.rules.shop import Task
from pmtrack.store.database import Store
from pmtrack.store.description import Change
from pmtrack.store.planned import planned_tasks
from pmtrack.store.stored_shop import load_shop

# the fields that bear on the days of a plan; of titles, steps and the like the latest are told
_BEARING = {
    "shop": {"timezone", "shifts", "closed", "crew_hours"},
    "supplier": {"notice"},
    "machine": {"in_service"},
    "meter": {"expected"},
    "task": {"every", "on", "starts", "last_done", "grace", "lead", "minutes", "crew", "covers"}
    | {"authority", "machine_down"},
}


def without_retired(view: View, plan: Plan) -> tuple[Plan, list[str]]:
    """A saved plan without the jobs of tasks and machines that were retired, and these tasks."""
    names = {job.task.name for job in plan.jobs} | {job.task.name for job in plan.unfit}
    gone = names & view.stored.retired_on.keys()
    found = replace(
        plan,
        jobs=tuple(job for job in plan.jobs if job.task.name not in gone),
        unfit=tuple(job for job in plan.unfit if job.task.name not in gone),
    )
    return found, sorted(gone)


def outdated_plans(store: Store, changes: Iterable[Change], today: date) -> list[str]:
    """The quarters, not over, whose saved plans an apply made outdated, in order."""
    bearing = [change for change in changes if _bears_on_days(change)]
    if not bearing:
        return []
    known = {task.name: task for task in load_shop(store).tasks}
    return [
        period
        for period, names in planned_tasks(store).items()
        if parse_quarter(period)[1] >= today
        and _touch(bearing, [known[n] for n in names if n in known])
    ]


def _bears_on_days(change: Change) -> bool:
    fields = _BEARING.get(change.kind, set())
    return bool(fields) and (change.what != "changed" or bool(fields & set(change.fields)))


def _touch(changes: Iterable[Change], tasks: Collection[Task]) -> bool:
    """Whether changes touch a plan of these tasks; a task that is new may be due in any."""
    named: dict[str, set[str]] = {
        "supplier": {task.crew for task in tasks if task.crew},
        "machine": {task.machine for task in tasks},
        "meter": {f"{task.machine}/{i.unit}" for task in tasks for i in task.every},
        "task": {task.name for task in tasks},
    }
    return any(
        change.kind == "shop"
        or (change.kind == "task" and change.what == "added")
        or change.name in named[change.kind]
        for change in changes
    )
