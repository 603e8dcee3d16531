"""The limits of a life curve: against published values, a reference library, and by their laws."""

from collections.abc import Callable, Iterable
from math import exp, sqrt
from random import Random
from statistics import NormalDist

import numpy as np
import pytest
import surpyval
from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.statistics import weibull_limits
from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.lives import Life
from pmtrack.statistics.weibull import Weibull, hazard_at
from pmtrack.statistics.weibull_fit import LifeCurve, life_curve
from pmtrack.statistics.weibull_likelihood import Likelihood
from tests.statistics.samples import drawn_lives, fitting_lives, published_lives

NIST = published_lives("nist-weibull-censored.csv")
FANS = published_lives("diesel-fans-censored.csv")
STATED = 0.9


def fitted(lives: list[Life]) -> LifeCurve:
    """The curve of lives that have one."""
    curve = life_curve(lives)
    assert isinstance(curve, LifeCurve)
    return curve


def information_limits(
    explained: Callable[[float], float], value: float, confidence: float
) -> tuple[float, float]:
    """Limits by the observed information: from how sharply the likelihood is bent at its top."""
    step = 1e-3
    bend = (explained(value * exp(step)) + explained(value * exp(-step)) - 2 * explained(value)) / (
        step * step
    )
    width = NormalDist().inv_cdf((1 + confidence) / 2) / sqrt(-bend)
    return value * exp(-width), value * exp(width)


def test_the_likelihood_is_bent_as_in_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1 (2003 and later), its data: 95 %
    limits by the observed information on the log scale, shape 0.97127 to 3.04875, scale 405.089
    to 908.135; the library reliability 0.9.0 agrees."""
    likelihood, law = Likelihood(NIST), fitted(NIST).law
    of_shape = information_limits(likelihood.of_shape, law.shape, 0.95)
    assert of_shape == pytest.approx((0.97127, 3.04875), abs=1e-4)
    of_scale = information_limits(
        lambda scale: likelihood.of_point(scale, 1.0, law.shape), law.scale, 0.95
    )
    assert of_scale == pytest.approx((405.089, 908.135), abs=0.01)


@pytest.mark.parametrize(("lives", "confidence"), [(NIST, 0.95), (FANS, 0.9)], ids=["nist", "fans"])
def test_the_limits_are_those_of_a_reference_library(lives: list[Life], confidence: float) -> None:
    """surpyval 0.25, likelihood-ratio limits."""
    amounts = np.array([life.amount for life in lives])
    model = surpyval.Weibull.fit(amounts, c=[int(not life.failed) for life in lives])
    curve, wrong = fitted(lives), 1 - confidence
    for found, expected in [
        (weibull_limits.shape(curve, confidence), model.param_cb("beta", wrong, method="lr")),
        (weibull_limits.scale(curve, confidence), model.param_cb("alpha", wrong, method="lr")),
        (weibull_limits.b_life(curve, 0.1, confidence), model.quantile_cb(0.1, wrong, method="lr")),
    ]:
        assert [found.low, found.high] == pytest.approx(list(np.ravel(expected)), rel=1e-4)


def test_reliability_and_life_have_the_same_limits_read_the_other_way() -> None:
    """At the lower limit of B10 the lower limit of the share alive is 0.9, and so at the upper."""
    curve = fitted(NIST)
    life = weibull_limits.b_life(curve)
    assert life.low is not None
    assert life.high is not None
    assert weibull_limits.reliability(curve, life.low).low == pytest.approx(0.9)
    assert weibull_limits.reliability(curve, life.high).high == pytest.approx(0.9)
    assert weibull_limits.reliability(curve, life.value).value == pytest.approx(0.9)


@pytest.mark.parametrize(("amount", "alive"), [(0.0, 1.0), (1e-9, 1.0), (1e12, 0.0)])
def test_where_all_or_none_are_left_there_are_no_limits(amount: float, alive: float) -> None:
    """A hazard of (1e-9 / 606.5) ^ 1.72 is below 1e-20, one of (1e12 / 606.5) ^ 1.72 above 1e15."""
    found = weibull_limits.reliability(fitted(NIST), amount)
    assert (found.low, found.high) == (None, None)
    assert found.value == pytest.approx(alive)


def all_limits(curve: LifeCurve, confidence: float) -> list[Estimate]:
    """Each number of a curve that has limits."""
    return [
        weibull_limits.shape(curve, confidence),
        weibull_limits.scale(curve, confidence),
        weibull_limits.b_life(curve, 0.1, confidence),
        weibull_limits.reliability(curve, 100, confidence),
    ]


@settings(max_examples=40)
@given(fitting_lives)
def test_limits_hold_the_value_and_widen_with_confidence(lives: list[Life]) -> None:
    curve = fitted(lives)
    for narrow, wide in zip(all_limits(curve, 0.8), all_limits(curve, 0.95), strict=True):
        points = [wide.low, narrow.low, narrow.value, narrow.high, wide.high]
        known = [point for point in points if point is not None]
        assert known == sorted(known)
        assert narrow.value == wide.value


@settings(max_examples=40)
@given(fitting_lives, st.floats(1e-4, 1e4))
def test_limits_follow_the_unit(lives: list[Life], unit: float) -> None:
    life = weibull_limits.b_life(fitted(lives))
    other = weibull_limits.b_life(fitted([Life(e.amount * unit, e.failed) for e in lives]))
    for mine, theirs in [(life.low, other.low), (life.high, other.high)]:
        assert (mine is None) == (theirs is None)
        assert mine is None or theirs == pytest.approx(mine * unit, rel=1e-5)


@pytest.mark.parametrize(
    ("tools", "planned_at", "about"),
    [
        (15, 40_000, 5),  # few failures: most tools are sharpened in time
        (20, 52_000, 10),
        (40, 40_000, 12),
    ],
)
def test_b10_lies_inside_its_limits_as_often_as_stated(
    tools: int, planned_at: float, about: int
) -> None:
    """Tools with a known life; 90 % two-sided limits, so 5 % may lie beyond either one.

    Three standard errors of 400 draws: 4.5 % for both sides, 3.3 % for one.
    """
    law, chance = Weibull(2.5, 60_000), Random(tools)
    curves = drawn_curves(chance, law, planned_at, tools)
    limits = [weibull_limits.b_life(curve, 0.1, STATED) for curve in curves]
    true = law.life(0.1)
    too_high = share(limit.low is not None and limit.low > true for limit in limits)
    too_low = share(limit.high is not None and limit.high < true for limit in limits)
    assert sum(c.failures for c in curves) / len(curves) == pytest.approx(about, abs=1)
    assert too_high + too_low == pytest.approx(1 - STATED, abs=0.045)
    assert too_high <= 0.05 + 0.033
    assert too_low <= 0.05 + 0.033


def test_limits_by_the_observed_information_would_be_too_high_too_often() -> None:
    """The reason for likelihood-ratio limits: the lower limit is above B10 far more than 5 %."""
    law, hazard = Weibull(2.5, 60_000), hazard_at(0.1)
    lows = []
    for curve in drawn_curves(Random(7), law, 40_000, 15):
        likelihood, found = Likelihood(curve.lives), curve.law

        def explained(
            amount: float, likelihood: Likelihood = likelihood, near: float = found.shape
        ) -> float:
            return likelihood.of_point(amount, hazard, near)

        lows.append(information_limits(explained, found.life(0.1), STATED)[0])
    assert share(low > law.life(0.1) for low in lows) > 0.09


def drawn_curves(chance: Random, law: Weibull, planned_at: float, tools: int) -> list[LifeCurve]:
    """400 life curves of tools with a known life."""
    curves: list[LifeCurve] = []
    while len(curves) < 400:
        curve = life_curve(drawn_lives(chance, law, planned_at, tools))
        if isinstance(curve, LifeCurve):
            curves.append(curve)
    return curves


def share(cases: Iterable[bool]) -> float:
    """How many of the cases are true."""
    known = list(cases)
    return sum(known) / len(known)
