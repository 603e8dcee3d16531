"""The product-limit curve of lives of which some were cut short."""

import numpy as np
import pytest
import surpyval
from hypothesis import given

from pmtrack.statistics.kaplan_meier import product_limit
from pmtrack.statistics.lives import Life
from tests.statistics.samples import lives_of, published_lives, some_lives

NIST = "10 32 50+ 56 98 100+ 122 125+ 150+ 181" + 10 * " 200+"


def test_the_curve_agrees_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.1.5 (2003 and later): 20 units, four
    taken out unfailed, ten still running at 200 h."""
    steps = product_limit(lives_of(NIST))
    assert [(step.amount, step.at_risk, step.failed) for step in steps] == [
        (10, 20, 1),
        (32, 19, 1),
        (56, 17, 1),
        (98, 16, 1),
        (122, 14, 1),
        (181, 11, 1),
    ]
    expected = [0.95, 0.90, 0.847059, 0.794118, 0.737395, 0.670359]
    assert [step.alive.value for step in steps] == pytest.approx(expected, abs=1e-6)


def test_many_running_units_are_counted_as_far_as_they_ran() -> None:
    """Nelson, Applied Life Data Analysis, 1982: diesel-engine fans; the shares by the library
    lifelines 0.30.3."""
    steps = product_limit(published_lives("diesel-fans-censored.csv"))
    alive = {step.amount: step.alive.value for step in steps}
    expected = {450: 0.985714, 1150: 0.956723, 3100: 0.871672, 8750: 0.707038}
    assert {amount: alive[amount] for amount in expected} == pytest.approx(expected, abs=1e-6)


def test_the_limits_agree_by_hand() -> None:
    """Lives 1, 2+, 3, 4+. At 1: 3/4 alive, Greenwood 1/(4 x 3) = 0.083333, root 0.288675;
    -ln 0.75 = 0.287682; 1.644854 x 0.288675 / 0.287682 = 1.650531, e to it 5.209749;
    0.75 ^ 5.209749 = 0.223401 and 0.75 ^ (1 / 5.209749) = 0.946277.
    """
    first = product_limit(lives_of("1 2+ 3 4+"), 0.9)[0].alive
    assert (first.value, first.low, first.high) == pytest.approx(
        (0.75, 0.223401, 0.946277), abs=1e-5
    )


def test_the_limits_are_those_of_a_reference_library() -> None:
    """surpyval 0.25, 90 % and log-log."""
    lives = published_lives("diesel-fans-censored.csv")
    steps = product_limit(lives, 0.9)
    model = surpyval.KaplanMeier.fit(
        np.array([life.amount for life in lives]), c=[int(not life.failed) for life in lives]
    )
    expected = model.cb([step.amount for step in steps], alpha_ci=0.1)
    for step, (low, high) in zip(steps, expected, strict=True):
        assert (step.alive.low, step.alive.high) == pytest.approx((low, high), rel=1e-6)


def test_a_life_cut_short_at_an_amount_had_come_that_far() -> None:
    """Two at risk at 5, so one of two is left."""
    (step,) = product_limit(lives_of("5 5+"))
    assert (step.at_risk, step.alive.value) == (2, 0.5)


def test_where_none_is_left_there_are_no_limits() -> None:
    last = product_limit(lives_of("3 5"))[-1].alive
    assert (last.value, last.low, last.high) == (0, None, None)


def test_lives_without_a_failure_have_no_step() -> None:
    assert product_limit(lives_of("3+ 5+")) == ()


@given(some_lives)
def test_the_curve_falls_and_its_limits_hold_it(lives: list[Life]) -> None:
    steps = product_limit(lives)
    alive = [step.alive.value for step in steps]
    assert alive == sorted(alive, reverse=True)
    assert sum(step.failed for step in steps) == sum(life.failed for life in lives)
    for step in steps:
        if step.alive.low is not None and step.alive.high is not None:
            assert 0 <= step.alive.low <= step.alive.value <= step.alive.high <= 1


@given(some_lives)
def test_without_a_life_cut_short_the_curve_is_the_share_left(lives: list[Life]) -> None:
    whole = [Life(life.amount, True) for life in lives]
    for step in product_limit(whole):
        left = sum(life.amount > step.amount for life in whole) / len(whole)
        assert step.alive.value == pytest.approx(left, abs=1e-9)
