"""Why a task stands where it does, with all that the job needs: for the eye, and as JSON."""

from dataclasses import dataclass
from typing import Any

from rich.console import Console

from pmtrack.exports.job_text import cautions_of, part_lines, step_lines
from pmtrack.rules.due import TaskDue
from pmtrack.rules.explain import explain, governs
from pmtrack.rules.shop import Machine
from pmtrack.rules.situation import RuleDue
from pmtrack.screens.terminal import show_lines
from pmtrack.screens.today_json import item_json, range_json


@dataclass(frozen=True)
class Why:
    """A task as it stands, its machine, and the entries that this rests on."""

    due: TaskDue
    machine: Machine
    evidence: list[dict[str, Any]]


def as_json(why: Why) -> dict[str, Any]:
    """Rule, evidence rows and arithmetic."""
    due = why.due
    return {
        "on": due.situation.day,
        **item_json(due),
        "rules": [_rule_json(rule) for rule in due.rules],
        "arithmetic": explain(due),
        "evidence": why.evidence,
        "cautions": cautions_of(due.task, why.machine),
        "steps": step_lines(due.task),
        "parts": part_lines(due.task),
        "note": due.task.note or None,
    }


def _rule_json(rule: RuleDue) -> dict[str, Any]:
    return {
        "rule": governs(rule),
        "state": rule.state,
        "due_on": rule.due_on,
        "work_by": rule.work_by,
        "grace": rule.grace,
        "lead": rule.lead,
        "unit": rule.unit,
        "used": float(rule.used) if rule.used is not None else None,
        "usage": float(rule.usage) if rule.usage is not None else None,
        "target": rule.target,
        "due_range": range_json(rule),
        "likely_range": list(rule.likely_range) if rule.likely_range else None,
        "estimated": rule.estimated,
        "remark": rule.remark or None,
    }


def show_why(why: Why, console: Console) -> None:
    """Print the reason first, then cautions, steps and parts, then the entries it rests on."""
    due = why.due
    console.print(f"{due.task.name}  {due.task.title}", style="bold")
    console.print(f"{due.state} on {due.situation.day:%A %Y-%m-%d}; {why.machine.name}")
    law = f"Demanded by {due.task.authority}: no grace."
    reasons = [*explain(due), *([law] if due.task.authority else [])]
    show_lines(console, "Why", reasons)
    show_lines(console, "Cautions", cautions_of(due.task, why.machine))
    show_lines(console, "Steps", step_lines(due.task))
    show_lines(console, "Bring", part_lines(due.task))
    show_lines(console, "Note", [due.task.note] if due.task.note else [])
    rows = [f"{row['entry']:>6}  {row['kind']:<10}  {row['what']}" for row in why.evidence]
    show_lines(console, "Entries it rests on", rows)
