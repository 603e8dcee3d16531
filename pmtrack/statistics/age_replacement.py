"""The age at which a part is best renewed as planned, when a failure costs more.

Renewed at failure or at age T, whichever comes first, the cost per unit of the meter in the long
run is C(T) = (cp R(T) + cf (1 - R(T))) / integral of R from 0 to T (Barlow and Proschan,
Mathematical Theory of Reliability, 1965; value from memory).
"""

from dataclasses import dataclass
from math import expm1, gamma

from pmtrack.statistics.roots import root
from pmtrack.statistics.weibull import Weibull

ALL_BUT_FAILED = 14.0  # summed-up hazard that one in a million outlives: no age to plan for


@dataclass(frozen=True)
class Costs:
    """What a planned renewal costs, and one after a failure with all that it brings, in money.

    Raises ValueError unless both are above 0.
    """

    planned: float
    failure: float

    def __post_init__(self) -> None:
        if not (self.planned > 0 and self.failure > 0):
            raise ValueError(f"costs of {self.planned} and {self.failure} are none to weigh")


@dataclass(frozen=True)
class Renewal:
    """The cheapest age, its cost per unit of the meter, and the cost without planned renewal.

    Without an age no planned renewal is worth its cost. Without the cost of running to failure the
    lives do not tell how far the last of them run.
    """

    age: float | None
    cost: float
    run_to_failure: float | None


def best_age(law: Weibull, costs: Costs) -> Renewal:
    """The optimum for a Weibull law; none at a shape of 1 or less, nor if failing costs no more.

    At the optimum h(T) integral R - F(T) = cp / (cf - cp), and the cost is (cf - cp) h(T).
    """
    extra = costs.failure - costs.planned
    failing = costs.failure / law.mean
    furthest = ALL_BUT_FAILED ** (1 / law.shape)
    if law.shape <= 1 or extra * _balance(law.shape, furthest) <= costs.planned:
        return Renewal(None, failing, failing)
    ratio = root(lambda u: extra * _balance(law.shape, u) - costs.planned, 0.0, furthest)
    age = law.scale * ratio
    return Renewal(age, extra * law.hazard(age), failing)


def _balance(shape: float, ratio: float) -> float:
    """h(T) integral R - F(T) at T = ratio x scale; it grows with T where the shape is above 1."""
    from scipy.special import gammainc

    hazard = ratio**shape
    area = gamma(1 + 1 / shape) * float(gammainc(1 / shape, hazard))
    return float(shape * ratio ** (shape - 1) * area + expm1(-hazard))


def best_overhaul(law: Weibull, overhaul: float, repair: float) -> Renewal:
    """The age for an overhaul that makes as new, with repairs in between that only get it going.

    C(T) = (overhaul + repair (T / scale)^shape) / T (Barlow and Hunter, Operations Research 8,
    1960; value from memory). Without overhauls a part that wears out costs ever more, so that cost
    is null; one that does not is best left alone, which at a shape of 1 costs repair / scale.
    """
    Costs(overhaul, repair)
    if law.shape <= 1:
        cost = repair / law.scale if law.shape == 1 else 0.0
        return Renewal(None, cost, cost)
    age = law.scale * (overhaul / (repair * (law.shape - 1))) ** (1 / law.shape)
    return Renewal(age, (overhaul + repair * law.hazard_up_to(age)) / age, None)
