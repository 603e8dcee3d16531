"""The calendar of a quarter: the jobs that fall due in it, and what changed since the last file."""

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from pmtrack.actions.settled import completed_jobs
from pmtrack.actions.view import View
from pmtrack.exports.job_text import job_text
from pmtrack.rules.base import covered
from pmtrack.rules.forecast import Chain, PlannedJob, Starting, forecast
from pmtrack.rules.plan import Quarter
from pmtrack.rules.plan_reading import why_due
from pmtrack.rules.recurrence import is_daily
from pmtrack.rules.revision import (
    CalendarEntry,
    CalendarJob,
    Completed,
    Revised,
    differences,
    job_uid,
    revise,
)
from pmtrack.rules.shop import Machine, Task
from pmtrack.rules.windows import Windows
from pmtrack.store import exports, history

LOOK_PAST = timedelta(days=92)  # jobs of the last file that moved out of the quarter are followed


@dataclass(frozen=True)
class QuarterJobs:
    """The jobs of a quarter, those before and soon after it, and what cannot be planned."""

    jobs: list[PlannedJob] = field(default_factory=list)
    elsewhere: list[PlannedJob] = field(default_factory=list)
    undated: list[str] = field(default_factory=list)
    paused: list[str] = field(default_factory=list)
    daily: list[str] = field(default_factory=list)


def quarter_jobs(view: View, quarter: Quarter, no_daily: bool = False) -> QuarterJobs:
    """The jobs due in a quarter, chained from how the tasks stand on the view's day."""
    found = QuarterJobs()
    wanted = defaultdict[str, list[Task]](list)
    for task in (*view.shop.tasks, *view.stored.jobs):
        if no_daily and recurs_daily(task, view.workdays.weekdays):
            found.daily.append(task.name)
        else:
            wanted[task.machine].append(task)
    for machine in view.shop.machines:
        starting = [starting_of(view, task) for task in wanted[machine.code]]
        _add_machine(view, quarter, starting, found)
    found.jobs.sort(key=lambda job: (job.day, job.task.name, job.key))
    return found


def _add_machine(
    view: View, quarter: Quarter, starting: list[Starting], found: QuarterJobs
) -> None:
    live = [s for s in starting if not s.situation.out_of_service]
    found.paused.extend(s.task.name for s in starting if s.situation.out_of_service)
    if not live:
        return
    calendars = view.calendars(live[0].task.machine)
    jobs = forecast(live, covered([s.task for s in live]), calendars, quarter.last + LOOK_PAST)
    found.jobs.extend(job for job in jobs if in_quarter(job, quarter))
    found.elsewhere.extend(job for job in jobs if not in_quarter(job, quarter))
    planned = {job.task.name for job in jobs}
    for start in live:
        if start.task.name not in planned and is_blind(view, start):
            found.undated.append(start.task.name)


def in_quarter(job: PlannedJob | CalendarJob, quarter: Quarter) -> bool:
    """Due in the quarter, or due before it and planned in it because it is late."""
    return job.due_on <= quarter.last and (job.due_on >= quarter.first or job.day >= quarter.first)


def recurs_daily(task: Task, weekdays: Collection[int]) -> bool:
    """Whether a task recurs every working day, so that a calendar of it tells nobody anything."""
    if task.on:
        return is_daily(task.on.rule, weekdays)
    return any(i.unit == "day" and i.amount == 1 for i in task.every)


def is_blind(view: View, start: Starting) -> bool:
    """A task by usage alone whose due date cannot be told."""
    by_usage = any(not interval.is_calendar for interval in start.task.every)
    return by_usage and view.due(start.task).governing.due_on is None


def starting_of(view: View, task: Task) -> Starting:
    """Where the forecast of a task starts on the view's day."""
    return Starting(task, view.situation(task), _times_done(view, task))


def next_key(view: View, task: Task) -> str | None:
    """The key of the job that a task is due for next; None where none can be told."""
    chain = Chain.of(starting_of(view, task), view.calendars(task.machine), Windows())
    return chain.job.key if chain.job else None


def _times_done(view: View, task: Task) -> int:
    """On how many days a task was done, itself or by a task that covers it."""
    days: set[date] = set()
    for name in (task.name, *view.covered_by.get(task.name, ())):
        days |= history.completion_days(view.store, name, view.day)
    return len(days)


@dataclass(frozen=True)
class Told:
    """What a calendar is to tell: jobs and visits of its quarter, and what is done, by UID.

    `elsewhere` has jobs of other quarters, which are told on where this file told of them before.
    """

    wanted: Sequence[CalendarJob]
    settled: Mapping[str, Completed]
    elsewhere: Sequence[CalendarJob] = ()


def on_due_days(view: View, planned: QuarterJobs) -> Told:
    """What to tell without a plan: each job on the day to work by."""
    identity = exports.store_id(view.store)
    return Told(
        wanted=[_calendar_job(view, job, job_uid(identity, job.key)) for job in planned.jobs],
        settled=done_by_uid(view, completed_jobs(view)),
        elsewhere=[
            _calendar_job(view, job, job_uid(identity, job.key)) for job in planned.elsewhere
        ],
    )


def done_by_uid(view: View, done: Mapping[str, Completed]) -> dict[str, Completed]:
    """What is known of jobs by their keys, by their UIDs."""
    identity = exports.store_id(view.store)
    return {job_uid(identity, key): completed for key, completed in done.items()}


def calendar_entries(
    view: View, quarter: Quarter, told: Told, now: datetime
) -> tuple[list[CalendarEntry], Revised | None]:
    """What the calendar file is to say now, revised against what it said last, and kept.

    Also how it differs from the last one, None for the first file of the quarter.
    """
    before = exports.last_export(view.store, quarter.name)
    said = {entry.job.uid for entry in before}
    wanted = [*told.wanted, *(job for job in told.elsewhere if job.uid in said)]
    told_anywhere = {job.uid for job in wanted} | (said & told.settled.keys())
    elsewhere = exports.last_said(view.store, told_anywhere)
    latest = {entry.job.uid: entry for entry in (*before, *elsewhere)}
    entries = revise(latest.values(), wanted, told.settled, now)
    exports.keep_export(view.store, quarter.name, now, entries)
    return entries, differences(latest.values(), entries) if before else None


def _calendar_job(view: View, job: PlannedJob, uid: str) -> CalendarJob:
    task = job.task
    supplier = view.shop.firm_of(task)
    return CalendarJob(
        uid=uid,
        task=task.name,
        day=job.day,
        due_on=job.due_on,
        summary=f"{task.machine}: {task.title}",
        text=text_of(view, task, why_due(job.rule, job.base)),
        reminder_days=supplier.notice if supplier else job.lead_days,
        categories=(task.machine, supplier.name if supplier else "In-house"),
    )


def text_of(view: View, task: Task, why: Sequence[str]) -> str:
    """The text of a job for its calendar entry, with why it is due."""
    return job_text(task, machine_of(view, task), view.shop.firm_of(task), why)


def machine_of(view: View, task: Task) -> Machine:
    """The machine of a task; a bare one with its code where none is described."""
    return view.stored.machine(task.machine) or Machine(task.machine, "")
