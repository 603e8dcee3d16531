"""Share of lives that outlast each amount, straight from the lives (Kaplan and Meier, 1958)."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from math import exp, log, sqrt

from pmtrack.statistics.estimate import CONFIDENCE, Estimate
from pmtrack.statistics.lives import Life
from pmtrack.statistics.quantiles import normal


@dataclass(frozen=True)
class Step:
    """An amount at which lives failed: how many had come that far, and the share that outlasts it.

    A life cut short at that very amount had come that far. The limits hold for this amount alone,
    not for the whole curve at once; where nothing outlasts it there are none.
    """

    amount: float
    at_risk: int
    failed: int
    alive: Estimate


def product_limit(lives: Iterable[Life], confidence: float = CONFIDENCE) -> tuple[Step, ...]:
    """The curve as its steps down; before the first of them it is 1."""
    ordered = sorted(lives, key=lambda life: life.amount)
    at_risk, alive, greenwood = len(ordered), 1.0, 0.0
    steps: list[Step] = []
    for amount, group in groupby(ordered, key=lambda life: life.amount):
        ended = list(group)
        if failed := sum(life.failed for life in ended):
            alive *= 1 - failed / at_risk
            greenwood += failed / (at_risk * (at_risk - failed)) if failed < at_risk else 0.0
            share = _with_limits(alive, sqrt(greenwood), normal(confidence))
            steps.append(Step(amount, at_risk, failed, share))
        at_risk -= len(ended)
    return tuple(steps)


def _with_limits(alive: float, deviation: float, width: float) -> Estimate:
    """Greenwood limits on ln(-ln), which stay between 0 and 1 (Kalbfleisch and Prentice, 1980)."""
    if alive <= 0:
        return Estimate(0.0, None, None)
    spread = exp(width * deviation / -log(alive))
    return Estimate(alive, alive**spread, alive ** (1 / spread))
