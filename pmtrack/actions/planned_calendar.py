"""A saved plan as calendar entries: the crew's jobs one by one, a firm's jobs as its visit."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from pmtrack.actions.calendar import Told, done_by_uid, recurs_daily, text_of
from pmtrack.actions.settled import completed_jobs
from pmtrack.actions.view import View
from pmtrack.rules.plan import PlacedJob, Plan, Visit, visits_of
from pmtrack.rules.revision import CalendarEntry, CalendarJob, Completed, job_uid
from pmtrack.store.exports import store_id


def as_planned(
    view: View, plan: Plan, said: Sequence[CalendarEntry], no_daily: bool = False
) -> Told:
    """What a calendar is to tell of a saved plan; `said` is what the last file told."""
    identity = store_id(view.store)
    jobs = [
        job
        for job in plan.jobs
        if not (no_daily and recurs_daily(job.task, view.workdays.weekdays))
    ]
    tasks = {job.task.name for job in jobs} | {entry.job.task for entry in said}
    done = completed_jobs(view, tasks)
    open_jobs = [job for job in jobs if job.key not in done]
    visits = visits_of(open_jobs, view.shop.suppliers)
    wanted = [
        _job_entry(view, job, job_uid(identity, job.key)) for job in open_jobs if not job.visit
    ]
    wanted += [_visit_entry(view, visit, job_uid(identity, visit.name)) for visit in visits]
    settled = done_by_uid(view, done | _visits_done(jobs, done))
    return Told(wanted, settled)


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
        task=visit.name,
        day=visit.day,
        due_on=min(job.due_on for job in visit.jobs),
        summary=f"{firm.name}: {', '.join(machines)}",
        text="\n\n".join(texts),
        reminder_days=firm.notice,
        categories=(*machines, firm.name),
    )


def _text(view: View, job: PlacedJob) -> str:
    window = f"In its window from {job.window[0]} to {job.window[1]}."
    remarks = [f"{remark[0].upper()}{remark[1:]}." for remark in job.remarks]
    return text_of(view, job.task, [*job.why, window, *remarks])
