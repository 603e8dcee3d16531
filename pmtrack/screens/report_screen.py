"""Downtime against throughput: tables with bars for the eye, and as JSON."""

from fractions import Fraction
from typing import Any

from rich.console import Console

from pmtrack.actions.report import MachineReport, Report
from pmtrack.rules.downtime import CauseHours
from pmtrack.rules.quantity import plain, show
from pmtrack.screens.terminal import bar, table

_TOP_CAUSES = 10
_DOWNTIME = (
    "scheduled_hours", "planned_hours", "unplanned_hours", "busy_hours", "operating_hours",
    "availability", "share_up", "unplanned_stops", "mtbf_hours", "mtbf_low", "mtbf_high",
    "mttr_hours", "mttr_scheduled_hours",
)  # fmt: skip
_THROUGHPUT = (
    "hits", "good_parts", "scrap", "hits_per_scheduled_hour", "hits_per_operating_hour",
    "parts_per_scheduled_hour", "parts_per_operating_hour", "hits_lost_unplanned",
    "hits_lost_planned",
)  # fmt: skip


def as_json(report: Report) -> dict[str, Any]:
    """The report as scripts read it."""
    return {
        "from": report.first,
        "to": report.last,
        "machines": [_machine_json(m) | {"weeks": _weeks_json(m)} for m in report.machines],
        "shop": _machine_json(report.shop),
    }


def _machine_json(found: MachineReport) -> dict[str, Any]:
    throughput = found.throughput
    figures: dict[str, Any] = {"machine": found.machine}
    figures |= {name: _number(getattr(throughput.downtime, name)) for name in _DOWNTIME}
    figures |= {name: _number(getattr(throughput, name)) for name in _THROUGHPUT}
    figures |= {
        "hits_unlogged": _number(found.unlogged),
        "on_time_share": _number(found.on_time.share),
        "jobs_on_time": found.on_time.on_time,
        "jobs_late": found.on_time.late,
        "jobs_open": found.on_time.open,
        "causes": [_cause_json(cause) for cause in found.causes],
    }
    return figures


def _weeks_json(found: MachineReport) -> list[dict[str, Any]]:
    """The weeks of one machine; none where no shift of the period has begun."""
    return [
        {
            "week": week.monday,
            "scheduled_hours": _number(week.downtime.scheduled_hours),
            "planned_hours": _number(week.downtime.planned_hours),
            "unplanned_hours": _number(week.downtime.unplanned_hours),
            "hits": _number(hits),
        }
        for week, hits in found.weeks
    ]


def _cause_json(cause: CauseHours) -> dict[str, Any]:
    return {
        "cause": cause.cause,
        "stops": cause.count,
        "planned_hours": _number(cause.planned_hours),
        "unplanned_hours": _number(cause.unplanned_hours),
        "share": _number(cause.share),
        "cumulative_share": _number(cause.cumulative_share),
    }


def _number(value: Fraction | float | None) -> int | float | None:
    """A figure for JSON: whole numbers as such, others as floating point."""
    return plain(value) if isinstance(value, Fraction) else value


def show_report(report: Report, console: Console) -> None:
    """Print the shop's figures, a line a machine, causes with bars, and weeks of one machine."""
    console.print(f"Downtime against throughput, {report.first} to {report.last}", style="bold")
    console.print(
        "Hours scheduled, in planned stops, and down. Availability: operating time /\n"
        "(schedule - planned stops). MTBF: operating hours for each failure, with 90 %\n"
        "bounds. MTTR: clock hours until it ran again."
    )
    _hours_table(report, console)
    _output_table(report, console)
    single = report.machines[0] if len(report.machines) == 1 else None
    _causes(single or report.shop, console)
    if single and single.weeks:
        _weeks(single, console)


def _hours_table(report: Report, console: Console) -> None:
    made = table(
        "Machine", "Sched", "Planned", "Down", "Avail", "Stops", "MTBF", "MTTR", "On time",
        right=("Sched", "Planned", "Down", "Avail", "Stops", "MTBF", "MTTR", "On time"),
        fixed=("Machine",),
    )  # fmt: skip
    for found in [*report.machines, *_totals(report)]:
        down = found.throughput.downtime
        made.add_row(
            found.machine,
            show(down.scheduled_hours, 0),
            show(down.planned_hours),
            show(down.unplanned_hours),
            _percent(down.availability),
            str(down.unplanned_stops),
            _mtbf(found),
            _or_dash(down.mttr_hours),
            _percent(found.on_time.share),
        )
    console.print()
    console.print(made)


def _totals(report: Report) -> list[MachineReport]:
    return [report.shop] if len(report.machines) > 1 else []


def _mtbf(found: MachineReport) -> str:
    """MTBF with its bounds; with no failure only the lower bound is known."""
    down = found.throughput.downtime
    if down.mtbf_low is None:
        return "-"
    if down.mtbf_hours is None or down.mtbf_high is None:
        return f"> {show(down.mtbf_low, 0)}"
    return f"{show(down.mtbf_hours, 0)} ({show(down.mtbf_low, 0)}-{show(down.mtbf_high, 0)})"


def _output_table(report: Report, console: Console) -> None:
    made = table(
        "Machine", "Hits", "/sched h", "/run h", "Good parts", "Scrap", "Lost down", "Lost plan",
        right=("Hits", "/sched h", "/run h", "Good parts", "Scrap", "Lost down", "Lost plan"),
        fixed=("Machine",),
    )  # fmt: skip
    for found in [*report.machines, *_totals(report)]:
        through = found.throughput
        if not (through.hits or through.good_parts or through.scrap):
            continue
        made.add_row(
            found.machine,
            _or_dash(through.hits, 0),
            _or_dash(through.hits_per_scheduled_hour, 0),
            _or_dash(through.hits_per_operating_hour, 0),
            show(through.good_parts, 0),
            show(through.scrap, 0),
            _or_dash(through.hits_lost_unplanned, 0),
            _or_dash(through.hits_lost_planned, 0),
        )
    if made.row_count:
        console.print(
            "\nThroughput: hits, also for each hour scheduled and run; lost: what the hours\n"
            "down and in planned stops would have made"
        )
        console.print(made)


def _causes(found: MachineReport, console: Console) -> None:
    if not found.causes:
        return
    made = table("Cause", "Stops", "Hours", "Share", "", right=("Stops", "Hours", "Share"))
    for cause in found.causes[:_TOP_CAUSES]:
        share = float(cause.share or 0)
        made.add_row(
            cause.cause,
            str(cause.count),
            show(cause.hours),
            _percent(cause.share),
            f"{bar(share, 20)} {_percent(cause.cumulative_share)}",
        )
    console.print("\nWhat stopped the machines, worst first (last column: so far together)")
    console.print(made)


def _weeks(found: MachineReport, console: Console) -> None:
    """Downtime beside throughput, week by week."""
    most = max((hits or Fraction(0) for _, hits in found.weeks), default=Fraction(0))
    made = table("Week of", "Down h", "", "Hits", " ", right=("Down h", "Hits"))
    for week, hits in found.weeks:
        down = week.downtime.planned_hours + week.downtime.unplanned_hours
        scheduled = week.downtime.scheduled_hours
        made.add_row(
            str(week.monday),
            show(down),
            bar(float(down / scheduled) if scheduled else 0.0, 15),
            _or_dash(hits, 0),
            bar(float(hits / most) if hits and most else 0.0, 20),
        )
    console.print("\nWeek by week: hours down (of the schedule) beside hits (of the best week)")
    console.print(made)


def _percent(share: Fraction | None) -> str:
    return "-" if share is None else f"{show(100 * share)} %"


def _or_dash(value: Fraction | float | None, decimals: int = 1) -> str:
    return "-" if value is None else show(value, decimals)
