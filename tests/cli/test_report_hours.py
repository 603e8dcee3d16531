"""Scheduled hours as a report shows them: the lines add up to the total.

TP-1, PB-1 and FE-1 of the small shop alike: 8.5 h by day on Friday 20 November 2026, 8.5 and 8 h on
each day from Monday to Wednesday: 58 h each, 174 h together.
"""

from fractions import Fraction

import pytest

from pmtrack.rules.quantity import show
from pmtrack.screens.report_cells import places
from tests.command import Command, assert_fits

DATES = ("--from", "2026-11-20", "--to", "2026-11-25")
LATER = "2026-11-26T12:00"


def column(shown: str, name: str) -> list[str]:
    """The cells of a column of figures, in the first table that has it."""
    lines = shown.splitlines()
    start = next(n for n, line in enumerate(lines) if f" {name} " in line)
    end = lines[start].index(f" {name} ") + 1 + len(name)
    table = lines[start + 1 : lines.index("", start)]
    return [line[:end].split()[-1] for line in table]


@pytest.mark.parametrize(
    ("by", "expected"),
    [
        ("machine", ["58", "58", "58", "174"]),
        ("kind", ["174"]),
        ("week", ["25.5", "148.5", "174"]),
        ("month", ["174"]),
        ("cause", ["174"]),
    ],
)
def test_the_hours_of_the_lines_add_up(run: Command, by: str, expected: list[str]) -> None:
    shown = run.done("report", *DATES, "--by", by, now=LATER)
    assert column(shown, "Sched") == expected
    assert_fits(shown)


def test_a_day_is_not_rounded(run: Command) -> None:
    friday = ("--from", "2026-11-20", "--to", "2026-11-20", "--before")
    shown = run.done("report", *friday, "--machine", "TP-1", now=LATER)
    assert column(shown, "Sched") == ["8.5"]
    assert "Hours scheduled 8.5 16.5 -8" in [" ".join(x.split()) for x in shown.splitlines()]


@pytest.mark.parametrize(
    ("hours", "told"),
    [
        ("8.5", "8.5"),
        ("331.5", "331.5"),
        ("3442.5", "3,442.5"),
        ("99999.5", "99,999.5"),
        ("100000.4", "100,000"),
    ],
)
def test_hours_are_shown_to_a_tenth(hours: str, told: str) -> None:
    assert show(Fraction(hours), places(Fraction(hours))) == told


def test_both_periods_have_as_many_places() -> None:
    assert places(Fraction(5), Fraction(100_000)) == 0
