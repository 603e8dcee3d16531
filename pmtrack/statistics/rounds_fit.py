"""How failures grow with the age since a service, of a machine that is mended in between.

A repair gets the machine going and leaves its age as it was; the service alone makes it as new.
Failures of a round then come at the rate of a Weibull law's hazard, and up to age t they sum up to
(t / scale)^shape (Barlow and Hunter, Operations Research 8, 1960; Crow, AMSAA Technical Report 138,
1975; values from memory). Where a repair renews more than that, the sum up to t is still the mean
number of failures in a round, which is all that the cost of an interval rests on.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log

from pmtrack.statistics.estimate import Estimate, TooFew
from pmtrack.statistics.poisson import rate
from pmtrack.statistics.quantiles import chi_square
from pmtrack.statistics.roots import root
from pmtrack.statistics.weibull import Weibull

FEWEST = 6  # failures; common practice, no source
FEWEST_ROUNDS = 3  # with a failure or not; common practice, no source
FLATTEST, STEEPEST = 0.05, 20.0  # shapes beyond which a fit tells nothing
SURE = 0.8  # confidence of the limits: one time in ten the truth lies on either side

Watched = tuple[float, Sequence[float]]  # length of a round, and the ages of its failures


@dataclass(frozen=True)
class RoundsFit:
    """The law, the shape with its limits, and the failures, rounds and hours it rests on.

    `level` has the limits of how many failures the truth has for each one seen.
    """

    law: Weibull
    shape: Estimate
    failures: int
    lengths: tuple[float, ...]
    level: tuple[float, float]

    @property
    def longest(self) -> float:
        """The length that three rounds, if no more, have reached: so far the failures tell."""
        return sorted(self.lengths)[-FEWEST_ROUNDS]

    def law_of(self, shape: float) -> Weibull:
        """The likeliest law of a given shape: the one that expects as many failures as came."""
        return _law(self.lengths, self.failures, shape)


def fit_rounds(watched: Sequence[Watched], confidence: float = SURE) -> RoundsFit | TooFew:
    """The likeliest law, with limits of its shape by likelihood ratio; none of too few failures."""
    lengths = tuple(length for length, _ in watched)
    ages = [age for _, failed in watched for age in failed]
    if len(ages) < FEWEST:
        why = f"{len(ages)} failures between such jobs, at least {FEWEST} are needed"
        return TooFew(len(ages), FEWEST, why)
    if len(lengths) < FEWEST_ROUNDS:
        why = f"{len(lengths)} rounds from job to job, at least {FEWEST_ROUNDS} are needed"
        return TooFew(len(ages), FEWEST, why)
    told = _Likelihood(lengths, ages)
    if not told.slope(FLATTEST) > 0 > told.slope(STEEPEST):
        return TooFew(len(ages), FEWEST, "no law fits failures that all come at one age")
    shape = root(told.slope, FLATTEST, STEEPEST)
    low, high = told.limits(shape, confidence)
    seen = rate(len(ages), len(ages), confidence)
    level = seen.low or 0.0, seen.high or inf
    law = _law(lengths, len(ages), shape)
    return RoundsFit(law, Estimate(shape, low, high), len(ages), lengths, level)


def _law(lengths: Sequence[float], failures: int, shape: float) -> Weibull:
    longest = max(lengths)
    grown = sum((length / longest) ** shape for length in lengths)
    return Weibull(shape, longest * exp(log(grown / failures) / shape))


class _Likelihood:
    """How well a shape explains the failures, at the best scale for it; ages by the longest."""

    def __init__(self, lengths: Sequence[float], ages: Sequence[float]) -> None:
        longest = max(lengths)
        self._lengths = [log(length / longest) for length in lengths]
        self._count = len(ages)
        self._sum = sum(log(age / longest) for age in ages)

    def of(self, shape: float) -> float:
        """Log-likelihood of a shape, but for what does not depend on it."""
        grown = sum(exp(shape * length) for length in self._lengths)
        return self._count * (log(shape) - log(grown)) + shape * self._sum

    def slope(self, shape: float) -> float:
        """How fast it grows with the shape; it always falls."""
        weights = [exp(shape * length) for length in self._lengths]
        pull = sum(w * x for w, x in zip(weights, self._lengths, strict=True)) / sum(weights)
        return self._count / shape + self._sum - self._count * pull

    def limits(self, shape: float, confidence: float) -> tuple[float, float]:
        """Where it has fallen by half the chi-square quantile, on either side."""
        lowest = self.of(shape) - chi_square(1, confidence) / 2

        def spare(other: float) -> float:
            return self.of(other) - lowest

        low = FLATTEST if spare(FLATTEST) > 0 else root(spare, FLATTEST, shape)
        high = STEEPEST if spare(STEEPEST) > 0 else root(spare, shape, STEEPEST)
        return low, high
