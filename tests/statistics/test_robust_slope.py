"""The robust line through points of which some stray far."""

from random import Random
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.robust_slope import Line, TooFewPoints, robust_line

WEEKS = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]


def line(across: list[float], up: list[float], confidence: float = 0.9) -> Line:
    """The line of points that have one."""
    found = robust_line(across, up, confidence)
    assert isinstance(found, Line)
    return found


def test_points_on_a_line_give_that_line() -> None:
    found = line(WEEKS, [100 - 3 * week for week in WEEKS])
    assert (found.slope.value, found.slope.low, found.slope.high) == pytest.approx((-3, -3, -3))
    assert found.at_zero == pytest.approx(100)
    assert found.points == 9


def test_more_confidence_takes_wider_limits() -> None:
    up = [3.0, 1.0, 4.0, 1.0, 5.0, 9.0, 2.0, 6.0, 5.0]
    lows = [line(WEEKS, up, confidence).slope.low for confidence in (0.95, 0.9, 0.8)]
    assert lows == sorted(set(lows), key=lambda low: low or 0.0)
    assert len(set(lows)) == 3


def test_two_points_far_off_do_not_move_it() -> None:
    up = [100 - 3 * week for week in WEEKS]
    up[2], up[7] = 900, -500
    assert line(WEEKS, up).slope.value == pytest.approx(-3)


@pytest.mark.parametrize(
    ("across", "why"),
    [
        ([], "0 points at 0 different places, 8 at 3 are needed for a slope"),
        (WEEKS[:7], "7 points at 7 different places, 8 at 3 are needed for a slope"),
        ([0.0] * 9, "9 points at 1 different places, 8 at 3 are needed for a slope"),
        ([0.0] * 8 + [5.0], "9 points at 2 different places, 8 at 3 are needed for a slope"),
    ],
)
def test_too_few_points_give_no_line(across: list[float], why: str) -> None:
    assert robust_line(across, list(across)) == TooFewPoints(len(across), 8, why)


points = st.lists(
    st.tuples(st.integers(0, 40).map(float), st.integers(0, 500).map(float)),
    min_size=8,
    max_size=25,
).filter(lambda found: len({across for across, _ in found}) > 2)


@given(points)
def test_the_slope_is_the_median_of_all_pairs_and_inside_its_limits(
    found: list[tuple[float, float]],
) -> None:
    across, up = [x for x, _ in found], [y for _, y in found]
    slopes = [(b - y) / (a - x) for x, y in found for a, b in found if a > x]
    slope = line(across, up).slope
    assert slope.value == pytest.approx(median(slopes))
    assert slope.low is not None
    assert slope.high is not None
    assert slope.low <= slope.value <= slope.high


@pytest.mark.parametrize("weeks", [8, 25])
def test_the_true_slope_lies_inside_its_limits_as_often_as_stated(weeks: int) -> None:
    """90 % limits, noise with heavy tails; three standard errors of 400 draws are 4.5 %, and the
    order of so few pairs allows only steps, so they may hold a little more often."""
    chance, held = Random(weeks), 0
    for _ in range(400):
        across = [chance.uniform(0, 10) for _ in range(weeks)]
        up = [50 - 2 * x + chance.gauss(0, 5) / chance.uniform(0.2, 1) for x in across]
        slope = line(across, up).slope
        held += slope.low is not None and slope.high is not None and slope.low <= -2 <= slope.high
    assert 0.855 <= held / 400 <= 0.96


def test_points_all_of_one_height_have_no_slope_and_no_limits() -> None:
    """So many equal points that the spread of the slopes is not known."""
    found = line([0, 5, 10, 20, 0, 5, 10, 20, 0, 5], [7.0] * 10)
    assert found.slope == Estimate(0, None, None)
    assert found.at_zero == 7
