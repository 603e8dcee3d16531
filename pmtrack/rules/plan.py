"""A quarter's plan: each job on a day, visits of outside firms, and what does not fit."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby

from pmtrack.rules.shop import Supplier, Task
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class Quarter:
    """A quarter as written, with its first and last date."""

    name: str
    first: date
    last: date


@dataclass(frozen=True)
class PlacedJob:
    """A job on the day chosen for it; `window` is the first and last day it may be done on.

    `key` names the job in every plan and calendar until it is done. `visit` names the outside
    firm's visit it belongs to. `why` tells why it is due, `remarks` what is unusual about it.
    """

    key: str
    task: Task
    due_on: date
    day: date
    window: tuple[date, date]
    lead: int
    due_range: tuple[date, date] | None = None
    pinned: bool = False
    visit: str | None = None
    why: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True)
class UnfitJob:
    """A job that has no day in the plan: the reason, what would cure it, the first day it could be.

    `kind` is `crew`, `notice`, `closed`, `shift` or `unknown`: what stands in its way.
    """

    key: str
    task: Task
    kind: str
    reason: str
    cure: str
    due_on: date | None = None
    window: tuple[date, date] | None = None
    earliest: date | None = None


@dataclass(frozen=True)
class Plan:
    """A plan of a quarter; `gap` is how far it may lie above the best, as a share of its cost."""

    jobs: tuple[PlacedJob, ...] = ()
    unfit: tuple[UnfitJob, ...] = ()
    gap: float = 0.0


@dataclass(frozen=True)
class Visit:
    """One call-out of an outside firm: several jobs on one day, to be booked by `book_by`."""

    name: str
    supplier: Supplier
    day: date
    jobs: tuple[PlacedJob, ...]
    book_by: date

    @property
    def minutes(self) -> int:
        """The minutes of all its jobs."""
        return sum(job.task.minutes or 0 for job in self.jobs)


def day_to_book(firm: Supplier, day: date, workdays: Workdays) -> date:
    """The last working day on which a firm, called to come on a day, still has its notice."""
    latest = day - timedelta(days=firm.notice)
    return workdays.last_through(latest) or latest


def visits_of(
    jobs: Iterable[PlacedJob], suppliers: Sequence[Supplier], workdays: Workdays
) -> list[Visit]:
    """The visits of a plan, by day and name."""
    known = {supplier.code: supplier for supplier in suppliers}
    visiting = sorted(
        (job for job in jobs if job.visit), key=lambda j: (j.visit or "", j.task.name)
    )
    found = []
    for name, group in groupby(visiting, key=lambda job: job.visit or ""):
        together = tuple(group)
        code = together[0].task.crew or ""
        supplier = known.get(code) or Supplier(code, code)
        day = together[0].day
        found.append(Visit(name, supplier, day, together, day_to_book(supplier, day, workdays)))
    return sorted(found, key=lambda visit: (visit.day, visit.name))


def name_visits(
    jobs: Iterable[PlacedJob], quarter: str, before: Iterable[PlacedJob] = ()
) -> list[PlacedJob]:
    """The jobs with their visits named: one visit a firm and day.

    A visit keeps the name it has in the plan `before`, where it takes over most of its jobs, so
    that a visit that moves stays the same event in everybody's calendar.
    """
    known = {job.key: job.visit for job in before if job.visit}
    taken = set(known.values())
    named: list[PlacedJob] = []
    used: set[str] = set()
    ordered = sorted(jobs, key=lambda j: (j.task.crew or "", j.day, j.task.name))
    for (crew, _), group in groupby(ordered, key=lambda job: (job.task.crew or "", job.day)):
        together = list(group)
        if not crew:
            named += together
            continue
        olds = [known[job.key] for job in together if job.key in known]
        best = sorted(set(olds) - used, key=lambda name: (-olds.count(name), name or ""))
        name = best[0] if best else _new_name(f"{crew} {quarter}", taken | used)
        assert name is not None  # noqa: S101 - names in `known` are not empty
        used.add(name)
        named += [replace(job, visit=name) for job in together]
    return sorted(named, key=lambda job: (job.day, job.task.name, job.key))


def _new_name(stem: str, taken: set[str | None] | set[str]) -> str:
    number = 1
    while f"{stem} visit {number}" in taken:
        number += 1
    return f"{stem} visit {number}"
