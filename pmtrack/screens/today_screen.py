"""The day's list for the technician's eye."""

from rich.console import Console, Group
from rich.table import Table
from rich.text import Text

from pmtrack.actions.today import Today
from pmtrack.exports.job_text import part_lines
from pmtrack.rules.due import TaskDue
from pmtrack.rules.explain import reason
from pmtrack.rules.facts import Stop
from pmtrack.rules.quantity import show
from pmtrack.rules.wear import ToolWear
from pmtrack.screens.terminal import STYLES, short_date, show_lines, table
from pmtrack.screens.tool_lines import within_reach

CAUTION = (
    "Before any job lock out and tag out; 'pmtrack why TASK' has its cautions, steps\n"
    "and parts. Local codes, the maker's manual and licensed trades go before this."
)


def show_today(today: Today, console: Console) -> None:
    """Print the list: what, why, with what in hand; then what else the day needs, and a caution."""
    counts = [f"{sum(d.state == s for d in today.items)} {s}" for s in ("overdue", "due", "soon")]
    console.print(f"{today.on:%A %Y-%m-%d}: {', '.join(counts)}")
    if today.items:
        console.print(_items(today))
    else:
        console.print("Nothing is due. 'pmtrack today --within 14' looks two weeks ahead.")
    _show_planned(today, console)
    title = "Machines that are down ('pmtrack restart MACHINE' when it runs again)"
    show_lines(console, title, [_down(today, stop) for stop in today.down])
    if today.tools:
        head = Text("\nTools to sharpen, replace or order", style="bold")
        console.print(Group(head, tool_table(today.tools)))
    if today.missing:
        console.print("\nShifts without a log (pmtrack log MACHINE --shift NAME --date DATE):")
        for missing in today.missing:
            console.print(f"  {missing.machine}  {missing.shift}  {missing.day}")
    if any(due.state in ("overdue", "due") for due in today.items):
        console.print(f"\n{CAUTION}")


def _down(today: Today, stop: Stop) -> str:
    since = stop.span.start.astimezone(today.zone)
    sort = "planned, " if stop.planned else ""
    return (
        f"{stop.machine}  since {short_date(since.date(), today.on)} {since:%H:%M}: {sort}"
        f"{stop.cause} (entry {stop.entry})"
    )


def _show_planned(today: Today, console: Console) -> None:
    """The plan's jobs of the day that are not in the list above."""
    listed = {due.task.name for due in today.items}
    lines = [
        f"{job.task.name}: {job.task.title}"
        + (f", {job.task.minutes} min" if job.task.minutes else "")
        + (f" ({job.visit})" if job.visit else "")
        for job in today.planned
        if job.task.name not in listed
    ]
    show_lines(console, "Planned for this day besides", lines)


def _items(today: Today) -> Table:
    made = table("State", "Task", "What, and why", "Min", right=("Min",), fixed=("State",))
    for due in today.items:
        what = Text(due.task.title)
        for line in [*_why(due), *_planned(today, due)]:
            what.append(f"\n{line}", style="dim")
        made.add_row(
            Text(due.state, style=STYLES.get(due.state, "")),
            due.task.name,
            what,
            "" if due.task.minutes is None else str(due.task.minutes),
        )
    return made


def _planned(today: Today, due: TaskDue) -> list[str]:
    """The day that a saved plan has for the task."""
    day = today.next_planned.get(due.task.name)
    if day is None:
        return []
    return [f"planned for {'this day' if day == today.on else short_date(day, today.on)}"]


def _why(due: TaskDue) -> list[str]:
    """Due date and reason, the law and the crew behind it, and what to have in hand."""
    rule, today = due.governing, due.situation.day
    on = f"{short_date(rule.due_on, today)}: " if rule.due_on else ""
    lines = [f"{on}{reason(due)}"]
    if rule.due_on and rule.work_by and today <= rule.work_by != rule.due_on:
        lines.append(f"work by {short_date(rule.work_by, today)}")
    deferral = due.situation.deferral
    if due.state == "deferred" and deferral:
        lines.append(f"put off through {short_date(deferral.until, today)}: {deferral.why}")
    if due.task.authority:
        lines.append(f"demanded by {due.task.authority}")
    if due.task.crew:
        lines.append(f"by {due.task.crew}")
    parts = part_lines(due.task)
    if parts and due.state in ("overdue", "due"):
        lines.append("bring " + ", ".join(parts))
    if rule.remark and rule.remark not in lines[0]:
        lines.append(rule.remark)
    return lines


def tool_table(wears: list[ToolWear]) -> Table:
    """Tools with their wear, the day to sharpen and what is left of their life."""
    head = "Wear" if any(wear.tool.counts for wear in wears) else "Wear hits"
    made = table(
        "State", "Tool", "Station", head, "Used", "Sharpen", "Left", "Order by",
        right=(head, "Used", "Left"),
        fixed=("State", "Tool", "Station", "Sharpen", "Order by"),
    )  # fmt: skip
    for wear in wears:
        made.add_row(
            Text(wear.state, style=STYLES.get(wear.state, "")),
            wear.tool.code,
            wear.fitted[1] if wear.fitted else "-",
            " ".join([show(wear.wear_hits, 0), *filter(None, [wear.tool.counts])]),
            f"{show(100 * wear.used, 0)} %",
            within_reach(wear.sharpen_on, wear.as_of),
            "-" if wear.sharpenings_left is None else str(wear.sharpenings_left),
            "now" if wear.to_order else within_reach(wear.order_by, wear.as_of),
        )
    return made
