"""The cheapest age for planned renewal: published values, and that it is a minimum."""

from math import gamma

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.statistics.age_replacement import Costs, Renewal, best_age, best_overhaul
from pmtrack.statistics.weibull import Weibull


@pytest.mark.parametrize(
    ("shape", "failure", "age", "cost", "run_to_failure"),
    [
        # documentation of the library reliability 0.9.0, optimal replacement time: 493.19 and
        # 0.0034620429; its age is the best of a grid 0.3 h apart
        (2.5, 5, 493.0470, 0.003462043, 0.005635302),
        # worked out apart from this code
        (2.5, 10, 354.5744, 0.004750547, 0.01127060),
        (2.5, 2, 883.6017, 0.002076466, 0.002254121),
        (2.0, 5, 510.6552, 0.004085242, 0.005641896),
        (3.0, 5, 502.6096, 0.003031397, 0.005599233),
    ],
)
def test_the_cheapest_age_agrees_with_published_values(
    shape: float, failure: float, age: float, cost: float, run_to_failure: float
) -> None:
    """Scale 1000, a planned renewal costs 1."""
    found = best_age(Weibull(shape, 1000), Costs(1, failure))
    assert found.age == pytest.approx(age, abs=1e-3)
    assert found.cost == pytest.approx(cost, abs=1e-8)
    assert found.run_to_failure == pytest.approx(run_to_failure, abs=1e-8)


@pytest.mark.parametrize(
    ("shape", "failure"),
    [
        (1.0, 5.0),  # fails by chance: a new one is no better
        (0.7, 5.0),  # fails young: a new one is worse
        (2.5, 1.0),  # a failure costs no more than a planned renewal
        (2.5, 0.5),
        (1.01, 5.0),  # wears so little that the age would be one that none reaches
        (2.5, 1.02),  # nor where a failure costs next to no more
    ],
)
def test_where_planned_renewal_does_not_pay_there_is_no_age(shape: float, failure: float) -> None:
    """Then the cost is that of running to failure: its cost by the mean life."""
    cost = failure / (1000 * gamma(1 + 1 / shape))
    found = best_age(Weibull(shape, 1000), Costs(1, failure))
    assert found.age is None
    assert (found.cost, found.run_to_failure) == pytest.approx((cost, cost))


def cost_by_steps(law: Weibull, costs: Costs, age: float) -> float:
    """C(T) from its definition, with the area under R by Simpson's rule."""
    parts = 200
    heights = [law.reliability(age * i / parts) for i in range(parts + 1)]
    area = (heights[0] + heights[-1] + 4 * sum(heights[1::2]) + 2 * sum(heights[2:-1:2])) * (
        age / parts / 3
    )
    return (costs.planned * heights[-1] + costs.failure * (1 - heights[-1])) / area


@given(st.floats(1.2, 8), st.floats(10, 1e6), st.floats(1.2, 50))
def test_no_other_age_is_cheaper(shape: float, scale: float, failure: float) -> None:
    law, costs = Weibull(shape, scale), Costs(1, failure)
    found = best_age(law, costs)
    others = [cost_by_steps(law, costs, scale * i / 40) for i in range(1, 81)]
    assert min(others) >= found.cost * (1 - 1e-4)
    assert found.run_to_failure is not None
    assert found.cost <= found.run_to_failure * (1 + 1e-9)
    if found.age is not None:
        assert cost_by_steps(law, costs, found.age) == pytest.approx(found.cost, rel=1e-4)


@given(st.floats(1.2, 8), st.floats(1.5, 50), st.floats(0.01, 100))
def test_the_age_follows_the_unit_and_not_the_money(
    shape: float, failure: float, times: float
) -> None:
    plain = best_age(Weibull(shape, 1000), Costs(1, failure))
    other = best_age(Weibull(shape, 1000 * times), Costs(7, 7 * failure))
    assert (plain.age is None) == (other.age is None)
    if plain.age is not None:
        assert other.age == pytest.approx(plain.age * times)
    assert other.cost == pytest.approx(plain.cost * 7 / times)


def test_an_overhaul_between_repairs_agrees_with_its_formula() -> None:
    """Barlow and Hunter, Operations Research 8, 1960 (value from memory): overhaul 1, repair 5,
    shape 2.5: 1000 x (1 / 7.5) ^ 0.4 = 446.6584 and (1 + 5 / 7.5) / 446.6584 = 0.003731412."""
    found = best_overhaul(Weibull(2.5, 1000), 1, 5)
    assert found.age == pytest.approx(446.6584, abs=1e-3)
    assert found.cost == pytest.approx(0.003731412, abs=1e-8)
    assert found.run_to_failure is None


@given(st.floats(1.1, 8), st.floats(0.1, 50))
def test_no_other_age_for_an_overhaul_is_cheaper(shape: float, repair: float) -> None:
    law = Weibull(shape, 1000)
    found = best_overhaul(law, 1, repair)
    assert found.age is not None
    for times in (0.5, 0.9, 0.99, 1.01, 1.1, 2):
        age = found.age * times
        assert (1 + repair * law.hazard_up_to(age)) / age > found.cost


@pytest.mark.parametrize(("shape", "cost"), [(1.0, 0.005), (0.8, 0.0)])
def test_what_does_not_wear_out_needs_no_overhaul(shape: float, cost: float) -> None:
    """At a shape of 1: repairs of 5 every 1000; below it ever fewer."""
    assert best_overhaul(Weibull(shape, 1000), 1, 5) == Renewal(None, cost, cost)


@pytest.mark.parametrize(("planned", "failure"), [(0.0, 5.0), (1.0, 0.0), (-1.0, 5.0)])
def test_what_costs_nothing_cannot_be_weighed(planned: float, failure: float) -> None:
    with pytest.raises(ValueError, match="none to weigh"):
        Costs(planned, failure)
    with pytest.raises(ValueError, match="none to weigh"):
        best_overhaul(Weibull(2, 1000), planned, failure)
