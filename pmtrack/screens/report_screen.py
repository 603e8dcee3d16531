"""Downtime against throughput on the terminal: tables with bars for the eye."""

from dataclasses import replace
from fractions import Fraction

from rich.console import Console

from pmtrack.actions.report import Figures, Report
from pmtrack.rules.cause_losses import CauseLoss
from pmtrack.rules.grouping import Grouping
from pmtrack.rules.quantity import show
from pmtrack.screens.report_before import show_before
from pmtrack.screens.report_cells import or_dash, out_lines, percent
from pmtrack.screens.report_tables import hours_table, output_table, upkeep_table
from pmtrack.screens.terminal import bar, show_lines, table

_TOP_CAUSES = 10


def show_report(report: Report, console: Console) -> None:
    """Print a line for each machine, kind or span, causes with bars, and weeks of one machine."""
    console.print(f"Downtime against throughput, {report.first} to {report.last}", style="bold")
    console.print(
        "Hours scheduled, in planned stops, and down unplanned. Availability: operating\n"
        "time / (schedule - planned stops), as in ISO 22400-2. MTBF: operating hours for\n"
        "each failure (IEC 60050-192), 90 % bounds. MTTR: clock hours until it ran again."
    )
    single = report.machines[0] if len(report.machines) == 1 else None
    total = replace(report.shop, name=single.name) if single else report.shop
    listed = [*report.groups, *([total] if len(report.groups) != 1 else [])]
    title = str(report.by).capitalize() if report.groups else ""
    hours_table(title, listed, console)
    show_lines(console, "Out of service, so not scheduled", out_lines(report.machines))
    if report.by is Grouping.CAUSE:
        _costs(report.causes, console)
    else:
        output_table(title, listed, console)
        upkeep_table(title, listed, console)
        _causes(report.causes, console)
    if single and single.weeks and report.by is Grouping.MACHINE:
        _weeks(single, console)
    show_before(report, console)


def _causes(causes: list[CauseLoss], console: Console) -> None:
    if not causes:
        return
    made = table("Cause", "Stops", "Hours", "Share", "", right=("Stops", "Hours", "Share"))
    for cause in (found.hours for found in causes[:_TOP_CAUSES]):
        made.add_row(
            cause.cause,
            str(cause.count),
            show(cause.hours),
            percent(cause.share),
            f"{bar(float(cause.share or 0), 20)} {percent(cause.cumulative_share)}",
        )
    console.print("\nWhat stopped the machines, worst first (last column: so far together)")
    console.print(made)


def _costs(causes: list[CauseLoss], console: Console) -> None:
    """Every cause with its hours and what was lost in them."""
    if not causes:
        return
    money = any(found.lost.money is not None for found in causes)
    columns = ["Stops", "Planned", "Down", "Each", "So far", "Hits", "Parts"]
    columns += ["Money"] if money else []
    made = table("Cause", *columns, right=columns)
    for found in causes:
        hours, lost = found.hours, found.lost
        made.add_row(
            hours.cause,
            str(hours.count),
            show(hours.planned_hours),
            show(hours.unplanned_hours),
            or_dash(found.hours_each),
            percent(hours.cumulative_share),
            or_dash(lost.hits, 0),
            or_dash(lost.parts, 0),
            *([or_dash(lost.money, 0)] if money else []),
        )
    console.print(
        "\nWhat stopped the machines, worst first: hours in planned stops and down, for\n"
        "each stop, and so far together; what these hours would have made"
    )
    console.print(made)


def _weeks(found: Figures, console: Console) -> None:
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
            or_dash(hits, 0),
            bar(float(hits / most) if hits and most else 0.0, 20),
        )
    console.print("\nWeek by week: hours down (of the schedule) beside hits (of the best week)")
    console.print(made)
