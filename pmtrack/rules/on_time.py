"""Of the jobs that fell due in a period, how many were done in time."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.rules.calendar_due import (
    Window,
    dates_of,
    first_unsettled,
    fixed_window,
    interval_window,
    once_window,
    start_window,
)
from pmtrack.rules.facts import Base
from pmtrack.rules.shop import Interval, Task
from pmtrack.rules.situation import Calendars

ON_TIME, LATE, OPEN = "on time", "late", "open"


@dataclass(frozen=True)
class JobOutcome:
    """One job: when it was due, when it was done if it was, and how it ended."""

    task: str
    due_on: date
    done_on: date | None
    outcome: str


@dataclass(frozen=True)
class UsageAtDone:
    """A usage interval at the completion: the day usage came to U, and whether it passed U + G."""

    reached_on: date | None
    overdue: bool


@dataclass(frozen=True)
class DoneJob:
    """A job from its base (None for the first) to its completion, with its usage intervals."""

    start: Base | None
    end: Base
    usage: Mapping[Interval, UsageAtDone]


def done_outcome(task: Task, job: DoneJob, first_applied: date, calendars: Calendars) -> JobOutcome:
    """A job of a task with `every`, done: due on the earliest of its due dates."""
    done = job.end.moment.day
    windows = _windows(task, job.start, first_applied, calendars)
    by_usage = [] if job.start is None else list(job.usage.values())
    dues = [window.due_on for window in windows]
    dues += [min(u.reached_on, done) if u.reached_on else done for u in by_usage]
    late = any(done > w.last_day for w in windows) or any(u.overdue for u in by_usage)
    return JobOutcome(task.name, min(dues), done, LATE if late else ON_TIME)


def _windows(
    task: Task, start: Base | None, first_applied: date, calendars: Calendars
) -> list[Window]:
    if task.once:
        return [once_window(task.once, first_applied, calendars.shop)]
    if start is None:
        return [start_window(task, first_applied, calendars.shop)]
    return [
        interval_window(task, interval, start.moment.day, calendars.shop)
        for interval in task.every
        if interval.is_calendar
    ]


def fixed_outcomes(
    task: Task, done: list[date], until: tuple[date, date], origin: tuple[date, Calendars]
) -> list[JobOutcome]:
    """The occurrences of a fixed schedule up to the date `until[0]`, as of the day `until[1]`.

    A completion settles every occurrence whose lead has begun; each one missed is late.
    """
    last, as_of = until
    first_applied, calendars = origin
    dates = dates_of(task, first_applied, calendars.zone)
    settled = [(first_unsettled(task, dates, day, calendars.shop), day) for day in sorted(done)]
    outcomes = []
    index = 0
    while (window := fixed_window(task, dates, index, calendars.shop)) and window.due_on <= last:
        done_on = next((day for after, day in settled if after > index), None)
        outcomes.append(
            JobOutcome(task.name, window.due_on, done_on, _outcome(window, done_on, as_of))
        )
        index += 1
    return outcomes


def _outcome(window: Window, done_on: date | None, as_of: date) -> str:
    if done_on is None:
        return LATE if as_of > window.last_day else OPEN
    return LATE if done_on > window.last_day else ON_TIME


@dataclass(frozen=True)
class OnTime:
    """How many jobs were done in time, how many were not, and how many are still open."""

    on_time: int
    late: int
    open: int

    @property
    def share(self) -> Fraction | None:
        """On time, of those that are decided; None without any."""
        decided = self.on_time + self.late
        return Fraction(self.on_time, decided) if decided else None


def tally_outcomes(outcomes: Iterable[JobOutcome]) -> OnTime:
    """Count outcomes."""
    listed = [outcome.outcome for outcome in outcomes]
    return OnTime(*(listed.count(kind) for kind in (ON_TIME, LATE, OPEN)))


def jobs_together(tallies: Iterable[OnTime]) -> OnTime:
    """The jobs of several machines as one count."""
    each = list(tallies)
    return OnTime(
        sum(t.on_time for t in each), sum(t.late for t in each), sum(t.open for t in each)
    )
