"""Preventive maintenance as work: jobs done, the hours they took, and what they cost."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.rules.shop import Supplier, Task
from pmtrack.rules.throughput import total
from pmtrack.rules.usage import ZERO

Completion = tuple[Task, date, int | None]  # what was done, when, and the minutes entered


@dataclass(frozen=True)
class Rates:
    """Money for a technician hour of the shop's crew, and the outside firms by code."""

    crew: Fraction | None = None
    firms: Mapping[str, Supplier] | None = None


@dataclass(frozen=True)
class DoneWork:
    """One job done on a machine: the hours it took, and its cost where that is known."""

    machine: str
    day: date
    hours: Fraction
    cost: Fraction | None


def done_work(completions: Iterable[Completion], rates: Rates) -> list[DoneWork]:
    """The work of the completions; without minutes entered a job took its planned minutes.

    Where the crew has a rate, an in-house job costs its hours, and a firm's job its share of the
    call-out: one for each firm and day, in equal parts of the jobs done then.
    """
    done = list(completions)
    visits = Counter((task.crew, day) for task, day, _ in done)
    return [_work(one, rates, visits[one[0].crew, one[1]]) for one in done]


def _work(completion: Completion, rates: Rates, jobs_of_visit: int) -> DoneWork:
    task, day, entered = completion
    hours = Fraction(entered if entered is not None else task.minutes or 0, 60)
    if rates.crew is None:
        cost = None
    elif task.crew is None:
        cost = hours * rates.crew
    else:
        cost = _call_out(task.crew, rates) / jobs_of_visit
    return DoneWork(task.machine, day, hours, cost)


def _call_out(crew: str, rates: Rates) -> Fraction:
    firm = (rates.firms or {}).get(crew)
    return (firm.callout_cost if firm else None) or ZERO


@dataclass(frozen=True)
class WorkTotals:
    """Jobs of preventive maintenance done, their hours, and their cost where it is known."""

    jobs: int = 0
    hours: Fraction = ZERO
    cost: Fraction | None = None


def tally_work(done: Sequence[DoneWork]) -> WorkTotals:
    """Several jobs as one."""
    hours = sum((work.hours for work in done), ZERO)
    return WorkTotals(len(done), hours, total(work.cost for work in done))


def work_together(totals: Iterable[WorkTotals]) -> WorkTotals:
    """The work on several machines as one."""
    each = list(totals)
    return WorkTotals(
        sum(t.jobs for t in each), sum((t.hours for t in each), ZERO), total(t.cost for t in each)
    )
