"""The weeks, months and quarters of a period, and the period before it."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.grouping import Grouping, period_before, slices
from tests.build import day


def told(by: Grouping, first: str, last: str) -> list[str]:
    return [f"{s.name} {s.first:%m-%d}..{s.last:%m-%d}" for s in slices(by, day(first), day(last))]


@pytest.mark.parametrize(
    ("by", "first", "last", "expected"),
    [
        # ISO 8601: 1 January 2026 is a Thursday, so the week of 29 December is W01 of 2026
        (
            Grouping.WEEK,
            "2025-12-27",
            "2026-01-06",
            ["2025-W52 12-27..12-28", "2026-W01 12-29..01-04", "2026-W02 01-05..01-06"],
        ),
        # 2026 has 53 weeks: W53 runs from 28 December to 3 January 2027
        (Grouping.WEEK, "2026-12-31", "2027-01-03", ["2026-W53 12-31..01-03"]),
        (
            Grouping.MONTH,
            "2025-12-15",
            "2026-02-28",
            ["2025-12 12-15..12-31", "2026-01 01-01..01-31", "2026-02 02-01..02-28"],
        ),
        (Grouping.MONTH, "2024-02-01", "2024-02-29", ["2024-02 02-01..02-29"]),
        (
            Grouping.QUARTER,
            "2026-09-30",
            "2027-01-01",
            ["2026-Q3 09-30..09-30", "2026-Q4 10-01..12-31", "2027-Q1 01-01..01-01"],
        ),
        (Grouping.QUARTER, "2026-05-05", "2026-05-05", ["2026-Q2 05-05..05-05"]),
        (Grouping.WEEK, "2026-05-05", "2026-05-04", []),
    ],
)
def test_spans_of_a_period(by: Grouping, first: str, last: str, expected: list[str]) -> None:
    assert told(by, first, last) == expected


dates = st.dates(date(1950, 1, 1), date(2150, 12, 31))
CALENDAR = [by for by in Grouping if by.is_calendar]


@given(st.sampled_from(CALENDAR), dates, st.integers(0, 800))
def test_spans_hold_each_date_once(by: Grouping, first: date, more: int) -> None:
    last = first + timedelta(days=more)
    found = slices(by, first, last)
    held = [s.first + timedelta(days=n) for s in found for n in range((s.last - s.first).days + 1)]
    assert held == [first + timedelta(days=n) for n in range(more + 1)]
    assert len({s.name for s in found}) == len(found)


def test_only_some_groupings_are_spans_of_dates() -> None:
    found = [by for by in Grouping if by.is_calendar]
    assert found == [Grouping.WEEK, Grouping.MONTH, Grouping.QUARTER]


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        ("2026-10-01", "2026-10-31", ("2026-08-31", "2026-09-30")),  # 31 days
        ("2026-11-23", "2026-11-25", ("2026-11-20", "2026-11-22")),
        ("2026-03-01", "2026-03-01", ("2026-02-28", "2026-02-28")),
    ],
)
def test_the_period_before_is_as_long(first: str, last: str, expected: tuple[str, str]) -> None:
    assert period_before(day(first), day(last)) == (day(expected[0]), day(expected[1]))
