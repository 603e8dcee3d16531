"""The plan as a program: the flows of all tasks, and the rows that tie them together."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import gcd, inf

from pmtrack.planning.flow import Flow, add_flow, alike
from pmtrack.planning.network import Limits, Network
from pmtrack.planning.program import Program
from pmtrack.rules.plan_steps import OWN, SETTLED, Step

A_JOB = 0.5  # of two plans equally close to the due days, the one with fewer jobs is better
A_BREAK = 100.0  # of what a plan does only where it must, by the steps' own count
BREAKING_A_PIN = 20_000.0
A_HEAVY_MINUTE = 0.02

Crowded = Mapping[tuple[str, int], Sequence[str]]  # by machine and day, the tasks that compete


@dataclass
class Formulation:
    """A program, its flows, the column of each visit by firm and day, the crew's row by day."""

    program: Program = field(default_factory=Program)
    flows: list[Flow] = field(default_factory=list)
    visits: dict[tuple[str, int], int] = field(default_factory=dict)
    crew_rows: dict[int, int] = field(default_factory=dict)


def fewest_visits(networks: Sequence[Network], limits: Limits) -> Formulation:
    """The program whose cost is jobs left out and moved, then the number of visits."""
    made = Formulation()
    made.flows = [add_flow(made.program, [network], rigid_price) for network in networks]
    _tie(made, crowded_days(networks, limits), limits)
    _add_visits(made, limits, price=1.0)
    return made


def closest_days(
    networks: Sequence[Network],
    limits: Limits,
    visits_at_most: Mapping[str, int],
    decided: Collection[str] = (),
) -> Formulation:
    """The program whose cost is the whole plan's, with no more visits of a firm than given.

    The days of the firms decided are settled already.
    """
    made = Formulation()
    crowded = crowded_days(networks, limits)
    groups = alike(networks, _tied(networks, crowded, decided))
    made.flows = [add_flow(made.program, group, full_price) for group in groups]
    _tie(made, crowded, limits)
    _add_visits(made, limits, price=0.0, decided=decided)
    by_firm: dict[str, list[int]] = defaultdict(list)
    for (firm, _), column in made.visits.items():
        by_firm[firm].append(column)
    for firm, columns in by_firm.items():
        made.program.put(made.program.row(most=visits_at_most[firm]), columns)
    _limit_crew(made, limits)
    return made


def rigid_price(step: Step) -> float:
    """The price of a step as far as jobs left out and moved go."""
    return A_BREAK * step.breaks


def full_price(step: Step) -> float:
    """The whole price of a step: the job itself and its distance from the day to aim for, too."""
    own = A_JOB + step.cost if step.kind == OWN else 0.0
    return own + rigid_price(step)


def _tied(networks: Sequence[Network], crowded: Crowded, decided: Collection[str]) -> set[str]:
    """The tasks whose way matters to another task's: they share no flow."""
    tied = {name for network in networks for name in network.coverers}
    tied |= {n.task.name for n in networks if n.coverers or n.pinned}
    tied |= {n.task.name for n in networks if n.task.crew and n.task.crew not in decided}
    return tied.union(*crowded.values())


def _tie(made: Formulation, crowded: Crowded, limits: Limits) -> None:
    """Write down what ties the flows of tasks: covering jobs, pins, machines that stand."""
    alone = {flow.task.name: flow for flow in made.flows if len(flow.networks) == 1}
    for flow in alone.values():
        _settle(made.program, flow, [alone[name].own_days() for name in flow.networks[0].coverers])
        for day in flow.networks[0].pinned:
            row = made.program.row(least=1)
            made.program.put(row, [*flow.into.get((day, OWN), ())])
            broken = made.program.column(BREAKING_A_PIN)
            made.program.put(row, [broken])
            made.program.ways_out.add(broken)
    for (_, day), names in crowded.items():
        flows = [alone[name] for name in names]
        lengths, room = _fitted([flow.minutes for flow in flows], limits.shifts.get(day, 0.0))
        row = made.program.row(most=room)
        for flow, minutes in zip(flows, lengths, strict=True):
            made.program.put(row, flow.into[day, OWN], minutes)


def _settle(program: Program, flow: Flow, coverers: Sequence[Mapping[int, list[int]]]) -> None:
    """A task passes through the days of the jobs that cover it, settled by them."""
    for day in sorted({day for coverer in coverers for day in coverer}):
        settled = flow.into.get((day, SETTLED), [])
        by = [coverer[day] for coverer in coverers if day in coverer]
        for columns in by:  # a covering job settles
            row = program.row(least=0, most=0 if len(by) == 1 else inf)
            program.put(row, settled)
            program.put(row, columns, -1)
        if len(by) > 1:  # nothing is settled but by one of them
            row = program.row(most=0)
            program.put(row, settled)
            program.put(row, [column for columns in by for column in columns], -1)


def _add_visits(
    made: Formulation, limits: Limits, price: float, decided: Collection[str] = ()
) -> None:
    """A firm's jobs on a day need its visit on that day, which lasts no longer than the shifts."""
    program = made.program
    by_visit: dict[tuple[str, int], list[tuple[Flow, list[int]]]] = defaultdict(list)
    for flow in made.flows:
        if flow.task.crew and flow.task.crew not in decided:
            for day, columns in flow.own_days().items():
                by_visit[flow.task.crew, day].append((flow, columns))
    for (firm, day), jobs in by_visit.items():
        lengths = [(flow.minutes, columns) for flow, columns in jobs]
        made.visits[firm, day] = add_visit(program, lengths, limits, day, price)


def add_visit(
    program: Program,
    jobs: Sequence[tuple[float, Sequence[int]]],
    limits: Limits,
    day: int,
    price: float,
) -> int:
    """The column of a visit on a day, for jobs with their minutes and columns."""
    visit = program.column(price)
    for _, columns in jobs:
        row = program.row(most=0)
        program.put(row, columns)
        program.put(row, [visit], -1)
    lengths, room = _fitted([minutes for minutes, _ in jobs], limits.shifts.get(day, 0.0))
    if sum(lengths) > room:
        row = program.row(most=0)
        program.put(row, [visit], -room)
        for (_, columns), length in zip(jobs, lengths, strict=True):
            program.put(row, columns, length)
    return visit


def _fitted(minutes: Sequence[float], room: float) -> tuple[list[float], float]:
    """Lengths of jobs and room for them: a longer one fills the room, odd minutes are no room.

    Without the odd minutes, that no sum of the lengths can fill, fractions tell more.
    """
    lengths = [min(length, room) for length in minutes]
    unit = gcd(*(round(length) for length in lengths)) or 1
    return lengths, room - room % unit


def _limit_crew(made: Formulation, limits: Limits) -> None:
    """The in-house minutes of each day: never above the crew's, and dear where the day is heavy."""
    program = made.program
    by_day: dict[int, list[tuple[float, list[int]]]] = defaultdict(list)
    for flow in made.flows:
        if not flow.task.crew and flow.minutes:
            for day, columns in flow.own_days().items():
                by_day[day].append((flow.minutes, columns))
    for day, jobs in sorted(by_day.items()):
        room = limits.crew_on(day)
        row = made.crew_rows[day] = program.row(most=room.heavy_from)
        for minutes, columns in jobs:
            program.put(row, columns, minutes)
        heavy = program.column(A_HEAVY_MINUTE, room.most - room.heavy_from, whole=False)
        program.put(row, [heavy], -1)


def crowded_days(networks: Iterable[Network], limits: Limits) -> Crowded:
    """Machines and days on which jobs that need the machine down could outlast the shifts."""
    users: dict[tuple[str, int], dict[str, float]] = defaultdict(dict)
    for network in networks:
        task = network.task
        if task.machine_down and task.minutes:
            for step in network.steps:
                if step.kind == OWN:
                    users[task.machine, step.head][task.name] = task.minutes
    return {
        (machine, day): sorted(minutes)
        for (machine, day), minutes in users.items()
        if len(minutes) > 1 and sum(minutes.values()) > limits.shifts.get(day, 0.0)
    }
