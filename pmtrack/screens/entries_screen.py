"""The list of entries for the eye."""

import re
from typing import Any
from zoneinfo import ZoneInfo

from rich.console import Console

from pmtrack.screens.terminal import table
from pmtrack.store.codec import to_instant

_INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
_IN_HEAD = ("entry", "kind", "at", "by", "day", "whole_day", "voided")


def show_entries(entries: list[dict[str, Any]], zone: ZoneInfo, console: Console) -> None:
    """Print one line an entry, in shop time."""
    made = table("Entry", "Kind", "When", "By", "What", right=("Entry",), fixed=("Kind", "When"))
    for entry in entries:
        when = entry["day"] if entry["whole_day"] else _in_shop_time(entry["at"], zone)
        told = {name: _in_shop_time(value, zone) for name, value in entry.items()}
        what = "; ".join(_told(name, value) for name, value in told.items() if _tells(name, value))
        crossed = "CROSSED OUT  " if entry["voided"] else ""
        made.add_row(
            str(entry["entry"]),
            entry["kind"],
            when,
            entry["by"],
            crossed + what,
        )
    console.print(made)


def _in_shop_time(value: Any, zone: ZoneInfo) -> Any:
    """An instant as the shop's clock shows it; other values as they are."""
    if isinstance(value, str) and _INSTANT.fullmatch(value):
        return f"{to_instant(value).astimezone(zone):%Y-%m-%d %H:%M}"
    return value


def _tells(name: str, value: Any) -> bool:
    return name not in _IN_HEAD and value not in (None, False, [], {}, "")


def _told(name: str, value: Any) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{key} {number:,}" for key, number in value.items())
    if name in ("machine", "task", "tool", "shift", "event", "title", "cause"):
        return str(value)
    return name if value is True else f"{name} {value}"
