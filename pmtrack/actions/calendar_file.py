"""What a quarter's calendar says now: the file before revised, with a look at other quarters'."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cache, partial
from typing import TypeVar

from pmtrack.actions.other_quarters import OtherQuarters
from pmtrack.actions.view import View
from pmtrack.rules.forecast import PlannedJob
from pmtrack.rules.plan import PlacedJob, Plan, Quarter
from pmtrack.rules.revision import (
    CalendarEntry,
    Revised,
    differences,
    in_order,
    job_uid,
    revise,
)
from pmtrack.rules.same_event import Told, Uids, identify
from pmtrack.store import exports

Job = TypeVar("Job", PlannedJob, PlacedJob)


class QuarterFile:
    """The calendar file of a quarter in the making, with what its last file said.

    `left` has the quarter that tells a job in place of this one, by task and day.
    """

    def __init__(self, view: View, quarter: Quarter, plan: Plan | None) -> None:
        self.view = view
        self.quarter = quarter
        self.before: Sequence[CalendarEntry] = exports.last_export(view.store, quarter.name)
        self.others = OtherQuarters(view, quarter, plan is not None)
        self.uid = cache(partial(job_uid, exports.store_id(view.store)))
        self.left: dict[tuple[str, date], str] = {}

    def own(self, jobs: Iterable[Job]) -> list[Job]:
        """The jobs that this quarter tells; the others are noted as left."""
        found = []
        for job in jobs:
            teller = self.others.teller(job, self.uid)
            if teller is None:
                found.append(job)
            else:
                self.left[job.task.name, job.day] = teller
        return found


@dataclass(frozen=True)
class Said:
    """What a calendar file says, and how it differs from the last one, None for the first.

    `left` counts the jobs that the calendars of other quarters tell, by quarter.
    """

    entries: list[CalendarEntry]
    revised: Revised | None
    left: Mapping[str, int] = field(default_factory=dict)


def calendar_entries(file: QuarterFile, told: Told, now: datetime) -> Said:
    """What the calendar file is to say now, revised against what all files said, and kept."""
    store, before = file.view.store, {entry.job.uid: entry for entry in file.before}
    latest = before | {entry.job.uid: entry for entry in _said_elsewhere(file, told)}
    held = file.others.days_apart_from(told.wanted)
    candidates = [
        entry
        for entry in latest.values()
        if not (entry.is_open and (entry.job.task, entry.job.day) in held)
    ]
    found = identify(candidates, told, Uids(file.uid, exports.uids_told(store)))
    rekeyed = latest | {entry.job.uid: entry for entry in found.events}
    settled = {uid: done for uid, done in found.settled.items() if uid in before}
    perhaps = {job.key for job in told.perhaps}
    wanted = [
        job
        for job in found.wanted
        if job.key not in perhaps or file.others.file_with(job.uid) is None
    ]
    told_now = {job.uid for job in wanted} | settled.keys()
    over = [e for uid, e in rekeyed.items() if uid in before and uid not in told_now]
    kept, gone = _of_others(file, over)
    own = [entry for uid, entry in rekeyed.items() if uid in told_now]
    entries = in_order([*revise([*own, *gone], wanted, settled, now), *kept])
    if _with_keys(entries) != _with_keys(in_order(file.before)):
        exports.keep_export(store, file.quarter.name, now, entries)
    revised = differences(latest.values(), entries) if before else None
    return Said(entries, revised, Counter(file.left.values()))


def _said_elsewhere(file: QuarterFile, told: Told) -> list[CalendarEntry]:
    """The highest revisions that other files said of this file's events and of the jobs wanted."""
    jobs = [*told.wanted, *told.perhaps]
    uids = {entry.job.uid for entry in file.before} | {file.uid(job.key) for job in jobs}
    keys, days = {job.key for job in jobs}, {(job.task, job.day) for job in jobs}
    for event in file.others.events:
        if event.key in keys or (event.task, event.day) in days:
            uids.add(event.uid)
    return exports.highest(file.view.store, file.quarter.name, uids)


def _of_others(
    file: QuarterFile, entries: Iterable[CalendarEntry]
) -> tuple[list[CalendarEntry], list[CalendarEntry]]:
    """Of entries that are told here no more: those that stay as they are, and those that fell away.

    In neither are those that the file of another quarter goes on with, which this file drops; as
    long as only a plan has one, this file goes on with it.
    """
    kept, gone = list[CalendarEntry](), list[CalendarEntry]()
    for entry in entries:
        job = entry.job
        if entry.is_open and (teller := file.others.file_with(job.uid)):
            file.left[job.task, job.day] = teller
        elif entry.is_open and file.others.plans(entry):
            kept.append(entry)
        else:
            gone.append(entry)
    return kept, gone


def _with_keys(entries: Iterable[CalendarEntry]) -> list[tuple[CalendarEntry, str]]:
    return [(entry, entry.job.key) for entry in entries]
