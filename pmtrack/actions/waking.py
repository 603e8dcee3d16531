"""The tasks that a day's list may hold: all but those that are certainly quiet.

The latest completion of each task is read, and of the meters the ends of some days. A task that
nothing proves to be quiet is judged in full, like any other.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from typing import NamedTuple

from pmtrack.actions.paces import Ask, Paces
from pmtrack.actions.view import View
from pmtrack.rules.base import coverers
from pmtrack.rules.facts import Base, done_base
from pmtrack.rules.quiet import Asked, Countdown, countdowns, done_after, is_settled
from pmtrack.rules.shop import Task
from pmtrack.store.codec import to_date, to_moment
from pmtrack.store.database import Row
from pmtrack.store.latest import (
    LATEST_AFTER,
    Done,
    Latest,
    latest_of_tasks,
    task_of_rhythm,
    when_done,
)

CLOSE = timedelta(days=4)  # of deeds no further apart, either may be the later one
NEVER = "~"  # later than all dates


def waking(view: View, within: int = 0) -> tuple[Task, ...]:
    """The tasks and one-off jobs that may be on the list, or to be done `within` so many days."""
    rows = latest_of_tasks(view.store, view.day)
    sieve = _Sieve(view, Asked(view.day, within), rows)
    found = sieve.waking(rows)
    view.know_bases(sieve.bases(found))
    return view.tasks_together([row.name for row in found])


class _Deed(NamedTuple):
    """What gives a task its base: an instant or a day, and the entry; none of a `last_done`."""

    when: str
    entry: int | None


@dataclass(frozen=True)
class _Rhythm:
    """What tasks of one rhythm share: a task with its bounds, which are taken once."""

    task: Task
    done_after: str
    surely_after: str  # what was done on that date or later, as UTC tells it, was done after that
    quiet_from: str  # the same where the latest completion alone says that the task is quiet
    by_usage: tuple[Countdown, ...]

    def needs_day(self, deed: _Deed) -> bool:
        """Whether the deed's own day is asked for."""
        return self.task.on is not None or deed.when < self.surely_after


class _Sieve:
    """Judges tasks by their latest completions; what is read for many is read together."""

    def __init__(self, view: View, asked: Asked, rows: Sequence[Row]) -> None:
        self._view = view
        self._asked = asked
        self._on = asked.day.isoformat()
        self._rhythms = {text: self._rhythm_of(text) for text in {row[1] for row in rows}}
        self._covering = self._covering_rows(rows)
        self._paces = Paces(view, asked)
        self._is_settled = cache(self._settled)
        self._done: dict[int, Done] = {}

    def _rhythm_of(self, text: str) -> _Rhythm:
        task = task_of_rhythm(text)
        after = done_after(task, self._asked, self._view.workdays)
        surely = (after + timedelta(days=LATEST_AFTER + 1)).isoformat()
        by_usage = countdowns(task)
        quiet_from = NEVER if by_usage or task.last_done or not task.every else surely
        return _Rhythm(task, after.isoformat(), surely, quiet_from, by_usage)

    def _covering_rows(self, rows: Sequence[Row]) -> dict[str, list[Latest]]:
        """For each task that is covered, the tasks that cover it."""
        covers = {text: rhythm.task.covers for text, rhythm in self._rhythms.items()}
        if not any(covers.values()):
            return {}
        by_machine = defaultdict[str, dict[str, Latest]](dict)
        for row in map(Latest._make, rows):
            by_machine[_machine(row)][row.name.partition("/")[2]] = row
        found = {}
        for known in by_machine.values():
            codes = tuple((code, covers[row.rhythm]) for code, row in known.items())
            for code, by in _covered_codes(codes).items():
                found[known[code].name] = [known[other] for other in by]
        return found

    def waking(self, rows: Iterable[Row]) -> list[Latest]:
        """All tasks but those that are certainly not on the list."""
        left = list(self._left(rows))
        done = [(row, rhythm, deed) for row, rhythm, deed in left if deed]
        self._read_done(deed.entry for _, rhythm, deed in done if rhythm.needs_day(deed))
        waiting = [one for one in done if self._is_quiet_by_days(*one)]
        quiet = {row.name for row, _, _ in waiting}.difference(self._awake_by_usage(waiting))
        return [row for row, _, _ in left if row.name not in quiet]

    def _left(self, rows: Iterable[Row]) -> Iterator[tuple[Latest, _Rhythm, _Deed | None]]:
        """All but those that their row alone tells to be quiet, with what gives a base if known."""
        for fields in rows:
            name, text, _, _, done = fields
            rhythm = self._rhythms[text]
            if done is None or done < rhythm.quiet_from or name in self._covering:
                row = Latest._make(fields)
                if not self._is_over(row, rhythm):
                    yield row, rhythm, self._deed(row, rhythm)

    def _is_over(self, row: Latest, rhythm: _Rhythm) -> bool:
        """Whether a task is retired; or a one-off job is done, to come, or without its machine."""
        if row.retired_on and row.retired_on <= self._on:
            return True
        if rhythm.task.once is None:
            return False
        gone = self._view.stored.gone_on.get(_machine(row))
        has_machine = gone is None or gone > self._asked.day
        return row.done is not None or row.first_applied > self._on or not has_machine

    def bases(self, rows: Iterable[Latest]) -> dict[str, Base | None]:
        """The base of each task that nothing but its own completions can give one."""
        alone = [row for row in rows if self._stands_alone(row, self._rhythms[row.rhythm])]
        self._read_done(row.entry for row in alone)
        return {row.name: self._base(row) for row in alone}

    def _base(self, row: Latest) -> Base | None:
        if row.entry is None:
            return None
        done = self._done[row.entry]
        return done_base(to_moment(done.day, done.at, done.whole_day), row.entry, row.name)

    # --- by days

    def _is_quiet_by_days(self, row: Latest, rhythm: _Rhythm, deed: _Deed) -> bool:
        if rhythm.task.on:
            return self._is_settled(row.rhythm, row.first_applied, self._day(deed))
        if not rhythm.task.every:
            return False  # of a kind that has no bound
        return deed.when >= rhythm.surely_after or self._day(deed) > rhythm.done_after

    def _read_done(self, entries: Iterable[int | None]) -> None:
        new = {entry for entry in entries if entry is not None and entry not in self._done}
        self._done |= when_done(self._view.store, new)

    def _day(self, deed: _Deed) -> str:
        return deed.when if deed.entry is None else self._done[deed.entry].day

    def _settled(self, rhythm: str, first: str, done: str) -> bool:
        task, calendars = self._rhythms[rhythm].task, self._view.calendars_of_shop
        return is_settled(task, (to_date(first), to_date(done)), self._asked, calendars)

    # --- what gave a task its base

    def _stands_alone(self, row: Latest, rhythm: _Rhythm) -> bool:
        """Whether nothing but the task's own completions can be its base."""
        return not rhythm.task.last_done and row.name not in self._covering

    def _deed(self, row: Latest, rhythm: _Rhythm) -> _Deed | None:
        """The latest deed; None without one, and where two are so close that either may be it."""
        if self._stands_alone(row, rhythm):
            return _own(row)
        rows = (row, *self._covering.get(row.name, ()))
        found = sorted(deed for one in rows for deed in self._deeds(one))
        if not found:
            return None
        close = (to_date(found[-1].when[:10]) - CLOSE).isoformat()
        return None if len(found) > 1 and found[-2].when >= close else found[-1]

    def _deeds(self, row: Latest) -> Iterable[_Deed]:
        if own := _own(row):
            yield own
        last_done = self._rhythms[row.rhythm].task.last_done
        if last_done and last_done.on <= self._asked.day:
            yield _Deed(last_done.on.isoformat(), None)

    # --- by usage

    def _awake_by_usage(self, waiting: Iterable[tuple[Latest, _Rhythm, _Deed]]) -> Iterator[str]:
        """The tasks with a usage interval that is not certainly quiet.

        Nothing is certain of a `last_done`, which may come with readings.
        """
        asks = defaultdict[str, list[Ask]](list)
        for row, rhythm, deed in waiting:
            for interval in rhythm.by_usage:
                if deed.entry is None:
                    yield row.name
                else:
                    asks[interval.unit].append(Ask(row.name, _machine(row), deed.entry, interval))
        for meter, asked in asks.items():
            yield from self._paces.doubtful(meter, asked)


def _machine(row: Latest) -> str:
    return row.name.partition("/")[0]


def _own(row: Latest) -> _Deed | None:
    return _Deed(row.done, row.entry) if row.done else None


@cache
def _covered_codes(codes: tuple[tuple[str, tuple[str, ...]], ...]) -> dict[str, tuple[str, ...]]:
    """For each code that is covered, those that cover it; of one machine, like many others."""
    tasks = [Task("", code, "", covers=covers) for code, covers in codes]
    known = {code for code, _ in codes}
    return {
        name[1:]: tuple(other[1:] for other in by)
        for name, by in coverers(tasks).items()
        if by and name[1:] in known
    }
