"""The day's list as scripts read it; what draws tables is not loaded for it."""

from typing import Any

from pmtrack.actions.today import Today
from pmtrack.rules.due import TaskDue
from pmtrack.rules.situation import RuleDue
from pmtrack.rules.wear import ToolWear


def as_json(today: Today) -> dict[str, Any]:
    """The list as scripts read it."""
    return {
        "on": today.on,
        "items": [
            item_json(due) | {"planned_on": today.next_planned.get(due.task.name)}
            for due in today.items
        ],
        "planned": [
            {"task": job.task.name, "title": job.task.title, "visit": job.visit}
            for job in today.planned
        ],
        "down": [
            {
                "machine": stop.machine,
                "since": stop.span.start,
                "cause": stop.cause,
                "planned": stop.planned,
                "entry": stop.entry,
            }
            for stop in today.down
        ],
        "tools": [tool_json(wear) for wear in today.tools],
        "missing_logs": [
            {"machine": m.machine, "shift": m.shift, "date": m.day} for m in today.missing
        ],
    }


def item_json(due: TaskDue) -> dict[str, Any]:
    """One task of the list."""
    rule = due.governing
    return {
        "task": due.task.name,
        "machine": due.task.machine,
        "title": due.task.title,
        "state": due.state,
        "due_on": rule.due_on,
        "work_by": rule.work_by,
        "governs": rule.rule.text,
        "used": float(rule.used) if rule.used is not None else None,
        "estimated": rule.estimated,
        "due_range": range_json(rule),
        "likely_range": list(rule.likely_range) if rule.likely_range else None,
        "days_past_due": due.days_past_due,
        "authority": due.task.authority,
        "minutes": due.task.minutes,
        "crew": due.task.crew,
        "remark": rule.remark or None,
    }


def range_json(rule: RuleDue) -> list[Any] | None:
    """The 80 % range of the due date."""
    return list(rule.due_range) if rule.due_range else None


def tool_json(wear: ToolWear) -> dict[str, Any]:
    """One tool."""
    return {
        "tool": wear.tool.code,
        "machine": wear.tool.machine,
        "state": wear.state,
        "wear_hits": wear.wear_hits,
        "interval": wear.tool.sharpen_every,
        "used": float(wear.used),
        "rate": float(wear.per_day) if wear.per_day is not None else None,
        "sharpen_on": wear.sharpen_on,
        "sharpen_range": list(wear.sharpen_range) if wear.sharpen_range else None,
        "sharpenings_left": wear.sharpenings_left,
        "mm_left": wear.mm_left,
        "end_of_life": wear.end_of_life,
        "order_by": wear.order_by,
        "cost_per_1000": float(wear.cost_per_1000) if wear.cost_per_1000 is not None else None,
        "station": wear.fitted[1] if wear.fitted else None,
        "unit": wear.tool.unit,
        "die_of": wear.tool.die_of,
    }
