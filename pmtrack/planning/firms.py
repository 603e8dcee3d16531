"""The days of outside firms, chosen firm by firm: each job with the tasks that it settles.

Visits are what makes a plan hard to solve, and a firm's visits bear on the rest only through the
tasks that its jobs settle. Those are told by shortest ways, given a price for the crew's minutes.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from pmtrack.planning.formulation import BREAKING_A_PIN, Crowded, add_visit, full_price
from pmtrack.planning.network import Limits, Network
from pmtrack.planning.program import Program
from pmtrack.planning.solver import solve
from pmtrack.rules.plan_steps import END, LAST, OWN, SETTLED, START, Step

NEAR, NODES = 0.004, 5  # gap and branches that do for one firm
Minutes = Mapping[int, float]  # price of a minute of the crew, by day
Days = dict[str, int | None]  # of each firm's task, the day of its one job


@dataclass(frozen=True)
class Bundle:
    """A firm's task that is done once at most, and those that only it settles."""

    network: Network
    settled: tuple[Network, ...]

    def costs(self, minutes: Minutes) -> dict[int | None, float]:
        """What it costs to do the task on each day, or (None) not at all."""
        found = _by_day(self.network, OWN, minutes)
        pins = self.network.pinned
        for other in self.settled:
            able = _by_day(other, SETTLED, minutes)
            found = {day: cost + able.get(day, inf) for day, cost in found.items()}
        return {
            day: cost + BREAKING_A_PIN * (len(pins) - (day in pins))
            for day, cost in found.items()
            if cost < inf
        }


def bundles(networks: Sequence[Network], crowded: Crowded) -> dict[str, list[Bundle]]:
    """By firm, its tasks with those that they settle: of firms that can be planned by themselves.

    That is not so where a task may come twice, is settled itself, or competes for its machine.
    """
    tied = {name for names in crowded.values() for name in names}
    settled: dict[str, list[Network]] = defaultdict(list)
    for network in networks:
        for name in network.coverers:
            settled[name].append(network)
    by_firm: dict[str, list[Bundle]] = defaultdict(list)
    for network in networks:
        if network.task.crew:
            bundle = Bundle(network, tuple(settled[network.task.name]))
            by_firm[network.task.crew].append(bundle)
    return {
        firm: found
        for firm, found in by_firm.items()
        if all(_stands_alone(bundle, tied) for bundle in found)
    }


def _stands_alone(bundle: Bundle, tied: set[str]) -> bool:
    network = bundle.network
    names = {network.task.name, *(other.task.name for other in bundle.settled)}
    if names & tied or network.coverers or not _once_at_most(network.steps):
        return False
    return not any(
        other.task.crew or other.pinned or len(other.coverers) > 1 for other in bundle.settled
    )


def _once_at_most(steps: Sequence[Step]) -> bool:
    """Whether no own job can follow another."""
    after: set[int] = set()
    for step in sorted(steps):
        if step.tail in after and step.kind == OWN:
            return False
        if step.tail in after or step.kind == OWN:
            after.add(step.head)
    return True


def _by_day(network: Network, kind: str, minutes: Minutes) -> dict[int | None, float]:
    """The cheapest ways with one step of a kind, by its day; under None the one without any."""
    in_house = 0.0 if network.task.crew else float(network.task.minutes or 0)
    priced = [(step, full_price(step)) for step in sorted(network.steps)]
    priced = [
        (step, cost + minutes.get(step.head, 0.0) * in_house * (step.kind == OWN))
        for step, cost in priced
    ]
    others = [(step, cost) for step, cost in priced if step.kind != kind]
    there, on = {START: 0.0}, {END: 0.0}
    for step, cost in others:
        there[step.head] = min(there.get(step.head, inf), there.get(step.tail, inf) + cost)
    for step, cost in reversed(others):
        on[step.tail] = min(on.get(step.tail, inf), cost + on.get(step.head, inf))
    found: dict[int | None, float] = {None: there.get(END, inf)}
    for step, cost in priced:
        if step.kind == kind:
            whole = there.get(step.tail, inf) + cost + on.get(step.head, inf)
            found[step.head] = min(found.get(step.head, inf), whole)
    return found


def days_of_firms(
    firms: Mapping[str, Sequence[Bundle]],
    limits: Limits,
    at_most: Mapping[str, int],
    minutes: Minutes,
) -> tuple[Days, float]:
    """The best days of the firms' tasks at a price of the crew's minutes, and what they save.

    Returns the days, and the bound that the cost of all cannot lie below.
    """
    days, bound = Days(), 0.0
    for firm, found in firms.items():
        options = {bundle.network.task.name: bundle.costs(minutes) for bundle in found}
        lengths = {b.network.task.name: float(b.network.task.minutes or 0) for b in found}
        chosen, least = _best_days(options, lengths, limits, at_most.get(firm, 0))
        days |= chosen
        bound += least
    return days, bound


def _best_days(
    options: Mapping[str, Mapping[int | None, float]],
    minutes: Mapping[str, float],
    limits: Limits,
    at_most: int,
) -> tuple[Days, float]:
    """The days of one firm's tasks, given what each costs, in no more visits than that."""
    program = Program()
    columns: dict[tuple[str, int | None], int] = {}
    by_day: dict[int, list[tuple[float, list[int]]]] = defaultdict(list)
    for name, costs in options.items():
        row = program.row(1, 1)
        for day, cost in costs.items():
            column = columns[name, day] = program.column(cost)
            program.put(row, [column])
            if day is not None:
                by_day[day].append((minutes[name], [column]))
    visits = [add_visit(program, jobs, limits, day, 0.0) for day, jobs in by_day.items()]
    program.put(program.row(most=at_most), visits)
    found = solve(program, tolerance=NEAR, nodes=NODES)
    days = {name: day for (name, day), column in columns.items() if found.values[column] > 0.5}
    return days, found.bound


def with_days(networks: Iterable[Network], firms: Iterable[Bundle], days: Days) -> list[Network]:
    """The networks with only those ways in which the firms' tasks are done on those days."""
    only: dict[str, tuple[Step, ...]] = {}
    for bundle in firms:
        network = bundle.network
        day = days[network.task.name]
        only[network.task.name] = _only(network.steps, OWN, day)
        for other in bundle.settled:
            only[other.task.name] = _only(other.steps, SETTLED, day)
    return [
        replace(network, steps=only[network.task.name], coverers=())
        if network.task.name in only
        else network
        for network in networks
    ]


def _only(steps: Iterable[Step], kind: str, day: int | None) -> tuple[Step, ...]:
    """The steps of ways that pass a day by a step of that kind, and have no other of the kind."""
    return tuple(
        step
        for step in steps
        if (step.head == day if step.kind == kind else day is None or not _passes(step, day))
    )


def _passes(step: Step, day: int) -> bool:
    return step.tail < day and (step.kind == LAST or step.head >= day)
