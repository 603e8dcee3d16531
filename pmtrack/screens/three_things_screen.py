"""The three things to change first: a numbered line each, with the command that shows why."""

from collections.abc import Sequence
from textwrap import wrap
from typing import Any

from rich.console import Console

from pmtrack.rules.worth import Matter, Thing
from pmtrack.screens.advice_words import worth_words

_INDENT = 5


def as_json(things: Sequence[Thing]) -> list[dict[str, Any]]:
    """The things as scripts read them."""
    return [
        {
            "matter": str(thing.matter),
            "machine": thing.machine,
            "what": thing.what,
            "saved_a_year": thing.saved,
            "in": None if thing.saved is None else ("money" if thing.money else "hours"),
            "days_late": thing.days,
            "evidence": f"pmtrack {thing.evidence}",
        }
        for thing in things
    ]


def show_three(things: Sequence[Thing], console: Console) -> None:
    """Print them, or that there is nothing to change."""
    console.print("\nThree things to change", style="bold")
    if not things:
        console.print("  Nothing stands out: no job is late by law, and no change would save much.")
    for number, thing in enumerate(things, start=1):
        told = wrap(f"{thing.what}{_worth(thing)}", console.width - _INDENT, break_on_hyphens=False)
        console.print(f"  {number}. {told[0]}")
        for line in told[1:]:
            console.print(f"{'':{_INDENT}}{line}")
        console.print(f"{'':{_INDENT}}pmtrack {thing.evidence}", style="dim")
    if any(thing.matter is Matter.CAUSE for thing in things):
        console.print(
            "  A cure is taken to spare a quarter of a cause's hours: a guess, no source."
        )


def _worth(thing: Thing) -> str:
    if thing.saved is None:
        return ""
    return f": may save {worth_words(thing.saved, thing.money)} a year"
