"""Counts that a machine cannot have made, dials that run backwards, facts still to come."""

from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import Moment
from pmtrack.rules.intervals import parse_per_time
from pmtrack.rules.plausible import (
    count_fault,
    dial_fault,
    dial_gain_fault,
    most_in,
    too_early,
)
from pmtrack.rules.shop import Meter
from tests.build import ZONE, at, day, dial

HITS = Meter("hits", fastest=parse_per_time("120 per minute"))


@pytest.mark.parametrize(
    ("fastest", "hours", "most"),
    [
        ("120 per minute", 8, 57600),  # common practice, no source: 120 x 60 x 8
        ("120 per minute", 8.5, 61200),
        ("120 per minute", 7, 50400),  # the night on which the clock is put forward
        ("120 per minute", 9, 64800),
        ("1 per hour", 8.5, Fraction(17, 2)),
        ("40000 per shift", 8, 40000),
        ("40000 per shift", 4, 40000),
        ("24 per day", 8, 8),
        ("168 per week", 8, 8),
    ],
)
def test_the_most_that_a_machine_can_make_in_a_shift(
    fastest: str, hours: float, most: int | Fraction
) -> None:
    assert most_in(parse_per_time(fastest), timedelta(hours=hours)) == most


def test_a_count_up_to_the_most_is_taken_and_one_more_is_not() -> None:
    eight = timedelta(hours=8)
    assert count_fault(HITS, Fraction(57600), eight) is None
    assert count_fault(HITS, Fraction(57601), eight) == (
        "57,601 hits is more than the machine can make in a shift of 8 h: at most 57,600 at "
        "120 per minute; correct it, or add --confirm if it is right"
    )


def test_what_was_logged_before_is_told_beside_the_count() -> None:
    eight = timedelta(hours=8)
    assert count_fault(HITS, Fraction(7600), eight, Fraction(50000)) is None
    assert count_fault(HITS, Fraction(7601), eight, Fraction(50000)) == (
        "7,601 hits and the 50,000 already logged for that shift are more than the machine can "
        "make in a shift of 8 h: at most 57,600 at 120 per minute; correct it, or add --confirm if "
        "it is right"
    )


def test_the_hours_of_a_shift_are_told_to_a_hundredth() -> None:
    """8 h 20 min are 8.33 h; at 120 a minute 60,000."""
    told = count_fault(HITS, Fraction(60001), timedelta(hours=8, minutes=20))
    assert told is not None
    assert "in a shift of 8.33 h: at most 60,000 at" in told
    long = count_fault(HITS, Fraction(10**7), timedelta(hours=1000))
    assert long is not None
    assert "in a shift of 1,000 h: at most 7,200,000 at" in long


def test_without_a_fastest_pace_any_count_is_taken() -> None:
    assert count_fault(Meter("hits"), Fraction(10**9), timedelta(hours=8)) is None


@pytest.mark.parametrize(
    ("after", "mark", "taken"),
    [
        (1204350, "", True),  # equal: it did not run
        (1204351, "", True),
        (1204349, "", False),
        (17, "wrapped", True),
        (0, "exchanged", True),
    ],
)
def test_a_dial_never_runs_backwards_unless_it_is_marked(
    after: int, mark: str, taken: bool
) -> None:
    before = dial("06-01T06:00", 1204350, entry=7)
    fault = dial_fault(HITS, before, dial("06-02T06:00", after, mark, entry=9), {9})
    assert (fault is None) == taken


MARKS = "say --wrapped hits if the counter started over, --exchanged hits if a new one was fitted"


@pytest.mark.parametrize(
    ("new", "fault"),
    [
        ({9}, f"(entry 7) to 900; correct it, or cross out entry 7 if that is wrong, or {MARKS}"),
        ({7}, "to 900 (entry 9); correct it, or cross out entry 9 if that is wrong"),
        ({7, 9}, f"(entry 7) to 900; correct it, or {MARKS}"),  # both in one file
    ],
)
def test_a_dial_that_runs_backwards_is_told_by_the_one_that_stands(
    new: set[int], fault: str
) -> None:
    before, after = dial("06-01T06:00", 1000, entry=7), dial("06-02T06:00", 900, entry=9)
    told = dial_fault(HITS, before, after, new)
    assert told == f"hits would run backwards, from 1,000 {fault}"


def test_readings_are_told_to_a_millionth() -> None:
    before, after = dial("06-01T06:00", 0.000002, entry=7), dial("06-02T06:00", 0.000001, entry=9)
    told = dial_fault(HITS, before, after, {9})
    assert told is not None
    assert "from 0.000002 (entry 7) to 0.000001;" in told


HOURS = Meter("hours", fastest=parse_per_time("1 per hour"), wraps_at=Fraction(100000))


@pytest.mark.parametrize(
    ("meter", "before", "after", "mark", "taken"),
    [  # a day between the two and a day to spare: 48 h, 345,600 hits at 120 a minute
        (HOURS, 21496, 21544, "", True),
        (HOURS, 21496, 21544.01, "", False),
        (HOURS, 21496, 215000, "", False),
        (HOURS, 21496, 21490, "", True),  # runs backwards, which is told by itself
        (HITS, 1000, 346600, "", True),
        (HITS, 1000, 346601, "", False),
        (HOURS, 99990, 38, "wrapped", True),  # 48 h over the wrap
        (HOURS, 99990, 39, "wrapped", False),
        (HOURS, 21496, 21497, "wrapped", False),  # 100,001 h: it did not start over
        (HOURS, 21496, 90000, "exchanged", True),  # what the new counter shows
        (Meter("hours"), 21496, 215000, "", True),
        (Meter("hours", fastest=parse_per_time("8 per shift")), 21496, 215000, "", True),
        (Meter("hours", fastest=parse_per_time("24 per day")), 21496, 21545, "", False),
        (Meter("hours", fastest=parse_per_time("1 per hour")), 0, 48, "wrapped", True),
        (Meter("hours", fastest=parse_per_time("1 per hour")), 0, 49, "wrapped", False),
    ],
)
def test_a_dial_gains_no_more_than_the_machine_can_make_by_the_clock(
    meter: Meter, before: float, after: float, mark: str, taken: bool
) -> None:
    earlier = dial("06-01T06:00", before, entry=7)
    later = dial("06-02T06:00", after, mark, entry=9)
    assert (dial_gain_fault(meter, earlier, later, {9}) is None) == taken


@pytest.mark.parametrize(
    ("new", "fault"),
    [  # 193,504 hours from 14:30 to 06:20 on the next day, 15 h 50 min
        ({9}, "(entry 7) to 215,000{}; correct it, or cross out entry 7 if that is wrong, or {}"),
        ({7}, "to 215,000 (entry 9){}; correct it, or cross out entry 9 if that is wrong, or {}"),
        ({7, 9}, "(entry 7) to 215,000{}; correct it, or {}"),
    ],
)
def test_a_gain_that_cannot_be_is_told_by_the_one_that_stands(new: set[int], fault: str) -> None:
    before, after = dial("06-01T14:30", 21496, entry=7), dial("06-02T06:20", 215000, entry=9)
    assert dial_gain_fault(HOURS, before, after, new) == (
        "hours would gain 193,504 in 15.83 h, from 21,496 "
        + fault.format(
            ": more than the machine can make, at most 39.8 at 1 per hour and a day to spare",
            "add --confirm if it is right",
        )
    )


@pytest.mark.parametrize(
    ("moment", "fault"),
    [  # it is 15 June 2026, 12:00
        (Moment(day("06-14")), None),
        (Moment(day("06-15")), None),  # a date may be today's, though it counts at its end
        (Moment(day("06-16")), "2026-06-16 is still to come (today is 2026-06-15)"),
        (Moment(day("06-15"), at("06-15T12:00")), None),
        (
            Moment(day("06-15"), at("06-15T12:01")),
            "2026-06-15T12:01 is still to come (it is 2026-06-15T12:00)",
        ),
    ],
)
def test_a_fact_later_than_now_is_refused(moment: Moment, fault: str | None) -> None:
    assert too_early(moment, at("06-15T12:00"), ZONE) == fault


@given(st.integers(0, 10**6), st.integers(1, 24 * 60))
def test_what_is_taken_in_a_shift_is_taken_in_a_longer_one(total: int, minutes: int) -> None:
    shorter, longer = timedelta(minutes=minutes), timedelta(minutes=minutes + 1)
    if count_fault(HITS, Fraction(total), shorter) is None:
        assert count_fault(HITS, Fraction(total), longer) is None
    assert (count_fault(HITS, Fraction(total), shorter) is None) == (total <= 120 * minutes)
