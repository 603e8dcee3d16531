"""Choosing the days: the fewest visits first, then the days closest to those to aim for."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

from pmtrack.planning.firms import Bundle, Days, Minutes, bundles, days_of_firms, with_days
from pmtrack.planning.flow import Flow
from pmtrack.planning.formulation import (
    Formulation,
    closest_days,
    crowded_days,
    fewest_visits,
)
from pmtrack.planning.network import Limits, Network
from pmtrack.planning.program import Solution
from pmtrack.planning.solver import TOLERANCE, rounded, row_prices, solve, solve_apart
from pmtrack.rules.plan_steps import END, START, Step

ROUNDS = 3  # of choosing the firms' days first
MANY = 200  # tasks from which on the days of firms are chosen before all others


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
    at_most = _count_visits(visits, solve_apart(visits.program)) if outside else {}
    crowded = crowded_days(networks, limits)
    by_firm = bundles(networks, crowded) if tolerance > 0 and len(networks) > MANY else {}
    if by_firm:
        return _firm_by_firm(Shared(networks, limits, at_most, by_firm), tolerance)
    days = closest_days(networks, limits, at_most)
    visits_first = list(days.visits.values())
    return _chosen(days, solve(days.program, tolerance, first=visits_first))


@dataclass(frozen=True)
class Shared:
    """What every round of choosing the firms' days starts from."""

    networks: Sequence[Network]
    limits: Limits
    at_most: Mapping[str, int]
    by_firm: Mapping[str, Sequence[Bundle]]

    def days(self, minutes: Minutes) -> tuple[Days, float]:
        """The firms' days at a price of the crew's minutes, and the bound of their cost."""
        return days_of_firms(self.by_firm, self.limits, self.at_most, minutes)

    def with_days(self, days: Days) -> Formulation:
        """The program of the whole plan, with the firms' days chosen."""
        networks = with_days(self.networks, self._bundles, days)
        return closest_days(networks, self.limits, self.at_most, self.by_firm)

    def cost(self, days: Days, minutes: Minutes) -> float:
        """What the firms' tasks, and those that they settle, cost with these days."""
        return sum(b.costs(minutes)[days[b.network.task.name]] for b in self._bundles)

    def minutes_alone(self) -> Minutes:
        """What the crew's minutes are worth, roughly: as if the firms did not come."""
        made = self.with_days({bundle.network.task.name: None for bundle in self._bundles})
        return _minutes(made, row_prices(made.program))

    @cached_property
    def _bundles(self) -> list[Bundle]:
        return [bundle for firm in self.by_firm.values() for bundle in firm]


def _firm_by_firm(shared: Shared, tolerance: float) -> Chosen:
    """The plan with the days of the firms chosen before all others.

    Between the rounds the firms learn what the crew's minutes are worth on each day. What they
    could still save at those prices is how far the plan may lie above the best one.
    """
    best, bound = Chosen({}, inf, 1.0), -inf
    known = [shared.minutes_alone()]
    for _ in range(ROUNDS):
        days, _ = shared.days(_mean(known))
        made = shared.with_days(days)
        found = solve(made.program, tolerance / 2)
        if found.cost < best.cost:
            best = _chosen(made, found)
        minutes = _minutes(made, found.row_prices)
        _, least = shared.days(minutes)
        saved = shared.cost(days, minutes) - least
        bound = max(bound, found.with_fractions - saved)
        best = replace(best, gap=Solution([], best.cost, bound).gap)
        if best.gap <= tolerance:
            break
        known.append(minutes)
    return best


def _mean(known: Sequence[Minutes]) -> Minutes:
    """The mean of several rounds' prices: those of one round alone swing from day to day."""
    days = {day for minutes in known for day in minutes}
    return {day: sum(m.get(day, 0.0) for m in known) / len(known) for day in days}


def _minutes(made: Formulation, row_prices: Sequence[float]) -> Minutes:
    """The price of the crew's minutes of each day."""
    return {day: row_prices[row] for day, row in made.crew_rows.items()}


def _chosen(made: Formulation, found: Solution) -> Chosen:
    ways: dict[str, tuple[Step, ...]] = {}
    for flow in made.flows:
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
