"""A small invented shop whose first quarter of 2027 can be planned by hand.

It works Monday to Friday, 06:00 to 14:30, and is closed from 24 December 2026 to 1 January 2027.
Told on Tuesday 15 December 2026. The days of the plan, worked by hand:

- FE-1/look: the first Mondays 4 January, 1 February, 1 March.
- TP-1/monthly, done on 14 December: due Thursday 14 January; then Sunday 14 February, so Friday
  the 12th; then Friday 12 March.
- TP-1/half-year is due on Wednesday 20 January, PB-1/half-year on Wednesday the 27th, each may be
  14 days early or late. One visit holds both (240 + 200 of a shift's 510 minutes). On the 20th
  PB-1 is 5 working days early, at 1 each; on any later day TP-1 is late, at 2 each: the 20th.
- PB-1/belt: 20,000 cycles at 500 a working day after 14 December, so on the 40th: 7 until the
  23rd, 20 in January, then 13 in February: Wednesday 17 February.
"""

import json
from pathlib import Path
from typing import Any

from tests.command import Command

TOLD = "2026-12-15T08:00"
Q1, Q4 = "2027-Q1", "2026-Q4"
Change = tuple[str, str, str | None, str | None]  # kind, name, day before, day now
VISIT = "press-service 2027-Q1 visit 1"
PLANNED = {
    ("FE-1/look", "2027-01-04"),
    ("FE-1/look", "2027-02-01"),
    ("FE-1/look", "2027-03-01"),
    ("TP-1/monthly", "2027-01-14"),
    ("TP-1/monthly", "2027-02-12"),
    ("TP-1/monthly", "2027-03-12"),
    ("TP-1/half-year", "2027-01-20"),
    ("PB-1/half-year", "2027-01-20"),
    ("PB-1/belt", "2027-02-17"),
}
SHOP = """
shop:
  name: Quillback Sheet Works
  timezone: America/New_York
  shifts: [{name: day, days: mon-fri, start: "06:00", end: "14:30"}]
  closed:
    - {from: 2026-12-24, to: 2027-01-01, why: winter shutdown}
  crew_hours: 2
suppliers:
  - {code: press-service, name: Outside press service, notice: 21 days}
machines:
  - code: TP-1
    name: Turret punch press
    cautions: [Lock out and tag out before opening guards; see procedure LP-04.]
  - code: PB-1
    name: Press brake
    meters: {cycles: {fastest: 20 per minute, expected: 500 per day}}
  - {code: FE-1, name: Portable extinguishers}
tasks:
  - code: monthly
    machines: [TP-1]
    title: Monthly in-house service
    every: 1 month
    minutes: 90
    last_done: {on: 2026-12-14}
    steps:
      - Drain the air filter.
      - {measure: pump-pressure, text: Pump pressure at idle, unit: bar, min: 150, max: 170}
    parts: [{part: filter element, quantity: 2}]
  - code: half-year
    machines: [TP-1]
    title: Outside service, hydraulic fluid changed
    every: 6 months
    crew: press-service
    machine_down: true
    minutes: 240
    last_done: {on: 2026-07-20}
  - code: half-year
    machines: [PB-1]
    title: Outside service, stopping time measured
    every: 6 months
    crew: press-service
    machine_down: true
    minutes: 200
    last_done: {on: 2026-07-27}
  - code: belt
    machines: [PB-1]
    title: Drive belt inspected
    every: 20000 cycles
    minutes: 30
    last_done: {on: 2026-12-14, cycles: 0}
  - code: look
    machines: [FE-1]
    title: Portable extinguishers, monthly visual check
    on: FREQ=MONTHLY;BYDAY=1MO
    starts: 2026-11-02
    last_done: {on: 2026-12-07}
    authority: 29 CFR 1910.157(e)(2)
    minutes: 15
"""


def changed(*edits: tuple[str, str]) -> str:
    """The shop file with pieces of its text replaced, each of which is in it once."""
    text = SHOP
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def with_task(machine: str, code: str, rest: str) -> str:
    """The shop file with one task more; `rest` has its keys as YAML in one line."""
    return f"{SHOP}  - {{machines: [{machine}], code: {code}, {rest}}}\n"


def without(*tasks: str) -> str:
    """The shop file without some tasks."""
    head, *blocks = SHOP.split("  - code: ")
    machines = [block for block in blocks if "machines: [" not in block]
    kept = [
        block
        for block in blocks
        if "machines: [" in block
        and f"{block.split('machines: [')[1].split(']')[0]}/{block.split(chr(10))[0]}" not in tasks
    ]
    return "  - code: ".join([head, *machines, *kept])


def apply(run: Command, text: str, now: str = TOLD) -> None:
    """Apply a shop file."""
    path = run.store.with_name("planned_shop.yaml")
    path.write_text(text)
    told = run("apply", str(path), now=now)
    assert told.status == 0, told.err


def store(folder: Path, text: str = SHOP, now: str = TOLD) -> Command:
    """The command line on a new store to which a shop file was applied."""
    run = Command(folder / "planned.db")
    apply(run, text, now)
    return run


def plan(run: Command, *options: str, quarter: str = Q1, now: str = TOLD) -> Any:
    """The plan as JSON; remarks go to standard error."""
    told = run("plan", quarter, "--json", *options, now=now)
    assert told.status == 0, told.err
    return json.loads(told.out)


def days(found: Any) -> set[tuple[str, str]]:
    """Each job with its day."""
    return {(job["task"], job["day"]) for job in found["jobs"]}


def told_changes(found: Any, *kinds: str) -> set[Change]:
    """Kind, name, day before and day now of the changes, perhaps only of some kinds."""
    return {
        (c["kind"], c["name"], c["was"], c["day"])
        for c in found["changes"]
        if not kinds or c["kind"] in kinds
    }


def reasons(found: Any, name: str) -> list[str]:
    """Why a task's jobs changed."""
    return [change["why"] for change in found["changes"] if change["name"] == name]


def words(text: str) -> str:
    """The words of a text that was wrapped."""
    return " ".join(text.split())
