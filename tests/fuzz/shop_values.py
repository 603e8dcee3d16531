"""The shop file's values: odd ones at every place, applied over history, then asked about."""

from pathlib import Path
from typing import Any

import yaml

from tests.command import dump
from tests.fuzz.choices import Choices
from tests.fuzz.desk import Desk, small_shop
from tests.fuzz.judging import in_time, is_sound

ODD = [
    None, True, "", " ", "~", "0", "-1", "1", "0.000001", "999999999999", "1000000000000",
    "9" * 400, "1e999", ".nan", ".inf", "1_000", "0x1F", "1:30", "\u0661", "on", "no",
    "0000-00-00", "1950-01-01", "2150-12-31", "9999-12-31", "2026-02-29", "24:00", "00:00", "23:59",
    "UTC", "Pacific/Apia", "Africa/Casablanca", "Antarctica/Troll", "Etc/GMT+12", "Nowhere/Town",
    "mon-sun", "sun-mon", "1 day", "0 days", "100 years", "120 years", "99999 days", "1 month",
    "0.000001 hits", "999999999999 hits", "1 hits", "100%", "0%", "101%", "0 days", "3660 days",
    "1 per day", "0 per day", "999999999999 per minute", "0.000001 per week", "1 per fortnight",
    "FREQ=DAILY", "FREQ=SECONDLY", "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29", "FREQ=DAILY;INTERVAL=0",
    "FREQ=DAILY;COUNT=1", "FREQ=MONTHLY;BYMONTHDAY=31", "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=DAILY;UNTIL=20260101", "FREQ=YEARLY;INTERVAL=9999", "FREQ=WEEKLY;BYDAY=53MO",
    "FREQ=YEARLY;BYWEEKNO=53", "FREQ=MONTHLY;BYDAY=MO,TU;BYSETPOS=-400",
    "FREQ=YEARLY;BYYEARDAY=366",
    "TP-1", "PB-1", "FE-1", "weekly", "monthly", "RD-10", "press-service", "x" * 40, "x" * 5000,
    "[bold]x[/b]", "<script>", "=1+1", "\u202e", "\x00", "\x1b[2J", "\ud7ff\U000e0001", "\u2028",
    "a\nb", [], {}, ["x"], {"x": "y"}, [[["x"]]], {"on": "2026-11-20"},
    {"on": "2026-11-20", "hits": "999999999999", "hours": "0"}, ["1 day", "1 hits", "1 hours"],
    {"from": "1950-01-01", "to": "2150-12-31"}, {"x": {"expected": "1 per day"}},
]  # fmt: skip
VIEWS = [
    ["today", "--all", "--json"], ["today", "--within", "3660"], ["usage"], ["tooling"],
    ["why", "TP-1/monthly"], ["why", "TP-1/half-year"], ["why", "PB-1/belt"], ["why", "RD-10"],
    ["why", "FE-1/look"], ["plan", "2027-Q1"], ["plan", "2026-Q4", "--jobs", "--parts"],
    ["report", "--from", "2026-11-01", "--to", "2026-11-25"], ["advice"], ["life"], ["trend"],
    ["setup", "KIOSK-DOOR", "--parts", "1000"], ["entries"], ["verify"], ["backtest", "RD-10"],
    ["calendar", "2027-Q1", "--out", "c.ics"], ["sheet", "2027-Q1", "--out", "s.html"],
    ["cards", "2027-Q1", "--out", "k.html"], ["calendar", "2150-Q3", "--todos", "--out", "c.ics"],
    ["today", "--on", "1950-01-01"], ["today", "--on", "2150-12-31"], ["usage", "--on",
    "2150-12-31"],
    ["tooling", "--on", "2150-12-31"], ["log", "TP-1", "--hits", "5"], ["done", "TP-1/weekly"],
]  # fmt: skip


class ShopValues:
    """Applies a shop file with odd values, then asks the store about everything."""

    name = "shop-values"

    def __init__(self, folder: Path) -> None:
        self.desk = Desk(folder)

    def seeds(self) -> list[bytes]:
        return [bytes([1, view, at, odd]) for at, odd, view in _SPREAD]

    def attempt(self, data: bytes) -> None:
        choices, desk = Choices(data), self.desk
        edits, view = choices.number(3) + 1, choices.number(len(VIEWS))
        shop = small_shop()
        for _ in range(edits):
            _edit(shop, choices)
        file = desk.folder / "keep.yaml"
        file.write_text(yaml.safe_dump(shop, allow_unicode=True), "utf-8", "replace")
        desk.put(desk.worked)
        before = dump(desk.run.store)
        with in_time(shop):
            told = desk.run("apply", str(file))
        is_sound(told, shop)
        if told.status:
            assert dump(desk.run.store) == before
            return
        for question in (VIEWS[view], VIEWS[(view + 7) % len(VIEWS)], ["verify"]):
            words = [str(desk.folder / w) if w.endswith((".ics", ".html")) else w for w in question]
            with in_time((question, shop)):
                is_sound(desk.run(*words), (question, shop))
        desk.tidy()


_SPREAD = [(at, (at * 7 + turn) % 256, at % len(VIEWS)) for at in range(120) for turn in (0, 3)]


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Every place of a tree: what holds it, and its key or index."""
    items = value.items() if isinstance(value, dict) else enumerate(value)
    found: list[tuple[Any, Any]] = []
    for key, inner in items:
        found.append((value, key))
        if isinstance(inner, dict | list):
            found += _places(inner)
    return found


def _edit(shop: Any, choices: Choices) -> None:
    """Put an odd value at a place, or a text of the bytes, or copy or remove what is there."""
    places = _places(shop)
    if not places:
        return
    holder, key = choices.of(places)
    deed = choices.number(256)
    if deed < len(ODD):
        holder[key] = ODD[deed]
    elif deed < 160:
        holder[key] = choices.text()
    elif deed < 190:
        del holder[key]
    elif isinstance(holder, list):
        holder.append(holder[key])
    else:
        holder[choices.text()] = holder[key]
