"""The period before beside the report's own, with the differences."""

from collections.abc import Sequence

from rich.console import Console

from pmtrack.actions.report import Figures, Report
from pmtrack.rules.cause_losses import CauseLoss
from pmtrack.rules.grouping import Grouping
from pmtrack.screens.report_totals import Row, total_rows
from pmtrack.screens.terminal import table


def show_before(report: Report, console: Console) -> None:
    """Print all together in both periods, then each line that is in both."""
    earlier = report.earlier
    if earlier is None:
        return
    console.print(f"\nBeside the period before, {earlier.first} to {earlier.last}", style="bold")
    console.print("A share differs by points of a percent, pt.")
    if earlier.known_from is None or earlier.first < earlier.known_from:
        since = f" before {earlier.known_from}" if earlier.known_from else ""
        console.print(f"Nothing is entered{since}, so not all of it is known.")
    _totals(report.shop, earlier.shop, console)
    if report.by is Grouping.CAUSE:
        _causes(report.causes, earlier.causes, console)
    elif not report.by.is_calendar and len(report.groups) > 1:
        _groups(report, earlier, console)


def _totals(now: Figures, before: Figures, console: Console) -> None:
    made = table("", "Now", "Before", "Difference", right=("Now", "Before", "Difference"))
    for row in total_rows(now, before):
        if row.now or row.before:
            made.add_row(row.name, *row.cells)
    console.print(made)


def _groups(report: Report, earlier: Report, console: Console) -> None:
    """Hours down, availability and stops of each line in both periods."""
    columns = ("Down", "before", "+/-", "Avail", "before ", "+/- ", "Stops", "before  ", "+/-  ")
    made = table(str(report.by).capitalize(), *columns, right=columns)
    known = {found.name: found for found in earlier.groups}
    for found in report.groups:
        if found.name not in known:
            continue
        down, was = found.throughput.downtime, known[found.name].throughput.downtime
        if down.unplanned_hours or was.unplanned_hours or down.unplanned_stops:
            made.add_row(
                found.name,
                *Row("", down.unplanned_hours, was.unplanned_hours).cells,
                *Row("", down.availability, was.availability, is_share=True).cells,
                *Row("", down.unplanned_stops, was.unplanned_stops, decimals=0).cells,
            )
    if made.row_count:
        console.print()
        console.print(made)


def _causes(now: Sequence[CauseLoss], before: Sequence[CauseLoss], console: Console) -> None:
    """Every cause of either period; one that is gone had hours before."""
    columns = ("Hours", "before", "+/-", "Stops", "before ", "+/- ")
    made = table("Cause", *columns, right=columns)
    was, names = {c.hours.cause: c.hours for c in before}, [c.hours.cause for c in now]
    found = {c.hours.cause: c.hours for c in now}
    for name in [*names, *(cause for cause in was if cause not in found)]:
        one, other = found.get(name), was.get(name)
        hours = Row("", one.hours if one else 0, other.hours if other else 0)
        counts = Row("", one.count if one else 0, other.count if other else 0, decimals=0)
        made.add_row(name, *hours.cells, *counts.cells)
    console.print()
    console.print(made)
