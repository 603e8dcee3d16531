"""Which jobs of a task are done, and by what: the keys that `forecast` gives to jobs to come."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from pmtrack.rules import job_key
from pmtrack.rules.calendar_due import dates_of, first_unsettled
from pmtrack.rules.facts import Base
from pmtrack.rules.shop import Task
from pmtrack.rules.situation import Calendars


@dataclass(frozen=True)
class Deed:
    """What settles a job: the task of that name was done, itself or one that covers it."""

    task: str
    base: Base


@dataclass(frozen=True)
class Settled:
    """A job's deed. `along` with an earlier date of its schedule that was still open, perhaps."""

    deed: Deed
    along: bool = False


def settled_jobs(
    task: Task, first_applied: date, deeds: Sequence[Deed], calendars: Calendars
) -> dict[str, Settled]:
    """What settled each job of a task that is done, by the job's key; `deeds` in time order."""
    if task.once:
        return {task.name: Settled(deeds[0])} if deeds else {}
    if task.on:
        return _on_dates(task, first_applied, deeds, calendars)
    days = _by_day(task, deeds)
    return {job_key.in_row(task.name, n): Settled(deed) for n, deed in enumerate(days, start=1)}


@dataclass(frozen=True)
class Times:
    """On how many days a task was done, itself or by one that covers it.

    `last` is the latest of them, or that of a `last_done`.
    """

    count: int
    last: date | None


def job_is_done(
    task: Task, key: str, first_applied: date, times: Times, calendars: Calendars
) -> bool:
    """Whether `settled_jobs` has the job of that key, told without the deeds themselves."""
    if task.once:
        return key == task.name and times.count > 0
    if task.on:
        return times.last is not None and key in (
            job_key.on_date(task.name, on)
            for on in _settled_dates(task, first_applied, times.last, calendars)
        )
    place = job_key.place_in_row(task.name, key)
    return place is not None and 1 <= place <= times.count


def is_skipped(task: Task, day: date, last_done: date | None) -> bool:
    """Whether a job planned for a day, and not done, was skipped: the next runs from the last deed.

    So it is with intervals, also on the day of the deed, when that was another job of the row.
    """
    return bool(task.every) and last_done is not None and day <= last_done


def _settled_dates(
    task: Task, first_applied: date, done: date, calendars: Calendars
) -> Iterator[date | None]:
    """All dates of a schedule up to a day on which the task was done: a later one settles more."""
    dates = dates_of(task, first_applied, calendars.zone)
    settled = first_unsettled(task, dates, done, calendars.shop)
    return (dates[index] for index in range(settled))


def _by_day(task: Task, deeds: Sequence[Deed]) -> list[Deed]:
    """One completion a day, in order of the days: the task's own before one that covers it."""
    found: dict[date, Deed] = {}
    for deed in sorted(deeds, key=lambda deed: deed.task != task.name):
        if deed.base.entry is not None:  # what came before pmtrack is no job of it
            found.setdefault(deed.base.moment.day, deed)
    return [found[day] for day in sorted(found)]


def _on_dates(
    task: Task, first_applied: date, deeds: Sequence[Deed], calendars: Calendars
) -> dict[str, Settled]:
    """The dates that each completion settled: the first one open, and those missed since."""
    dates = dates_of(task, first_applied, calendars.zone)
    found: dict[str, Settled] = {}
    reached = 0
    for deed in deeds:
        settled = first_unsettled(task, dates, deed.base.moment.day, calendars.shop)
        for index in range(reached, settled):
            found[job_key.on_date(task.name, dates[index])] = Settled(deed, along=index > reached)
        reached = max(reached, settled)
    return found
