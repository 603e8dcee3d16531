"""Failures of a machine of a fleet by its age: the mean cumulative function.

Nelson, Confidence limits for recurrence data, Technometrics 37, 1995; the variance is the robust
one of Lawless and Nadeau, Technometrics 37, 1995, which lets failures of one machine hang together.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import exp, sqrt

from pmtrack.statistics.estimate import CONFIDENCE, Estimate
from pmtrack.statistics.histories import History
from pmtrack.statistics.quantiles import normal


@dataclass(frozen=True)
class MeanCount:
    """At an age at which machines failed: how many were watched, and the mean failures up to it.

    The limits, for this age alone, come from how the machines differ: one alone tells nothing of
    that, so there are none.
    """

    age: float
    at_risk: int
    failures: int
    mean: Estimate
    variance: float


def mean_cumulative(
    histories: Iterable[History], confidence: float = CONFIDENCE
) -> tuple[MeanCount, ...]:
    """The function as its steps up; a machine is watched up to and including its end age."""
    fleet = list(histories)
    mean = 0.0
    strays = [0.0] * len(fleet)
    steps: list[MeanCount] = []
    for age in sorted({age for history in fleet for age in history.failures}):
        counts = [_failed(history, age) for history in fleet]
        watched = sum(count is not None for count in counts)
        failed = sum(count or 0 for count in counts)
        strays = _strayed(strays, counts, watched)
        mean += failed / watched
        variance = sum(stray**2 for stray in strays)
        limits = (
            _limits(mean, variance, confidence) if len(fleet) > 1 else Estimate(mean, None, None)
        )
        steps.append(MeanCount(age, watched, failed, limits, variance))
    return tuple(steps)


def _failed(history: History, age: float) -> int | None:
    """How often a machine failed at just this age; null if it is no longer watched."""
    return history.failures.count(age) if history.end >= age else None


def _strayed(strays: Sequence[float], counts: Sequence[int | None], watched: int) -> list[float]:
    """How far each machine has moved the mean away from where the others put it."""
    step = sum(count or 0 for count in counts) / watched
    return [
        stray if count is None else stray + (count - step) / watched
        for stray, count in zip(strays, counts, strict=True)
    ]


def _limits(mean: float, variance: float, confidence: float) -> Estimate:
    """Limits on the logarithm, which stay above 0."""
    spread = exp(normal(confidence) * sqrt(variance) / mean)
    return Estimate(mean, mean / spread, mean * spread)
