"""Jobs planned for the coming days, and the day on which they wear each tool out."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from pmtrack.errors import UnreadableInput
from pmtrack.rules.quantity import parse_quantity, shorten
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear import ToolWear, nearness, order_by
from pmtrack.rules.wear_hits import Factors


def parse_parts(text: str) -> int:
    """How many parts are to be made. Raises UnreadableInput unless a whole number, 1 or more."""
    value = parse_quantity(text)
    if value < 1 or value.denominator != 1:
        told = f"'{shorten(text)}' is no number of parts"
        raise UnreadableInput(f"{told}; write a whole number, 1 or more")
    return value.numerator


@dataclass(frozen=True)
class PlannedRun:
    """Parts of a program to be made on a day; no machine: the tools' own."""

    line: int
    day: date
    program: str
    parts: Fraction
    material: str | None = None
    machine: str | None = None


@dataclass(frozen=True)
class WearByJobs:
    """How a tool stands, with its days by the jobs.

    `added` are the wear hits of all jobs; None where the jobs do not wear it, but a meter does.
    """

    wear: ToolWear
    added: Fraction | None


def still_to_come(
    jobs: Sequence[PlannedRun], day: date, made: Iterable[tuple[str, str, Fraction]]
) -> list[PlannedRun]:
    """The jobs from a day on, in order of days, less what was already made on that day.

    `made` are the good parts logged that day by program and machine; they are taken off the day's
    rows from the first on, so that no hits come twice.
    """
    logged = list(made)
    found = []
    for job in sorted((j for j in jobs if j.day >= day), key=lambda j: (j.day, j.line)):
        if job.day == day:
            job, logged = _less(job, logged)
        if job.parts:
            found.append(job)
    return found


def _less(
    job: PlannedRun, logged: list[tuple[str, str, Fraction]]
) -> tuple[PlannedRun, list[tuple[str, str, Fraction]]]:
    """A job without the parts logged for it, and the logged parts that remain."""
    parts, rest = job.parts, []
    for program, machine, made in logged:
        taken = ZERO
        if program == job.program and job.machine in (None, machine):
            taken = min(parts, made)
        parts -= taken
        rest.append((program, machine, made - taken))
    return replace(job, parts=parts), rest


def wear_by_jobs(
    wears: Sequence[ToolWear], jobs: Sequence[PlannedRun], factors: Factors
) -> list[WearByJobs]:
    """Each tool with the days that the jobs, in order of days, give; none where they do not.

    A part that wears by a meter of its machine is left as it is: no job says how far that runs.
    """
    added: dict[str, list[tuple[date, Fraction]]] = {wear.tool.code: [] for wear in wears}
    for job in jobs:
        for code, per_part in _worn(wears, job, factors):
            added[code].append((job.day, job.parts * per_part))
    return [_by_jobs(wear, added[wear.tool.code]) for wear in wears]


def _worn(
    wears: Sequence[ToolWear], job: PlannedRun, factors: Factors
) -> list[tuple[str, Fraction]]:
    """The tools that a job wears, each with its wear hits for a part."""
    per_part = {w.tool.code: factors.per_part(w.tool, job.program, job.material) for w in wears}
    users = [wear for wear in wears if per_part[wear.tool.code]]
    return [(w.tool.code, per_part[w.tool.code]) for w in used_on(users, job.machine)]


def used_on(wears: Sequence[ToolWear], machine: str | None) -> list[ToolWear]:
    """Of a program's tools those used on a machine, so that brake tools are not hit on a press.

    They are the machine's own, and those of machines from which one is fitted there; all of them
    where it has none (they come over for the job), or where no machine is named.
    """
    homes = {w.tool.machine for w in wears if machine in (w.tool.machine, _place(w))}
    return [w for w in wears if not homes or w.tool.machine in homes]


def _place(wear: ToolWear) -> str:
    """The machine that it is fitted in; no code for none."""
    return wear.fitted[0] if wear.fitted else ""


def _by_jobs(wear: ToolWear, days: list[tuple[date, Fraction]]) -> WearByJobs:
    if wear.tool.counts:
        return WearByJobs(wear, None)
    added = sum((hits for _, hits in days), ZERO)
    if wear.state == "scrapped":
        return WearByJobs(wear, added)
    interval, left = wear.tool.sharpen_every, wear.sharpenings_left
    worn = wear.wear_hits >= interval  # the day on which it was stands
    sharpen_on = wear.sharpen_on if worn else _reached(interval - wear.wear_hits, days)
    end = None
    if left is not None:
        to_go = (left + 1) * interval - wear.wear_hits
        end = _reached(to_go, days) if to_go > 0 else wear.end_of_life
    told = replace(
        wear,
        state=_state(wear, sharpen_on),
        sharpen_on=sharpen_on,
        sharpen_range=None,
        end_of_life=end,
        order_by=order_by(wear.tool, end),
    )
    return WearByJobs(told, added)


def _state(wear: ToolWear, sharpen_on: date | None) -> str:
    """As it stands, but near by the jobs' day."""
    left = sharpen_on - wear.as_of if sharpen_on else None
    return nearness(wear.tool, wear.wear_hits, left)


def _reached(to_go: Fraction, days: list[tuple[date, Fraction]]) -> date | None:
    """The day on which so many wear hits are made; None when they are not."""
    for day, hits in days:
        to_go -= hits
        if to_go <= 0:
            return day
    return None
