"""Two quarters published onto one calendar, in turn: each job stays where its quarter has it."""

from pathlib import Path
from typing import Any

from tests.command import Command
from tests.planned_shop import Q1, TOLD, plan, store, with_task
from tests.publishing.remote import Calendar

Q4 = "2026-Q4"
# due on 16, 23 and 30 December; the shop is closed on the 30th, so on Monday 4 January
WEEKLY = "title: Wipe, every: 1 week, minutes: 5, last_done: {on: 2026-12-09}"


def publish(run: Command, calendar: Calendar, quarter: str) -> dict[str, Any]:
    """Publish a quarter; the calendar's events by UID."""
    told = run("publish", quarter, "--url", calendar.url, now=TOLD)
    assert told.status == 0, told.err
    return calendar.parts()


def test_two_quarters_in_turn_leave_each_others_jobs_alone(
    tmp_path: Path, calendar: Calendar
) -> None:
    run = store(tmp_path, with_task("TP-1", "weekly", WEEKLY))
    for quarter in (Q1, Q4, Q1):
        plan(run, "--save", quarter=quarter)
        found = publish(run, calendar, quarter)
    assert {str(event["STATUS"]) for event in found.values()} == {"CONFIRMED"}
    assert {int(event["SEQUENCE"]) for event in found.values()} == {0}
    on = [str(e["SUMMARY"]) for e in found.values() if f"{e['DTSTART'].dt}" == "2027-01-04"]
    assert sorted(on) == [
        "FE-1: Portable extinguishers, monthly visual check",
        "TP-1: Wipe",
    ]
    calendar.gate.seen.clear()
    for quarter in (Q4, Q1):
        publish(run, calendar, quarter)
    assert calendar.gate.count("PUT") == 0
