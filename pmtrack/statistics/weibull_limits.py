"""Limits of what a life curve tells, by likelihood ratio.

The limits are the outermost values whose likelihood, at the best of the rest, is not too far below
the highest: twice the difference of the logarithms up to the chi-square quantile with one degree
of freedom (Meeker and Escobar, Statistical Methods for Reliability Data, 1998, chapter 8; value
from memory). Limits by the observed information are simpler, but of few failures they set the
lower limit of B10 too high, twice as often as stated: the dangerous side.
"""

from collections.abc import Callable
from math import exp, log

from pmtrack.statistics.estimate import CONFIDENCE, Estimate
from pmtrack.statistics.quantiles import chi_square
from pmtrack.statistics.roots import root
from pmtrack.statistics.weibull import hazard_at
from pmtrack.statistics.weibull_fit import LifeCurve
from pmtrack.statistics.weibull_likelihood import Likelihood

FIRST_STEP = 0.05  # on the logarithm, doubled until it passes the limit
FURTHEST = 50.0  # on the logarithm; a limit this far off is none
B10 = 0.1  # share failed
NOTHING = 1e-12  # a hazard too small to tell from 0


def shape(curve: LifeCurve, confidence: float = CONFIDENCE) -> Estimate:
    """The shape with its limits, which tell whether the part wears out at all."""
    explained = Likelihood(curve.lives).of_shape
    return _limits(explained, curve.law.shape, confidence)


def scale(curve: LifeCurve, confidence: float = CONFIDENCE) -> Estimate:
    """The scale with its limits: the amount at which the hazard sums up to 1."""
    return _amount(curve, 1.0, confidence)


def b_life(curve: LifeCurve, failed: float = B10, confidence: float = CONFIDENCE) -> Estimate:
    """The amount by which a share has failed, with its limits, in units of the meter."""
    return _amount(curve, hazard_at(failed), confidence)


def reliability(curve: LifeCurve, amount: float, confidence: float = CONFIDENCE) -> Estimate:
    """The share that outlives an amount, with its limits; none where it is all or nothing."""
    likelihood, expected = Likelihood(curve.lives), curve.law.hazard_up_to(amount)
    if not NOTHING < expected < 1 / NOTHING:
        return Estimate(exp(-expected), None, None)

    def explained(hazard: float) -> float:
        return likelihood.of_point(amount, hazard, curve.law.shape)

    hazard = _limits(explained, expected, confidence)
    low = 0.0 if hazard.high is None else exp(-hazard.high)
    high = 1.0 if hazard.low is None else exp(-hazard.low)
    return Estimate(exp(-hazard.value), low, high)


def _amount(curve: LifeCurve, hazard: float, confidence: float) -> Estimate:
    """The amount at which the hazard sums up to so much, with its limits."""
    likelihood, law = Likelihood(curve.lives), curve.law

    def explained(amount: float) -> float:
        return likelihood.of_point(amount, hazard, law.shape)

    return _limits(explained, law.scale * hazard ** (1 / law.shape), confidence)


def _limits(explained: Callable[[float], float], value: float, confidence: float) -> Estimate:
    """The value, and where its log-likelihood has fallen by half the chi-square quantile."""
    lowest = explained(value) - chi_square(1, confidence) / 2

    def spare(logarithm: float) -> float:
        return explained(exp(logarithm)) - lowest

    low, high = (_crossing(spare, log(value), side * FIRST_STEP) for side in (-1, 1))
    return Estimate(value, low, high)


def _crossing(spare: Callable[[float], float], start: float, step: float) -> float | None:
    """The value, on this side of the start, from which on none is likely enough."""
    inside, outside = start, start + step
    while spare(outside) > 0:
        step *= 2
        inside, outside = outside, outside + step
        if abs(outside - start) > FURTHEST:
            return None
    return exp(root(spare, inside, outside))
