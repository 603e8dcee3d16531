"""Do failures come more often the longer ago the last service was?

Rates by age in bins of equal operating time, and a test that asks for no law: of a machine whose
failures do not depend on the age, each comes at any of its operating hours with equal chance.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import sqrt
from statistics import NormalDist

from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.poisson import rate
from pmtrack.statistics.rounds_fit import Watched
from pmtrack.statistics.trend import FEWEST, SURE, Trend, Verdict, judged

BINS = 4  # common practice, no source


@dataclass(frozen=True)
class AgeBin:
    """Ages from and up to, the hours watched at them, the failures, and their rate an hour."""

    start: float
    end: float
    hours: float
    failures: int
    rate: Estimate


class Exposure:
    """Hours that a machine was watched at ages up to each; `weight` hours are one unit of age."""

    def __init__(self, watched: Sequence[Watched], weight: float = 1.0) -> None:
        ends = sorted(length for length, _ in watched)
        self._ages = [0.0, *ends]
        steps = (
            (end - start) * (len(ends) - n) * weight
            for n, (start, end) in enumerate(pairwise(self._ages))
        )
        self._hours = list(accumulate(steps, initial=0.0))

    @property
    def total(self) -> float:
        """All hours watched."""
        return self._hours[-1]

    @property
    def oldest(self) -> float:
        """The longest round."""
        return self._ages[-1]

    def up_to(self, age: float) -> float:
        """Hours watched at ages up to this one."""
        place = bisect_right(self._ages, age)
        if place == len(self._ages):
            return self.total
        start, end = self._ages[place - 1], self._ages[place]
        part = (age - start) / (end - start)
        return self._hours[place - 1] + part * (self._hours[place] - self._hours[place - 1])


@dataclass(frozen=True)
class Group:
    """The rounds of one machine; `weight` operating hours are one unit of their ages."""

    watched: tuple[Watched, ...]
    weight: float = 1.0

    @property
    def ages(self) -> list[float]:
        """The ages of all failures."""
        return [age for _, failed in self.watched for age in failed]


def by_age(groups: Iterable[Group], bins: int = BINS) -> tuple[AgeBin, ...]:
    """The failures of one machine or several by age, in bins of equal operating time."""
    known = [group for group in groups if group.watched]
    exposures = [Exposure(group.watched, group.weight) for group in known]
    total = sum(one.total for one in exposures)
    if not total:
        return ()
    edges = [0.0, *(_age_at(exposures, total * n / bins) for n in range(1, bins + 1))]
    ages = sorted(age for group in known for age in group.ages)
    places = [0, *(bisect_right(ages, edge) for edge in edges[1:-1]), len(ages)]
    return tuple(
        AgeBin(start, end, total / bins, upto - since, rate(upto - since, total / bins))
        for (start, end), (since, upto) in zip(pairwise(edges), pairwise(places), strict=True)
    )


def _age_at(exposures: Sequence[Exposure], wanted: float) -> float:
    """The age up to which so many hours were watched, by halving."""
    low, high = 0.0, max(one.oldest for one in exposures)
    for _ in range(60):
        middle = (low + high) / 2
        below = sum(one.up_to(middle) for one in exposures) < wanted
        low, high = (middle, high) if below else (low, middle)
    return high


def ageing(groups: Iterable[Group], confidence: float = SURE) -> Trend:
    """Whether failures lie at higher ages (worse) or lower ones than chance has it.

    Each machine is measured by its own hours, so machines that fail more do not mislead. A normal
    value as in Laplace's test.
    """
    shares = []
    for group in groups:
        if group.ages:
            exposure = Exposure(group.watched, group.weight)
            shares += [exposure.up_to(age) / exposure.total for age in group.ages]
    if len(shares) < FEWEST:
        return Trend(Verdict.TOO_FEW, len(shares))
    value = sqrt(12 * len(shares)) * (sum(shares) / len(shares) - 0.5)
    chances = NormalDist().cdf(value), NormalDist().cdf(-value)
    return judged(len(shares), value, chances, confidence)
