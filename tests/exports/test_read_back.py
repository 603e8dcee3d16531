"""Calendar files as other programs' readers see them, vobject being one of its own kind."""

from dataclasses import replace
from datetime import UTC, date, datetime

import recurring_ical_events
import vobject
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from pmtrack.exports.icalendar_file import calendar_file, clean
from pmtrack.rules.revision import CalendarEntry, CalendarJob

STAMP = datetime(2026, 12, 1, 7, 30, tzinfo=UTC)
MONTHLY = CalendarJob(
    uid="0b6f2e0e-9d0f-5a52-8a3e-2f3a4c1d9e77",
    task="TP-1/monthly",
    day=date(2027, 1, 29),
    due_on=date(2027, 2, 1),
    summary="TP-1: grease, filters; C:\\NC\\new \U0001f527",
    text="CAUTIONS\n- Bleed the accumulators, try them; then block the ram.\n\n1. "
    + "Öl prüfen. " * 9,
    reminder_days=7,
    categories=("TP-1", "press, turret"),
)
VISIT = replace(
    MONTHLY, uid="5d3a2c55-31a7-5c0e-b0a6-6a5f44f0c2b1", day=date(2027, 3, 31), reminder_days=21
)
ENTRIES = [CalendarEntry(MONTHLY, 2, STAMP), CalendarEntry(VISIT, 5, STAMP, cancelled=True)]
HEAD, LEAD = "Cancelled: ", "Cancelled: this job is no longer planned for this day.\n\n"

Seen = tuple[str, date, str, str, int, str]  # UID, day, summary, description, sequence, status


def expected(entry: CalendarEntry, open_status: str) -> Seen:
    """What a reader should see of an entry."""
    job, off = entry.job, entry.cancelled
    title, text = (HEAD + job.summary, LEAD + job.text) if off else (job.summary, job.text)
    return (job.uid, job.day, title, text, entry.sequence, "CANCELLED" if off else open_status)


def by_vobject(data: bytes, component: str, start: str) -> list[Seen]:
    """The entries as vobject reads them."""
    calendar = vobject.readOne(data.decode())
    return [
        (
            part.uid.value,
            getattr(part, start).value,
            part.summary.value,
            part.description.value,
            int(part.sequence.value),
            part.status.value,
        )
        for part in calendar.contents[component]
    ]


def by_occurrences(data: bytes, components: list[str]) -> list[Seen]:
    """The entries as recurring_ical_events unrolls them over the first quarter of 2027."""
    calendar = Calendar.from_ical(data)
    assert calendar.errors == []
    query = recurring_ical_events.of(calendar, components=components)
    parts = list(query.between(date(2027, 1, 1), date(2027, 4, 1)))
    assert all(part.errors == [] for part in parts)
    return [
        (
            str(part["UID"]),
            part["DTSTART" if part.name == "VEVENT" else "DUE"].dt,
            str(part["SUMMARY"]),
            str(part["DESCRIPTION"]),
            int(part["SEQUENCE"]),
            str(part["STATUS"]),
        )
        for part in sorted(parts, key=lambda part: str(part["SUMMARY"]), reverse=True)
    ]


def test_two_readers_find_the_events_that_were_written() -> None:
    data = calendar_file("PM, first quarter", "c-1", ENTRIES)
    wanted = [expected(entry, "CONFIRMED") for entry in ENTRIES]
    assert by_vobject(data, "vevent", "dtstart") == wanted
    assert by_occurrences(data, ["VEVENT"]) == wanted


def test_two_readers_find_the_to_dos_that_were_written() -> None:
    data = calendar_file("PM, first quarter", "c-1", ENTRIES, todos=True)
    wanted = [expected(entry, "NEEDS-ACTION") for entry in ENTRIES]
    assert by_vobject(data, "vtodo", "due") == wanted
    assert by_occurrences(data, ["VTODO"]) == wanted


def test_a_reminder_rings_where_it_was_set() -> None:
    calendar = Calendar.from_ical(calendar_file("PM", "c-1", ENTRIES))
    open_job, cancelled = calendar.events
    assert [alarm.trigger for alarm in open_job.alarms.times] == [date(2027, 1, 22)]  # 29 less 7
    assert cancelled.alarms.times == []


WORDS = st.sampled_from(["oil", "\\", ",", ";", "\n", "\r\nBEGIN:VEVENT\r\n", "\\N", "\U0001f527"])


@given(words=st.lists(WORDS | st.characters(codec="utf-8"), min_size=1, max_size=30))
def test_any_text_reads_back_the_same_in_both(words: list[str]) -> None:
    text = "x" + "".join(words) + "x"
    data = calendar_file("PM", "c-1", [CalendarEntry(replace(MONTHLY, text=text), 0, STAMP)])
    (seen,) = by_vobject(data, "vevent", "dtstart")
    (again,) = by_occurrences(data, ["VEVENT"])
    assert seen[3] == again[3] == clean(text)
