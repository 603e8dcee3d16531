"""Texts that a medium might obey instead of showing, and an invented shop full of them."""

import csv
from pathlib import Path
from typing import Any

import yaml

from tests.command import Command
from tests.fuzz.desk import small_shop

# A shop file may hold all of these; each aims at one medium.
TEXTS = (
    # the terminal: markup and emoji codes of the library that lays out tables
    "[bold]x[/bold]", "[/b]", "[link=file:///etc/passwd]x[/link]", ":warning: %s {0} $(x) `x`",
    # HTML and SVG: WHATWG HTML, Living Standard, 13.1.2 (elements, attributes), 13.1.6 (comments)
    "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "' onmouseover='alert(1)",
    "<!-- x", "--> ]]> <![CDATA[ x", "&lt;b&gt; &amp; &#60;i&#62; &", "</style></title></svg><b>",
    "$\\frac{x}$ and $ x_1^2",
    # CSV: OWASP, CSV Injection
    "=cmd|' /C calc'!A0", "+1+1", "-1+1", "@SUM(A1)", "x;=1+1", 'x","=1+1', "\u200b=1+1",
    "\uff1d1+1",
    # iCalendar: RFC 5545 (2009) 3.1 (lines), 3.3.11 (TEXT)
    "BEGIN:VALARM", "x\\nEND:VEVENT\\, y", "C:\\NC", 'a;b,c:d="e"', "\u00e9" * 90,
    "\U0001f469\u200d\U0001f527" * 12, "e\u0301" * 40,
    # letters from right to left are no marks that turn direction: UAX #9 (2024), 3.2
    "\u05e2\u05d1\u05e8\u05d9\u05ea 12 abc", "\u0663 \u0645", "\ufdd0 \ue000 \U000e0041",
)  # fmt: skip
TOLD = "2026-12-15T08:00"
PERIOD = ("--from", "2026-12-01", "--to", "2026-12-14")


def hostile_shop() -> dict[str, Any]:
    """The small shop with a task for each text, and a text in every place that takes one."""
    shop = small_shop()
    shop["shop"]["name"] = TEXTS[4]
    for n, closure in enumerate(shop["shop"]["closed"]):
        closure["why"] = TEXTS[n]
    shop["suppliers"][0]["name"] = TEXTS[5]
    for n, machine in enumerate(shop["machines"], start=6):
        machine |= {"name": TEXTS[n], "kind": TEXTS[n + 3], "cautions": [TEXTS[n + 4]]}
        machine["note"] = f"{TEXTS[n]}\n{TEXTS[n + 1]}"
    for n, tool in enumerate(shop["tooling"]):
        tool |= {"kind": TEXTS[n + 2], "size": TEXTS[n + 5]}
    shop["tasks"] += [_task(n, text) for n, text in enumerate(TEXTS)]
    return shop


def _task(number: int, text: str) -> dict[str, Any]:
    return {
        "code": f"t{number}",
        "machines": ["FE-1" if number % 2 else "PB-1"],
        "title": text,
        "every": "3 months",
        "last_done": {"on": "2026-11-01"},
        "minutes": "10",
        "authority": text,
        "steps": [text, {"measure": text, "text": text, "unit": text[:20], "min": "1"}],
        "parts": [{"part": text, "quantity": "2", "unit": text[:20]}],
        "cautions": [text],
        "note": text,
    }


def hostile_store(folder: Path) -> Command:
    """A store of that shop with stops, notes and names of people, and its plan saved."""
    run = Command(folder / "hostile.db")
    file = folder / "hostile.yaml"
    file.write_text(yaml.safe_dump(hostile_shop(), allow_unicode=True), "utf-8")
    assert run("apply", str(file), now="2026-11-23T06:00").status == 0
    stops = folder / "stops.csv"
    with stops.open("w", encoding="utf-8", newline="") as written:
        csv.writer(written).writerows([_COLUMNS, *(_stop(n, t) for n, t in enumerate(typed()))])
    assert run("import", "stops", str(stops), now=TOLD).status == 0
    assert run("done", "TP-1/weekly", f"--note={TEXTS[4]}", now=TOLD).status == 0
    assert run("job", "TP-1", "--", TEXTS[0], now=TOLD).status == 0
    assert run("plan", "2027-Q1", "--save", f"--by={TEXTS[5]}", now=TOLD).status == 0
    return run


_COLUMNS = ("machine", "from", "to", "cause", "planned", "by")


def _stop(number: int, text: str) -> tuple[str, ...]:
    """A stop of half an hour in December, with that text as cause and as who says so."""
    hour = f"2026-12-{number % 11 + 1:02}T{7 + number // 11:02}"
    return "PB-1", f"{hour}:00", f"{hour}:30", text, "no", text


def typed() -> list[str]:
    """The texts that may be typed as well: all but those of characters that show nothing."""
    return [text for text in TEXTS if "\ufdd0" not in text]
