"""Free text: one line, printable, of bounded length."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import Refused
from pmtrack.rules.text import LONGEST, counted, first_of, needed, one_line, printable


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", ""),
        ("  waiting for a  seal kit ", "waiting for a seal kit"),
        ("two\nlines\r\nand a\ttab", "two lines and a tab"),
        ("Öl prüfen, 3 µm", "Öl prüfen, 3 µm"),
        ("次の点検 🔧", "次の点検 🔧"),
        ("x" * LONGEST, "x" * LONGEST),
    ],
)
def test_text_is_kept_on_one_line(text: str, line: str) -> None:
    assert one_line(text, "the note") == line


@pytest.mark.parametrize("text", ["a\x00b", "a\x1b[31mb", "a\ud800b", "a\ue000b", "a\u0378b"])
def test_what_cannot_be_shown_is_refused(text: str) -> None:
    with pytest.raises(Refused, match="the note holds characters that cannot be shown"):
        one_line(text, "the note")


@pytest.mark.parametrize(
    ("first", "last"),
    [
        (0x202A, 0x202E),
        (0x2066, 0x2069),
    ],  # Unicode, Bidirectional Algorithm (UAX #9), table of marks
)
def test_marks_that_turn_a_line_are_refused_and_their_neighbours_are_not(
    first: int, last: int
) -> None:
    for code in range(first, last + 1):
        with pytest.raises(Refused, match="cannot be shown"):
            one_line(f"a{chr(code)}b", "the note")
    for code in (first - 1, last + 1):
        if unicodedata.category(chr(code)) not in ("Cn", "Zl", "Zp", "Zs"):
            assert one_line(f"a{chr(code)}b", "the note") == f"a{chr(code)}b"


@pytest.mark.parametrize(
    ("number", "told"), [(0, "0 jobs"), (1, "1 job"), (2, "2 jobs"), (11, "11 jobs")]
)
def test_things_are_counted_in_words(number: int, told: str) -> None:
    assert counted(number, "job") == told


def test_too_long_a_text_is_refused_with_its_length() -> None:
    with pytest.raises(Refused, match="the note is 401 characters long; keep it under 400"):
        one_line("x" * 401, "the note")
    with pytest.raises(Refused, match="the station is 6 characters long; keep it under 5"):
        one_line("x" * 6, "the station", 5)


def test_text_that_must_be_there_is_asked_for_with_an_example() -> None:
    assert needed(" bearing ", "why", "--why bearing") == "bearing"
    with pytest.raises(Refused, match="say why, like --why bearing"):
        needed("  \n", "why", "--why bearing")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain\nlines", "plain\nlines"),
        ("tab\there", "tab?here"),
        ("\x1b[2Jgone", "?[2Jgone"),
        ("lone \ud800 half", "lone ? half"),
    ],
)
def test_control_characters_never_reach_a_terminal(text: str, shown: str) -> None:
    assert printable(text) == shown


@given(st.text(st.characters(codec=None)))
def test_what_is_accepted_is_one_printable_line(text: str) -> None:
    try:
        line = one_line(text, "the note")
    except Refused:
        return
    assert one_line(line, "the note") == line
    assert printable(line) == line
    assert len(line.splitlines()) <= 1


@given(st.text(st.characters(codec=None)))
def test_printable_text_has_no_control_characters_but_line_ends(text: str) -> None:
    shown = printable(text)
    assert len(shown) == len(text)
    assert not [c for c in shown if c != "\n" and unicodedata.category(c) in ("Cc", "Cs")]


@pytest.mark.parametrize(
    ("lines", "shown"),
    [
        ([], []),
        (["a", "b"], ["a", "b"]),
        (["a", "b", "c"], ["a", "b", "and 1 more"]),
        (["a", "b", "c", "d"], ["a", "b", "and 2 more"]),
    ],
)
def test_of_many_lines_the_first_are_told(lines: list[str], shown: list[str]) -> None:
    assert first_of(lines, 2) == shown
