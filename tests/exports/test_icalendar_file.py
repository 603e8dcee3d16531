"""Calendar files, read line by line against RFC 5545, 5546 (both 2009) and 7986 (2016)."""

import re
import unicodedata
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import Refused
from pmtrack.exports.icalendar_file import calendar_file, clean
from pmtrack.rules.revision import CalendarEntry, CalendarJob, Completed
from tests.exports.rfc5545 import Block, Line, assert_valid, read, unescape

STAMP = datetime(2026, 12, 1, 7, 30, tzinfo=UTC)
JOB = CalendarJob(
    uid="0b6f2e0e-9d0f-5a52-8a3e-2f3a4c1d9e77",
    task="TP-1/monthly",
    day=date(2027, 2, 28),  # the day after is 1 March
    due_on=date(2027, 3, 1),
    summary="TP-1 Monthly in-house service",
    text="CAUTIONS\n- Lock out.",
    reminder_days=7,
    categories=("TP-1", "press, turret"),
)
ENTRY = CalendarEntry(JOB, sequence=3, stamp=STAMP)
CANCELLED = CalendarEntry(
    replace(JOB, uid="5d3a2c55-31a7-5c0e-b0a6-6a5f44f0c2b1"),
    sequence=4,
    stamp=STAMP,
    cancelled=True,
)
DONE_AT = datetime(2027, 2, 25, 14, 5, tzinfo=datetime.fromisoformat("2027-02-25T00-05:00").tzinfo)
DONE = CalendarEntry(
    replace(
        JOB,
        uid="9e1f7a50-6a0c-5f0e-9d53-0c4c9a0d7b11",
        done=Completed(date(2027, 2, 25), DONE_AT, "Done on Thu 2027-02-25 at 14:05 (entry 12)."),
    ),
    sequence=4,
    stamp=STAMP,
)
BOTH_KINDS = pytest.mark.parametrize("todos", [False, True], ids=["events", "to-dos"])


def job_block(entry: CalendarEntry, todos: bool = False) -> Block:
    """The one component that is written for an entry."""
    (block,) = read(calendar_file("PM", "c-1", [entry], todos)).blocks
    return block


@BOTH_KINDS
def test_a_file_keeps_every_rule_for_each_kind_of_entry(todos: bool) -> None:
    same_day = replace(ENTRY, job=replace(JOB, uid="a-2", reminder_days=0, categories=(), text=""))
    calendar = assert_valid(
        calendar_file("PM plan", "c-1", [ENTRY, CANCELLED, DONE, same_day], todos)
    )
    assert [block.name for block in calendar.blocks] == ["VTODO" if todos else "VEVENT"] * 4


def test_the_calendar_carries_its_name_and_how_often_to_look_again() -> None:
    calendar = read(calendar_file("Quillback, PM; C:\\NC", "c-1", [ENTRY]))
    assert calendar.written("NAME") == r"Quillback\, PM\; C:\\NC"  # RFC 7986 5.1, RFC 5545 3.3.11
    assert calendar.text("X-WR-CALNAME") == "Quillback, PM; C:\\NC"
    assert calendar.written("PRODID") == "-//pmtrack//EN"
    assert calendar.written("REFRESH-INTERVAL") == "P1D"
    assert calendar.written("UID") == "c-1"


def test_an_event_lasts_one_whole_day_and_leaves_it_free() -> None:
    event = job_block(ENTRY)
    assert event.written("DTSTART") == "20270228"
    assert event.written("DTEND") == "20270301"  # RFC 5545 3.6.1: the end is not included
    assert event.written("DTSTAMP") == "20261201T073000Z"
    assert event.written("SEQUENCE") == "3"
    assert event.written("STATUS") == "CONFIRMED"
    assert event.written("TRANSP") == "TRANSPARENT"
    assert event.written("CATEGORIES") == r"TP-1,press\, turret"


def test_a_to_do_is_due_on_its_planned_day() -> None:
    todo = job_block(ENTRY, todos=True)
    assert todo.written("DUE") == "20270228"
    assert todo.written("STATUS") == "NEEDS-ACTION"


@pytest.mark.parametrize(
    ("days", "todos", "expected"),
    [
        (7, False, Line("TRIGGER", "", "-P7D")),
        (21, True, Line("TRIGGER", ";RELATED=END", "-P21D")),
        (0, False, Line("TRIGGER", "", "PT6H")),  # on the morning of the day
        (0, True, Line("TRIGGER", ";RELATED=END", "PT6H")),
    ],
)
def test_a_reminder_comes_its_days_ahead(days: int, todos: bool, expected: Line) -> None:
    block = job_block(replace(ENTRY, job=replace(JOB, reminder_days=days)), todos)
    (alarm,) = block.blocks
    assert expected in alarm.lines
    assert alarm.text("DESCRIPTION") == JOB.summary


@BOTH_KINDS
def test_a_cancelled_entry_says_so_in_words_too(todos: bool) -> None:
    block = job_block(CANCELLED, todos)
    assert block.written("STATUS") == "CANCELLED"
    assert block.text("SUMMARY") == "Cancelled: TP-1 Monthly in-house service"
    assert block.text("DESCRIPTION").startswith("Cancelled: this job is no longer planned")
    assert block.text("DESCRIPTION").endswith(JOB.text)


@BOTH_KINDS
def test_a_done_entry_says_so_in_words_and_rings_no_more(todos: bool) -> None:
    block = job_block(DONE, todos)
    assert block.text("SUMMARY") == "Done: TP-1 Monthly in-house service"
    told, rest = block.text("DESCRIPTION").split("\n\n", 1)
    assert told == "Done on Thu 2027-02-25 at 14:05 (entry 12)."
    assert rest == JOB.text
    assert block.blocks == []


def test_an_event_of_a_done_job_is_on_the_day_it_was_done() -> None:
    event = job_block(DONE)
    assert (event.written("DTSTART"), event.written("DTEND")) == ("20270225", "20270226")
    assert event.written("STATUS") == "CONFIRMED"
    assert event.times("COMPLETED") == 0  # RFC 5545 3.8.2.1 (2009): of a to-do only


def test_a_to_do_that_is_done_is_completed() -> None:
    todo = job_block(DONE, todos=True)
    assert todo.written("STATUS") == "COMPLETED"
    assert todo.written("COMPLETED") == "20270225T190500Z"  # 14:05 five hours behind UTC
    assert todo.written("PERCENT-COMPLETE") == "100"
    assert todo.written("DUE") == "20270228"  # what it was due on stays
    open_one = job_block(ENTRY, todos=True)
    assert open_one.times("COMPLETED") == open_one.times("PERCENT-COMPLETE") == 0


def test_a_stamp_in_shop_time_is_written_in_utc() -> None:
    behind = STAMP.astimezone(tz=datetime.fromisoformat("2026-12-01T00:00-05:00").tzinfo)
    assert job_block(replace(ENTRY, stamp=behind)).written("DTSTAMP") == "20261201T073000Z"


def test_the_same_entries_give_the_same_bytes() -> None:
    assert calendar_file("PM", "c", [ENTRY, CANCELLED]) == calendar_file(
        "PM", "c", [ENTRY, CANCELLED]
    )


def test_a_calendar_without_any_job_is_refused() -> None:
    with pytest.raises(Refused, match="no job"):  # RFC 5545 3.6: at least one component
        calendar_file("PM", "c-1", [])


@pytest.mark.parametrize(
    ("text", "written"),
    [  # the escapes of RFC 5545 3.3.11; a colon is not escaped
        (
            "Check oil; top up, if low: see C:\\manual",
            r"Check oil\; top up\, if low: see C:\\manual",
        ),
        ("Clean.\nThen sign.", r"Clean.\nThen sign."),
        ("Program C:\\NC\\new", r"Program C:\\NC\\new"),
        ("a\r\nb\rc", r"a\nb\nc"),
        ('"quoted": 5 %', '"quoted": 5 %'),
    ],
)
def test_text_is_escaped(text: str, written: str) -> None:
    assert job_block(replace(ENTRY, job=replace(JOB, text=text))).written("DESCRIPTION") == written


@pytest.mark.parametrize("char", ["a", "\u00e9", "\u20ac", "\U0001f527"])
@pytest.mark.parametrize("length", [40, 60, 61, 62, 63, 64, 65, 100, 400])
def test_long_lines_fold_between_characters(char: str, length: int) -> None:
    data = calendar_file("PM", "c-1", [replace(ENTRY, job=replace(JOB, text=char * length))])
    calendar = assert_valid(data)
    assert calendar.blocks[0].text("DESCRIPTION") == char * length


@pytest.mark.parametrize(
    ("summary", "written"),
    [  # at most 255 octets, RFC 5545 5; three of them are the dots
        ("a" * 255, "a" * 255),
        ("a" * 256, "a" * 252 + "..."),
        ("\u00e9" * 128, "\u00e9" * 126 + "..."),  # 256 octets; 126 x 2 + 3 = 255
        ("\u20ac" * 86, "\u20ac" * 84 + "..."),  # 258 octets; 84 x 3 + 3 = 255
        ("\U0001f527" * 64, "\U0001f527" * 63 + "..."),  # 256 octets; 63 x 4 + 3 = 255
        ("," * 128, r"\," * 126 + "..."),  # an escape is never cut in two
    ],
)
def test_a_long_summary_is_cut_between_characters(summary: str, written: str) -> None:
    block = job_block(replace(ENTRY, job=replace(JOB, summary=summary)))
    assert block.written("SUMMARY") == written


def test_a_blank_summary_gives_way_to_the_task() -> None:
    block = job_block(replace(ENTRY, job=replace(JOB, summary=" \x07\n", categories=("\x00", " "))))
    assert block.text("SUMMARY") == "TP-1/monthly"
    assert block.times("CATEGORIES") == 0


NASTY = [
    "\r\n",
    "\n",
    "\r",
    "\\",
    "\\N",
    "\\n",
    ",",
    ";",
    ":",
    '"',
    " ",
    "\t",
    "^n",
    "\x07",
    "\x7f",
]
NASTY += ["\x85", "\u2028", "\ufeff", "\U0001f527", "e\u0301", "\ud800", "%2C", "=", "C:\\NC\\new"]
NASTY += ["\r\nBEGIN:VEVENT\r\n", "\nEND:VALARM\n", "\r\n ATTENDEE:mailto:", "x" * 90]
ANY_TEXT = st.lists(st.sampled_from(NASTY) | st.characters(), max_size=25).map("".join)


def documented(text: str) -> str:
    """What `clean` promises, character by character."""
    kept = ""
    for char in text.replace("\r\n", "\n"):
        kind = unicodedata.category(char)
        if char in "\n\r\v\f\x85\u2028\u2029":
            kept += "\n"
        elif kind == "Cs":
            kept += "\ufffd"
        elif char != "\ufeff" and (kind != "Cc" or char == "\t"):
            kept += char
    return kept


@given(text=ANY_TEXT)
def test_text_is_cleaned_as_documented_and_only_once(text: str) -> None:
    assert clean(text) == documented(text)
    assert clean(clean(text)) == clean(text)


@given(text=ANY_TEXT, name=ANY_TEXT, todos=st.booleans(), cancelled=st.booleans())
def test_no_text_can_add_a_line_and_all_of_it_comes_back(
    text: str, name: str, todos: bool, cancelled: bool
) -> None:
    job = replace(JOB, summary=name, text=text, task=f"T {name}", categories=(name, text, "pm"))
    data = calendar_file(f"P {name}", "c-1", [replace(ENTRY, job=job, cancelled=cancelled)], todos)
    calendar = assert_valid(data)
    (block,) = calendar.blocks
    assert calendar.text("NAME") == " ".join(documented(f"P {name}").split())
    lead, head = ("Cancelled: this job is no longer planned for this day.\n\n", "Cancelled: ")
    assert block.text("DESCRIPTION") == (lead if cancelled else "") + documented(text)
    shown = " ".join(documented(name).split()) or " ".join(documented(job.task).split())
    assert_same_or_cut(block.text("SUMMARY"), (head if cancelled else "") + shown)
    wanted = [" ".join(documented(category).split()) for category in (name, text, "pm")]
    found = re.findall(r"((?:[^\\,]|\\.)+)(?:,|$)", block.written("CATEGORIES"))
    assert [unescape(category) for category in found] == [line for line in wanted if line]


def assert_same_or_cut(found: str, whole: str) -> None:
    """Fails unless `found` is the whole, or its beginning with dots for what is too long."""
    assert found == whole or (len(whole.encode()) > 128 and whole.startswith(found[:-3]))


@given(days=st.integers(0, 400), offset=st.integers(0, 40000), sequence=st.integers(0, 10**6))
def test_any_day_and_revision_keeps_the_rules(days: int, offset: int, sequence: int) -> None:
    day = date(1990, 1, 1) + timedelta(days=offset)
    entry = CalendarEntry(replace(JOB, day=day, reminder_days=days), sequence, STAMP)
    block = assert_valid(calendar_file("PM", "c-1", [entry])).blocks[0]
    assert date.fromisoformat(block.written("DTEND")) - day == timedelta(days=1)
    assert block.written("SEQUENCE") == str(sequence)
