"""A power law for how often a mended machine fails (Crow, AMSAA Technical Report 138, 1975).

Expected failures up to age t are a t^b; a slope b above 1 is ever more often, below 1 ever less.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, expm1, log

from pmtrack.statistics.estimate import CONFIDENCE, Estimate, TooFew
from pmtrack.statistics.growth_factors import mtbf_factors
from pmtrack.statistics.histories import History
from pmtrack.statistics.quantiles import chi_square
from pmtrack.statistics.roots import root
from pmtrack.statistics.trend import FEWEST

FLATTEST, STEEPEST = 0.01, 100.0  # slopes beyond which a fit tells nothing


@dataclass(frozen=True)
class PowerLaw:
    """Expected failures up to age t: failures x (t / end)^slope."""

    failures: int
    end: float
    slope: float

    @property
    def factor(self) -> float:
        """The a of a t^b, per hour to the power of the slope."""
        return exp(log(self.failures) - self.slope * log(self.end))

    def expected(self, start: float, end: float) -> float:
        """Failures expected between two ages."""
        before, after = ((age / self.end) ** self.slope for age in (start, end))
        return float(self.failures * (after - before))

    def mtbf(self, age: float) -> float:
        """Mean hours between failures at the rate of this age."""
        return age / (self.slope * self.expected(0, age))


@dataclass(frozen=True)
class Growth:
    """The fitted law, and the slope and the MTBF at the end of the watch with their limits.

    All three are of maximum likelihood. `modified` is the law with the slope freed of its bias;
    its MTBF is higher, so a report says which it shows.
    """

    law: PowerLaw
    modified: PowerLaw
    slope: Estimate
    mtbf: Estimate


def power_law(history: History, confidence: float = CONFIDENCE) -> Growth | TooFew:
    """The fit to failures whose ages are known, with limits (MIL-HDBK-189, 1981, appendix C).

    Those of the slope are exact; those of the MTBF hold it at least as often as stated.
    """
    count, free = len(history.failures), len(history.free)
    logs = sum(log(history.end / age) for age in history.free)
    if free < FEWEST:
        why = f"{free} failures before the end of the watch, {FEWEST} are needed for a trend"
        return TooFew(count, FEWEST, why)
    if count > STEEPEST * logs:
        return TooFew(count, FEWEST, "no power law fits failures that all lie at the end")
    tails = (1 - confidence) / 2, (1 + confidence) / 2
    low, high = (chi_square(2 * free, below) / (2 * logs) for below in tails)
    law = PowerLaw(count, history.end, count / logs)
    mtbf = law.mtbf(history.end)
    factors = mtbf_factors(count, confidence, history.ends_at_failure)
    return Growth(
        law,
        PowerLaw(count, history.end, (free - 1) / logs),
        Estimate(law.slope, low, high),
        Estimate(mtbf, mtbf * factors[0], mtbf * factors[1]),
    )


def grouped_power_law(ends: Sequence[float], counts: Sequence[int]) -> PowerLaw | TooFew:
    """The fit to failures counted by intervals: their ends in order, the first begins at 0."""
    total = sum(counts)
    if total < FEWEST:
        return TooFew(total, FEWEST, f"{total} failures, {FEWEST} are needed for a trend")
    bounds = list(pairwise((0.0, *ends)))

    def excess(slope: float) -> float:
        """How fast the log-likelihood grows with the slope."""
        return sum(
            count * _pull(slope, start / ends[-1], end / ends[-1])
            for (start, end), count in zip(bounds, counts, strict=True)
        )

    if not excess(FLATTEST) > 0 > excess(STEEPEST):
        return TooFew(total, FEWEST, "no power law fits failures that all lie in one interval")
    return PowerLaw(total, ends[-1], root(excess, FLATTEST, STEEPEST))


def _pull(slope: float, start: float, end: float) -> float:
    """(end^b ln end - start^b ln start) / (end^b - start^b), without powers that run to 0."""
    if start == 0:
        return log(end)
    left = expm1(slope * log(start / end))
    return log(end) + (left + 1) * log(start / end) / left


def cramer_von_mises(history: History, slope: float) -> float:
    """How far the failures stray from a power law of this slope, freed of its bias.

    Above about 0.17 they hardly follow one (10 % level, MIL-HDBK-189; value from memory).
    """
    free = history.free
    strays = (
        ((age / history.end) ** slope - (2 * i + 1) / (2 * len(free))) ** 2
        for i, age in enumerate(free)
    )
    return float(1 / (12 * len(free)) + sum(strays))
