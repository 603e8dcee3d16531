"""The calls to make: which outside firm to book, for which day, and by when."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from pmtrack.rules.plan import PlacedJob, UnfitJob, Visit, day_to_book
from pmtrack.rules.shop import Supplier
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class Call:
    """A firm to be called by `book_by`, as `day_to_book` tells it, for the jobs of one day.

    `overdue`: that day is past, so the firm has to be asked to come at shorter notice. `placed` is
    False where the plan has no day for the jobs; `day` is then the last one that is on time.
    """

    firm: Supplier
    day: date
    jobs: tuple[PlacedJob, ...] | tuple[UnfitJob, ...]
    book_by: date
    overdue: bool
    placed: bool = True


def calls_to_make(
    visits: Iterable[Visit],
    unfit: Iterable[UnfitJob],
    firms: Sequence[Supplier],
    today: date,
    workdays: Workdays,
) -> list[Call]:
    """The calls for visits still to come and for jobs that their firm's notice keeps from fitting.

    Those overdue come first, then by the day to book by.
    """
    calls = [_for_visit(visit, today) for visit in visits if visit.day >= today]
    calls += [
        Call(firm, day, jobs, by := day_to_book(firm, day, workdays), by < today, placed=False)
        for firm, day, jobs in _unfit_visits(unfit, {firm.code: firm for firm in firms})
    ]
    return sorted(calls, key=lambda c: (not c.overdue, c.book_by, c.day, c.firm.code))


def _for_visit(visit: Visit, today: date) -> Call:
    return Call(visit.supplier, visit.day, visit.jobs, visit.book_by, visit.book_by < today)


def _unfit_visits(
    unfit: Iterable[UnfitJob], known: dict[str, Supplier]
) -> list[tuple[Supplier, date, tuple[UnfitJob, ...]]]:
    """Each firm and day wanted, with its jobs."""
    wanted: dict[tuple[str, date], list[UnfitJob]] = {}
    for job in unfit:
        day = job.window[1] if job.window else job.due_on or job.earliest
        if job.kind == "notice" and job.task.crew and day:
            wanted.setdefault((job.task.crew, day), []).append(job)
    return [
        (known.get(code) or Supplier(code, code), day, tuple(jobs))
        for (code, day), jobs in wanted.items()
    ]
