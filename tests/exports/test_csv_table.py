"""CSV files for a spreadsheet: what goes in comes back, and nothing in them is a formula."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.exports.csv_table import Cell, csv_table


def read_back(data: bytes) -> list[list[str]]:
    """The rows as a spreadsheet reads them."""
    return list(csv.reader(io.StringIO(data.decode(), newline="")))


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("turret index", "turret index"),
        ("", ""),
        (None, ""),
        (0, "0"),
        (-3, "-3"),  # a number below 0 is no formula
        (-2.5, "-2.5"),
        (1 / 3, "0.333333"),
        (123.0, "123"),
        (1e15, "1000000000000000"),
        ("=1+1", "'=1+1"),
        ("+1", "'+1"),
        ("-1", "'-1"),  # text that looks like a number is text
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\t=1+1", "'\t=1+1"),
        ("\r=1+1", "'\r=1+1"),
        ("\n=1+1", "'\n=1+1"),
        ("＝1+1", "'＝1+1"),  # noqa: RUF001 - the wide form
        (" =1+1", "' =1+1"),  # what some programs trim away first
        ("\ufeff=1+1", "'\ufeff=1+1"),
        ("\u200b@x", "'\u200b@x"),
        ("\ufeff\nx", "'\ufeff\nx"),
        ("a=1", "a=1"),
        ("leak, valve", "leak, valve"),
        ('5" hose', '5" hose'),
        ("'=1", "'=1"),
        ("Schlauch prüfen ✓", "Schlauch prüfen ✓"),
    ],
)
def test_a_cell_is_written_so_that_nothing_runs(cell: Cell, written: str) -> None:
    header, row = read_back(csv_table(["cause", "rest"], [[cell, "x"]]))
    assert header == ["cause", "rest"]
    assert row == [written, "x"]


def test_the_bytes_of_a_table() -> None:
    """RFC 4180 (2005), 2: lines end with CR LF, text stands in quotes, a quote in it is doubled."""
    made = csv_table(["cause", "hours"], [["leak; valve", 2.5], ['5" hose', None]])
    assert made == b'"cause","hours"\r\n"leak; valve",2.5\r\n"5"" hose",""\r\n'


texts = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=12)


@given(st.lists(st.lists(texts | st.integers(), min_size=2, max_size=2), max_size=5))
def test_rows_come_back_and_no_text_begins_like_a_formula(rows: list[list[Cell]]) -> None:
    back = read_back(csv_table(["one", "two"], rows))[1:]
    assert len(back) == len(rows)
    for row, found in zip(rows, back, strict=True):
        for cell, text in zip(row, found, strict=True):
            if isinstance(cell, str):
                assert text.removeprefix("'") == cell.removeprefix("'")
                assert not text.startswith(("\t", "\r", "\n"))
                # OWASP, CSV Injection: these begin a formula
                assert not text.strip("\ufeff \u200b").startswith(("=", "+", "-", "@"))
            else:
                assert int(text) == cell
