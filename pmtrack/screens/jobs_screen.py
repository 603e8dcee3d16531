"""Tools by the jobs that are planned: for the eye, and as JSON."""

from typing import Any

from rich.console import Console
from rich.text import Text

from pmtrack.actions.planned_jobs import ToolsByJobs
from pmtrack.rules.planned_jobs import WearByJobs
from pmtrack.rules.quantity import show
from pmtrack.screens.terminal import STYLES, short_date, table
from pmtrack.screens.today_json import tool_json

NOT_REACHED = "not in these jobs"


def as_json(found: WearByJobs) -> dict[str, Any]:
    """One tool as `tooling` tells it, with its days by the jobs.

    `by_jobs` are the wear hits of the jobs; null for a part that wears by a meter of its machine,
    whose days are those of its recent rate.
    """
    return tool_json(found.wear) | {"by_jobs": found.added}


def show_tools(told: ToolsByJobs, console: Console) -> None:
    """Print from when to when the jobs are, and one line a tool."""
    console.print(_span(told))
    made = table(
        "State", "Tool", "Station", "Wear hits", "Used", "Jobs add", "Sharpen by jobs", "Left",
        right=("Wear hits", "Used", "Jobs add", "Left"),
        fixed=("State", "Sharpen by jobs"),
    )  # fmt: skip
    for found in told.tools:
        wear = found.wear
        made.add_row(
            Text(wear.state, style=STYLES.get(wear.state, "")),
            wear.tool.code,
            wear.fitted[1] if wear.fitted else "-",
            show(wear.wear_hits, 0),
            f"{show(100 * wear.used, 0)} %",
            "-" if found.added is None else show(found.added, 0),
            _when(found),
            "-" if wear.sharpenings_left is None else str(wear.sharpenings_left),
        )
    console.print(made)


def _span(told: ToolsByJobs) -> str:
    if not told.jobs:
        return f"No jobs from {told.on} on."
    first, last = told.jobs[0].day, told.jobs[-1].day
    many = "1 job" if len(told.jobs) == 1 else f"{len(told.jobs)} jobs"
    days = f"on {short_date(first, told.on)}"
    if first != last:
        days = f"from {short_date(first, told.on)} to {short_date(last, told.on)}"
    return f"By {many} {days}, in place of the recent rate:"


def _when(found: WearByJobs) -> str:
    if found.added is None:
        return "by its meter"
    if found.wear.state == "scrapped":
        return "-"
    return str(found.wear.sharpen_on or NOT_REACHED)
