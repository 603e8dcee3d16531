"""Rounds from service to service, drawn by chance from a known law."""

from random import Random

from pmtrack.statistics.rounds_fit import RoundsFit, Watched, fit_rounds
from pmtrack.statistics.weibull import Weibull


def simulated(draw: Random, rounds: int, law: Weibull, interval: float) -> list[Watched]:
    """Rounds within 10 % of the interval; each repair leaves the machine as old as it was."""
    found: list[Watched] = []
    for _ in range(rounds):
        length = interval * draw.uniform(0.9, 1.1)
        found.append((length, failing(draw, law, length)))
    return found


def failing(draw: Random, law: Weibull, length: float) -> list[float]:
    """The ages at which a machine fails in a round of that length."""
    ages: list[float] = []
    hazard = draw.expovariate(1)
    while (age := law.scale * hazard ** (1 / law.shape)) <= length:
        ages.append(age)
        hazard += draw.expovariate(1)
    return ages


def fitted(watched: list[Watched]) -> RoundsFit:
    """The fit, which must be one."""
    found = fit_rounds(watched)
    assert isinstance(found, RoundsFit), found
    return found
