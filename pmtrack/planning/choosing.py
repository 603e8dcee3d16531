"""Choosing the days: the fewest visits first, then the days closest to those to aim for."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pmtrack.planning.flow import Flow
from pmtrack.planning.formulation import Formulation, closest_days, fewest_visits
from pmtrack.planning.network import Limits, Network
from pmtrack.planning.program import Solution
from pmtrack.planning.solver import TOLERANCE, rounded, solve
from pmtrack.rules.plan_steps import END, START, Step


@dataclass(frozen=True)
class Chosen:
    """The steps that each task takes, in order; the cost of the plan, and its gap to the bound."""

    ways: Mapping[str, tuple[Step, ...]]
    cost: float
    gap: float


def choose(networks: Sequence[Network], limits: Limits, tolerance: float = TOLERANCE) -> Chosen:
    """The plan: first the fewest visits of the outside firms, then the cheapest with no more.

    The gap is that of the second step; the first is always solved to the end.
    """
    if not networks:
        return Chosen({}, 0.0, 0.0)
    outside = _outside(networks)
    visits = fewest_visits(outside, limits)
    at_most = _count_visits(visits, solve(visits.program, tolerance=0.0)) if outside else {}
    days = closest_days(networks, limits, at_most)
    found = solve(days.program, tolerance)
    ways: dict[str, tuple[Step, ...]] = {}
    for flow in days.flows:
        ways |= _ways(flow, rounded(found.values, flow.columns))
    return Chosen(ways, found.cost, found.gap)


def _outside(networks: Sequence[Network]) -> list[Network]:
    """The networks of outside firms' tasks, and of those that cover them."""
    names = {n.task.name for n in networks if n.task.crew}
    names |= {name for n in networks if n.task.crew for name in n.coverers}
    return [network for network in networks if network.task.name in names]


def _count_visits(made: Formulation, found: Solution) -> dict[str, int]:
    """The visits of each firm in a solution."""
    count: dict[str, int] = defaultdict(int)
    for (firm, _), column in made.visits.items():
        count[firm] += round(found.values[column])
    return dict(count)


def _ways(flow: Flow, units: list[int]) -> dict[str, tuple[Step, ...]]:
    """The way of each task of a flow: unit by unit, always by the earliest day left."""
    left: dict[int, list[tuple[Step, int]]] = defaultdict(list)
    for step, number in zip(flow.steps, units, strict=True):
        left[step.tail] += [(step, number)] if number else []
    ways: dict[str, tuple[Step, ...]] = {}
    for network in flow.networks:
        way: list[Step] = []
        day = START
        while day != END:
            step, number = left[day].pop(0)
            if number > 1:
                left[day].insert(0, (step, number - 1))
            way.append(step)
            day = step.head
        ways[network.task.name] = tuple(way)
    return ways
