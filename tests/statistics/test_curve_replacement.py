"""The cheapest age for planned renewal read from a curve."""

from itertools import pairwise
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.statistics.age_replacement import Costs, Renewal, best_age
from pmtrack.statistics.kaplan_meier import product_limit
from pmtrack.statistics.lives import Life
from pmtrack.statistics.weibull import Weibull
from tests.oracle.curve_replacement import Point, best_age_on, step_points
from tests.statistics.samples import lives_of, some_lives

EVEN = ((0.0, 1.0), (40_000.0, 0.0))  # life uniform on 0 to 40 000 km


def cost_at(curve: tuple[Point, ...], costs: Costs, age: float) -> float:
    """C(T) of a curve of straight parts, the area summed up part by part."""
    area, alive = 0.0, 1.0
    for (start, high), (end, low) in pairwise(curve):
        if start >= age or end == start:
            continue
        until = min(end, age)
        alive = high + (low - high) * (until - start) / (end - start)
        area += (high + alive) / 2 * (until - start)
    return (costs.planned * alive + costs.failure * (1 - alive)) / area


@pytest.mark.parametrize(
    ("age", "cost"), [(10_000, 0.0143), (20_000, 0.01), (30_000, 0.0093), (40_000, 0.01)]
)
def test_a_textbook_curve_costs_as_printed(age: float, cost: float) -> None:
    """Jardine and Tsang, Maintenance, Replacement, and Reliability, 2nd and 3rd edition, chapter
    2, problem 2: planned 100, failure 200. These check this file's own sum."""
    assert cost_at(EVEN, Costs(100, 200), age) == pytest.approx(cost, abs=5e-5)


def test_the_cheapest_age_on_a_textbook_curve_is_exact() -> None:
    """The same problem: 40 000 (sqrt 3 - 1) = 29 282.03 km at 0.009330127; run to failure
    200 / 20 000."""
    found = best_age_on(EVEN, Costs(100, 200))
    assert found.age == pytest.approx(40_000 * (sqrt(3) - 1))
    assert found.cost == pytest.approx(0.009330127, abs=1e-9)
    assert found.run_to_failure == pytest.approx(0.01)


def test_a_fine_curve_of_a_law_gives_the_age_of_the_law() -> None:
    law, costs = Weibull(2.5, 1000), Costs(1, 5)
    curve = [(float(t), law.reliability(t)) for t in range(0, 4001, 2)]
    found, exact = best_age_on(curve, costs), best_age(law, costs)
    assert found.age == pytest.approx(exact.age, abs=1)
    assert found.cost == pytest.approx(exact.cost, rel=1e-5)


def test_on_steps_the_cheapest_age_is_just_before_one() -> None:
    """Lives 10, 90, 100, 110; planned 1, failure 10. Level parts end at 10: 1/10; 90: (0.75 + 2.5)
    / (10 + 60) = 0.0464; 100: (0.5 + 5) / 75 = 0.0733; 110: 7.75 / 77.5 = 0.1; all failed:
    10 / 77.5 = 0.1290."""
    curve = step_points(product_limit(lives_of("10 90 100 110")), 110)
    found = best_age_on(curve, Costs(1, 10))
    assert found.age == 90
    assert found.cost == pytest.approx(3.25 / 70)
    assert found.run_to_failure == pytest.approx(10 / 77.5)


def test_lives_that_end_unfailed_do_not_tell_the_cost_of_running_to_failure() -> None:
    """Steps at 10 (to 2/3) and 90 (to 1/3), the last seen at 120; planned 1, failure 1.1, so the
    longer the cheaper: (1/3 + 2.2/3) / (10 + 160/3 + 10)."""
    curve = step_points(product_limit(lives_of("10 90 120+")), 120)
    found = best_age_on(curve, Costs(1, 1.1))
    assert found.age is None
    assert found.run_to_failure is None
    assert found.cost == pytest.approx((1 / 3 + 2.2 / 3) / (10 + 160 / 3 + 10))


def test_where_all_fail_at_no_more_cost_there_is_no_age() -> None:
    """200 / 20 000 either way: a failure costs no more."""
    assert best_age_on(EVEN, Costs(200, 200)) == Renewal(None, 0.01, 0.01)


def test_the_cheapest_age_may_lie_just_before_the_longest_life() -> None:
    """Lives 10, 100; planned 1, failure 5: before 10 at 1/10, before 100 at 3/55, all failed at
    5/55."""
    curve = step_points(product_limit(lives_of("10 100")), 100)
    found = best_age_on(curve, Costs(1, 5))
    assert found.age == 100
    assert (found.cost, found.run_to_failure) == pytest.approx((3 / 55, 5 / 55))


@given(some_lives, st.floats(0.5, 30))
def test_no_other_age_on_a_curve_of_lives_is_cheaper(lives: list[Life], failure: float) -> None:
    longest, costs = max(life.amount for life in lives), Costs(1, failure)
    curve = step_points(product_limit(lives), longest)
    found = best_age_on(curve, costs)
    for i in range(1, 101):
        assert cost_at(curve, costs, longest * i / 100) >= found.cost * (1 - 1e-9)
    if found.age is not None:
        assert cost_at(curve, costs, found.age) == pytest.approx(found.cost)


@given(st.lists(st.integers(1, 100), min_size=1, max_size=8), st.floats(0.5, 30))
def test_no_other_age_on_a_sloping_curve_is_cheaper(falls: list[int], failure: float) -> None:
    left = [sum(falls[i:]) / sum(falls) for i in range(len(falls) + 1)]
    curve = tuple((10.0 * i, share) for i, share in enumerate(left))
    costs = Costs(1, failure)
    found = best_age_on(curve, costs)
    for i in range(1, 101):
        assert cost_at(curve, costs, curve[-1][0] * i / 100) >= found.cost * (1 - 1e-9)
