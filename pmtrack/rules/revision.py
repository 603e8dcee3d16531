"""How a published calendar changes: which entries stay, move, fall away or come back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from uuid import UUID, uuid5


@dataclass(frozen=True)
class Completed:
    """That a job was done: on which date of the shop, the instant, and a sentence that tells it.

    `along` says that the same deed settled an earlier job, into which this one may have merged.
    """

    day: date
    at: datetime
    told: str
    along: bool = False


@dataclass(frozen=True)
class CalendarJob:
    """What a calendar should show now: a job or visit on its planned day, reminded days ahead.

    `key` names the job in plans; an event may go on under its UID when the job's key changes.
    """

    uid: str
    task: str
    day: date
    due_on: date
    summary: str
    text: str
    reminder_days: int
    categories: tuple[str, ...] = ()
    done: Completed | None = None
    key: str = field(default="", compare=False)

    @property
    def row(self) -> str:
        """The task, or the firm and quarter of a visit: its jobs may be numbered anew."""
        return row_of(self.task)

    @property
    def shown_on(self) -> date:
        """The day it was done on, or else is planned for."""
        return self.done.day if self.done else self.day


@dataclass(frozen=True)
class CalendarEntry:
    """What is or was published of a job: its revision number and the instant of that revision."""

    job: CalendarJob
    sequence: int
    stamp: datetime
    cancelled: bool = False

    def __post_init__(self) -> None:
        """Raises ValueError for a stamp without a time zone."""
        if self.stamp.utcoffset() is None:
            raise ValueError("a calendar stamp needs its time zone")

    @property
    def is_open(self) -> bool:
        """Whether it tells of a job that is still to be done."""
        return not self.cancelled and self.job.done is None


def job_uid(store_id: UUID, key: str) -> str:
    """A UID that is the same for the same key and names no host or person (RFC 7986 5.3, 2016)."""
    return str(uuid5(store_id, key))


def row_of(name: str) -> str:
    """What a task or a visit belongs to, whatever number it has there."""
    return name.rpartition(" visit ")[0] or name


def revise(
    before: Iterable[CalendarEntry],
    now_wanted: Iterable[CalendarJob],
    settled: Mapping[str, Completed],
    stamp: datetime,
) -> list[CalendarEntry]:
    """The entries to publish now, by day, task and UID; `settled` tells of done jobs by UID.

    Nothing published is ever left out, so that a reader who missed a file learns of it later.
    Raises ValueError where two jobs or two entries share a UID.
    """
    published = {entry.job.uid: entry for entry in before}
    wanted: dict[str, CalendarJob] = {}
    for job in now_wanted:
        if job.uid in wanted:
            raise ValueError(
                f"two jobs share the UID {job.uid}: {wanted[job.uid].task}, {job.task}"
            )
        wanted[job.uid] = job
    at = stamp.astimezone(UTC).replace(microsecond=0)
    entries = [_saying(job, published.get(job.uid), at) for job in wanted.values()]
    for uid in published.keys() - wanted.keys():
        entries.append(_no_longer_planned(published[uid], settled.get(uid), at))
    return in_order(entries)


def in_order(entries: Iterable[CalendarEntry]) -> list[CalendarEntry]:
    """Entries by day, task and UID."""
    return sorted(entries, key=lambda entry: (entry.job.day, entry.job.task, entry.job.uid))


def _saying(job: CalendarJob, old: CalendarEntry | None, at: datetime) -> CalendarEntry:
    """The entry that tells of a job as it is now."""
    if old is None:
        return CalendarEntry(job, 0, at)
    if old.job == job and not old.cancelled:
        return replace(old, job=job)  # its key may be another
    # A new day or status is a significant revision; a new text is not (RFC 5545 3.8.7.4, 2009).
    significant = old.cancelled or _stands(old.job) != _stands(job)
    return CalendarEntry(job, old.sequence + significant, _after(old, at))


def _stands(job: CalendarJob) -> tuple[date, bool]:
    """On which day a job is shown, and whether as done."""
    return job.shown_on, job.done is not None


def _no_longer_planned(old: CalendarEntry, done: Completed | None, at: datetime) -> CalendarEntry:
    """The entry of a job that is not planned any more: done, or else cancelled once."""
    if done and not (done.along and old.cancelled):
        return _saying(replace(old.job, done=done), old, at)
    if old.cancelled:
        return old
    job = replace(old.job, done=None)
    return CalendarEntry(job, old.sequence + 1, _after(old, at), cancelled=True)


def _after(old: CalendarEntry, at: datetime) -> datetime:
    """`at`, or a second past the old stamp: of equal SEQUENCE the later wins (RFC 5546 2.1.5)."""
    return max(at, old.stamp + timedelta(seconds=1))


@dataclass(frozen=True)
class Revised:
    """How a revision differs from what was said before."""

    added: int
    moved: int
    cancelled: int
    done: int = 0


def differences(before: Iterable[CalendarEntry], after: Iterable[CalendarEntry]) -> Revised:
    """How many entries are new, were moved to another day, fell away, and were done since."""
    known = {entry.job.uid: entry for entry in before}
    pairs = [(known.get(entry.job.uid), entry) for entry in after]
    kept = [(old, new) for old, new in pairs if old is not None and not new.cancelled]
    return Revised(
        added=sum(old is None for old, _ in pairs),
        moved=sum(old.job.day != new.job.day for old, new in kept),
        cancelled=sum(new.cancelled and not (old and old.cancelled) for old, new in pairs),
        done=sum(new.job.done is not None and old.job.done is None for old, new in kept),
    )
