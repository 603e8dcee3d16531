"""Text that goes out: whatever it is, each medium carries it as text and as nothing else."""

import csv
import io
import unicodedata
from datetime import UTC, date, datetime
from pathlib import Path

from icalendar import Calendar

from pmtrack.errors import Refused
from pmtrack.exports.csv_table import csv_table
from pmtrack.exports.html_page import page, tag, text
from pmtrack.exports.icalendar_file import calendar_file
from pmtrack.rules.revision import CalendarEntry, CalendarJob
from pmtrack.rules.text import one_line, printable
from tests.exports.html_tree import read as read_html
from tests.exports.rfc5545 import assert_valid
from tests.fuzz.judging import in_time

STAMP = datetime(2026, 12, 1, 7, 30, tzinfo=UTC)
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


class TextOut:
    """One text in every place of a calendar, on a page, in a table, on the screen."""

    name = "text-out"

    def __init__(self, folder: Path) -> None:
        pass

    def seeds(self) -> list[bytes]:
        texts = ["", "é" * 80, "\U0001f469\u200d\U0001f527" * 20, "a\r\nBEGIN:VALARM", "\\N\\n\\;,",
                 "\x1b]0;x\x07", "\u202e\u2066", "<b a='\"'>&amp;", "=1+1", " =1", "\u2028-1",
                 "\ufeff+1",
                 "\ufffe\U000e0001", "]]>-->", "\x00"]  # fmt: skip
        return [text.encode("utf-8", "surrogatepass") for text in texts] + [b"\xff\xfe"]

    def attempt(self, data: bytes) -> None:
        said = data.decode("utf-8", "surrogateescape")
        with in_time(said):
            _calendar(said)
            _page(said)
            _table(said.encode("utf-8", "replace").decode())
            _screen(said)


def _calendar(said: str) -> None:
    """RFC 5545 (2009) 3.1: lines of at most 75 octets; 3.3.11: TEXT; read a second time."""
    day = date(2027, 2, 28)
    job = CalendarJob("a-1", "TP-1/monthly", day, day, said, said, 7, (said, "x"))
    for todos in (False, True):
        written = calendar_file(said or "x", "c-1", [CalendarEntry(job, 0, STAMP)], todos)
        assert_valid(written)
        (component,) = Calendar.from_ical(written).walk("VTODO" if todos else "VEVENT")
        assert len(component.subcomponents) == 1
        assert not component.errors


def _page(said: str) -> None:
    """Text and attribute come back as one text each, without any element of their own."""
    root = read_html(page(said, "", tag("p", text(said), title=said)))
    (shown,) = root.all("p")
    assert not shown.all()
    kept = "".join(c for c in said if unicodedata.category(c) not in ("Cc", "Cs", "Co", "Cn"))
    assert not set(shown.text) & {chr(n) for n in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))}
    assert len(shown.text) <= len(kept) + said.count("\n") + len(said)


def _table(said: str) -> None:
    written = csv_table(["a", said], [[said, -1], ["x", -0.5]]).decode()
    rows = list(csv.reader(io.StringIO(written, newline="")))
    assert [len(row) for row in rows] == [2, 2, 2]
    assert [row[1] for row in rows[1:]] == ["-1", "-0.5"]
    assert not rows[1][0].lstrip("\ufeff \xa0\u2028\u2029").startswith(FORMULA), rows


def _screen(said: str) -> None:
    shown = printable(said)
    assert not any(unicodedata.category(c) in ("Cc", "Cs") and c != "\n" for c in shown)
    try:
        kept = one_line(said, "x", 10**6)
    except Refused:
        return
    assert kept == " ".join(kept.split())
    kept.encode()
