"""Intervals as people set them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.intervals import parse_interval
from pmtrack.rules.sensible import length, sensible


@pytest.mark.parametrize(
    ("present", "factor", "advised"),
    [
        ("1 month", 0.6, "3 weeks"),  # 18.3 days: 2 weeks and 3 weeks; 21 is the nearer in ratio
        ("1 month", 0.5, "2 weeks"),  # 15.2 days
        ("1 month", 0.97, None),  # 29.5 days is a month still
        ("1 month", 1.3, "5 weeks"),  # 39.6 days: six weeks are 42
        ("1 month", 1.1, None),  # 33.5 days: five weeks are 35, so a month
        ("1 month", 1.4, "6 weeks"),  # 42.6 days
        ("1 month", 1.99, "6 weeks"),  # longer ones are rounded down
        ("1 month", 2.0, "2 months"),
        ("1 week", 1.9, None),
        ("1 week", 2.0, "2 weeks"),
        ("3 weeks", 1.5, "1 month"),  # 31.5 days
        ("6 months", 1.25, None),  # 7.5 months: eight are more
        ("1 year", 1.25, "15 months"),
        ("1 year", 40.0, "10 years"),
        ("1 week", 0.05, "1 day"),
        ("10 day", 0.75, "1 week"),
        # meters: at least ten times 1, 2 or 5 with noughts; 162,500 of steps of 10,000
        ("250000 hits", 0.65, "160000 hits"),
        ("250000 hits", 1.25, "300000 hits"),  # 312,500 of steps of 20,000
        ("25 arc_hours", 0.5, "13 arc_hours"),  # 12.5 of steps of 1, a half up
        ("6 cycles", 1.25, "7.5 cycles"),
        ("250000 hits", 1.01, None),
        ("100 hits", 1.06, None),  # 106 of steps of 10
        ("10 days", 1.0, None),  # neither longer nor shorter
    ],
)
def test_an_interval_is_rounded_to_one_that_people_set(
    present: str, factor: float, advised: str | None
) -> None:
    found = sensible(parse_interval(present), factor)
    assert (found.text if found else None) == advised


EVERY = (
    *("1 day", "2 days", "3 days", "4 days", "5 days", "1 week", "2 weeks", "3 weeks"),
    *("1 month", "5 weeks", "6 weeks", "2 months", "3 months", "4 months", "5 months"),
    *("6 months", "8 months", "9 months", "1 year", "15 months", "18 months"),
    *("2 years", "3 years", "4 years", "5 years", "6 years", "8 years", "10 years"),
)


@pytest.mark.parametrize("wanted", EVERY)
def test_each_interval_that_people_set_is_found(wanted: str) -> None:
    """Shortened to its very length, or a little under it, from 20 years."""
    long = parse_interval("20 years")
    share = length(parse_interval(wanted)) / length(long)
    for factor in (share, 0.99 * share):
        found = sensible(long, factor)
        assert found is not None
        assert found.text == wanted


@given(
    st.sampled_from(["1 day", "1 week", "1 month", "18 months", "5 years", "7000 hits", "3 hours"]),
    st.floats(0.01, 100),
)
def test_rounding_never_goes_the_other_way_and_never_further_out_than_asked(
    present: str, factor: float
) -> None:
    interval = parse_interval(present)
    found = sensible(interval, factor)
    if found is not None:
        ratio = length(found) / length(interval)
        assert (ratio > 1) == (factor > 1)
        assert parse_interval(found.text) == found
        if factor > 1:
            assert ratio <= factor * 1.002
