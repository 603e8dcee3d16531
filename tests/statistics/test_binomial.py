"""A share of so many times and its exact limits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from pmtrack.statistics.binomial import share


def test_limits_agree_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.2: 4 of 20, 90 % limits.

    The example was read; its printed limits are values from memory.
    """
    found = share(4, 20, 0.9)
    assert found.value == 0.2
    assert (found.low, found.high) == pytest.approx((0.071354, 0.401029), abs=2e-6)


@pytest.mark.parametrize(
    ("events", "times", "limits"),
    [  # with nothing seen the upper limit u is that of (1 - u)^n = 0.05; with all seen mirrored
        (0, 1, (0, 0.95)),
        (0, 2, (0, 1 - 0.05**0.5)),
        (3, 3, (0.05 ** (1 / 3), 1)),
    ],
)
def test_limits_at_the_ends_are_worked_by_hand(
    events: int, times: int, limits: tuple[float, float]
) -> None:
    found = share(events, times)
    assert (found.low, found.high) == pytest.approx(limits)


@given(st.integers(1, 500).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_limits_are_those_of_the_reference_library(seen: tuple[int, int]) -> None:
    events, times = seen
    theirs = binomtest(events, times).proportion_ci(0.9, "exact")
    found = share(events, times)
    assert (found.low, found.high) == pytest.approx((theirs.low, theirs.high), abs=1e-6)


@pytest.mark.parametrize(("events", "times"), [(0, 0), (-1, 5), (6, 5)])
def test_what_is_no_share_is_refused(events: int, times: int) -> None:
    with pytest.raises(ValueError, match="is no share"):
        share(events, times)
