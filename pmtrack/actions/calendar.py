"""The calendar of a quarter: the jobs that fall due in it, and what changed since the last file."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from pmtrack.actions.calendar_file import QuarterFile
from pmtrack.actions.settled import completed_jobs, times_done
from pmtrack.actions.view import View
from pmtrack.exports.job_text import job_text
from pmtrack.rules.base import covered
from pmtrack.rules.due import TaskDue, task_due
from pmtrack.rules.forecast import Chain, PlannedJob, Starting, forecast
from pmtrack.rules.plan import Plan, Quarter
from pmtrack.rules.plan_reading import why_due
from pmtrack.rules.recurrence import is_daily
from pmtrack.rules.revision import CalendarJob
from pmtrack.rules.same_event import Told
from pmtrack.rules.shop import Machine, Task
from pmtrack.rules.windows import Windows
from pmtrack.store import exports, history

LOOK_PAST = timedelta(days=92)  # jobs of the last file that moved out of the quarter are followed


@dataclass(frozen=True)
class LeftOut:
    """The tasks that a calendar leaves out: without a known date, paused, or daily."""

    undated: list[str] = field(default_factory=list)
    paused: list[str] = field(default_factory=list)
    daily: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class QuarterJobs:
    """The jobs of a quarter, those before and soon after it, and what cannot be planned."""

    jobs: list[PlannedJob] = field(default_factory=list)
    elsewhere: list[PlannedJob] = field(default_factory=list)
    left: LeftOut = field(default_factory=LeftOut)


def quarter_jobs(view: View, quarter: Quarter, no_daily: bool = False) -> QuarterJobs:
    """The jobs due in a quarter, chained from how the tasks stand on the view's day.

    Those after the quarter are looked for where an earlier file may have told of them.
    """
    found, windows = QuarterJobs(), Windows()
    past = LOOK_PAST if exports.was_exported(view.store, quarter.name) else timedelta(0)
    for live in _live_by_machine(view, no_daily, found.left):
        blind = _blind(view, live)
        jobs = _jobs(view, live, quarter.last + (LOOK_PAST if blind else past), windows)
        found.jobs.extend(job for job in jobs if in_quarter(job, quarter))
        found.elsewhere.extend(job for job in jobs if not in_quarter(job, quarter))
        found.left.undated.extend(_without_jobs(blind, jobs))
    found.jobs.sort(key=lambda job: (job.day, job.task.name, job.key))
    return found


def left_out(view: View, quarter: Quarter, no_daily: bool = False) -> LeftOut:
    """What a calendar of the quarter leaves out; jobs are worked out only where that needs it."""
    left, windows = LeftOut(), Windows()
    for live in _live_by_machine(view, no_daily, left):
        if blind := _blind(view, live):
            jobs = _jobs(view, live, quarter.last + LOOK_PAST, windows)
            left.undated.extend(_without_jobs(blind, jobs))
    return left


def of_plan(left: LeftOut, plan: Plan) -> tuple[LeftOut, list[str]]:
    """What the calendar of a saved plan leaves out; and the paused tasks that it has jobs of."""
    planned = {job.task.name for job in plan.jobs}
    paused = [name for name in left.paused if name not in planned]
    return replace(left, paused=paused), [name for name in left.paused if name in planned]


def _live_by_machine(view: View, no_daily: bool, left: LeftOut) -> Iterator[list[Starting]]:
    """Where the tasks of each machine in service start; adds to `left` the daily and paused."""
    wanted = defaultdict[str, list[Task]](list)
    for task in (*view.shop.tasks, *view.stored.jobs):
        if no_daily and recurs_daily(task, view.workdays.weekdays):
            left.daily.append(task.name)
        else:
            wanted[task.machine].append(task)
    view.know_last_deeds([task.name for tasks in wanted.values() for task in tasks])
    times_done = history.completion_days(view.store, view.day)
    for machine in view.shop.machines:
        tasks = wanted[machine.code]
        if view.machine_days(machine.code)[1]:
            left.paused.extend(task.name for task in tasks)
        elif tasks:
            yield [_starting(view, task, times_done) for task in tasks]


def _jobs(view: View, live: Sequence[Starting], last: date, windows: Windows) -> list[PlannedJob]:
    calendars = view.calendars(live[0].task.machine)
    return forecast(live, covered([s.task for s in live]), calendars, last, windows)


def _without_jobs(starting: Iterable[Starting], jobs: Iterable[PlannedJob]) -> list[str]:
    planned = {job.task.name for job in jobs}
    return [start.task.name for start in starting if start.task.name not in planned]


def in_quarter(job: PlannedJob | CalendarJob, quarter: Quarter) -> bool:
    """Due in the quarter, or due before it and planned in it because it is late."""
    return job.due_on <= quarter.last and (job.due_on >= quarter.first or job.day >= quarter.first)


def recurs_daily(task: Task, weekdays: Collection[int]) -> bool:
    """Whether a task recurs every working day, so that a calendar of it tells nobody anything."""
    if task.on:
        return is_daily(task.on.rule, weekdays)
    return any(i.unit == "day" and i.amount == 1 for i in task.every)


def _blind(view: View, live: Iterable[Starting]) -> list[Starting]:
    """The tasks by usage whose due date cannot be told as they stand."""
    return [
        start
        for start in live
        if any(not interval.is_calendar for interval in start.task.every)
        and _due(view, start).governing.due_on is None
    ]


def _due(view: View, start: Starting) -> TaskDue:
    return task_due(start.task, start.situation, view.calendars(start.task.machine))


def starting_of(view: View, task: Task) -> Starting:
    """Where the forecast of a task starts on the view's day."""
    return Starting(task, view.situation(task), times_done(view, task).count)


def next_key(view: View, due: TaskDue) -> str | None:
    """The key of the job that a task is due for next; None where none can be told."""
    start = Starting(due.task, due.situation, times_done(view, due.task).count)
    chain = Chain.of(start, view.calendars(due.task.machine), Windows())
    return chain.job.key if chain.job else None


def _starting(view: View, task: Task, days_done: Mapping[str, set[str]]) -> Starting:
    """The start of a task that was done, itself or by one that covers it, on the days given."""
    names = (task.name, *view.coverers(task))
    days = set[str]().union(*(days_done.get(name, ()) for name in names))
    return Starting(task, view.situation(task), len(days))


def on_due_days(file: QuarterFile, planned: QuarterJobs) -> Told:
    """What to tell without a plan: each job on the day to work by.

    Of the tasks that the last file told of, what was done since is told.
    """
    view, jobs = file.view, file.own(planned.jobs)
    said = {entry.job.task: entry for entry in file.before}
    return Told(
        wanted=[_calendar_job(view, job, file.uid(job.key)) for job in jobs],
        done=completed_jobs(view, said),
        perhaps=[
            _calendar_job(view, job, file.uid(job.key))
            for job in _told_before(file, planned.elsewhere)
        ],
    )


def _told_before(file: QuarterFile, jobs: Iterable[PlannedJob]) -> Iterator[PlannedJob]:
    """The jobs that the last file may have told of, by key, UID or day."""
    keys = {entry.job.key or entry.job.uid for entry in file.before}
    days = {(entry.job.task, entry.job.day) for entry in file.before}
    for job in jobs if file.before else ():
        if job.key in keys or file.uid(job.key) in keys or (job.task.name, job.day) in days:
            yield job


def _calendar_job(view: View, job: PlannedJob, uid: str) -> CalendarJob:
    task = job.task
    supplier = view.shop.firm_of(task)
    return CalendarJob(
        uid=uid,
        key=job.key,
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
