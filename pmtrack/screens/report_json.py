"""The report as scripts read it."""

from typing import Any

from pmtrack.actions.report import Figures, Report
from pmtrack.screens.report_figures import (
    Line,
    cause_hours,
    differences,
    figures_of,
    lines,
    number,
)


def as_json(report: Report) -> dict[str, Any]:
    """The figures of the period, by machine and by what was asked for; `before` if asked for."""
    told = _period(report)
    if report.earlier is None:
        return told
    earlier = _period(report.earlier)
    return told | {"before": earlier, "difference": _differences(report, report.earlier)}


def _period(report: Report) -> dict[str, Any]:
    return {
        "from": report.first,
        "to": report.last,
        "by": str(report.by),
        "known_from": report.known_from,
        "machines": [_machine(m) | {"weeks": _weeks(m)} for m in report.machines],
        "shop": _machine(report.shop),
        "groups": [names | figures for names, figures in lines(report)],
    }


def _machine(found: Figures) -> dict[str, Any]:
    causes = [{"cause": cause.cause} | cause_hours(cause) for cause in found.causes]
    out = [{"from": o.first, "to": o.last, "entry": o.entry} for o in found.out]
    return {"machine": found.name} | figures_of(found) | {"causes": causes, "out_of_service": out}


def _weeks(found: Figures) -> list[dict[str, Any]]:
    """The weeks of one machine; none where no shift of the period has begun."""
    return [
        {
            "week": week.monday,
            "scheduled_hours": number(week.downtime.scheduled_hours),
            "planned_hours": number(week.downtime.planned_hours),
            "unplanned_hours": number(week.downtime.unplanned_hours),
            "out_of_service_hours": number(week.downtime.out_of_service_hours),
            "hits": number(hits),
        }
        for week, hits in found.weeks
    ]


def _differences(now: Report, before: Report) -> dict[str, Any]:
    """For the shop and each line that is in both periods, how much its figures have grown."""
    return {
        "shop": differences(figures_of(now.shop), figures_of(before.shop)),
        "groups": [
            {"group": name} | differences(figures, was)
            for name, figures, was in in_both(now, before)
        ],
    }


def in_both(now: Report, before: Report) -> list[tuple[str, dict[str, Any], dict[str, Any]]]:
    """Name and figures of each line, and those of the line of that name in the period before."""
    known: dict[str, Line] = {line[0]["group"]: line for line in lines(before)}
    return [
        (names["group"], figures, known[names["group"]][1])
        for names, figures in lines(now)
        if names["group"] in known
    ]
