"""A shop full of texts that media might obey: each medium shows them, read by readers not ours."""

import csv
import io
import json
import unicodedata
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from tests.command import Command, copied
from tests.exports.html_tree import read
from tests.exports.rfc5545 import assert_valid
from tests.hostile.texts import PERIOD, TEXTS, TOLD, hostile_store, typed

VIEWS = (
    ["today", "--all"], ["entries"], ["tooling"], ["usage"], ["plan", "2027-Q1", "--jobs",
    "--parts"],
    ["report", *PERIOD], ["report", *PERIOD, "--by", "cause"], ["report", *PERIOD, "--by", "kind"],
    ["setup", "KIOSK-DOOR", "--parts", "100"], ["trend"], ["advice"], ["life"],
    *(["why", f"{'FE-1' if n % 2 else 'PB-1'}/t{n}"] for n in range(0, len(TEXTS), 4)),
)  # fmt: skip
# UAX #9 (2024), 2.1 to 2.3: embeddings, overrides and isolates
TURNING = {chr(n) for n in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))}
PAGES = {
    "sheet": ["sheet", "2027-Q1"],
    "cards": ["cards", "2027-Q1"],
    "report": ["report", *PERIOD],
}


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Command:
    """The store that is only asked."""
    return hostile_store(tmp_path_factory.mktemp("hostile"))


def steers(text: str) -> set[str]:
    """Characters that steer a terminal: ECMA-48 (1991), 5.2 and 5.3 (C0, C1); UAX #9 (2024)."""
    return {c for c in text if unicodedata.category(c) == "Cc" and c != "\n"} | TURNING & set(text)


def flat(text: str) -> str:
    """Without blanks: a table may break a text anywhere."""
    return "".join(text.split())


# --- the terminal


@pytest.mark.parametrize("view", VIEWS, ids=" ".join)
def test_no_screen_is_steered(hostile: Command, view: list[str]) -> None:
    told = hostile(*view, now=TOLD)
    assert told.status == 0
    assert not steers(told.out + told.err)


def test_markup_is_shown_as_typed(hostile: Command) -> None:
    screen = hostile("plan", "2027-Q1", "--jobs", now=TOLD).out + hostile("entries", now=TOLD).out
    shown = flat(screen)
    for text in TEXTS[:4]:
        assert flat(text) in shown


# --- iCalendar


@pytest.mark.parametrize("options", [[], ["--todos"]], ids=["events", "to-dos"])
def test_a_calendar_holds_texts_and_nothing_else(
    hostile: Command, tmp_path: Path, options: list[str]
) -> None:
    run, out = Command(copied(hostile.store, tmp_path / "x.db")), tmp_path / "q.ics"
    assert run("calendar", "2027-Q1", "--out", str(out), *options, now=TOLD).status == 0
    data = out.read_bytes()
    assert_valid(data)  # RFC 5545 (2009): 3.1 lines and folding, 3.3.11 TEXT, 3.6 components
    calendar = Calendar.from_ical(data)
    jobs = calendar.walk("VTODO" if options else "VEVENT")
    assert len(calendar.walk("VALARM")) == len(jobs)  # one each: no text made another
    titles = flat(" ".join(str(job["SUMMARY"]) for job in jobs))
    bodies = flat(" ".join(str(job["DESCRIPTION"]) for job in jobs))
    for text in TEXTS:
        assert flat(text) in bodies
        assert flat(text)[:60] in titles or len(text.encode()) > 100


# --- HTML


class _Tags(HTMLParser):
    """Every element and attribute of a page, its texts, and comments, of which it has none."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    def handle_comment(self, data: str) -> None:
        raise AssertionError(data)


@pytest.mark.parametrize("page", PAGES)
def test_a_page_holds_texts_and_nothing_else(hostile: Command, tmp_path: Path, page: str) -> None:
    out = tmp_path / "page.html"
    option = "--html" if page == "report" else "--out"
    assert hostile(*PAGES[page], option, str(out), now=TOLD).status == 0
    document = out.read_text("utf-8")
    if page != "report":  # which has pictures within
        read(document)
    found = _Tags()
    found.feed(document)
    found.close()
    assert not found.tags & {"script", "img", "link", "iframe", "object", "base", "form", "input"}
    assert not [name for name, _ in found.attributes if name.startswith("on")]
    outward = [value for name, value in found.attributes if name in ("href", "src", "xlink:href")]
    assert not [value for value in outward if value and not value.startswith("#")]
    shown = flat("".join(found.texts) + " ".join(value or "" for _, value in found.attributes))
    for text in (TEXTS[4], *(TEXTS if page == "cards" else ())):
        kept = "".join(c for c in text if unicodedata.category(c) not in ("Cn", "Co"))
        assert flat(kept) in shown
    assert not steers("".join(found.texts))


# --- CSV


@pytest.mark.parametrize(
    "command",
    [["report", *PERIOD, "--by", "cause"], ["report", *PERIOD, "--by", "kind"], ["plan", "2027-Q1"],
     ["tooling"], ["trend"], ["advice"]],
    ids=" ".join,
)  # fmt: skip
def test_no_cell_of_a_table_is_a_formula(
    hostile: Command, tmp_path: Path, command: list[str]
) -> None:
    out = tmp_path / "t.csv"
    assert hostile(*command, "--csv", str(out), now=TOLD).status == 0
    header, *rows = csv.reader(io.StringIO(out.read_bytes().decode(), newline=""))
    assert rows
    assert {len(row) for row in rows} == {len(header)}
    cells = [cell for row in rows for cell in row]
    risky = [cell for cell in cells if cell.strip("\u200b ")[:1] in tuple("=+-@\uff1d\t\r")]
    assert all(_is_number(cell) for cell in risky if cell)  # OWASP, CSV Injection
    if "cause" in command:
        assert {cell.removeprefix("'") for cell in cells} >= set(typed()[12:20])


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


# --- whatever is typed

PIECES = st.sampled_from(
    ["[b]", "[/]", "<b>", "&", '"', "'", "=", ";", ",", "\\", "\\n", "\r\n", "\n", "\t", "\x1b[2J",
     "\x07", "\x9b", "\u202e", "\u2066", "\u2028", "\x85", "\ufeff", "\ue000", "\U000e0001",
     "BEGIN:",
     "\u200b", "\U0001f527", "\u05d0", "\x00"]
)  # fmt: skip
TYPED = st.lists(PIECES | st.text(max_size=6), min_size=1, max_size=6).map("".join)


@settings(
    max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(text=TYPED)
def test_what_is_typed_is_refused_or_harmless_everywhere(run_worked: Command, text: str) -> None:
    folder = run_worked.store.parent
    store = Command(copied(run_worked.store, folder / "copy.db"))
    entered = [
        store("job", "TP-1", "--", text),
        store("stop", "TP-1", f"--cause={text}", "--from", "2026-11-24T08:00", "--to",
              "2026-11-24T09:00", f"--by={text}"),
        store("done", "TP-1/monthly", f"--note={text}"),
    ]  # fmt: skip
    assert all(told.status in (0, 2, 3) for told in entered)
    out = folder / "x"
    screens = [
        store("today", "--all"),
        store("entries"),
        store("report", "--from", "2026-11-24", "--to", "2026-11-25", "--by", "cause", "--csv",
              str(out)),
    ]  # fmt: skip
    assert [told.status for told in screens] == [0, 0, 0]
    assert not steers("".join(told.out + told.err for told in (*entered, *screens)))
    for row in csv.DictReader(io.StringIO(out.read_bytes().decode(), newline="")):
        assert not row["cause"].strip("\u200b\ufeff ").startswith(("=", "+", "-", "@"))
    assert store("calendar", "2026-Q4", "--out", str(out)).status == 0
    assert_valid(out.read_bytes())
    assert json.loads(store("entries", "--json").out)
