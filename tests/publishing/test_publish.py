"""The plan on a real CalDAV server, read back with a client library; then a revision on top."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from pmtrack.errors import Refused
from pmtrack.exports.icalendar_file import CANCELLED_TITLE, DONE_TITLE, single_file
from pmtrack.publishing import collection, server
from pmtrack.publishing.collection import Published
from pmtrack.publishing.comparison import Content, content
from pmtrack.rules.revision import CalendarEntry, Completed
from tests.publishing.remote import SECOND, Calendar, first_plan, job, jobs, moved, replan

FOREIGN = (
    "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//somebody//EN\r\nBEGIN:VEVENT\r\n"
    "UID:crew-meeting\r\nDTSTAMP:20261101T080000Z\r\nDTSTART:20270104T130000Z\r\n"
    "SUMMARY:Crew meeting\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
)


def assert_holds(part: Any, entry: CalendarEntry) -> None:
    """Fails where an event on the server does not say what the entry says."""
    planned = entry.job
    head = CANCELLED_TITLE if entry.cancelled else ""
    assert part.name == "VEVENT"
    assert part["DTSTART"].dt == planned.day
    assert part["DTEND"].dt == planned.day + timedelta(days=1)
    assert str(part["SUMMARY"]) == head + planned.summary
    assert str(part["DESCRIPTION"]).endswith(planned.text.rstrip())  # the client trims
    assert str(part["STATUS"]) == ("CANCELLED" if entry.cancelled else "CONFIRMED")
    assert int(part["SEQUENCE"]) == entry.sequence
    assert part["CATEGORIES"].cats == list(planned.categories)
    assert len(part.subcomponents) == (0 if entry.cancelled else 1)


def test_a_first_plan_creates_the_calendar_and_all_its_events(calendar: Calendar) -> None:
    entries = first_plan(jobs(4))
    assert calendar.publish(entries) == Published(4, 0, 0, created=True)
    found = calendar.parts()
    assert found.keys() == {entry.job.uid for entry in entries}
    for entry in entries:
        assert_holds(found[entry.job.uid], entry)


def test_each_object_is_one_entry_under_its_uid_and_has_no_method(calendar: Calendar) -> None:
    (entry,) = first_plan(jobs(1))
    calendar.publish([entry])
    ((path, text),) = calendar.texts().items()
    assert path.endswith(f"/{entry.job.uid}.ics")  # RFC 4791 5.3.2 (2007) leaves the name to us
    assert text.count("BEGIN:VEVENT") == 1
    assert "METHOD" not in text  # RFC 4791 4.1 (2007)


def test_a_revision_moves_cancels_and_adds_and_leaves_the_rest(calendar: Calendar) -> None:
    planned = jobs(5)
    before = first_plan(planned)
    calendar.publish(before)
    calendar.gate.seen.clear()
    wanted = [planned[0], moved(planned[1], 9), *planned[3:], job(7, date(2027, 2, 1))]
    after = replan(before, wanted)  # the second moved, the third fell away, one more came
    assert calendar.publish(after) == Published(added=1, changed=2, unchanged=3)
    assert calendar.gate.count("PUT") == 3
    found = calendar.parts()
    assert len(found) == 6
    for entry in after:
        assert_holds(found[entry.job.uid], entry)
    assert found[planned[1].uid]["DTSTART"].dt == date(2027, 1, 14)  # the 5th and nine days
    assert int(found[planned[1].uid]["SEQUENCE"]) == 1
    assert str(found[planned[2].uid]["STATUS"]) == "CANCELLED"


@pytest.mark.parametrize("todos", [False, True], ids=["events", "to-dos"])
def test_repeating_puts_nothing(calendar: Calendar, todos: bool) -> None:
    planned = jobs(3)
    done = Completed(planned[2].day, SECOND, "Done on Wed 2027-01-06 (entry 12).")
    before = first_plan(planned)
    calendar.publish(before, todos)
    after = replan(before, [planned[0], replace(planned[2], done=done)])  # one cancelled, one done
    assert calendar.publish(after, todos) == Published(0, 2, 1)
    versions = calendar.etags()
    calendar.gate.seen.clear()
    assert calendar.publish(after, todos) == Published(0, 0, 3)
    assert {method for method, _ in calendar.gate.seen} == {"PROPFIND", "REPORT"}
    assert calendar.etags() == versions


def test_to_dos_take_the_place_of_events_and_back(calendar: Calendar) -> None:
    entries = first_plan(jobs(2))
    calendar.publish(entries)
    for todos, kind in ((True, "VTODO"), (False, "VEVENT")):
        assert calendar.publish(entries, todos) == Published(0, 2, 0)
        assert [part.name for part in calendar.parts().values()] == [kind, kind]


def test_a_done_job_is_told_as_done(calendar: Calendar) -> None:
    planned = job(1, date(2027, 1, 5))
    before = first_plan([planned])
    calendar.publish(before)
    done = Completed(date(2027, 1, 4), SECOND, "Done on Mon 2027-01-04 (entry 12).")
    calendar.publish(replan(before, [replace(planned, done=done)]))
    (part,) = calendar.parts().values()
    assert str(part["SUMMARY"]) == DONE_TITLE + planned.summary
    assert part["DTSTART"].dt == date(2027, 1, 4)


def test_what_is_not_ours_stays_as_it_is(calendar: Calendar) -> None:
    calendar.create()
    calendar.put("meeting.ics", FOREIGN)
    ((path, text),) = calendar.texts().items()
    before = first_plan(jobs(2))
    assert calendar.publish(before) == Published(2, 0, 0)
    calendar.publish(replan(before, []))
    assert calendar.texts()[path] == text
    assert len(calendar.texts()) == 3


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("SUMMARY:TP-1", "SUMMARY:TP-9"),
        ("DTSTART;VALUE=DATE:20270105", "DTSTART;VALUE=DATE:20270104"),
        ("STATUS:CONFIRMED", "STATUS:TENTATIVE"),
        ("STATUS:CONFIRMED", "STATUS:CONFIRMED\r\nLOCATION:Bay 2"),
        ("STATUS:CONFIRMED", "STATUS:CONFIRMED\r\nRRULE:FREQ=DAILY"),
        ("TRIGGER:-P1D", "TRIGGER:-P2D"),
        ("CATEGORIES:TP-1,", "CATEGORIES:TP-2,"),
        ("SEQUENCE:1", "SEQUENCE:0"),  # an older revision, put there by another program
    ],
)
def test_an_event_that_was_edited_by_hand_is_put_back(
    calendar: Calendar, old: str, new: str
) -> None:
    late = job(1, date(2027, 1, 6))
    before = first_plan([late, job(2, date(2027, 1, 7))])
    entries = replan(before, [moved(late, -1), before[1].job])
    calendar.publish(entries)
    text = single_file(entries[0]).decode()
    edited = text.replace(old, new)
    assert edited != text
    calendar.put(f"{late.uid}.ics", edited)
    assert calendar.publish(entries) == Published(added=0, changed=1, unchanged=1)
    assert_holds(calendar.parts()[late.uid], entries[0])
    assert calendar.publish(entries) == Published(0, 0, 2)


def test_what_servers_and_programs_note_for_themselves_is_no_change(calendar: Calendar) -> None:
    (entry,) = first_plan([job(1, date(2027, 1, 5))])
    calendar.publish([entry])
    noted = (
        single_file(entry)
        .decode()
        .replace("-//pmtrack//EN", "-//another program//EN")
        .replace("DTSTAMP:2026", "DTSTAMP:2027")
        .replace("SEQUENCE:0", "SEQUENCE:3\r\nCREATED:20270101T000000Z\r\nCLASS:PUBLIC")
        .replace("BEGIN:VALARM", "X-SEEN:yes\r\nPRIORITY:0\r\nBEGIN:VALARM\r\nUID:a-1")
        .replace("TRIGGER:-P1D", "TRIGGER;RELATED=START:-PT24H\r\nACKNOWLEDGED:20270104T060000Z")
    )
    calendar.put(f"{entry.job.uid}.ics", noted)
    assert calendar.publish([entry]) == Published(0, 0, 1)
    assert "X-SEEN" in next(iter(calendar.texts().values()))


def test_an_event_that_was_deleted_by_hand_is_put_again(calendar: Calendar) -> None:
    entries = first_plan(jobs(3))
    calendar.publish(entries)
    calendar.delete(entries[1].job.uid)
    assert calendar.publish(entries) == Published(added=1, changed=0, unchanged=2)
    assert len(calendar.parts()) == 3


def test_a_job_cancelled_before_it_was_ever_put_is_left_out(calendar: Calendar) -> None:
    planned = jobs(2)
    after = replan(first_plan(planned), planned[:1])
    assert calendar.publish(after) == Published(1, 0, 0, created=True)
    assert calendar.parts().keys() == {planned[0].uid}


def test_an_entry_is_known_by_its_uid_whatever_the_server_calls_it(calendar: Calendar) -> None:
    planned = job(1, date(2027, 1, 5))
    before = first_plan([planned])
    calendar.create()
    calendar.put("imported%20from%20a%20file.ics", single_file(before[0]))
    after = replan(before, [moved(planned, 1)])
    assert calendar.publish(after) == Published(added=0, changed=1, unchanged=0)
    ((path, text),) = calendar.texts().items()
    assert path.endswith("/imported%20from%20a%20file.ics")
    assert "20270106" in text


def test_a_copy_that_cannot_be_read_is_known_by_its_name_and_put_back(
    calendar: Calendar, monkeypatch: pytest.MonkeyPatch
) -> None:
    entries = first_plan(jobs(2))
    calendar.publish(entries)
    name, text = f"{entries[0].job.uid}.ics", single_file(entries[0]).decode()
    calendar.put(name, text.replace("SEQUENCE:0", "SEQUENCE:0\r\nX-SPOILT:yes"))

    def read(data: str | bytes) -> Content | None:
        return None if "X-SPOILT" in str(data) else content(data)

    monkeypatch.setattr(collection, "content", read)
    assert calendar.publish(entries) == Published(added=0, changed=1, unchanged=1)
    assert not any("X-SPOILT" in now for now in calendar.texts().values())


def test_a_long_calendar_is_read_in_parts_ours_first(
    calendar: Calendar, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(server, "BATCH", 2)
    calendar.create()
    for number in range(5):
        calendar.put(f"{number}.ics", FOREIGN.replace("crew-meeting", f"meeting-{number}"))
    entries = first_plan(jobs(3))
    calendar.publish(entries)
    calendar.gate.seen.clear()
    assert calendar.publish(entries) == Published(0, 0, 3)
    assert calendar.gate.count("REPORT") == 2  # three of ours, two at a time; five stay unread


def test_a_put_says_which_version_it_replaces(calendar: Calendar) -> None:
    planned = job(1, date(2027, 1, 5))
    before = first_plan([planned])
    calendar.publish(before)
    version = calendar.etags()[f"/{calendar.url.split('/')[3]}/{planned.uid}.ics"]
    calendar.publish(replan(before, [moved(planned, 1)]))
    sent = [
        (headers.get("If-None-Match"), headers.get("If-Match"))
        for (method, _), headers in zip(calendar.gate.seen, calendar.gate.headers, strict=True)
        if method == "PUT"
    ]
    assert sent == [("*", None), (None, version)]  # RFC 9110 13.1.1 and 13.1.2 (2022)


def test_a_plan_without_jobs_is_refused(calendar: Calendar) -> None:
    with pytest.raises(Refused, match="no job to publish"):
        calendar.publish([])
    assert calendar.gate.seen == []
