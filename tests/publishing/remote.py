"""A calendar on the test's server: what is in it, read by a client library, and edits by hand."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import UUID

import icalendar
from caldav.davclient import DAVClient

from pmtrack.publishing.collection import Published, publish
from pmtrack.rules.revision import CalendarEntry, CalendarJob, job_uid, revise
from tests.publishing.loopback import Gate

SHOP = UUID("6f0d3d5e-55a3-4d0c-9a77-0b6f9c0d1e2f")
FIRST = datetime(2026, 12, 1, 7, 30, tzinfo=UTC)
SECOND = FIRST + timedelta(days=20)


def job(number: int, day: date, summary: str = "") -> CalendarJob:
    """A planned job with every kind of text that a server could spoil."""
    return CalendarJob(
        uid=job_uid(SHOP, f"TP-1/job-{number}"),
        task=f"TP-1/job-{number}",
        day=day,
        due_on=day,
        summary=summary or f"TP-1: grease, filters; C:\\NC\\new \U0001f527 {number}",
        text="CAUTIONS\n- Bleed the accumulators, try them; then block the ram.\n\n1. "
        + "\u00d6l pr\u00fcfen. " * 9,
        reminder_days=number % 8,
        categories=("TP-1", "press, turret"),
    )


def jobs(count: int) -> list[CalendarJob]:
    """Jobs on one day after another from 4 January 2027."""
    return [job(number, date(2027, 1, 4) + timedelta(days=number)) for number in range(count)]


def first_plan(wanted: Iterable[CalendarJob]) -> list[CalendarEntry]:
    """The entries of a plan that was never published."""
    return revise([], wanted, {}, FIRST)


def replan(before: Iterable[CalendarEntry], wanted: Iterable[CalendarJob]) -> list[CalendarEntry]:
    """The entries of a plan made anew."""
    return revise(before, wanted, {}, SECOND)


def moved(planned: CalendarJob, days: int) -> CalendarJob:
    """The job some days later."""
    return replace(planned, day=planned.day + timedelta(days=days))


@dataclass(frozen=True)
class Calendar:
    """One calendar, seen through the gate."""

    gate: Gate
    url: str

    @property
    def straight(self) -> str:
        """The URL past the gate, so that looking is not counted."""
        return f"http://127.0.0.1:{self.gate.port}/{self.url.split('/', 3)[3]}"

    def publish(self, entries: Sequence[CalendarEntry], todos: bool = False) -> Published:
        """The entries published through the gate."""
        return publish(self.url, entries, todos, "Quillback, first quarter")

    def create(self) -> None:
        """The empty calendar, made as another program would."""
        with DAVClient(url=self.straight) as client:
            assert client.mkcalendar(self.straight).status == 201

    def put(self, name: str, data: bytes | str) -> None:
        """An object put by another program."""
        text = data.decode() if isinstance(data, bytes) else data
        with DAVClient(url=self.straight) as client:
            headers = {"Content-Type": "text/calendar; charset=utf-8"}
            assert client.put(self.straight + name, text, headers).status in (201, 204)

    def delete(self, uid: str) -> None:
        """An object deleted by another program."""
        with DAVClient(url=self.straight) as client:
            assert client.delete(f"{self.straight}{uid}.ics").status in (200, 204)

    def texts(self) -> dict[str, str]:
        """The text of each object by its path."""
        with DAVClient(url=self.straight) as client:
            found = client.calendar(url=self.straight).search()
            return {str(one.url): one.data for one in found}

    def parts(self) -> dict[str, Any]:
        """The events and to-dos by UID, each the one part of its object besides time zones."""
        parts = [
            part
            for text in self.texts().values()
            for part in icalendar.Calendar.from_ical(text).subcomponents
            if part.name != "VTIMEZONE"
        ]
        by_uid = {str(part["UID"]): part for part in parts}
        assert len(by_uid) == len(parts)
        return by_uid

    def etags(self) -> dict[str, str]:
        """The version of each object by its path."""
        with DAVClient(url=self.straight) as client:
            found = client.propfind(self.straight, ["getetag"], 1).parse_propfind()
            return {one.href: str(one.properties["{DAV:}getetag"]) for one in found}
