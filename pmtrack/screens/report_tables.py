"""The tables of a report: hours, throughput, upkeep; a line for each machine, kind or span."""

from collections.abc import Sequence
from fractions import Fraction

from rich.console import Console

from pmtrack.actions.report import Figures
from pmtrack.rules.quantity import show
from pmtrack.screens.report_cells import mtbf, or_dash, percent, scheduled
from pmtrack.screens.terminal import table


def hours_table(title: str, lines: Sequence[Figures], console: Console) -> None:
    """Hours and failures."""
    columns = ("Sched", "Planned", "Down", "Avail", "Stops", "MTBF", "MTTR")
    made = table(title, *columns, right=columns)
    for found in lines:
        down = found.throughput.downtime
        made.add_row(
            found.name,
            scheduled(found),
            show(down.planned_hours),
            show(down.unplanned_hours),
            percent(down.availability),
            str(down.unplanned_stops),
            mtbf(found),
            or_dash(down.mttr_hours),
        )
    console.print()
    console.print(made)


def _counts_hits(lines: Sequence[Figures]) -> bool:
    """Whether all machines that made something count hits; else parts are what they share."""
    makers = [
        machine
        for found in lines
        for machine in found.throughput.machines
        if machine.hits or machine.good_parts or machine.scrap
    ]
    return bool(makers) and all(machine.hits is not None for machine in makers)


def output_table(title: str, lines: Sequence[Figures], console: Console) -> None:
    """What was made for each hour, and lost: in hits where a line's machines all count them."""
    columns = ("Made", "/run h", "Lost down", "Lost plan", "Good parts", "Scrap")
    made = table(title, *columns, right=columns)
    for found in lines:
        through = found.throughput
        if through.hits or through.good_parts or through.scrap:
            made.add_row(found.name, *_output(found), show(through.good_parts, 0),
                         percent(through.scrap_share))  # fmt: skip
    if made.row_count:
        console.print(
            "\nThroughput in hits, or in good parts where not all count hits, for each hour\n"
            "run too; lost: what the hours down and in planned stops would have made"
        )
        console.print(made)


def _output(found: Figures) -> list[str]:
    through = found.throughput
    if _counts_hits([found]):
        unit, amount = "hits", through.hits
        each = through.hits_per_operating_hour
        lost = through.lost_unplanned.hits, through.lost_planned.hits
    else:
        unit, amount = "parts", through.good_parts
        each = through.parts_per_operating_hour
        lost = through.lost_unplanned.parts, through.lost_planned.parts
    return [f"{show(amount or 0, 0)} {unit}", *(or_dash(value, 0) for value in (each, *lost))]


def upkeep_table(title: str, lines: Sequence[Figures], console: Console) -> None:
    """Maintenance against breakdowns: jobs, hours, and money where the shop file has rates."""
    money = [name for name, known in _MONEY.items() if any(known(f) is not None for f in lines)]
    columns = ("Jobs", "PM h", "Fail h", "On time", "By law", *money)
    made = table(title, *columns, right=columns)
    for found in lines:
        failed = found.throughput.downtime.failure_hours
        if found.work.jobs or failed or found.on_time.share is not None:
            made.add_row(
                found.name,
                show(found.work.jobs, 0),
                show(found.work.hours),
                show(failed),
                percent(found.on_time.share),
                percent(found.demanded.share),
                *(or_dash(_MONEY[name](found), 0) for name in money),
            )
    if made.row_count:
        console.print(
            "\nPreventive maintenance: jobs done and technician hours, against clock hours of\n"
            "the failures; jobs on time, and those that a law or standard demands by itself"
            + (_MONEY_TOLD if money else "")
        )
        console.print(made)


_MONEY_TOLD = ";\nmoney lost down and in planned stops; cost of PM: crew hours and call-outs"


def _lost_down(found: Figures) -> Fraction | None:
    return found.throughput.lost_unplanned.money


def _lost_plan(found: Figures) -> Fraction | None:
    return found.throughput.lost_planned.money


def _pm_cost(found: Figures) -> Fraction | None:
    return found.work.cost


_MONEY = {"Lost": _lost_down, "Planned": _lost_plan, "PM cost": _pm_cost}
