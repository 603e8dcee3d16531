"""What a new plan changes against the one before, and why."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from pmtrack.rules.plan import PlacedJob, Plan, UnfitJob
from pmtrack.rules.plan_reasons import Meanwhile, Reasons, Sides, listed

KINDS = ("moved", "added", "dropped", "unfit", "pinned", "released", "visit")


@dataclass(frozen=True)
class PlanChange:
    """One change of a plan. `kind` is one of KINDS, `name` that of the task or the visit.

    `was` is the day before and `day` the day now, each None where there is none.
    """

    kind: str
    key: str
    name: str
    was: date | None
    day: date | None
    why: str


def changes(before: Plan, after: Plan, meanwhile: Meanwhile) -> list[PlanChange]:
    """The changes from one plan of a quarter to the next: jobs in order of their days, then visits.

    A job that keeps its day is no change, even where its due date or its window is another now.
    """
    sides = Sides.of(before, after)
    reasons = Reasons(sides, meanwhile)
    jobs = [*_placed(sides, reasons), *_unfit(sides), *_dropped(sides, reasons)]
    return [*_in_order(jobs), *_in_order(_visits(sides, meanwhile))]


def _in_order(found: Iterable[PlanChange]) -> list[PlanChange]:
    return sorted(found, key=lambda c: (c.day or c.was or date.max, c.name, c.key))


def _placed(sides: Sides, reasons: Reasons) -> Iterable[PlanChange]:
    for key, new in sides.new.items():
        old = sides.old.get(key)
        if old is None:
            yield PlanChange("added", key, new.task.name, None, new.day, reasons.added(new))
        elif old.day != new.day:
            why = reasons.moved(old, new)
            yield PlanChange("moved", key, new.task.name, old.day, new.day, why)
        elif old.pinned != new.pinned:
            kind = "pinned" if new.pinned else "released"
            yield PlanChange(kind, key, new.task.name, old.day, new.day, "it keeps its day")


def _unfit(sides: Sides) -> Iterable[PlanChange]:
    """Jobs that have no day now, and had one before or were not there."""
    for key, job in sides.new_unfit.items():
        if key not in sides.old_unfit:
            yield PlanChange("unfit", key, job.task.name, sides.day_before(key), None, job.reason)


def _dropped(sides: Sides, reasons: Reasons) -> Iterable[PlanChange]:
    before: dict[str, PlacedJob | UnfitJob] = {**sides.old, **sides.old_unfit}
    for key, gone in before.items():
        if key not in sides.new and key not in sides.new_unfit:
            was = sides.day_before(key)
            why = reasons.dropped(key, gone.task)
            yield PlanChange("dropped", key, gone.task.name, was, None, why)


def _visits(sides: Sides, meanwhile: Meanwhile) -> Iterable[PlanChange]:
    """Visits that are new, fall away, move, or are made up of other jobs; done ones are no news."""
    old, new = _by_visit(sides.old), _by_visit(sides.new)
    for name in sorted(old.keys() | new.keys()):
        was, now = old.get(name, {}), new.get(name, {})
        days = [next((job.day for job in jobs.values()), None) for jobs in (was, now)]
        left = {key: job for key, job in was.items() if key not in meanwhile.done}
        if (left or now) and (left.keys() != now.keys() or days[0] != days[1]):
            yield PlanChange("visit", name, name, days[0], days[1], _make_up(left, now))


def _by_visit(jobs: Mapping[str, PlacedJob]) -> dict[str, dict[str, PlacedJob]]:
    found: dict[str, dict[str, PlacedJob]] = {}
    for key, job in jobs.items():
        if job.visit:
            found.setdefault(job.visit, {})[key] = job
    return found


def _make_up(was: Mapping[str, PlacedJob], now: Mapping[str, PlacedJob]) -> str:
    """How the jobs of a visit differ."""
    joined = listed(job.task.name for key, job in now.items() if key not in was)
    left = listed(job.task.name for key, job in was.items() if key not in now)
    if not was:
        return f"new, for {joined}"
    if not now:
        return f"falls away; it was for {left}"
    words = [f"now with {joined}"] if joined else []
    words += [f"without {left}"] if left else []
    return "; ".join(words) or "with the same jobs"
