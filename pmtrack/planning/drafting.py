"""A plan from how the tasks of a shop stand: their ways, the days chosen, the jobs read back."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from math import inf

from pmtrack.planning.choosing import Chosen, choose
from pmtrack.planning.network import CrewDay, Limits, Network
from pmtrack.planning.solver import TOLERANCE
from pmtrack.rules.forecast import Chain
from pmtrack.rules.load import in_house_minutes
from pmtrack.rules.plan import PlacedJob, Plan, name_visits
from pmtrack.rules.plan_reading import Jobs, read_way, reasons
from pmtrack.rules.plan_steps import OWN, Ground, Wishes, steps_of
from pmtrack.rules.shop import Shift, Shop
from pmtrack.rules.workdays import shifts_on

FULL = 0.75  # share of the crew's minutes from which on a day counts as heavy
UNEVEN = 1.25  # the same without crew hours: times the mean of the days
DAY_MINUTES = 24 * 60
Days = frozenset[int]


@dataclass(frozen=True)
class Draft:
    """What a plan is made from.

    `chains` stand where the quarter's first jobs come next; `coverers` names for each task those
    that settle it; `taken` has the in-house minutes promised already for a day (an ordinal);
    `saved` the days of each task's jobs in the saved plan, `before` its jobs; `pins` the days that
    a person fixed for a task.
    """

    shop: Shop
    ground: Ground
    chains: Sequence[Chain]
    coverers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    taken: Mapping[int, float] = field(default_factory=dict)
    before: Sequence[PlacedJob] = ()
    pins: Mapping[str, Days] = field(default_factory=dict)


def make_plan(draft: Draft, tolerance: float = TOLERANCE) -> Plan:
    """The plan of the draft's quarter, within the tolerance of the best one."""
    chains = {chain.task.name: chain for chain in draft.chains}
    chosen, wishes = chosen_ways(draft, tolerance)
    jobs = Jobs()
    for name, way in chosen.ways.items():
        read_way(chains[name], way, draft.ground, wishes[name], jobs)
    load = in_house_minutes(jobs.placed)
    for day, minutes in draft.taken.items():
        load[day] += minutes
    room = None if draft.shop.crew_hours is None else float(draft.shop.crew_hours) * 60
    return Plan(
        jobs=tuple(name_visits(jobs.placed, draft.ground.quarter.name, draft.before)),
        unfit=tuple(reasons(jobs.left_out, draft.ground, load, room)),
        gap=chosen.gap,
    )


def chosen_ways(draft: Draft, tolerance: float = TOLERANCE) -> tuple[Chosen, dict[str, Wishes]]:
    """The way that each task takes in the plan, and what bore on its days."""
    networks, wishes = _networks(draft, {chain.task.name: chain for chain in draft.chains})
    limits = Limits(_crew_days(draft, networks), _shift_minutes(draft))
    return choose(networks, limits, tolerance), wishes


def _networks(draft: Draft, chains: Mapping[str, Chain]) -> tuple[list[Network], dict[str, Wishes]]:
    """The ways of each task, those of covering tasks first, since theirs settle others."""
    notices = {supplier.code: supplier.notice for supplier in draft.shop.suppliers}
    saved: dict[str, set[int]] = defaultdict(set)
    for job in draft.before:
        if job.day >= draft.ground.today:
            saved[job.task.name].add(job.day.toordinal())
    own_days: dict[str, Days] = {}
    networks: list[Network] = []
    wishes: dict[str, Wishes] = {}
    for name in sorted(chains, key=lambda name: (len(draft.coverers.get(name, ())), name)):
        chain = chains[name]
        coverers = tuple(by for by in draft.coverers.get(name, ()) if by in chains)
        wishes[name] = Wishes(
            notice=notices.get(chain.task.crew or "", 0),
            settling=frozenset[int]().union(*(own_days[by] for by in coverers)),
            saved=frozenset(saved[name]) if name in saved else frozenset(),
            pinned=draft.pins.get(name, frozenset()),
        )
        steps = steps_of(chain, draft.ground, wishes[name])
        own_days[name] = frozenset(step.head for step in steps if step.kind == OWN)
        pinned = tuple(sorted(wishes[name].pinned & own_days[name]))  # others cannot be kept
        networks.append(Network(chain.task, steps, coverers, pinned))
    return networks, wishes


def _crew_days(draft: Draft, networks: Iterable[Network]) -> dict[int, CrewDay]:
    """The crew's minutes of each working day, less those taken; without limit if none are given."""
    days = draft.ground.days
    if draft.shop.crew_hours is None:
        heavy = UNEVEN * _usual_minutes(networks) / max(len(days), 1)
        return {day: CrewDay(inf, heavy) for day in days}
    whole = float(draft.shop.crew_hours) * 60
    rooms = {day: max(whole - draft.taken.get(day, 0.0), 0.0) for day in days}
    return {
        day: CrewDay(room, max(FULL * whole - draft.taken.get(day, 0.0), 0.0))
        for day, room in rooms.items()
    }


def _usual_minutes(networks: Iterable[Network]) -> float:
    """In-house minutes of the quarter, were every job on the day to aim for."""
    total = 0.0
    for network in networks:
        if network.task.crew:
            continue
        own = [step for step in network.steps if step.kind == OWN]
        best = {s.tail: s.head for s in sorted(own, key=lambda s: s.cost, reverse=True)}
        day = 0
        while day in best:
            total += network.task.minutes or 0
            day = best[day]
    return total


def _shift_minutes(draft: Draft) -> dict[int, float]:
    """The minutes of each working day's shifts by the clock."""
    minutes = {}
    for ordinal in draft.ground.days:
        shifts = shifts_on(draft.shop, draft.ground.workdays, date.fromordinal(ordinal))
        minutes[ordinal] = float(sum(_minutes(shift) for shift in shifts))
    return minutes


def _minutes(shift: Shift) -> int:
    start = shift.start.hour * 60 + shift.start.minute
    end = shift.end.hour * 60 + shift.end.minute
    return (end - start) % DAY_MINUTES or DAY_MINUTES
