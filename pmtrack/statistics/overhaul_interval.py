"""The interval at which a service is cheapest, and what to do with the present one.

The cost of an hour is that of `age_replacement.best_overhaul`: one service and the failures
expected in a round, over the length of the round.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import exp, hypot, log

from pmtrack.statistics.age_replacement import Costs, best_age, best_overhaul
from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.interval_advice import A_STEP_UP, NEAR, Verdict
from pmtrack.statistics.rounds_fit import RoundsFit
from pmtrack.statistics.weibull import Weibull

_STEPS = 24  # shapes looked at between the limits
_FUZZ = 1e-9


class Brake(StrEnum):
    """What keeps the present interval, or holds a longer one back.

    Near: the best is hardly another. Unsure: its range holds the present one. One step: no round
    was that long yet. Too far: the next longer interval that people set is further off than
    a step. Law: not to be lengthened, whatever the failures tell.
    """

    NEAR = "near"
    UNSURE = "unsure"
    ONE_STEP = "one step"
    TOO_FAR = "too far"
    LAW = "law"


@dataclass(frozen=True)
class Best:
    """The cheapest interval with its 80 % range, in operating hours.

    The value is null where no service is worth its cost by the likeliest law; the upper end is
    null where the range has none, and the lower one where no shape between the limits is above 1.
    `at_failure` is the cheapest age where every repair is taken as a service, too.
    """

    interval: float | None
    low: float | None
    high: float | None
    at_failure: float | None


@dataclass(frozen=True)
class Move:
    """The verdict, the interval to go to in operating hours (the present one if kept), a brake."""

    verdict: Verdict
    interval: float
    brake: Brake | None = None


def best_interval(fit: RoundsFit, costs: Costs) -> Best:
    """The cheapest interval with its range.

    The shape may be anything between its limits, and failures may be more or fewer than came; as
    the two hardly hang together, their ranges on the logarithm are added as squares.
    """
    value = _cheapest(fit.law, costs)
    found = [(_cheapest(fit.law_of(shape), costs), shape) for shape in _between(fit.shape)]
    finite = [(age, shape) for age, shape in found if age is not None]
    at_failure = best_age(fit.law, costs).age if costs.failure > costs.planned else None
    if not finite:
        return Best(None, None, None, at_failure)
    least, most = min(finite), max(finite)
    fewer, more = fit.level
    low = _apart(value or least[0], least[0], more ** (1 / least[1]), -1)
    endless = value is None or len(finite) < len(found)
    high = None if endless else _apart(value or 0.0, most[0], fewer ** (1 / most[1]), 1)
    return Best(value, low, high, at_failure)


def _apart(value: float, by_shape: float, by_level: float, side: int) -> float:
    """One end of the range: two ratios to the value, added as squares of their logarithms."""
    return value * exp(side * hypot(log(by_shape / value), log(by_level)))


def cost_per_hour(law: Weibull, costs: Costs, interval: float) -> float:
    """What service and failures cost for each operating hour at an interval."""
    return (costs.planned + costs.failure * law.hazard_up_to(interval)) / interval


def move(present: float, best: Best, longest: float, by_law: bool = False) -> Move:
    """What to do with the present interval; changed only where the whole range is on one side.

    A longer one goes a step at a time, and never where it is `by_law`.
    """
    if best.interval is not None and abs(best.interval - present) <= NEAR * present * (1 + _FUZZ):
        return Move(Verdict.KEEP, present, Brake.NEAR)
    if best.high is not None and best.interval is not None and best.high < present:
        return Move(Verdict.SHORTEN, best.interval)
    if best.low is not None and best.low <= present:
        return Move(Verdict.KEEP, present, Brake.UNSURE)
    return _longer(present, best.interval, max(present, longest) * A_STEP_UP, by_law)


def _longer(present: float, aimed: float | None, furthest: float, by_law: bool) -> Move:
    if by_law:
        return Move(Verdict.KEEP, present, Brake.LAW)
    if aimed is None or aimed > furthest:
        return Move(Verdict.LENGTHEN, furthest, Brake.ONE_STEP)
    return Move(Verdict.LENGTHEN, aimed)


def _cheapest(law: Weibull, costs: Costs) -> float | None:
    return best_overhaul(law, costs.planned, costs.failure).age


def _between(shape: Estimate) -> list[float]:
    """Shapes from one limit to the other, evenly on the logarithm."""
    low, high = log(shape.low or shape.value), log(shape.high or shape.value)
    return [exp(low + (high - low) * n / _STEPS) for n in range(_STEPS + 1)]
