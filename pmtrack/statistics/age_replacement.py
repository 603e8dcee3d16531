"""The age at which a part is best renewed as planned, when a failure costs more.

Barlow and Proschan, Mathematical Theory of Reliability, 1965 (value from memory): renewed at
failure or at age T, whichever comes first, the cost per unit of the meter in the long run is
C(T) = (cp R(T) + cf (1 - R(T))) / integral of R from 0 to T.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import gamma, sqrt

from pmtrack.statistics.quantiles import root
from pmtrack.statistics.weibull import Weibull

ALL_BUT_FAILED = 14.0  # summed-up hazard that one in a million outlives: no age to plan for


@dataclass(frozen=True)
class Costs:
    """What a planned renewal costs, and one after a failure with all that it brings, in money."""

    planned: float
    failure: float


@dataclass(frozen=True)
class Renewal:
    """The cheapest age, with the cost per unit of the meter there and without planned renewal.

    Age null: no planned renewal is worth its cost, and both costs are the same. Without planned
    renewal null: the lives do not tell how far the last ones run.
    """

    age: float | None
    cost: float
    run_to_failure: float | None


def best_age(law: Weibull, costs: Costs) -> Renewal:
    """The optimum for a Weibull law; none at a shape of 1 or less, nor if failing costs no more.

    At the optimum h(T) integral R - F(T) = cp / (cf - cp), and the cost is (cf - cp) h(T).
    """
    failing = costs.failure / law.mean
    none = Renewal(None, failing, failing)
    extra = costs.failure - costs.planned
    if law.shape <= 1 or extra <= 0:
        return none
    wanted, furthest = costs.planned / extra, ALL_BUT_FAILED ** (1 / law.shape)
    if _balance(law.shape, furthest) <= wanted:
        return none
    age = law.scale * root(lambda u: _balance(law.shape, u) - wanted, 0.0, furthest)
    return Renewal(age, extra * law.hazard(age), failing)


def _balance(shape: float, ratio: float) -> float:
    """h(T) integral R - F(T) at T = ratio x scale; it grows with T where the shape is above 1."""
    from math import expm1

    from scipy.special import gammainc

    hazard = ratio**shape
    area = gamma(1 + 1 / shape) * float(gammainc(1 / shape, hazard))
    return shape * ratio ** (shape - 1) * area + expm1(-hazard)
