"""A saved plan as calendar entries: the crew's jobs one by one, a firm's jobs as its visit."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from pmtrack.actions.calendar import recurs_daily, text_of
from pmtrack.actions.calendar_file import QuarterFile
from pmtrack.actions.settled import completed_jobs
from pmtrack.actions.view import View
from pmtrack.rules.job_key import task_of
from pmtrack.rules.plan import PlacedJob, Plan, Visit, visits_of
from pmtrack.rules.revision import CalendarJob, Completed
from pmtrack.rules.same_event import Told
from pmtrack.rules.settled import is_skipped


def as_planned(file: QuarterFile, plan: Plan, no_daily: bool = False) -> Told:
    """What a calendar is to tell of a saved plan, and what was done since the last file."""
    view = file.view
    jobs = [
        job
        for job in plan.jobs
        if not (no_daily and recurs_daily(job.task, view.workdays.weekdays))
    ]
    tasks = {job.task.name for job in jobs} | {entry.job.task for entry in file.before}
    done = completed_jobs(view, tasks)
    last_done = _last_done(done)
    to_do = [
        job
        for job in jobs
        if job.key not in done and not is_skipped(job.task, job.day, last_done.get(job.task.name))
    ]
    own = file.own(to_do)
    visits = visits_of(own, view.shop.suppliers, view.workdays)
    wanted = [_job_entry(view, job, file.uid(job.key)) for job in own if not job.visit]
    wanted += [_visit_entry(view, visit, file.uid(visit.name)) for visit in visits]
    return Told(wanted, done | _visits_done(jobs, done))


def _last_done(done: Mapping[str, Completed]) -> dict[str, date]:
    """The day on which each task was done last."""
    found: dict[str, date] = {}
    for key, deed in done.items():
        task = task_of(key)
        found[task] = max(found.get(task, deed.day), deed.day)
    return found


def _visits_done(jobs: Iterable[PlacedJob], done: Mapping[str, Completed]) -> dict[str, Completed]:
    """The visits of which all jobs are done, by name: done when the last job was."""
    by_visit: dict[str, list[Completed | None]] = {}
    for job in jobs:
        if job.visit:
            by_visit.setdefault(job.visit, []).append(done.get(job.key))
    found = {}
    for name, deeds in by_visit.items():
        known = [deed for deed in deeds if deed is not None]
        if len(known) == len(deeds):
            found[name] = replace(max(known, key=lambda deed: deed.at), along=False)
    return found


def _job_entry(view: View, job: PlacedJob, uid: str) -> CalendarJob:
    task = job.task
    return CalendarJob(
        uid=uid,
        key=job.key,
        task=task.name,
        day=job.day,
        due_on=job.due_on,
        summary=f"{task.machine}: {task.title}",
        text=_text(view, job),
        reminder_days=job.lead,
        categories=(task.machine, "In-house"),
    )


def _visit_entry(view: View, visit: Visit, uid: str) -> CalendarJob:
    """A visit as one event that lists its jobs; reminded on the last day for booking it."""
    firm = visit.supplier
    machines = sorted({job.task.machine for job in visit.jobs})
    lines = [f"Visit of {firm.name}."]
    if firm.notice:
        lines.append(f"Book by {visit.book_by:%a %Y-%m-%d}: {firm.notice} days' notice.")
    lines += ["", "JOBS"]
    lines += [f"- {job.task.name}: {job.task.title}" for job in visit.jobs]
    texts = ["\n".join(lines), *(_text(view, job) for job in visit.jobs)]
    return CalendarJob(
        uid=uid,
        key=visit.name,
        task=visit.name,
        day=visit.day,
        due_on=min(job.due_on for job in visit.jobs),
        summary=f"{firm.name}: {', '.join(machines)}",
        text="\n\n".join(texts),
        reminder_days=(visit.day - visit.book_by).days,
        categories=(*machines, firm.name),
    )


def _text(view: View, job: PlacedJob) -> str:
    window = f"In its window from {job.window[0]} to {job.window[1]}."
    remarks = [f"{remark[0].upper()}{remark[1:]}." for remark in job.remarks]
    return text_of(view, job.task, [*job.why, window, *remarks])
