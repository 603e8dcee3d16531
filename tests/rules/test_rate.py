"""The rate of a meter per working day, its spread and the estimate: worked by hand.

June 2026 begins on a Monday. The shop works Monday to Friday; r = (5e + S) / (5 + n).
"""

from datetime import time, timedelta
from fractions import Fraction
from math import sqrt
from statistics import stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.rate import (
    Kept,
    Rate,
    days_unseen,
    per_working_day,
    rate_day,
    rate_of,
    span_start,
    standing,
)
from pmtrack.rules.shop import PerTime, Shift, Shop
from pmtrack.rules.workdays import Workdays
from tests.build import (
    DAY,
    WEEKDAYS,
    calendars,
    count,
    day,
    dial,
    meter_at,
    recent,
    shop,
    weekday_counts,
)

PLAIN = calendars().machine


def rate(entries: list[MeterEntry], on: str, expected: float | None = None) -> Rate:
    """The rate of a day in the made shop."""
    return rate_of(
        recent(entries), day(on), PLAIN, None if expected is None else Fraction(expected)
    )


# ---- what is expected, for one working day


LATE = Shift("late", (0, 1, 2, 3), time(14, 30), time(23))  # 4 x 8.5 h, and DAY 5 x 8.5 h
TWO_SHIFTS = shop(shifts=(DAY, LATE))
ROUND_THE_CLOCK = shop(shifts=(Shift("all", WEEKDAYS, time(6), time(6)),))
NIGHTS = shop(shifts=(Shift("night", (0, 1), time(22), time(6)),))


@pytest.mark.parametrize(
    ("where", "amount", "per", "expected"),
    [
        (TWO_SHIFTS, 9000, "day", 9000),
        (TWO_SHIFTS, 1000, "shift", 1800),  # 9 shifts in 5 days
        (TWO_SHIFTS, 45000, "week", 9000),
        (TWO_SHIFTS, 100, "hour", 1530),  # 76.5 h in 5 days
        (TWO_SHIFTS, 1, "minute", 918),
        (ROUND_THE_CLOCK, 1, "hour", 24),
        (NIGHTS, 1, "hour", 8),
        (NIGHTS, 10, "week", 5),
    ],
)
def test_what_is_expected_is_told_for_one_working_day(
    where: Shop, amount: int, per: str, expected: int
) -> None:
    assert per_working_day(where, PerTime(Fraction(amount), per)) == expected


def test_where_nothing_is_expected_there_is_no_figure() -> None:
    assert per_working_day(TWO_SHIFTS, None) is None


# ---- the rate


WEEK = weekday_counts("06-01", 9000, 9000, 9000, 9000, 9000)
TWENTY_BEFORE = [dial("05-04T06:00", 1000), dial("06-01T06:00", 21000)]


@pytest.mark.parametrize(
    ("entries", "on", "without", "with_10000", "gained"),
    [
        # five counts: the first from its level on Friday 29 May. S = 45,000, n = 5
        (WEEK, "06-05", 9000, 9500, [45000, 5]),
        # over the weekend nothing changes
        (WEEK, "06-07", 9000, 9500, [45000, 5]),
        # a first count alone: d = 9000 over 1 day; (50,000 + 9000) / 6
        (WEEK[:1], "06-01", 9000, Fraction(59000, 6), [9000, 1]),
        # a first count on a Monday after a week without any: still over one working day
        (weekday_counts("06-08", 600), "06-08", 600, Fraction(50600, 6), [600, 1]),
        # a first dial is itself u_0: 1500 gained over Tuesday and Wednesday
        (
            [dial("06-01T06:00", 1000), dial("06-02T06:00", 1500), dial("06-03T06:00", 2500)],
            "06-03",
            750,
            Fraction(51500, 7),
            [1500, 2],
        ),
        # a first dial alone tells no rate: there is no increment
        ([dial("06-01T06:00", 1000)], "06-01", None, 10000, [0, 0]),
        # first dial and count of one day are one: u_0 = 1300 at the end of Monday
        (
            [dial("06-01T06:00", 1000), count("06-01", 300), count("06-02", 500)],
            "06-02",
            500,
            Fraction(50500, 6),
            [500, 1],
        ),
        # Friday and Saturday are one: 160 over 1 day, then 40 over 1 day
        (
            [count("06-05", 100), count("06-06", 60), count("06-08", 40)],
            "06-08",
            100,
            Fraction(50200, 7),
            [200, 2],
        ),
        # a first count on a Saturday is one with its level on Friday, so it is no increment
        ([count("06-06", 60), count("06-08", 40)], "06-08", 40, Fraction(50040, 6), [40, 1]),
        # Monday's dial to Thursday's is 900 over 3 days
        (
            [dial("06-01T06:00", 0), dial("06-04T06:00", 900)],
            "06-04",
            300,
            Fraction(50900, 8),
            [900, 3],
        ),
        # u_0 is the last day with an entry before the last 20 working days (5 May to 1 June):
        # 4 May, so 20,000 over 20 working days
        (TWENTY_BEFORE, "06-01", 1000, 2800, [20000, 20]),
        # of two days before the span the last counts: 11,000 over the 19 working days after 18 May
        (
            [*TWENTY_BEFORE[:1], dial("05-18T06:00", 10000), dial("06-12T06:00", 21000)],
            "06-15",  # the span is 19 May to 15 June
            Fraction(11000, 19),
            Fraction(61000, 24),
            [11000, 19],
        ),
        # counts ran ahead: the dial takes back 400 in one day; a rate is never below 0
        (
            [dial("06-01T06:00", 1000), count("06-01", 500), dial("06-02T06:00", 1100)],
            "06-02",
            0,
            Fraction(49600, 6),
            [-400, 1],
        ),
    ],
)
def test_the_rate_is_what_was_gained_over_the_working_days_it_took(
    entries: list[MeterEntry],
    on: str,
    without: Fraction | None,
    with_10000: Fraction,
    gained: list[int],
) -> None:
    plain, weighed = rate(entries, on), rate(entries, on, 10000)
    assert plain.per_day == without
    assert weighed.per_day == with_10000
    assert [weighed.gained, weighed.days] == gained


def test_what_is_expected_keeps_a_rate_from_below_nothing() -> None:
    """(5 x 10 - 400) / 6 is below 0."""
    facts = [dial("06-01T06:00", 1000), count("06-01", 500), dial("06-02T06:00", 1100)]
    assert rate(facts, "06-02", 10).per_day == 0


def test_without_entries_the_rate_is_what_is_expected() -> None:
    assert rate([], "06-05", 9000) == Rate(Fraction(9000))
    assert rate([], "06-05") == Rate(None)


def test_the_span_is_the_last_20_working_days_up_to_the_day() -> None:
    assert span_start(day("06-01"), PLAIN) == day("05-05")
    assert span_start(day("06-07"), PLAIN) == day("05-11")  # a Sunday: up to Friday
    closed = Workdays.of(shop("05-25", "05-11..05-15"))
    assert span_start(day("06-01"), closed) == day("04-27")  # six days further back


def test_entries_older_than_the_span_have_no_part_in_the_rate() -> None:
    """20 counts of 100 from 4 May on, then 50 a day: by 29 June only the 50s are inside."""
    entries = weekday_counts("05-04", *[100] * 20, *[50] * 20)
    assert rate(entries, "05-29").per_day == 100
    assert rate(entries, "06-12").per_day == 75  # ten of each
    assert rate(entries, "06-26").per_day == 50


def test_with_no_entry_in_the_span_the_rate_is_that_of_the_last_entry() -> None:
    """The last entry, of Friday 5 June, leaves the span of 20 working days on Friday 3 July."""
    assert rate_day(day("07-02"), day("06-05"), PLAIN) == day("07-02")
    assert rate_day(day("07-03"), day("06-05"), PLAIN) == day("06-05")
    assert meter_at(WEEK, "07-02").rate.days == 1  # Friday's count alone, from Thursday's total
    found = meter_at(WEEK, "09-01")
    assert found.rate == rate(WEEK, "06-05")
    assert found.rate.per_day == 9000


def test_without_any_working_day_behind_it_the_span_reaches_back_to_the_beginning() -> None:
    never = Workdays.of(shop("1900-01-01..2026-05-31"))
    assert span_start(day("06-03"), never) < day("2000-01-01")
    counts = weekday_counts("06-01", 60, 60, 60)
    # the first count has no working day before it: Monday is u_0
    assert rate_of(recent(counts), day("06-03"), never, None).per_day == 60


def test_a_night_shift_has_its_gain_on_the_day_it_began() -> None:
    """100 and 400 on Monday, 200 on Tuesday, though Monday's night ends after Tuesday begins."""
    entries = [
        count("06-01", 100),
        dial("06-02T01:00", 5000),
        count("06-01", 400, ended="+06:00"),
        count("06-02", 200),
    ]
    found = rate(entries, "06-02")
    assert [found.gained, found.days] == [700, 2]
    assert rate(entries, "06-01").gained == 500


# ---- the spread


def test_a_spread_needs_five_increments() -> None:
    assert rate(WEEK[:4], "06-04").spread is None
    assert rate(WEEK, "06-05").spread == 0


def test_the_spread_is_about_the_rate_that_holds() -> None:
    """Each day lies 500 below the weighed 9500: s^2 = 5 x 250,000 / 4."""
    assert rate(WEEK, "06-05", 10000).spread == pytest.approx(sqrt(312500))


def test_increments_over_several_days_are_spread_over_them() -> None:
    """200, 200, 60, 140, 200 over 2, 2, 1, 1, 2 days: r = 100, s^2 = (40^2 + 40^2) / 4."""
    days = ["06-01", "06-03", "06-05", "06-08", "06-09", "06-11"]
    values = [1000, 1200, 1400, 1460, 1600, 1800]
    entries = [dial(f"{on}T06:00", value) for on, value in zip(days, values, strict=True)]
    found = rate(entries, "06-11")
    assert found.per_day == 100
    assert found.spread == pytest.approx(sqrt(800))
    # one more, of 100 over 3 days: r = 900 / 11, and each residual counts by its days
    r = 900 / 11
    found = rate([*entries, dial("06-16T06:00", 1900)], "06-16")
    steps = [(200, 2), (200, 2), (60, 1), (140, 1), (200, 2), (100, 3)]
    squares = sum((gain - r * width) ** 2 / width for gain, width in steps)
    assert found.spread == pytest.approx(sqrt(squares / 5))


@given(st.lists(st.integers(0, 10**6), min_size=5, max_size=15))
def test_of_daily_counts_rate_and_spread_are_mean_and_standard_deviation(counts: list[int]) -> None:
    entries = weekday_counts("06-01", *counts)
    found = rate(entries, str(entries[-1].day))
    assert found.per_day == Fraction(sum(counts), len(counts))
    assert found.spread == pytest.approx(stdev(counts), rel=1e-9, abs=1e-9)


@given(
    st.lists(st.integers(0, 10**5), min_size=1, max_size=25),
    st.integers(0, 24),
    st.integers(1, 10**5),
    st.none() | st.integers(1, 10**5),
)
def test_more_hits_never_lower_the_rate(
    counts: list[int], where: int, more: int, expected: int | None
) -> None:
    place = where % len(counts)
    raised = [*counts[:place], counts[place] + more, *counts[place + 1 :]]
    entries, others = weekday_counts("06-01", *counts), weekday_counts("06-01", *raised)
    last = str(entries[-1].day)
    lower, higher = rate(entries, last, expected).per_day, rate(others, last, expected).per_day
    assert lower is not None
    assert higher is not None
    assert lower <= higher


# ---- how the meter stands


@pytest.mark.parametrize(
    ("on", "unseen", "stale"),
    [  # last entry on Friday 5 June: working days after it and before the day
        ("06-05", 0, False),
        ("06-06", 0, False),
        ("06-08", 0, False),  # Monday itself may still be entered
        ("06-09", 1, False),
        ("06-11", 3, False),
        ("06-12", 4, True),
        ("06-15", 5, True),
    ],
)
def test_the_estimate_adds_the_working_days_that_nobody_entered(
    on: str, unseen: int, stale: bool
) -> None:
    found = meter_at(WEEK, on)
    assert found.usage == 45000
    assert found.estimate == (45000 + 9000 * unseen if unseen else None)
    assert found.estimated_days == unseen
    assert found.estimated is (unseen > 0)
    assert found.stale is stale
    assert days_unseen(day("06-05"), day(on), PLAIN) == unseen


def test_a_meter_without_entries_is_stale_and_tells_only_what_is_expected() -> None:
    found = meter_at([], "06-05", expected=9000)
    assert (found.usage, found.estimate, found.last_day, found.last_at) == (None, None, None, None)
    assert found.stale
    assert not found.estimated
    assert found.rate == Rate(Fraction(9000))
    assert meter_at([], "06-05").rate == Rate(None)


def test_without_a_rate_nothing_is_estimated() -> None:
    found = meter_at([dial("06-01T06:00", 1000)], "06-12")
    assert found.usage == 1000
    assert found.estimate is None
    assert not found.estimated
    assert found.stale


def test_a_meter_tells_its_last_entry_and_what_was_not_logged() -> None:
    entries = [dial("06-01T06:00", 1000), count("06-01", 100), dial("06-02T06:00", 1130)]
    found = meter_at(entries, "06-02")
    assert [found.usage, found.unlogged] == [1130, 30]
    assert (found.last_day, found.last_at) == (day("06-02"), entries[-1].at)


def test_the_last_day_is_the_latest_date_though_a_night_shift_ends_after_it() -> None:
    entries = [dial("06-02T01:00", 1000), count("06-01", 400, ended="+06:00")]
    found = meter_at(entries, "06-04")
    assert found.last_day == day("06-02")
    assert found.last_at == entries[-1].at


@given(
    st.lists(st.integers(0, 10**6), min_size=22, max_size=50),
    st.integers(0, 40),
    st.none() | st.integers(1, 10**5).map(Fraction),
)
def test_kept_usage_tells_what_the_entries_tell(
    quarters: list[int], later: int, expected: Fraction | None
) -> None:
    """Two counts a day, the first of one unit."""
    entries = [
        entry
        for made in weekday_counts("04-01", *[value / 4 for value in quarters])
        for entry in (count(str(made.day), 1, ended="10:00"), made)
    ]
    told = recent(entries)
    assert told.last is not None
    usages = [
        (entry.day, int(tally.usage * 10**6))
        for entry, tally in zip(told.entries, told.tallies, strict=True)
    ]
    on = told.last.day + timedelta(days=later)
    kept = Kept(told.last, tuple(usages))
    assert standing(kept, on, PLAIN, expected) == standing(told, on, PLAIN, expected)
