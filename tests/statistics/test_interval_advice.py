"""The advised interval: keep, shorten, lengthen, by costs or by B10, worked by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.statistics.age_replacement import Costs
from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.interval_advice import Advice, Brake, Verdict, advise, aim, rounded, step_of
from pmtrack.statistics.lives import Life
from pmtrack.statistics.weibull import Weibull
from pmtrack.statistics.weibull_fit import LifeCurve

KEEP, SHORTEN, LENGTHEN = Verdict.KEEP, Verdict.SHORTEN, Verdict.LENGTHEN
LIVES = tuple(Life(amount, True) for amount in (400, 700, 900, 1200))
# optimum ages of `reliability` documentation and tests, "Optimal replacement time" (version 0.9),
# and of the same equation recomputed: planned 1, Weibull scale 1000, by shape and failure cost
OPTIMA = [(2.5, 5, 493.047), (2.5, 10, 354.574), (2.5, 2, 883.602), (2, 5, 510.655), (3, 5, 502.61)]


@pytest.mark.parametrize(("shape", "failure", "age"), OPTIMA)
def test_with_costs_the_cheapest_age_is_aimed_at(shape: float, failure: float, age: float) -> None:
    law = Weibull(shape, 1000)
    found = aim(LifeCurve(law, LIVES), Costs(1, failure))
    assert found is not None
    assert found.by_costs
    assert found.age.value == pytest.approx(age, abs=1e-3)
    assert found.failed == pytest.approx(1 - law.reliability(age), abs=1e-6)


def test_without_costs_b10_is_aimed_at() -> None:
    found = aim(LifeCurve(Weibull(2.5, 1000), LIVES), None)
    assert found is not None
    # 1000 x (-ln 0.9)^(1/2.5): NIST/SEMATECH e-Handbook 8.1.6.2, recomputed
    assert found.age.value == pytest.approx(406.510)
    assert (found.failed, found.by_costs) == (0.1, False)


@pytest.mark.parametrize("costs", [None, Costs(1, 5)])
def test_where_the_old_fail_no_more_often_than_the_new_there_is_no_aim(costs: Costs | None) -> None:
    assert aim(LifeCurve(Weibull(1.0, 1000), LIVES), costs) is None
    assert aim(LifeCurve(Weibull(0.8, 1000), LIVES), costs) is None


def test_where_failing_costs_no_more_there_is_no_aim() -> None:
    assert aim(LifeCurve(Weibull(2.5, 1000), LIVES), Costs(1, 1)) is None


ADVICE = [  # present interval, what is aimed at, its lower limit, longest life seen; the advice
    # 493 against 500 is nearer than a tenth; 493 against 1000 is half; to the nearest 20: 500
    (500, 493.047, 300, 1000, KEEP, 500, None),
    (1000, 493.047, 300, 1000, SHORTEN, 500, None),
    # 354.574: step 20 (a tenth is 35), 17.7 of them, so 18
    (600, 354.574, 200, 600, SHORTEN, 360, None),
    # just a tenth off is still near, a little more is not
    (60_000, 54_000, 40_000, 60_000, KEEP, 60_000, None),
    (60_000, 66_000, 62_000, 60_000, KEEP, 60_000, None),
    (60_000, 53_900, 40_000, 60_000, SHORTEN, 55_000, None),
    # longer: allowed by the lower limit, and within a quarter beyond the longest life
    (300, 493.047, 320, 400, LENGTHEN, 500, None),
    (60_000, 71_300, 61_000, 64_000, LENGTHEN, 70_000, None),
    # the lower limit lies below the present interval, or there is none
    (300, 493.047, 300, 400, KEEP, 300, Brake.UNSURE),
    (300, 493.047, None, 400, KEEP, 300, Brake.UNSURE),
    # 883 is beyond 1.25 x 400: a step to 500; lives shorter than the interval: 1.25 x 300 is 375,
    # to the nearest 20: 380
    (300, 883.602, 700, 400, LENGTHEN, 500, Brake.ONE_STEP),
    (300, 883.602, 700, 200, LENGTHEN, 380, Brake.ONE_STEP),
]  # fmt: skip


@pytest.mark.parametrize("case", ADVICE)
def test_the_advice(
    case: tuple[float, float, float | None, float, Verdict, float, Brake | None],
) -> None:
    now, aimed, low, longest, verdict, age, brake = case
    assert advise(now, Estimate(aimed, low, None), longest) == Advice(verdict, age, brake)


FIGURES = [
    (47_300, 48_000), (73_600, 75_000), (120_000, 120_000), (50_000, 50_000), (49_900, 50_000),
    (64.5, 65), (9.4, 9.5), (0.873, 0.85), (2.04, 2.0), (1, 1), (131_000, 130_000),
]  # fmt: skip


@pytest.mark.parametrize(("amount", "figure"), FIGURES)
def test_figures_that_people_set(amount: float, figure: float) -> None:
    assert rounded(amount) == figure


@given(st.floats(1e-3, 1e9))
def test_rounding_moves_an_amount_by_a_twentieth_at_most(amount: float) -> None:
    assert abs(rounded(amount) - amount) <= amount / 20 * (1 + 1e-6)
    assert step_of(amount) <= amount * (1 + 1e-6) < 2.5 * step_of(amount) * (1 + 1e-6)


@given(st.floats(1, 1e6), st.floats(0.01, 100), st.floats(0.1, 3), st.floats(0.1, 1))
def test_advice_goes_the_way_it_says(now: float, times: float, seen: float, low: float) -> None:
    aimed = now * times
    found = advise(now, Estimate(aimed, aimed * low, None), now * seen)
    if found.verdict is KEEP:
        assert found.age == now
    elif found.verdict is SHORTEN:
        assert aimed < now
        assert found.age < now
    else:
        assert aimed * low > now
        assert now < found.age <= 1.25 * max(now, now * seen) * 1.05
