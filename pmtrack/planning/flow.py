"""Each task as a flow from its start to its end over the days on which it is done.

Tasks with the same ways, minutes and no ties to others share one flow of several units: whichever
of them takes which way makes no difference, and a solver need not try them all.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field

from pmtrack.planning.network import Network
from pmtrack.planning.program import Program
from pmtrack.rules.plan_steps import END, LAST, LEFT_OUT, OWN, START, Step
from pmtrack.rules.shop import Task

Price = Callable[[Step], float]


@dataclass
class Flow:
    """One or several tasks that share their ways: the column of each step, by its day and kind."""

    networks: list[Network]
    columns: list[int] = field(default_factory=list)
    into: dict[tuple[int, str], list[int]] = field(default_factory=lambda: defaultdict(list))

    @property
    def task(self) -> Task:
        """The first of its tasks."""
        return self.networks[0].task

    @property
    def minutes(self) -> float:
        """The minutes of one of its jobs."""
        return float(self.task.minutes or 0)

    @property
    def steps(self) -> tuple[Step, ...]:
        """The ways shared."""
        return self.networks[0].steps

    def own_days(self) -> dict[int, list[int]]:
        """The columns that put the task's own job on a day, by day."""
        return {day: columns for (day, kind), columns in self.into.items() if kind == OWN}


def add_flow(program: Program, networks: list[Network], price: Price) -> Flow:
    """Write a flow down: on each day, what comes in goes out."""
    flow = Flow(networks)
    coming: dict[int, list[int]] = defaultdict(list)
    going: dict[int, list[int]] = defaultdict(list)
    units = len(networks)
    for step in flow.steps:
        column = program.column(price(step), units)
        flow.columns.append(column)
        if step.kind in (LEFT_OUT, LAST):
            program.ways_out.add(column)
        flow.into[step.head, step.kind].append(column)
        going[step.tail].append(column)
        coming[step.head].append(column)
    for day in going | coming:
        balance = {START: units, END: -units}.get(day, 0)
        row = program.row(balance, balance)
        program.put(row, going.get(day, ()))
        program.put(row, coming.get(day, ()), -1)
    return flow


def alike(networks: Sequence[Network], alone: Collection[str]) -> list[list[Network]]:
    """The networks, those together that may share a flow; `alone` names tasks that may not."""
    groups: dict[object, list[Network]] = defaultdict(list)
    for network in networks:
        task = network.task
        shared = (network.steps, task.minutes)
        groups[task.name if task.name in alone else shared].append(network)
    return list(groups.values())
