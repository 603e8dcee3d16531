"""How worn the tools are, and which hits reached none of them: for the eye, and as JSON."""

from typing import Any

from rich.console import Console

from pmtrack.rules.allocated import Allocation
from pmtrack.rules.quantity import show
from pmtrack.rules.wear import ToolWear
from pmtrack.screens.terminal import show_lines, table
from pmtrack.screens.today_screen import tool_table


def allocation_json(found: Allocation) -> dict[str, Any]:
    """One machine."""
    return {
        "machine": found.machine,
        "from": found.first,
        "to": found.last,
        "hits": found.hits,
        "unlogged": found.unlogged,
        "allocated": found.allocated,
        "unallocated": found.unallocated,
        "share": float(found.share) if found.share is not None else None,
    }


def show_tooling(wears: list[ToolWear], found: list[Allocation], console: Console) -> None:
    """Print the tools, and below them the hits that no tool got."""
    if wears:
        console.print(tool_table(wears))
    else:
        console.print("No tool is there.")
    show_lines(console, "Hits that reached no tool", [_line(f) for f in found if _tells(f)])


def _tells(found: Allocation) -> bool:
    return found.hits > 0 and found.unallocated != 0


def _line(found: Allocation) -> str:
    since = f"since {found.first}"
    if found.unallocated < 0:
        return (
            f"{found.machine}: none; its tools got {show(-found.unallocated, 0)} more than the "
            f"{show(found.hits, 0)} of its meter {since}"
        )
    return (
        f"{found.machine}: {show(found.unallocated, 0)} of {show(found.hits, 0)} {since}, "
        f"{show(100 * (found.share or 0), 1)} %"
    )


def show_unallocated(found: list[Allocation], console: Console) -> None:
    """Print the figures by machine, and what they are made of."""
    if not found:
        console.print("No machine has a meter of hits.")
        return
    made = table(
        "Machine", "Since", "Hits", "Unlogged", "By tools", "No tool", "Share",
        right=("Hits", "Unlogged", "By tools", "No tool", "Share"), fixed=("Machine", "Since"),
    )  # fmt: skip
    for each in found:
        made.add_row(
            each.machine,
            str(each.first),
            show(each.hits, 0),
            show(each.unlogged, 0),
            show(each.allocated, 0),
            show(each.unallocated, 0),
            "-" if each.share is None else f"{show(100 * each.share, 1)} %",
        )
    console.print(made)
    show_lines(
        console,
        "How to read it",
        [
            "Hits are what the machine's meter gained, with what its dial found beyond the shift "
            "logs (unlogged). Those that no tool got were made without a program in the log, by "
            "tools that the program does not name, or at set-up. They are spread over no tool.",
        ],
    )
