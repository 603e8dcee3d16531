"""Tools against the jobs that are planned: when each is worn out by them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.actions.tooling import factors, tool_list
from pmtrack.actions.view import View
from pmtrack.imports.jobs import read_jobs
from pmtrack.rules.planned_jobs import PlannedRun, WearByJobs, still_to_come, wear_by_jobs
from pmtrack.rules.quantity import show
from pmtrack.store import tool_history


@dataclass(frozen=True)
class ToolsByJobs:
    """Tools with their days by the jobs still to come, and what of the file was not counted."""

    on: date
    jobs: list[PlannedRun]  # in order of days
    tools: list[WearByJobs]
    remarks: list[str]


def tools_by_jobs(view: View, name: str, data: bytes, machine: str | None = None) -> ToolsByJobs:
    """The tools of the shop, or of one machine, by the jobs of a file.

    Raises FaultyFile with all that is wrong with the file.
    """
    rows = read_jobs(name, data, view.shop)
    made = list(_made(view, rows))
    jobs = still_to_come(rows, view.day, made)
    tools = [
        found
        for found in wear_by_jobs(tool_list(view), jobs, factors(view))
        if machine in (None, found.wear.tool.machine)
    ]
    remarks = [*_past(name, rows, view.day), *_logged(rows, jobs, view.day)]
    return ToolsByJobs(view.day, jobs, tools, remarks)


def _made(view: View, rows: Sequence[PlannedRun]) -> Iterable[tuple[str, str, Fraction]]:
    """Good parts logged on the view's day by the programs of that day's jobs."""
    for program in dict.fromkeys(row.program for row in rows if row.day == view.day):
        for log in tool_history.program_logs(view.store, program, view.day, view.day):
            yield program, log.machine, log.parts


def _past(name: str, rows: Sequence[PlannedRun], day: date) -> list[str]:
    lines = [str(row.line) for row in rows if row.day < day]
    if not lines:
        return []
    named = f"line {lines[0]}" if len(lines) == 1 else f"lines {_listed(lines)}"
    return [f"{name}: jobs before {day} are left out: {named}"]


def _listed(lines: list[str]) -> str:
    """The first few, and how many more there are."""
    more = f" and {len(lines) - 5} more" if len(lines) > 5 else ""
    return ", ".join(lines[:5]) + more


def _logged(rows: Sequence[PlannedRun], jobs: Sequence[PlannedRun], day: date) -> list[str]:
    """What of the day's jobs is made already."""
    logged = _parts_on(rows, day) - _parts_on(jobs, day)
    if not logged:
        return []
    return [f"{show(logged)} parts of {day} are logged already and not counted again"]


def _parts_on(jobs: Iterable[PlannedRun], day: date) -> Fraction:
    return sum((Fraction(job.parts) for job in jobs if job.day == day), Fraction(0))
