"""The list of entries for the eye."""

from typing import Any
from zoneinfo import ZoneInfo

from rich.console import Console

from pmtrack.screens.terminal import table
from pmtrack.store.codec import to_instant

_IN_HEAD = ("entry", "kind", "at", "by", "day", "voided")


def show_entries(entries: list[dict[str, Any]], zone: ZoneInfo, console: Console) -> None:
    """Print one line an entry, in shop time."""
    made = table("Entry", "Kind", "When", "By", "What", right=("Entry",), fixed=("Kind", "When"))
    for entry in entries:
        when = to_instant(entry["at"]).astimezone(zone)
        what = "; ".join(_told(name, value) for name, value in entry.items() if _tells(name, value))
        crossed = "CROSSED OUT  " if entry["voided"] else ""
        made.add_row(
            str(entry["entry"]),
            entry["kind"],
            f"{when:%Y-%m-%d %H:%M}",
            entry["by"],
            crossed + what,
        )
    console.print(made)


def _tells(name: str, value: Any) -> bool:
    return name not in _IN_HEAD and value not in (None, False, [], {}, "")


def _told(name: str, value: Any) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{key} {number:,}" for key, number in value.items())
    if name in ("machine", "task", "tool", "shift", "event", "title", "cause"):
        return str(value)
    return name if value is True else f"{name} {value}"
