"""Which copies on a server still say what they should, and which do not."""

from dataclasses import replace
from datetime import date

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.exports.icalendar_file import single_file
from pmtrack.publishing.comparison import Content, content
from tests.publishing.remote import first_plan, job

(ENTRY,) = first_plan([job(1, date(2027, 1, 5))])
TEXT = single_file(ENTRY).decode()
ZONE = (
    "BEGIN:VTIMEZONE\r\nTZID:Shop\r\nBEGIN:STANDARD\r\nDTSTART:19701101T020000\r\n"
    "TZOFFSETFROM:-0400\r\nTZOFFSETTO:-0500\r\nEND:STANDARD\r\nEND:VTIMEZONE\r\n"
)
TWICE = TEXT.split("END:VCALENDAR")[0].split("BEGIN:VEVENT")[1]  # a second, changed occasion


def said(text: str | bytes) -> Content:
    """What a readable object says."""
    found = content(text)
    assert found
    return found


WANTED = said(TEXT)


@pytest.mark.parametrize(
    ("old", "new", "same"),
    [
        ("TRIGGER:-P1D", "TRIGGER:-PT24H", True),
        ("TRIGGER:-P1D", "TRIGGER;RELATED=END:-P1D", False),
        ("CATEGORIES:TP-1,press\\, turret", "CATEGORIES:press\\, turret\r\nCATEGORIES:TP-1", True),
        ("CATEGORIES:TP-1,press\\, turret", "CATEGORIES:TP-1", False),
        ("BEGIN:VEVENT", f"{ZONE}BEGIN:VEVENT", True),
        ("SEQUENCE:0", "SEQUENCE:1", True),
        ("SEQUENCE:0\r\n", "", True),  # RFC 5545 3.8.7.4 (2009): the default is 0
        ("SEQUENCE:0", "SEQUENCE:0\r\nCLASS:PRIVATE", False),
        ("SEQUENCE:0", "SEQUENCE:0\r\nPRIORITY:1", False),
        ("SEQUENCE:0", "SEQUENCE:0\r\nORGANIZER:mailto:calendar@example.org", True),
        ("SEQUENCE:0", "SEQUENCE:0\r\nATTENDEE:mailto:ana@example.org", False),
        ("DTEND;VALUE=DATE:20270106", "DTEND;VALUE=DATE:20270107", False),
        ("DTSTART;VALUE=DATE:20270105", "DTSTART:20270105T000000Z", False),
        ("DTSTART;VALUE=DATE:20270105", "DTSTART:soon", False),
        ("DESCRIPTION:CAUTIONS", "DESCRIPTION:CAUTION", False),
        ("END:VEVENT\r\n", f"END:VEVENT\r\nBEGIN:VEVENT{TWICE}", False),
    ],
)
def test_what_counts_as_said_the_same(old: str, new: str, same: bool) -> None:
    changed = TEXT.replace(old, new)
    assert changed != TEXT
    assert said(changed).still_says(WANTED) is same


def test_an_older_revision_does_not_say_the_same() -> None:
    assert not said(TEXT).still_says(said(single_file(replace(ENTRY, sequence=1))))


@pytest.mark.parametrize(
    "text",
    ["", "junk", "BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n", TEXT.replace("UID:", "X-UID:"),
     TEXT.replace("SEQUENCE:0", "SEQUENCE:many"), "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n"],
)  # fmt: skip
def test_what_cannot_be_read_says_nothing(text: str) -> None:
    assert content(text) is None


WORDS = st.sampled_from(["oil", "\\", ",", ";", "\n", "\\N", "\u00d6l", "\U0001f527", " "])


@given(
    words=st.lists(WORDS, max_size=30), title=st.text(st.sampled_from("x;,\\\u00d6"), min_size=1)
)
def test_another_writer_s_copy_says_the_same(words: list[str], title: str) -> None:
    entry = replace(ENTRY, job=replace(ENTRY.job, text="x" + "".join(words), summary=title))
    data = single_file(entry)
    copy = vobject.readOne(data.decode()).serialize()
    assert said(copy).still_says(said(data))
    assert said(data).still_says(said(copy))
