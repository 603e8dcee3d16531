"""Does a mended machine fail more and more often, or less and less?

Formulas: NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4. All chances are two-sided: that
a machine without a trend looks at least as far off, either way.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import log, sqrt
from statistics import NormalDist

from pmtrack.statistics.histories import History
from pmtrack.statistics.quantiles import chi_square_chance

SURE = 0.95  # confidence from which a trend is called one; common practice, no source
FEWEST = 4  # failures free to come at any age; common practice, no source


class Verdict(StrEnum):
    """What a test says of the failures."""

    WORSE = "worse"
    BETTER = "better"
    NO_TREND = "no trend seen"
    TOO_FEW = "too few"


@dataclass(frozen=True)
class Trend:
    """The verdict, the failures it rests on, the test's own number and its two-sided chance.

    The last two are null if there are too few failures.
    """

    verdict: Verdict
    failures: int
    statistic: float | None = None
    chance: float | None = None


def laplace(history: History, confidence: float = SURE) -> Trend:
    """Whether the failures lie late: above 0 more often, below 0 less often; a normal value."""
    free = history.free
    if len(free) < FEWEST:
        return Trend(Verdict.TOO_FEW, len(history.failures))
    middle = sum(free) / len(free) / history.end
    value = sqrt(12 * len(free)) * (middle - 0.5)
    chances = NormalDist().cdf(value), NormalDist().cdf(-value)
    return judged(len(history.failures), value, chances, confidence)


def military(history: History, confidence: float = SURE) -> Trend:
    """2 sum ln(end / age): chi-square with two degrees of freedom a failure, small where worse.

    The best test if failures follow a power law (MIL-HDBK-189, 1981).
    """
    free = history.free
    if len(free) < FEWEST:
        return Trend(Verdict.TOO_FEW, len(history.failures))
    value = 2 * sum(log(history.end / age) for age in free)
    below = chi_square_chance(2 * len(free), value)
    return judged(len(history.failures), value, (1 - below, below), confidence)


def judged(failures: int, value: float, chances: tuple[float, float], confidence: float) -> Trend:
    """The verdict, from the chances of looking at least so much better, and so much worse."""
    chance = min(1.0, 2 * min(chances))
    verdict = Verdict.BETTER if chances[0] < chances[1] else Verdict.WORSE
    if chance > 1 - confidence:
        verdict = Verdict.NO_TREND
    return Trend(verdict, failures, value, chance)
