"""Failures of a machine, and the bounds of the mean time between them."""

from datetime import UTC, datetime, timedelta
from fractions import Fraction
from itertools import permutations
from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import Span, Stop
from pmtrack.rules.mtbf import failures, mtbf_bounds

MIDNIGHT = datetime(2026, 6, 1, tzinfo=UTC)
HOUR = timedelta(hours=1)
NOW = 20  # hours after midnight


def stops(text: str) -> list[Stop]:
    """`1-3 5- p6-8`: hours after midnight; no end is still running, `p` is planned."""
    result = []
    for entry, part in enumerate(text.split()):
        start, end = part.lstrip("p").split("-")
        span = Span(MIDNIGHT + int(start) * HOUR, MIDNIGHT + int(end) * HOUR if end else None)
        result.append(Stop(entry, "TP-1", span, part.startswith("p"), "jam"))
    return result


def shown(given_stops: list[Stop]) -> str:
    """The failures as of NOW, `+` where one still runs."""
    found = failures(given_stops, MIDNIGHT + NOW * HOUR)
    return " ".join(
        f"{(f.start - MIDNIGHT) // HOUR}-{(f.end - MIDNIGHT) // HOUR}{'+' * f.running}"
        for f in found
    )


@pytest.mark.parametrize(
    ("given_stops", "expected"),
    [
        ("", ""),
        ("1-3", "1-3"),
        ("1-3 5-6", "1-3 5-6"),
        ("1-3 2-5", "1-5"),  # begun while the other ran: the same failure
        ("1-9 2-3 4-5", "1-9"),
        ("1-3 2-5 4-7", "1-7"),  # and so on, from one to the next
        ("1-3 3-5", "1-3 3-5"),  # at 3 the first no longer runs
        ("1-1 1-4", "1-4"),  # begun at once: the longer one takes in the other
        ("p1-3 2-5", "2-5"),  # a planned stop is no failure
        ("1-3 p2-5 4-6", "1-3 4-6"),  # nor does it tie two together
        ("5-5 5-", "5-20+"),  # and one that still runs is the longest
        ("1-3 5-9 8-11", "1-3 5-11"),  # a later one takes in what begins while it runs
        ("1-3 5- 20-", "1-3 5-20+"),
        ("5-", "5-20+"),
        ("5- 7-8", "5-20+"),
        ("5-7 6-", "5-20+"),
        ("5- 20-", "5-20+"),
        ("20- 20-", "20-20+"),
        ("18-23", "18-20+"),  # as of 20 h its end is not known
        ("21-22 21-", ""),  # not begun
    ],
)
def test_stops_that_run_into_one_another_are_one_failure(given_stops: str, expected: str) -> None:
    for order in permutations(stops(given_stops)):
        assert shown(list(order)) == expected


def test_failure_keeps_its_stops_in_order_of_begin() -> None:
    (failure,) = failures(reversed(stops("1-3 2-5 4-7")), MIDNIGHT + NOW * HOUR)
    assert [stop.entry for stop in failure.stops] == [0, 1, 2]


def test_only_a_running_failure_is_cut_at_a_limit() -> None:
    ended, running = failures(stops("1-6 7-"), MIDNIGHT + NOW * HOUR)
    assert ended.end_by(MIDNIGHT + 5 * HOUR) == MIDNIGHT + 6 * HOUR
    assert running.end_by(MIDNIGHT + 9 * HOUR) == MIDNIGHT + 9 * HOUR
    assert running.end_by(MIDNIGHT + 30 * HOUR) == MIDNIGHT + 20 * HOUR


def test_bounds_agree_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1 (2003 and later): 800 h, 2
    failures, 90 % two-sided, from 127.0690 to 2251.229 h."""
    low, high = mtbf_bounds(Fraction(800), 2)
    assert low == pytest.approx(127.0690, abs=1e-4)
    assert high == pytest.approx(2251.229, abs=1e-3)


def test_without_a_failure_only_the_lower_bound_is_known() -> None:
    """NIST/SEMATECH e-Handbook, 8.4.5.1: T / -ln(a); 1000 h, a = 0.05: 1000 / 2.995732."""
    low, high = mtbf_bounds(Fraction(1000), 0)
    assert low == pytest.approx(333.81, abs=0.005)
    assert high is None


@pytest.mark.parametrize(
    ("failed", "low", "high"),
    [
        (1, 0.2108, 19.4957),
        (2, 0.3177, 5.6281),
        (5, 0.4756, 2.5379),
        (10, 0.5895, 1.8432),
        (20, 0.6882, 1.5089),
    ],
)
def test_bounds_are_the_mtbf_times_the_usual_factors(failed: int, low: float, high: float) -> None:
    """Factors of two-sided 90 % bounds by the formulas of NIST/SEMATECH e-Handbook, 8.4.5.1,
    worked out apart from this code; 700 h for each failure."""
    found_low, found_high = mtbf_bounds(Fraction(700 * failed), failed)
    assert found_low == pytest.approx(700 * low, abs=0.05)
    assert found_high == pytest.approx(700 * high, abs=0.05)


@given(st.integers(0, 60), st.integers(1, 10**6))
def test_bounds_are_the_rates_that_make_the_count_just_unlikely(
    failed: int, operating: int
) -> None:
    """The same bounds by Poisson sums: at the lower MTBF so few failures have a chance of 5 %, at
    the upper one so many."""
    low, high = mtbf_bounds(Fraction(operating), failed)
    assert _at_most(failed, operating / low) == pytest.approx(0.05, rel=1e-6)
    if failed:
        assert high is not None
        assert 1 - _at_most(failed - 1, operating / high) == pytest.approx(0.05, rel=1e-6)


def _at_most(count: int, mean: float) -> float:
    """Chance of at most so many events of a Poisson law."""
    term = total = exp(-mean)
    for k in range(1, count + 1):
        term *= mean / k
        total += term
    return total


@pytest.mark.parametrize("failed", [0, 1, 7])
def test_without_operating_hours_the_bounds_are_0(failed: int) -> None:
    """By their formulas: 2T / chi2 is 0; without a failure only the lower one has a divisor."""
    assert mtbf_bounds(Fraction(0), failed) == (0, 0 if failed else None)
