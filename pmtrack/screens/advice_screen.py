"""Which intervals to change: a line a task, and as JSON."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rich.console import Console

from pmtrack.actions.advice import TaskAdvice
from pmtrack.actions.pm_pays import PmPays
from pmtrack.rules.worth import Thing
from pmtrack.screens import pays_screen, three_things_screen
from pmtrack.screens.advice_words import (
    NOTES,
    saved_words,
    verdict_words,
)
from pmtrack.screens.terminal import show_lines, table
from pmtrack.statistics.rounds_fit import RoundsFit


@dataclass(frozen=True)
class Advised:
    """All that `advice` tells of the shop or of one machine."""

    tasks: list[TaskAdvice]
    pays: PmPays
    things: list[Thing]
    machine: str | None


def as_json(found: Advised) -> dict[str, Any]:
    """The advice as scripts read it."""
    return {
        "tasks": [task_json(one) for one in found.tasks],
        **pays_screen.as_json(found.pays),
        "three_things": three_things_screen.as_json(found.things),
    }


def task_json(one: TaskAdvice) -> dict[str, Any]:
    """One task; intervals in operating hours where they are not as written."""
    fit = one.fit if isinstance(one.fit, RoundsFit) else None
    best, costs = one.best, one.costs
    return {
        "task": one.task.name,
        "machine": one.task.machine,
        "verdict": None if one.verdict is None else str(one.verdict),
        "interval": one.interval.text,
        "advised": one.advised.text if one.advised else None,
        "reason": one.refusal or (str(one.brake) if one.brake else None),
        "authority": one.task.authority,
        "failures": one.failures,
        "rounds": len(one.rounds),
        "interval_hours": one.hours,
        "advised_hours": one.advised_hours,
        "best_hours": best.interval if best else None,
        "best_low": best.low if best else None,
        "best_high": best.high if best else None,
        "best_at_failure_hours": best.at_failure if best else None,
        "shape": fit.shape.value if fit else None,
        "shape_low": fit.shape.low if fit else None,
        "shape_high": fit.shape.high if fit else None,
        "scale_hours": fit.law.scale if fit else None,
        "cost_planned": costs.planned if costs else None,
        "cost_failure": costs.failure if costs else None,
        "in": None if costs is None else ("money" if costs.rates.money else "hours"),
        "cost_a_year": one.cost_a_year(one.hours),
        "saved_a_year": one.saved_a_year,
    }


def show_advice(found: Advised, console: Console) -> None:
    """Print whether PM pays, the intervals to change, the counts of the rest, three things."""
    pays_screen.show_pays(found.pays, console)
    changed = [one for one in found.tasks if one.advised]
    console.print("\nIntervals to change", style="bold")
    if changed:
        _table(changed, console)
    else:
        console.print("  None: no best interval is far enough from the present one to be sure.")
    others = [one for one in found.tasks if not one.advised]
    if found.machine is not None:
        show_lines(
            console, "All others", [f"{one.task.name}: {verdict_words(one)}" for one in others]
        )
    else:
        show_lines(console, "All others", _counted(others))
    three_things_screen.show_three(found.things, console)
    show_lines(console, "How to read it", [*NOTES, "'pmtrack advice TASK' shows all figures."])


def _table(changed: Sequence[TaskAdvice], console: Console) -> None:
    made = table(
        "Task", "Now", "Change", "Fails", "Saves a year",
        right=("Fails", "Saves a year"), fixed=("Task", "Change"),
    )  # fmt: skip
    for one in changed:
        made.add_row(
            one.task.name,
            one.interval.text,
            verdict_words(one),
            str(one.failures),
            saved_words(one),
        )
    console.print(made)


def _counted(others: Sequence[TaskAdvice]) -> list[str]:
    """How many are kept, and how many have no number, by the reason."""
    kept = sum(one.verdict is not None for one in others)
    reasons = Counter(_kind_of(one) for one in others if one.refusal)
    lines = [f"{_tasks(kept)}: interval kept"] if kept else []
    without = [f"{_tasks(count)} without a number: {why}" for why, count in reasons.most_common()]
    return lines + without


def _tasks(count: int) -> str:
    return f"{count} task" if count == 1 else f"{count} tasks"


def _kind_of(one: TaskAdvice) -> str:
    """The reason without its own count."""
    why = one.refusal or ""
    return f"too few {why.split(' ', 1)[1]}" if why[:1].isdigit() else why
