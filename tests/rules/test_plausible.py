"""Counts that a machine cannot have made, dials that run backwards, facts still to come."""

from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import Moment
from pmtrack.rules.intervals import parse_per_time
from pmtrack.rules.plausible import count_fault, dial_fault, most_in, too_early
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
    fault = dial_fault("hits", before, dial("06-02T06:00", after, mark))
    assert (fault is None) == taken
    if fault:
        assert fault.startswith("hits would run backwards, from 1,204,350 (entry 7) to 1,204,349;")
        assert "--wrapped hits" in fault
        assert "--exchanged hits" in fault


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
