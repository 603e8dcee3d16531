"""The technician's deeds: done, put off, out of service and back, jobs that a finding raises."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from pmtrack.actions.recorder import Dial, Recorder
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.base import covered, instant_of
from pmtrack.rules.due import TaskDue
from pmtrack.rules.facts import Moment
from pmtrack.rules.service import ServiceChange, turn_fault
from pmtrack.rules.shop import OneOff, Step, Task
from pmtrack.rules.text import needed, one_line
from pmtrack.store import history
from pmtrack.store.codec import to_millionths, to_text
from pmtrack.store.records import encode

REASON = "--why 'waiting for a seal kit'"
JOB_DAYS = 7  # days in which a finding is to be mended when no date is given


@dataclass(frozen=True)
class NewCompletion:
    """A task done: when, with how many minutes, which counters and measurements were read."""

    task: str
    moment: Moment
    minutes: int | None = None
    dials: Mapping[str, Dial] = field(default_factory=dict)
    measured: Mapping[str, Fraction] = field(default_factory=dict)
    note: str = ""


@dataclass(frozen=True)
class Finding:
    """A measured step outside its limits."""

    step: Step
    value: Fraction


@dataclass(frozen=True)
class Done:
    """What a completion settled, and which findings want a follow-up job."""

    entry: int
    settled: tuple[TaskDue, ...]
    findings: tuple[Finding, ...]
    not_measured: tuple[str, ...]
    superseded: bool  # a later completion stands already, so nothing moved
    same_day: int | None  # another completion of the task on that day: perhaps the same job


def complete(recorder: Recorder, done: NewCompletion) -> tuple[int, list[Finding]]:
    """Add a completion; tells its entry and what was measured out of limits."""
    task = recorder.task(done.task, done.moment.day)
    moment = recorder.happened(done.moment)
    base = recorder.view.base(task)
    if task.once and base is not None:
        raise Refused(f"{task.name} is done already: {base.source}")
    found = recorder.view.stored.applied_on(task.name)
    if task.once and moment.day < found:
        raise Refused(f"{task.name} was found on {found}; it cannot have been done before")
    if done.minutes is not None and done.minutes < 0:
        raise Refused("minutes cannot be below 0")
    number = recorder.entry("completion", moment, done.note)
    recorder.store.add(
        "completion",
        entry=number,
        task=task.name,
        at=to_text(instant_of(moment, recorder.bare)),
        minutes=done.minutes,
    )
    machine = recorder.machine(task.machine, moment.day)
    recorder.dials_of(number, machine, dict(done.dials), moment)
    return number, [
        finding for finding in _measure(recorder, number, task, done.measured) if finding
    ]


def _measure(
    recorder: Recorder, number: int, task: Task, measured: Mapping[str, Fraction]
) -> list[Finding | None]:
    steps = {step.measure: step for step in task.steps if step.measure}
    found: list[Finding | None] = []
    for name, value in measured.items():
        if name not in steps:
            known = ", ".join(sorted(str(s) for s in steps)) or "nothing"
            raise Refused(f"{task.name} does not measure '{name}'; it measures {known}")
        within = in_limits(steps[name], value)
        recorder.store.add(
            "measurement",
            entry=number,
            name=name,
            value=to_millionths(value),
            in_limits=int(within),
        )
        found.append(None if within else Finding(steps[name], value))
    return found


def in_limits(step: Step, value: Fraction) -> bool:
    """Whether a measurement lies within the limits of its step, the limits included."""
    above = step.low is None or value >= step.low
    return above and (step.high is None or value <= step.high)


def finish_completion(
    recorder: Recorder, done: NewCompletion, noted: tuple[int, list[Finding]]
) -> Done:
    """Check all of it, and tell what it settled and when each settled task is next due."""
    recorder.finish()
    number, findings = noted
    after = View(recorder.store, recorder.view.day)
    task = after.task(done.task)
    base = after.base(task)
    listed = after.stored.tasks_of(task.machine)
    live = [one for one in listed if not after.stored.retired_day(one.name)]
    names = [task.name, *covered(live).get(task.name, ())]
    measures = [step.measure for step in task.steps if step.measure]
    return Done(
        entry=number,
        settled=tuple(after.due(after.task(name)) for name in names),
        findings=tuple(findings),
        not_measured=tuple(m for m in measures if m not in done.measured),
        superseded=base is not None and base.entry != number,
        same_day=history.other_completion(recorder.store, task.name, done.moment.day, number),
    )


@dataclass(frozen=True)
class NewJob:
    """A one-off job that a finding raises."""

    machine: str
    title: str
    moment: Moment
    wanted_by: date | None = None
    found_in: int | None = None  # the completion during which it was found
    minutes: int | None = None


def raise_job(recorder: Recorder, job: NewJob) -> tuple[int, Task]:
    """Put a one-off job on the list, where it stays until it is done; tells its entry too."""
    machine = recorder.machine(job.machine)
    title = needed(job.title, "what is to be done", "'replace cracked hose at the ram'")
    moment = recorder.happened(job.moment)
    wanted = job.wanted_by or moment.day + timedelta(days=JOB_DAYS)
    if wanted < moment.day:
        raise Refused(f"{wanted} lies before {moment.day}, the day it was found")
    if job.found_in is not None:
        _check_completion(recorder, job.found_in)
    number = recorder.entry("job", moment)
    recorder.store.add(
        "job", entry=number, machine=machine.code, title=title, found_in=job.found_in
    )
    task = Task(
        machine=machine.code,
        code=f"job-{number}",
        title=title,
        once=OneOff(wanted),
        minutes=job.minutes,
    )
    recorder.store.add(
        "task",
        name=task.name,
        machine=machine.code,
        position=number,
        definition=encode(task),
        first_applied=moment.day.isoformat(),
        raised_by=number,
    )
    return number, task


def same_job(view: View, new: Task) -> Task | None:
    """Another job of the machine, still to be done, that is called the same."""
    alike = (
        job
        for job in view.stored.tasks_of(new.machine)
        if job.once and job.title == new.title and job.name != new.name
    )
    return next((job for job in alike if view.base(job) is None), None)


def _check_completion(recorder: Recorder, number: int) -> None:
    from pmtrack.store.entries import is_completion

    if not is_completion(recorder.store, number):
        raise Refused(f"entry {number} is no completion; see 'pmtrack entries'")


def defer(recorder: Recorder, task_name: str, until: date, why: str, moment: Moment) -> int:
    """Put a task off through a date, with the reason."""
    task = recorder.task(task_name, moment.day)
    recorder.happened(moment)
    why = needed(why, "why", REASON)
    if until < moment.day:
        raise Refused(f"{until} lies before {moment.day}; name a later date")
    due_on = View(recorder.store, moment.day).due(task).governing.due_on
    if task.authority and (due_on is None or until > due_on):
        raise Refused(
            f"{task.name} is demanded by {task.authority}: it cannot be put off past its due date, "
            f"{due_on or 'which is not known'}; do it, or take the machine out of service"
        )
    number = recorder.entry("deferral", moment)
    recorder.store.add(
        "deferral",
        entry=number,
        task=task.name,
        at=to_text(instant_of(moment, recorder.bare)),
        until=until.isoformat(),
        why=why,
    )
    return number


def change_service(recorder: Recorder, code: str, out: bool, why: str, moment: Moment) -> int:
    """Take a machine out of service, or bring it back."""
    machine = recorder.machine(code, moment.day)
    recorder.happened(moment)
    why = needed(why, "why", REASON) if out else one_line(why, "the reason")
    number = recorder.entry("idle" if out else "back", moment)
    at = instant_of(moment, recorder.bare)
    recorder.store.add(
        "service_change",
        entry=number,
        machine=machine.code,
        at=to_text(at),
        day=moment.day.isoformat(),
        out=int(out),
        why=why,
    )
    check_alternating(recorder, machine.code, number)
    return number


def check_alternating(recorder: Recorder, machine: str, new: int | None = None) -> None:
    """Refused unless out and back take turns, whenever they were entered, the new one included."""
    changes = history.service_changes(recorder.store, machine)
    found = turn_fault(machine, (ServiceChange(*one) for one in changes), new, recorder.bare.zone)
    if found:
        raise Refused(found)
