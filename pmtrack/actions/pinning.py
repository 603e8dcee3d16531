"""A planned job fixed to a day by a person, and released again."""

from dataclasses import dataclass
from datetime import date, timedelta

from pmtrack.actions.recorder import Recorder
from pmtrack.errors import Refused
from pmtrack.rules.facts import Moment, Pin
from pmtrack.rules.forecast import PlannedJob, first_working_day
from pmtrack.rules.plan_steps import pin_span
from pmtrack.rules.shop import Shop, Task
from pmtrack.rules.shoptime import ONE_DAY, local_date
from pmtrack.rules.text import one_line
from pmtrack.rules.workdays import Workdays
from pmtrack.store.plans import standing_pins


@dataclass(frozen=True)
class NewPin:
    """The job `key` of a task, due on `due_on` if that is known, to be fixed to a day.

    `first` is the first day to which it may be pinned, `last` the last one on which it is on time.
    """

    task: str
    key: str
    due_on: date | None
    day: date
    moment: Moment
    why: str = ""
    first: date = date.min
    last: date = date.max


def new_pin(job: PlannedJob, day: date, moment: Moment, why: str) -> NewPin:
    """A job of the forecast fixed to a day."""
    assert job.window is not None  # noqa: S101 - a job that is forecast has one
    first, _ = pin_span(job.task, job.base, job.window)
    window = job.window
    return NewPin(
        task=job.task.name,
        key=job.key,
        due_on=job.due_on,
        day=day,
        moment=moment,
        why=why,
        first=min(first, window.first),
        last=max(window.last, window.target),
    )


@dataclass(frozen=True)
class Pinned:
    """The entry of a pin, and what to mind about its day."""

    entry: int
    warnings: tuple[str, ...] = ()


def pin(recorder: Recorder, new: NewPin) -> Pinned:
    """Fix a job to a day. Raises Refused for a day on which it cannot or must not be done."""
    task = recorder.task(new.task)
    moment = recorder.happened(new.moment)
    today = local_date(recorder.now, recorder.bare.zone)
    if new.day < today:
        raise Refused(f"{new.day} is past; name a day from {today} on")
    if new.day not in recorder.view.workdays:
        raise Refused(_not_worked(new.day, today, recorder.bare, recorder.view.workdays))
    if task.authority and (new.due_on is None or new.day > new.due_on):
        raise Refused(
            f"{task.name} is demanded by {task.authority}: it cannot be planned after its due "
            f"date, {new.due_on or 'which is not known'}; name an earlier day"
        )
    if new.day < new.first:
        first = first_working_day(max(new.first, today), recorder.view.workdays)
        raise Refused(
            f"{new.day} is too early for {task.name}, due {new.due_on}; name a day from "
            f"{first:%a} {first} on"
        )
    number = recorder.entry("pin", moment)
    recorder.store.add(
        "pin",
        entry=number,
        task=task.name,
        key=new.key,
        pinned_to=new.day.isoformat(),
        why=one_line(new.why, "the reason"),
    )
    warnings = (_late(new), _short_notice(task, new.day, today, recorder.view.shop))
    return Pinned(number, tuple(told for told in warnings if told))


def _not_worked(day: date, today: date, shop: Shop, workdays: Workdays) -> str:
    """Why nobody works on a day, and the working days next to it."""
    closure = next((c for c in shop.closed if c.first <= day <= c.last), None)
    if closure is None or day.weekday() not in workdays.weekdays:
        why = f"no shift works on a {day:%A}"
    else:
        why = f"closed, {closure.why}" if closure.why else "closed"
    before, after = workdays.last_through(day), workdays.nth_after(day, 1)
    near = [f"{found:%a} {found}" for found in (before, after) if found and found >= today]
    return f"{day} is no working day ({why}); name {' or '.join(near) or 'another day'}"


def _late(new: NewPin) -> str | None:
    """What to mind where the day lies past the due date and its grace."""
    if new.day <= new.last:
        return None
    return f"{new.day:%a} {new.day} is late: its last day on time is {new.last:%a} {new.last}"


def _short_notice(task: Task, day: date, today: date, shop: Shop) -> str | None:
    """What to mind where an outside firm has less than its notice; a phone call may settle it."""
    firm = shop.firm_of(task)
    if firm is None or day >= today + timedelta(days=firm.notice):
        return None
    left = (day - today) // ONE_DAY
    return (
        f"{firm.name} asks for {firm.notice} days' notice and has {left}; "
        f"make sure that they come on {day:%a} {day}"
    )


def release(recorder: Recorder, task_name: str, day: date | None, moment: Moment) -> int:
    """Let a pinned job move again: the one pinned to a day, or the task's only one.

    Raises Refused when there is none, or several and no day is given.
    """
    task = recorder.view.task(task_name)
    recorder.happened(moment)
    target = _standing(recorder, task.name, day)
    number = recorder.entry("release", moment)
    recorder.store.add("release", entry=number, target=target.entry)
    return number


def _standing(recorder: Recorder, task: str, day: date | None) -> Pin:
    """The pin that is meant; those whose day is past hold nothing any more."""
    today = local_date(recorder.now, recorder.bare.zone)
    standing = [pin for pin in standing_pins(recorder.store, today) if pin.task == task]
    meant = [pin for pin in standing if day in (None, pin.day)]
    named = ", ".join(f"{pin.day:%a} {pin.day}" for pin in standing)
    if not standing:
        raise Refused(f"{task} is not pinned; see 'pmtrack entries' for what was")
    if not meant:
        raise Refused(f"{task} is not pinned to {day}, but to {named}")
    if len({pin.day for pin in meant}) > 1:
        raise Refused(f"{task} is pinned to {named}; say which day")
    return meant[-1]
