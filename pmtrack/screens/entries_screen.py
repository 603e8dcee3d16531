"""The list of entries for the eye."""

from typing import Any
from zoneinfo import ZoneInfo

from rich.console import Console

from pmtrack.screens.terminal import table
from pmtrack.store.codec import to_instant

_INSTANTS = ("started", "ended")
_IN_HEAD = ("entry", "kind", "at", "by", "day", "whole_day", "voided")


def show_entries(entries: list[dict[str, Any]], zone: ZoneInfo, console: Console) -> None:
    """Print one line an entry, in shop time."""
    made = table("Entry", "Kind", "When", "By", "What", right=("Entry",), fixed=("Kind", "When"))
    for entry in entries:
        crossed = "CROSSED OUT  " if entry["voided"] else ""
        made.add_row(
            str(entry["entry"]),
            entry["kind"],
            when_of(entry, zone),
            entry["by"],
            crossed + what_of(entry, zone),
        )
    console.print(made)


def when_of(entry: dict[str, Any], zone: ZoneInfo) -> str:
    """The moment of an entry, in shop time, or its day."""
    return str(entry["day"]) if entry["whole_day"] else _in_shop_time(entry["at"], zone)


def what_of(entry: dict[str, Any], zone: ZoneInfo) -> str:
    """What an entry tells."""
    told = entry | {name: _in_shop_time(entry[name], zone) for name in _INSTANTS if entry.get(name)}
    return "; ".join(_told(name, value) for name, value in told.items() if _tells(name, value))


def _in_shop_time(instant: str, zone: ZoneInfo) -> str:
    """An instant as the shop's clock shows it."""
    return f"{to_instant(instant).astimezone(zone):%Y-%m-%d %H:%M}"


def _tells(name: str, value: Any) -> bool:
    return name not in _IN_HEAD and value not in (None, False, [], {}, "")


def _told(name: str, value: Any) -> str:
    if isinstance(value, dict):
        read = " dial" if name == "dials" else ""
        return ", ".join(f"{key}{read} {number:,}" for key, number in value.items())
    if name in ("machine", "task", "tool", "shift", "event", "title", "cause"):
        return str(value)
    return name if value is True else f"{name} {value}"
