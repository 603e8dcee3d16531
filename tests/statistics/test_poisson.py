"""Rates of failure: exact limits, and beliefs that failures correct."""

from math import exp
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.statistics.poisson import RateBelief, belief, rate
from pmtrack.statistics.quantiles import chi_square
from tests.build import reference
from tests.statistics.samples import published_lives


@pytest.mark.parametrize(
    ("events", "hours", "confidence", "limits", "within"),
    [
        # NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1 (2003 and later)
        (2, 800, 0.9, (127.0690, 2251.229), 1e-3),
        # Nelson, Applied Life Data Analysis, 1982, diesel-engine fans; worked out apart from here
        (12, 344_440, 0.95, (16_432.0, 55_549.7), 0.1),
        (12, 344_440, 0.9, (17_715.8, 49_744.3), 0.1),
    ],
)
def test_limits_of_the_mean_time_between_failures_agree(
    events: int, hours: float, confidence: float, limits: tuple[float, float], within: float
) -> None:
    """The mean time is one by the rate, so its lower limit is one by the upper one of the rate."""
    found = rate(events, hours, confidence)
    assert found.low is not None
    assert found.high is not None
    assert (1 / found.high, 1 / found.low) == pytest.approx(limits, abs=within)


@pytest.mark.parametrize(
    ("one_sided", "mean_time"), [(0.6, 1091.36), (0.8, 621.33), (0.9, 434.29), (0.95, 333.81)]
)
def test_without_a_failure_the_upper_limit_is_that_of_none_seen(
    one_sided: float, mean_time: float
) -> None:
    """NIST/SEMATECH e-Handbook, 8.4.5.1: 1000 h / -ln(a). Two-sided limits leave a out on each
    side."""
    found = rate(0, 1000, 2 * one_sided - 1)
    assert (found.value, found.low) == (0, 0)
    assert found.high is not None
    assert 1 / found.high == pytest.approx(mean_time, abs=0.01)


def test_the_fans_have_run_as_long_as_printed() -> None:
    """Nelson, Applied Life Data Analysis, 1982: 344 440 fan hours, 12 failures, 28 703.33 h."""
    lives = published_lives("diesel-fans-censored.csv")
    found = rate(sum(life.failed for life in lives), sum(life.amount for life in lives))
    assert 1 / found.value == pytest.approx(28_703.33, abs=0.01)


def test_limits_of_a_watch_that_ends_at_a_failure_have_two_degrees_fewer() -> None:
    """Proschan, Technometrics 5, 1963, unit 3, as in Davison and Hinkley, Bootstrap Methods and
    their Application, 1997: 12 gaps, 1297 h, mean 108.0833, 95 % limits 65.9 and 209.2 (printed,
    from memory)."""
    gaps = [
        float(row["hours_between_failures"]) for row in reference("aircraft-air-conditioning.csv")
    ]
    assert (len(gaps), sum(gaps)) == (12, 1297)
    limits = [2 * sum(gaps) / chi_square(24, below) for below in (0.975, 0.025)]
    assert limits == pytest.approx([65.898, 209.174], abs=1e-3)


def at_most(count: int, mean: float) -> float:
    """Chance of at most so many events of a Poisson law."""
    term = total = exp(-mean)
    for k in range(1, count + 1):
        term *= mean / k
        total += term
    return total


@given(st.integers(0, 40), st.floats(0.1, 1e4), st.floats(0.5, 0.99))
def test_limits_are_the_rates_that_make_the_count_just_unlikely(
    events: int, exposure: float, confidence: float
) -> None:
    found, tail = rate(events, exposure, confidence), (1 - confidence) / 2
    assert found.low is not None
    assert found.high is not None
    assert found.low <= found.value <= found.high
    assert at_most(events, found.high * exposure) == pytest.approx(tail, rel=1e-6)
    if events:
        assert 1 - at_most(events - 1, found.low * exposure) == pytest.approx(tail, rel=1e-5)


@pytest.mark.parametrize("exposure", [0.0, -1.0])
def test_without_exposure_there_is_no_rate(exposure: float) -> None:
    with pytest.raises(ValueError, match="gives no rate"):
        rate(3, exposure)


def test_a_belief_agrees_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook, 8.2.5 (2003 and later): median MTBF 600 h, 5 % below 250 h:
    a 2.863, b 1522.46, and the chances that it prints to check them."""
    found = belief(600, 250)
    assert found.events == pytest.approx(2.863055, abs=1e-6)
    assert found.exposure == pytest.approx(1522.506, abs=1e-3)
    printed = RateBelief(2.863, 1522.46)
    assert printed.below(0.001667) == pytest.approx(0.5001232, abs=1e-6)
    assert printed.below(0.004) == pytest.approx(0.9499963, abs=1e-6)


def test_a_belief_corrected_by_failures_agrees() -> None:
    """The same belief after 2 failures in 1000 h (NIST/SEMATECH e-Handbook, 8.4.6: both are added);
    numbers worked out apart from this code."""
    found = belief(600, 250).after(2, 1000)
    assert (found.events, found.exposure) == pytest.approx((4.863055, 2522.506), abs=1e-3)
    assert 1 / found.quantile(0.5) == pytest.approx(556.342, abs=1e-3)
    assert 1 / found.mean == pytest.approx(518.708, abs=1e-3)
    assert 1 / found.quantile(0.8) == pytest.approx(384.691, abs=1e-3)
    assert 1 / found.quantile(0.9) == pytest.approx(322.740, abs=1e-3)
    assert 500 * found.mean == pytest.approx(0.963933, abs=1e-6)
    assert found.at_most(0, 500) == pytest.approx(0.415031, abs=1e-6)
    wanted = (0.05, 0.5, 0.9, 0.95)
    reached = [next(k for k in range(9) if found.at_most(k, 500) >= below) for below in wanted]
    assert reached == [0, 1, 2, 3]


@given(st.floats(0.01, 1e5), st.floats(1.05, 500))
def test_a_belief_is_the_one_asked_for(usual: float, times: float) -> None:
    found = belief(usual, usual / times)
    assert found.below(1 / usual) == pytest.approx(0.5, abs=1e-6)
    assert found.below(times / usual) == pytest.approx(0.95, abs=1e-6)
    assert found.quantile(0.95) == pytest.approx(times / usual, rel=1e-6)


@pytest.mark.parametrize("short", [0.0, 600.0, 700.0])
def test_a_belief_needs_a_short_gap_below_the_usual_one(short: float) -> None:
    with pytest.raises(ValueError, match="the short gap"):
        belief(600, short)


def test_events_to_come_are_those_of_drawn_rates() -> None:
    """Rates drawn from the belief, events drawn from the rates; 20,000 draws, three standard
    errors are 1.1 %."""
    chance, held = Random(4), RateBelief(3.5, 1000)
    counts = []
    for _ in range(20_000):
        left, count = chance.gammavariate(held.events, 1 / held.exposure) * 400, 0
        while (left := left - chance.expovariate(1)) > 0:
            count += 1
        counts.append(count)
    for most in (0, 1, 3):
        share = sum(count <= most for count in counts) / len(counts)
        assert held.at_most(most, 400) == pytest.approx(share, abs=0.011)
