"""The calendar file and its revision in five readers that share no code of ours.

icalendar, recurring_ical_events, vobject, khal (as a command, with a calendar of its own) and
radicale (as a server that takes the whole file, read back by its client).
"""

import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
import recurring_ical_events
import vobject
from caldav.davclient import DAVClient
from icalendar import Calendar

from pmtrack.exports.icalendar_file import calendar_file
from pmtrack.rules.revision import CalendarEntry, CalendarJob, Completed, revise
from tests.publishing.loopback import radicale

FIRST = datetime(2026, 12, 1, 7, 30, tzinfo=UTC)
SECOND = FIRST + timedelta(days=40)  # 10 January 2027


def job(letter: str, day: date, summary: str) -> CalendarJob:
    """A job or visit whose UID is told apart by a letter."""
    return CalendarJob(
        uid=f"{letter * 8}-9d0f-5a52-8a3e-2f3a4c1d9e77",
        task=f"TP-1/{letter}",
        day=day,
        due_on=day,
        summary=summary,
        text="CAUTIONS\n- Lock out; try it, then start.\n\nParts: filter, 2 l oil",
        reminder_days=7,
        categories=("TP-1", "In-house"),
    )


STAYS = job("a", date(2027, 1, 29), "TP-1: grease, filters; both ends")
MOVES = job("b", date(2027, 2, 26), "PB-1: \u00d6l pr\u00fcfen \U0001f527")
GOES = job("c", date(2027, 3, 31), "Visit, Northgate Hydraulics: PB-1; PB-2")
DONE = job("d", date(2027, 1, 8), "FE-1: belts")
COMES = job("e", date(2027, 3, 30), "CP-1: filter, belt; drain")
BEFORE = revise([], [STAYS, MOVES, GOES, DONE], {}, FIRST)
AFTER = revise(
    BEFORE,
    [STAYS, replace(MOVES, day=date(2027, 3, 1)), COMES],
    {DONE.uid: Completed(date(2027, 1, 7), SECOND, "Done on Thu 2027-01-07 (entry 12).")},
    SECOND,
)

Seen = dict[str, tuple[date, str, str]]  # UID: day, summary, status
EVENTS_BEFORE: Seen = {
    STAYS.uid: (date(2027, 1, 29), STAYS.summary, "CONFIRMED"),
    MOVES.uid: (date(2027, 2, 26), MOVES.summary, "CONFIRMED"),
    GOES.uid: (date(2027, 3, 31), GOES.summary, "CONFIRMED"),
    DONE.uid: (date(2027, 1, 8), DONE.summary, "CONFIRMED"),
}
EVENTS_AFTER: Seen = {
    STAYS.uid: (date(2027, 1, 29), STAYS.summary, "CONFIRMED"),
    MOVES.uid: (date(2027, 3, 1), MOVES.summary, "CONFIRMED"),
    GOES.uid: (date(2027, 3, 31), f"Cancelled: {GOES.summary}", "CANCELLED"),
    DONE.uid: (date(2027, 1, 7), f"Done: {DONE.summary}", "CONFIRMED"),
    COMES.uid: (date(2027, 3, 30), COMES.summary, "CONFIRMED"),
}
TODOS_BEFORE: Seen = {
    uid: (day, summary, "NEEDS-ACTION") for uid, (day, summary, _) in EVENTS_BEFORE.items()
}
TODOS_AFTER: Seen = {
    STAYS.uid: (date(2027, 1, 29), STAYS.summary, "NEEDS-ACTION"),
    MOVES.uid: (date(2027, 3, 1), MOVES.summary, "NEEDS-ACTION"),
    GOES.uid: (date(2027, 3, 31), f"Cancelled: {GOES.summary}", "CANCELLED"),
    DONE.uid: (date(2027, 1, 8), f"Done: {DONE.summary}", "COMPLETED"),  # due on the planned day
    COMES.uid: (date(2027, 3, 30), COMES.summary, "NEEDS-ACTION"),
}


def seen(parts: list[Any]) -> Seen:
    """What components read by icalendar say."""
    found = {
        str(part["UID"]): (
            part["DTSTART" if part.name == "VEVENT" else "DUE"].dt,
            str(part["SUMMARY"]),
            str(part["STATUS"]),
        )
        for part in parts
    }
    assert len(found) == len(parts)
    return found


def by_icalendar(data: bytes) -> Seen:
    """Every component of the file."""
    calendar = Calendar.from_ical(data)
    assert [part.errors for part in calendar.walk() if part.errors] == []
    return seen([*calendar.events, *calendar.todos])


def by_occurrences(data: bytes) -> Seen:
    """What happens in the first quarter of 2027."""
    query = recurring_ical_events.of(Calendar.from_ical(data), components=["VEVENT", "VTODO"])
    return seen(list(query.between(date(2027, 1, 1), date(2027, 4, 1))))


def by_vobject(data: bytes) -> Seen:
    """Every component of the file, by a reader with a grammar of its own."""
    contents = vobject.readOne(data.decode()).contents
    return {
        part.uid.value: (
            getattr(part, "dtstart" if part.name == "VEVENT" else "due").value,
            part.summary.value,
            part.status.value,
        )
        for part in [*contents.get("vevent", []), *contents.get("vtodo", [])]
    }


@pytest.mark.parametrize("reader", [by_icalendar, by_occurrences, by_vobject])
@pytest.mark.parametrize(
    ("entries", "todos", "expected"),
    [
        (BEFORE, False, EVENTS_BEFORE),
        (AFTER, False, EVENTS_AFTER),
        (BEFORE, True, TODOS_BEFORE),
        (AFTER, True, TODOS_AFTER),
    ],
    ids=["events", "events revised", "to-dos", "to-dos revised"],
)
def test_readers_of_a_file_find_every_entry(
    reader: Callable[[bytes], Seen], entries: list[CalendarEntry], todos: bool, expected: Seen
) -> None:
    assert reader(calendar_file("PM, first quarter", "c-1", entries, todos)) == expected


KHAL = """
[calendars]
[[pm]]
path = {folder}/pm
[sqlite]
path = {folder}/khal.db
[locale]
timeformat = %H:%M
dateformat = %Y-%m-%d
longdateformat = %Y-%m-%d
datetimeformat = %Y-%m-%d %H:%M
longdatetimeformat = %Y-%m-%d %H:%M
default_timezone = UTC
local_timezone = UTC
[default]
default_calendar = pm
"""


class Khal:
    """The calendar program khal with its own settings and calendar in a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        (folder / "pm").mkdir()
        (folder / "khal.conf").write_text(KHAL.format(folder=folder))

    def _run(self, *words: str) -> str:
        program = str(Path(sys.executable).parent / "khal")
        command = [program, "-c", str(self.folder / "khal.conf"), *words]
        ended = subprocess.run(command, capture_output=True, text=True, timeout=60)
        assert ended.returncode == 0, ended.stderr
        return ended.stdout

    def load(self, data: bytes) -> None:
        """Take a file in, over what it has of the same UIDs."""
        (self.folder / "plan.ics").write_bytes(data)
        self._run("import", "--batch", "-a", "pm", str(self.folder / "plan.ics"))

    def events(self) -> Seen:
        """What it lists for the first quarter of 2027; it marks what is cancelled."""
        shape = "{uid}|{start-date}|{title}|{status}|"
        told = self._run("list", "--day-format", "", "--format", shape, "2027-01-01", "90d")
        rows = [line.split("|") for line in told.splitlines() if line]
        assert len({row[0] for row in rows}) == len(rows)
        return {
            uid: (date.fromisoformat(day), title, status.strip() or "CONFIRMED")
            for uid, day, title, status, _ in rows
        }


def test_khal_takes_the_file_and_its_revision(tmp_path: Path) -> None:
    khal = Khal(tmp_path)
    khal.load(calendar_file("PM", "c-1", BEFORE))
    assert khal.events() == EVENTS_BEFORE
    khal.load(calendar_file("PM", "c-1", AFTER))
    assert khal.events() == EVENTS_AFTER


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The URL of a CalDAV server."""
    with radicale(tmp_path_factory.mktemp("readers")) as port:
        yield f"http://127.0.0.1:{port}/"


@pytest.mark.parametrize(
    ("todos", "before", "after"),
    [(False, EVENTS_BEFORE, EVENTS_AFTER), (True, TODOS_BEFORE, TODOS_AFTER)],
    ids=["events", "to-dos"],
)
def test_a_server_takes_the_whole_file_and_its_revision(
    server: str, todos: bool, before: Seen, after: Seen
) -> None:
    url = f"{server}{uuid4()}/"
    with DAVClient(url=url) as client:
        for entries, expected in ((BEFORE, before), (AFTER, after)):
            text = calendar_file("PM", "c-1", entries, todos).decode()
            assert client.put(url, text, {"Content-Type": "text/calendar"}).status == 201
            found = client.calendar(url=url).search()
            assert seen([one.get_icalendar_component() for one in found]) == expected
