"""Which published event a job is: the open one on its day before the one that had its key.

A job of an interval is known by its place in the row of its task's jobs, so that one skipped gives
all later ones another key. Whoever reads the calendar knows them by their days.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from pmtrack.rules import job_key
from pmtrack.rules.revision import CalendarEntry, CalendarJob, Completed, row_of


@dataclass(frozen=True)
class Told:
    """What a calendar is to tell: the jobs and visits wanted, and what is done, by key.

    `perhaps` has jobs of other quarters, which are told where an event of theirs is there already.
    """

    wanted: Sequence[CalendarJob]
    done: Mapping[str, Completed]
    perhaps: Sequence[CalendarJob] = ()


@dataclass(frozen=True)
class Uids:
    """How the UID of a key is made, and the UIDs that were ever told."""

    of: Callable[[str], str]
    told: Collection[str] = ()


@dataclass(frozen=True)
class Identified:
    """Published events by the keys that they have now, the jobs by UID, and what is done by UID."""

    events: list[CalendarEntry] = field(default_factory=list)
    wanted: list[CalendarJob] = field(default_factory=list)
    settled: dict[str, Completed] = field(default_factory=dict)


def identify(published: Iterable[CalendarEntry], told: Told, uids: Uids) -> Identified:
    """The jobs that a calendar tells, under the UIDs of the events that they are.

    A new UID is one that was never told. No UID comes twice, and every wanted job has one.
    """
    events = {entry.job.uid: entry for entry in published}
    jobs = [*told.wanted, *told.perhaps]
    named = {uids.of(key): key for key in (*told.done, *(job.key for job in jobs))}
    free = _Free(events, named)
    done = dict(_done_as_told(told.done, free))
    in_a_row = {key: deed for key, deed in told.done.items() if _is_in_a_row(key)}
    done |= _match(in_a_row, done, lambda key: free.done_on(key, told.done[key].day))
    done |= _match(in_a_row, done, lambda key: free.open_on(key, told.done[key].day))
    by_key = {job.key: job for job in jobs}
    uid_by_key = _match(by_key, {}, lambda key: free.open_on(key, by_key[key].day, same=True))
    uid_by_key |= _match(by_key, uid_by_key, lambda key: free.open_on(key, by_key[key].day))
    done |= _match(told.done, done, free.known_as)
    uid_by_key |= _match(by_key, uid_by_key, free.open_as)
    uid_by_key |= _match(by_key, uid_by_key, lambda key: free.cancelled_on(key, by_key[key].day))
    uid_by_key |= _match(by_key, uid_by_key, free.known_as)
    taken = {*uids.told, *events, *uid_by_key.values()}
    for job in told.wanted:
        if job.key not in uid_by_key:
            uid_by_key[job.key] = _new(job.key, uids, taken)
    keys = {uid: key for key, uid in done.items()}
    return Identified(
        events=[_known_as(entry, keys) for entry in events.values()],
        wanted=[replace(j, uid=uid_by_key[j.key]) for j in jobs if j.key in uid_by_key],
        settled={uid: told.done[key] for key, uid in done.items()},
    )


def _done_as_told(done: Mapping[str, Completed], free: "_Free") -> Iterator[tuple[str, str]]:
    """The events that tell of a deed as it still stands."""
    for key, deed in done.items():
        if uid := free.done_on(key, deed.day, same=True):
            yield key, uid


def _match(
    keys: Iterable[str], known: Mapping[str, str], find: Callable[[str], str | None]
) -> dict[str, str]:
    """The UIDs found for keys that have none yet."""
    found = ((key, find(key)) for key in keys if key not in known)
    return {key: uid for key, uid in found if uid}


def _is_in_a_row(key: str) -> bool:
    return job_key.place_in_row(job_key.task_of(key), key) is not None


def _new(key: str, uids: Uids, taken: Collection[str]) -> str:
    """A UID for a job that no event tells of."""
    number, uid = 1, uids.of(key)
    while uid in taken:
        number += 1
        uid = uids.of(f"{key} again {number}")
    return uid


def _known_as(entry: CalendarEntry, keys: Mapping[str, str]) -> CalendarEntry:
    key = keys.get(entry.job.uid, entry.job.key)
    return entry if key == entry.job.key else replace(entry, job=replace(entry.job, key=key))


class _Free:
    """The events that no job has taken yet, by day and by key."""

    def __init__(self, events: Mapping[str, CalendarEntry], named: Mapping[str, str]) -> None:
        self._taken = set[str]()
        self._keys = {uid: entry.job.key or named.get(uid) for uid, entry in events.items()}
        self._by_key = defaultdict[str | None, list[str]](list)
        self._open_by_key = defaultdict[str | None, list[str]](list)
        self._open = defaultdict[tuple[str, date], list[str]](list)
        self._done = defaultdict[tuple[str, date], list[str]](list)
        self._cancelled = defaultdict[tuple[str, date], list[str]](list)
        for uid in sorted(events, key=lambda uid: (events[uid].cancelled, uid)):
            entry = events[uid]
            by_day = self._done if entry.job.done else self._cancelled
            by_day = self._open if entry.is_open else by_day
            by_day[entry.job.row, entry.job.shown_on].append(uid)
            self._by_key[self._keys[uid]].append(uid)
            if entry.is_open:
                self._open_by_key[self._keys[uid]].append(uid)

    def open_on(self, key: str, day: date, same: bool = False) -> str | None:
        """An open event of the job's row on a day, perhaps only one that has its key."""
        return self._take(self._open.get((_row(key), day), ()), key if same else None)

    def done_on(self, key: str, day: date, same: bool = False) -> str | None:
        """An event that tells that a job of the row was done on a day."""
        return self._take(self._done.get((_row(key), day), ()), key if same else None)

    def cancelled_on(self, key: str, day: date) -> str | None:
        """A cancelled event of the job's row on a day."""
        return self._take(self._cancelled.get((_row(key), day), ()))

    def open_as(self, key: str) -> str | None:
        """An open event that has the key."""
        return self._take(self._open_by_key.get(key, ()))

    def known_as(self, key: str) -> str | None:
        """Any event that has the key, a cancelled one last."""
        return self._take(self._by_key.get(key, ()))

    def _take(self, uids: Iterable[str], key: str | None = None) -> str | None:
        for uid in uids:
            if uid not in self._taken and key in (None, self._keys[uid]):
                self._taken.add(uid)
                return uid
        return None


def _row(key: str) -> str:
    return row_of(job_key.task_of(key))
