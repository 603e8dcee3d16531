"""A quarter's plan: for the manager's eye, and as JSON."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from pmtrack.actions.planning_view import PlanShown
from pmtrack.rules.calls import Call
from pmtrack.rules.dates import quarter_name
from pmtrack.rules.parts_needed import PartNeeded
from pmtrack.rules.plan import PlacedJob, UnfitJob, Visit
from pmtrack.rules.quantity import show
from pmtrack.rules.replanning import KINDS, PlanChange
from pmtrack.rules.text import counted
from pmtrack.screens.load_lines import load_lines
from pmtrack.screens.terminal import short_date, show_lines, table

NO_GAP = 1e-6  # the solver's own rounding
CAUTION = (
    "The plan licenses nobody. Lock out and tag out before any job; local codes, the\n"
    "maker's manual and the licensed trades go before it."
)


def as_json(shown: PlanShown) -> dict[str, Any]:
    """The plan as scripts read it."""
    return {
        "quarter": shown.quarter.name,
        "jobs": [_job_json(job) for job in shown.plan.jobs],
        "unfit": [_unfit_json(job) for job in shown.plan.unfit],
        "gap": shown.plan.gap,
        "visits": [_visit_json(visit) for visit in shown.visits],
        "calls": [_call_json(call) for call in shown.calls],
        "weeks": [
            {
                "monday": load.monday,
                "jobs": load.jobs,
                "hours": load.hours,
                "available": load.available,
            }
            for load in shown.loads
        ],
        "parts": [
            {
                "week": part.week,
                "part": part.name,
                "quantity": part.quantity,
                "unit": part.unit,
                "crew": part.firm,
            }
            for part in shown.parts
        ],
        "broken_pins": [
            {"entry": pin.entry, "task": pin.task, "day": pin.day} for pin in shown.broken
        ],
        "changes": None if shown.changes is None else [_change_json(c) for c in shown.changes],
    }


def _job_json(job: PlacedJob) -> dict[str, Any]:
    return {
        "task": job.task.name,
        "machine": job.task.machine,
        "title": job.task.title,
        "due_on": job.due_on,
        "day": job.day,
        "window": list(job.window),
        "due_range": list(job.due_range) if job.due_range else None,
        "crew": job.task.crew,
        "minutes": job.task.minutes,
        "visit": job.visit,
        "authority": job.task.authority,
        "pinned": job.pinned,
        "remarks": list(job.remarks),
    }


def _unfit_json(job: UnfitJob) -> dict[str, Any]:
    return {
        "task": job.task.name,
        "due_on": job.due_on,
        "window": list(job.window) if job.window else None,
        "crew": job.task.crew,
        "minutes": job.task.minutes,
        "kind": job.kind,
        "reason": job.reason,
        "cure": job.cure,
        "earliest": job.earliest,
    }


def _visit_json(visit: Visit) -> dict[str, Any]:
    return {
        "visit": visit.name,
        "crew": visit.supplier.code,
        "day": visit.day,
        "book_by": visit.book_by,
        "minutes": visit.minutes,
        "tasks": [job.task.name for job in visit.jobs],
    }


def _call_json(call: Call) -> dict[str, Any]:
    return {
        "crew": call.firm.code,
        "book_by": call.book_by,
        "overdue": call.overdue,
        "day": call.day,
        "placed": call.placed,
        "tasks": [job.task.name for job in call.jobs],
    }


def _change_json(change: PlanChange) -> dict[str, Any]:
    return {
        "kind": change.kind,
        "name": change.name,
        "was": change.was,
        "day": change.day,
        "why": change.why,
    }


def show_plan(shown: PlanShown, console: Console, jobs: bool, parts: bool) -> None:
    """Print what a manager decides on; each job and each part only where asked for."""
    plan, name = shown.plan, shown.quarter.name
    daily = f" besides {shown.daily} daily ones not listed" if shown.daily else ""
    console.print(
        f"{name}: {counted(len(plan.jobs), 'job')}{daily}, {counted(len(shown.visits), 'visit')} "
        f"of outside firms.\nIts cost is {nearness(plan.gap)}."
    )
    if shown.changes is not None:
        _show_changes(shown, console)
    if jobs:
        console.print(_jobs(plan.jobs, shown.today))
    show_lines(console, "Calls to make", [_call(call, shown.today) for call in shown.calls])
    show_lines(console, "Visits", list(_visit_lines(shown)))
    show_lines(console, "What does not fit", list(_unfit_lines(plan.unfit)))
    show_lines(console, "Pins that could not be kept", list(_pin_lines(shown)))
    if parts:
        show_lines(console, "To have on hand", list(_part_lines(shown.parts)))
    show_lines(console, "In-house work", load_lines(shown.loads))
    show_lines(console, "Remarks", list(_remark_lines(plan.jobs)))
    console.print(f"\n{CAUTION}")


def nearness(gap: float) -> str:
    """How near a plan's cost is to the best; a gap below a tenth of a percent is told as one."""
    if gap < NO_GAP:
        return "the best there is"
    return f"within {max(100 * gap, 0.1):.1f} % of the best there can be"


def _show_changes(shown: PlanShown, console: Console) -> None:
    changes = shown.changes or ()
    if not changes:
        console.print("Nothing moves against the saved plan.")
        return
    counts = Counter(change.kind for change in changes if change.kind != "visit")
    told = [f"{counts[kind]} {kind}" for kind in KINDS if counts[kind]]
    whole = [f"in all {', '.join(told)}"] if len(changes) > 1 and told else []
    show_lines(console, "Against the saved plan", [*_change_lines(changes), *whole])


def _change_lines(changes: Iterable[PlanChange]) -> Iterable[str]:
    """Changes from one day to another for the same reason stand together."""
    alike: dict[tuple[str, str, str], list[str]] = {}
    for change in changes:
        days = dict.fromkeys(day for day in (change.was, change.day) if day)
        told = " to ".join(_day(day) for day in days)
        alike.setdefault((change.kind, told, change.why), []).append(change.name)
    for (kind, days_told, why), names in alike.items():
        yield f"{kind} {', '.join([*names, days_told] if days_told else names)}: {why}"


def _call(call: Call, today: date) -> str:
    tasks = ", ".join(job.task.name for job in call.jobs)
    by = "now, its notice is past" if call.overdue else f"by {short_date(call.book_by, today)}"
    what = "for" if call.placed else "ask for"
    return f"{by}: {call.firm.name}, {what} {short_date(call.day, today)}: {tasks}"


def _visit_lines(shown: PlanShown) -> Iterable[str]:
    for visit in shown.visits:
        day = short_date(visit.day, shown.today)
        yield f"{day}: {visit.supplier.name}, {visit.minutes} min"
        for job in visit.jobs:
            yield f"  {job.task.name}, due {short_date(job.due_on, shown.today)}{_mark(job)}"


def _unfit_lines(unfit: Iterable[UnfitJob]) -> Iterable[str]:
    """Jobs with the same reason and cure stand together."""
    alike: dict[tuple[str, str], list[str]] = {}
    for job in unfit:
        due = f" (due {job.due_on:%a %Y-%m-%d})" if job.due_on else ""
        alike.setdefault((job.reason, job.cure), []).append(f"{job.task.name}{due}")
    for (reason, cure), names in alike.items():
        yield f"{', '.join(names)}: {reason}"
        yield f"  cure: {cure}"


def _pin_lines(shown: PlanShown) -> Iterable[str]:
    planned = {job.key: job for job in shown.plan.jobs}
    for pin in shown.broken:
        job = planned.get(pin.key)
        now = f"planned for {_day(job.day)}, due {_day(job.due_on)}" if job else "it has no day"
        yield f"{pin.task}, {_day(pin.day)}: {now}"
    before = {quarter_name(pin.day) for pin in shown.broken if pin.day < shown.quarter.first}
    for period in sorted(before):
        yield f"cure: 'pmtrack plan {period} --save' takes it in; then plan this quarter again"
    if any(pin.day >= shown.quarter.first for pin in shown.broken):
        yield "cure: 'pmtrack release' it, or 'pmtrack pin' it nearer to its due day"


def _remark_lines(jobs: Iterable[PlacedJob]) -> Iterable[str]:
    """Jobs of one day with the same remark stand together."""
    alike: dict[tuple[date, str], list[str]] = {}
    for job in jobs:
        for remark in job.remarks:
            alike.setdefault((job.day, remark), []).append(job.task.name)
    for (day, remark), names in alike.items():
        yield f"{', '.join(names)}, {_day(day)}: {remark}"


def _part_lines(parts: Iterable[PartNeeded]) -> Iterable[str]:
    for part in parts:
        whose = f" ({part.firm} may bring it)" if part.firm else ""
        amount = f"{show(part.quantity)} {part.unit or 'x'}"
        yield f"{part.week}  {amount} {part.name}{whose}"


def _jobs(jobs: Sequence[PlacedJob], today: date) -> Table:
    """The jobs under their days."""
    made = table("Task", "What", "Due", "Min", right=("Min",), fixed=("Due",))
    day = None
    for job in jobs:
        if job.day != day:
            made.add_row(Text(short_date(job.day, today), style="bold"))
        made.add_row(
            f"  {job.task.name}",
            job.task.title + _mark(job),
            short_date(job.due_on, today),
            "" if job.task.minutes is None else str(job.task.minutes),
        )
        day = job.day
    return made


def _mark(job: PlacedJob) -> str:
    marks = ["pinned"] if job.pinned else []
    marks += [f"demanded by {job.task.authority}"] if job.task.authority else []
    return f" ({'; '.join(marks)})" if marks else ""


def _day(day: date) -> str:
    return f"{day:%a %Y-%m-%d}"
