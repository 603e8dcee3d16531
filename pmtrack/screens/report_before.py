"""The period before beside the report's own, with the differences."""

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from rich.console import Console

from pmtrack.actions.report import Figures, Report
from pmtrack.rules.cause_losses import CauseLoss
from pmtrack.rules.grouping import Grouping
from pmtrack.screens.report_cells import or_dash, percent, points, signed
from pmtrack.screens.terminal import table

Value = Fraction | float | None


class _Row(NamedTuple):
    """A figure in both periods; shares differ by points of a percent."""

    name: str
    now: Value
    before: Value
    is_share: bool = False
    decimals: int = 1

    @property
    def cells(self) -> list[str]:
        """Now, before, and the difference."""
        known = self.now is not None and self.before is not None
        grown = (self.now or 0) - (self.before or 0) if known else None
        if self.is_share:
            return [percent(self.now), percent(self.before), points(grown)]
        now, before = (or_dash(value, self.decimals) for value in (self.now, self.before))
        return [now, before, signed(grown, self.decimals)]


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
    for row in _total_rows(now, before):
        if row.now or row.before:
            made.add_row(row.name, *row.cells)
    console.print(made)


def _total_rows(now: Figures, before: Figures) -> Sequence[_Row]:
    down, was = now.throughput.downtime, before.throughput.downtime
    made, had = now.throughput, before.throughput
    lost, did_lose = made.lost_unplanned, had.lost_unplanned
    return [
        _Row("Hours scheduled", down.scheduled_hours, was.scheduled_hours, decimals=0),
        _Row("Hours in planned stops", down.planned_hours, was.planned_hours),
        _Row("Hours down", down.unplanned_hours, was.unplanned_hours),
        _Row("Availability", down.availability, was.availability, is_share=True),
        _Row("Failures", down.unplanned_stops, was.unplanned_stops, decimals=0),
        _Row("MTBF, hours", down.mtbf_hours, was.mtbf_hours, decimals=0),
        _Row("MTTR, hours", down.mttr_hours, was.mttr_hours),
        _Row("Hits", made.hits, had.hits, decimals=0),
        _Row("Good parts", made.good_parts, had.good_parts, decimals=0),
        _Row("Scrap", made.scrap_share, had.scrap_share, is_share=True),
        _Row("Hits lost to breakdowns", lost.hits, did_lose.hits, decimals=0),
        _Row("Parts lost to breakdowns", lost.parts, did_lose.parts, decimals=0),
        _Row("Money lost to breakdowns", lost.money, did_lose.money, decimals=0),
        _Row("PM hours", now.work.hours, before.work.hours),
        _Row("PM cost", now.work.cost, before.work.cost, decimals=0),
        _Row("Jobs on time", now.on_time.share, before.on_time.share, is_share=True),
        _Row("Of these by law", now.demanded.share, before.demanded.share, is_share=True),
    ]


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
                *_Row("", down.unplanned_hours, was.unplanned_hours).cells,
                *_Row("", down.availability, was.availability, is_share=True).cells,
                *_Row("", down.unplanned_stops, was.unplanned_stops, decimals=0).cells,
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
        hours = _Row("", one.hours if one else 0, other.hours if other else 0)
        counts = _Row("", one.count if one else 0, other.count if other else 0, decimals=0)
        made.add_row(name, *hours.cells, *counts.cells)
    console.print()
    console.print(made)
