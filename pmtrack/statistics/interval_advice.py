"""The age at which a family of wear parts is best renewed as planned, from its life curve.

With costs it is the age of the least cost; without, the age by which one in ten has failed.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import floor, log10

from pmtrack.statistics.age_replacement import Costs, best_age
from pmtrack.statistics.estimate import CONFIDENCE, Estimate
from pmtrack.statistics.weibull_fit import LifeCurve
from pmtrack.statistics.weibull_limits import B10, b_life

NEAR = 0.1  # of the present age: nearer is no change; common practice, no source
A_STEP_UP = 1.25  # of the longest life seen: how far beyond it to go; common practice, no source
PARTS = 10  # an advised age is at least so many times 1, 2 or 5 with noughts
_FUZZ = 1e-9


class Verdict(StrEnum):
    """What to do with the present age."""

    KEEP = "keep"
    SHORTEN = "shorten"
    LENGTHEN = "lengthen"


@dataclass(frozen=True)
class Aim:
    """The age aimed at with its limits, the share that has failed by then, whether by costs.

    The limits are those of the age by which that share has failed.
    """

    age: Estimate
    failed: float
    by_costs: bool


class Brake(StrEnum):
    """What holds a longer age back.

    Unsure: the lower limit of the age aimed at is not above the present one. One step: no life
    was seen that long, so a first step is made.
    """

    UNSURE = "unsure"
    ONE_STEP = "one step"


@dataclass(frozen=True)
class Advice:
    """The verdict, the age to go to (the present one if it is kept), and what held it back."""

    verdict: Verdict
    age: float
    brake: Brake | None = None


def aim(curve: LifeCurve, costs: Costs | None, confidence: float = CONFIDENCE) -> Aim | None:
    """The age to aim at; null where planned renewal gains nothing.

    That is at a shape of 1 or less, where the old fail no more often than the new, or where
    failing costs too little more.
    """
    if curve.law.shape <= 1:
        return None
    failed = B10
    if costs:
        age = best_age(curve.law, costs).age
        if age is None:
            return None
        failed = 1 - curve.law.reliability(age)
    return Aim(b_life(curve, failed, confidence), failed, costs is not None)


def advise(present: float, aimed: Estimate, longest: float) -> Advice:
    """What to do with the present age, given the age aimed at and the longest life seen.

    Costs are flat around their least, so what is near is kept. A longer age risks failures: it is
    advised only where the lower limit allows it, and a step at a time.
    """
    if abs(aimed.value - present) <= NEAR * present * (1 + _FUZZ):
        return Advice(Verdict.KEEP, present)
    if aimed.value < present:
        return Advice(Verdict.SHORTEN, rounded(aimed.value))
    if aimed.low is None or aimed.low <= present:
        return Advice(Verdict.KEEP, present, Brake.UNSURE)
    furthest = max(present, longest) * A_STEP_UP
    if aimed.value > furthest:
        return Advice(Verdict.LENGTHEN, rounded(furthest), Brake.ONE_STEP)
    return Advice(Verdict.LENGTHEN, rounded(aimed.value))


def rounded(amount: float) -> float:
    """To the nearest figure that people set: 47,300 to 48,000, 73,600 to 75,000, 493 to 500."""
    step = step_of(amount / PARTS)
    return float(step * floor(amount / float(step) + 0.5))


def step_of(amount: float) -> Fraction:
    """The largest of 1, 2 or 5 and noughts (or such a fraction) that is not above an amount."""
    power = Fraction(10) ** floor(log10(amount) + _FUZZ)
    return max(power * n for n in (1, 2, 5) if power * n <= amount * (1 + _FUZZ))
