"""The cheapest age for planned renewal read from a curve of the share alive, without any law.

The cost is that of age replacement. Between two points the curve is straight, so the turning
point of the cost there is the root of a quadratic equation.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from pmtrack.statistics.age_replacement import Costs, Renewal
from pmtrack.statistics.kaplan_meier import Step

Point = tuple[float, float]  # age, and the share that outlasts it


def step_points(steps: Iterable[Step], longest: float) -> tuple[Point, ...]:
    """A product-limit curve as points, straight down at its steps and level up to the longest."""
    points = [(0.0, 1.0)]
    for step in steps:
        points += [(step.amount, points[-1][1]), (step.amount, step.alive.value)]
    return (*points, (longest, points[-1][1]))


def best_age_on(curve: Sequence[Point], costs: Costs) -> Renewal:
    """The optimum on a curve that begins at (0, 1) and never rises.

    None where the curve's end is cheapest: then either all have failed by it, or the lives do not
    tell what lies beyond, and the cost is that of its end.
    """
    cost, age = min(_candidates(curve, costs))
    end, left = curve[-1]
    if left > 0:
        return Renewal(age if age < end else None, cost, None)
    area = sum(
        (high + low) / 2 * (until - start) for (start, high), (until, low) in pairwise(curve)
    )
    failing = costs.failure / area
    return Renewal(age, cost, failing) if cost < failing else Renewal(None, failing, failing)


def _candidates(curve: Sequence[Point], costs: Costs) -> Iterator[tuple[float, float]]:
    """The ages that may be the cheapest, each after its cost, in order of age."""
    area = 0.0
    for (start, alive), (end, left) in pairwise(curve):
        if end > start:
            part = _Part(area, alive, (alive - left) / (end - start))
            yield from (
                (part.cost(run, costs), start + run) for run in part.runs(end - start, costs)
            )
            area = part.area_after(end - start)


@dataclass(frozen=True)
class _Part:
    """A straight part of the curve: area before it, share alive at its start, and its fall."""

    area: float
    alive: float
    fall: float

    def area_after(self, run: float) -> float:
        """Area under the curve up to so far into this part."""
        return self.area + (self.alive - self.fall * run / 2) * run

    def cost(self, run: float, costs: Costs) -> float:
        """Cost per unit of the meter when renewed so far into this part."""
        alive = self.alive - self.fall * run
        return (costs.planned * alive + costs.failure * (1 - alive)) / self.area_after(run)

    def runs(self, length: float, costs: Costs) -> Iterator[float]:
        """Where the cost turns inside this part, if it does, and its end."""
        grows = (costs.failure - costs.planned) * self.fall
        if grows > 0:
            start = costs.planned * self.alive + costs.failure * (1 - self.alive)
            half = start * self.fall
            under = half**2 - 2 * grows * self.fall * (grows * self.area - start * self.alive)
            run = (sqrt(max(under, 0.0)) - half) / (grows * self.fall)
            if 0 < run < length:
                yield run
        yield length
