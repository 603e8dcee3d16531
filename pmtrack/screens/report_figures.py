"""The figures of a report by their names, for scripts and spreadsheets."""

from fractions import Fraction
from typing import Any

from pmtrack.actions.report import Figures, Report
from pmtrack.rules.cause_losses import CauseLoss
from pmtrack.rules.downtime import CauseHours
from pmtrack.rules.grouping import Grouping
from pmtrack.rules.on_time import OnTime
from pmtrack.rules.quantity import plain

Number = int | float | None
Line = tuple[dict[str, Any], dict[str, Number]]  # what a line stands for, and its figures

_DOWNTIME = (
    "scheduled_hours", "planned_hours", "unplanned_hours", "busy_hours", "operating_hours",
    "availability", "share_up", "unplanned_stops", "mtbf_hours", "mtbf_low", "mtbf_high",
    "mttr_hours", "mttr_scheduled_hours", "out_of_service_hours",
)  # fmt: skip
_THROUGHPUT = (
    "hits", "good_parts", "scrap", "scrap_share", "hits_per_scheduled_hour",
    "hits_per_operating_hour", "parts_per_scheduled_hour", "parts_per_operating_hour",
)  # fmt: skip
_LOST = ("hits", "parts", "money")
_BOUNDS = ("mtbf_low", "mtbf_high")  # of two periods, their difference says nothing


def number(value: Fraction | float | None) -> Number:
    """A figure for scripts: whole numbers as such, others as floating point."""
    return plain(value) if isinstance(value, Fraction) else value


def figures_of(found: Figures) -> dict[str, Number]:
    """Every figure of a line."""
    made, work = found.throughput, found.work
    figures = {name: number(getattr(made.downtime, name)) for name in _DOWNTIME}
    figures |= {name: number(getattr(made, name)) for name in _THROUGHPUT}
    for name in _LOST:
        figures[f"{name}_lost_unplanned"] = number(getattr(made.lost_unplanned, name))
        figures[f"{name}_lost_planned"] = number(getattr(made.lost_planned, name))
    figures |= {
        "hits_unlogged": number(found.unlogged),
        "on_time_share": number(found.on_time.share),
    }
    figures |= _jobs("", found.on_time)
    figures |= {"statutory_on_time_share": number(found.demanded.share)}
    figures |= _jobs("statutory_", found.demanded)
    return figures | {
        "pm_jobs": work.jobs,
        "pm_hours": number(work.hours),
        "pm_cost": number(work.cost),
        "breakdown_hours": number(made.downtime.failure_hours),
    }


def _jobs(before: str, told: OnTime) -> dict[str, Number]:
    return {
        f"{before}jobs_on_time": told.on_time,
        f"{before}jobs_late": told.late,
        f"{before}jobs_open": told.open,
    }


def cause_hours(cause: CauseHours) -> dict[str, Number]:
    """How often a cause stopped machines, and for how long."""
    return {
        "stops": cause.count,
        "planned_hours": number(cause.planned_hours),
        "unplanned_hours": number(cause.unplanned_hours),
        "share": number(cause.share),
        "cumulative_share": number(cause.cumulative_share),
    }


def cause_figures(found: CauseLoss) -> dict[str, Number]:
    """The hours of a cause, and what was lost in them."""
    lost = {f"{name}_lost": number(getattr(found.lost, name)) for name in _LOST}
    return cause_hours(found.hours) | {"hours_each": number(found.hours_each)} | lost


def lines(report: Report) -> list[Line]:
    """The lines by which the report was asked for."""
    if report.by is Grouping.CAUSE:
        dates = {"from": report.first, "to": report.last}
        return [({"group": c.hours.cause} | dates, cause_figures(c)) for c in report.causes]
    return [(_named(found), figures_of(found)) for found in report.groups]


def total_line(report: Report) -> Line | None:
    """All machines of the report together; None by cause, where shares tell it."""
    if report.by is Grouping.CAUSE:
        return None
    return _named(report.shop), figures_of(report.shop)


def _named(found: Figures) -> dict[str, Any]:
    return {"group": found.name, "from": found.first, "to": found.last}


def differences(now: dict[str, Number], before: dict[str, Number]) -> dict[str, Number]:
    """How much each figure has grown since the period before; None where one is not known."""
    return {
        name: None if value is None or (was := before.get(name)) is None else value - was
        for name, value in now.items()
        if name not in _BOUNDS
    }
