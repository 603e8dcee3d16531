"""The tasks that a day's list may hold: all but those that are certainly quiet.

The latest completion of each task is read, and of the meters the ends of some days. A task that
nothing proves to be quiet is judged in full, like any other.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from typing import NamedTuple

from pmtrack.actions.paces import Paces
from pmtrack.actions.view import View
from pmtrack.rules.base import coverers
from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.quiet import Asked, Countdown, countdowns, done_after, is_settled
from pmtrack.rules.shop import Task
from pmtrack.store.codec import to_date, to_instant
from pmtrack.store.latest import (
    LATEST_AFTER,
    Latest,
    latest_of_tasks,
    task_of_rhythm,
    when_done,
)

CLOSE = timedelta(days=4)  # of deeds no further apart, either may be the later one


def waking(view: View, within: int = 0) -> tuple[Task, ...]:
    """The tasks and one-off jobs that may be on the list, or to be done `within` so many days."""
    rows = latest_of_tasks(view.store, view.day)
    sieve = _Sieve(view, Asked(view.day, within), rows)
    found = [row for row in rows if not sieve.is_quiet(row)]
    view.know_bases({row.name: _base(view, row) for row in found if sieve.stands_alone(row)})
    return tuple(view.task(row.name) for row in found)


def _base(view: View, row: Latest) -> Base | None:
    if row.entry is None:
        return None
    day, at, whole_day = when_done(view.store, row.entry)
    moment = Moment(to_date(day), None if whole_day else to_instant(at))
    return Base(moment, f"entry {row.entry}, {row.name} done", entry=row.entry)


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
    by_usage: tuple[Countdown, ...]


class _Sieve:
    """Judges tasks by their latest completions."""

    def __init__(self, view: View, asked: Asked, rows: Sequence[Latest]) -> None:
        self._view = view
        self._asked = asked
        self._on = asked.day.isoformat()
        self._rhythms = {text: self._rhythm_of(text) for text in {row.rhythm for row in rows}}
        self._covering = self._covering_rows(rows)
        self._paces = Paces(view, asked)
        self._is_settled = cache(self._settled)

    def _rhythm_of(self, text: str) -> _Rhythm:
        task = task_of_rhythm(text)
        after = done_after(task, self._asked, self._view.workdays)
        surely = after + timedelta(days=LATEST_AFTER + 1)
        return _Rhythm(task, after.isoformat(), surely.isoformat(), countdowns(task))

    def _covering_rows(self, rows: Sequence[Latest]) -> dict[str, list[Latest]]:
        """For each task that is covered, the tasks that cover it."""
        covers = {text: rhythm.task.covers for text, rhythm in self._rhythms.items()}
        machines = {_machine(row) for row in rows if covers[row.rhythm]}
        by_machine = defaultdict[str, dict[str, Latest]](dict)
        for row in rows if machines else ():
            if _machine(row) in machines:
                by_machine[_machine(row)][row.name.partition("/")[2]] = row
        found = {}
        for known in by_machine.values():
            codes = tuple((code, covers[row.rhythm]) for code, row in known.items())
            for code, by in _covered_codes(codes).items():
                found[known[code].name] = [known[other] for other in by]
        return found

    def stands_alone(self, row: Latest) -> bool:
        """Whether nothing but the task's own completions can be its base."""
        return row.name not in self._covering and not self._rhythms[row.rhythm].task.last_done

    def is_quiet(self, row: Latest) -> bool:
        """Whether a task is certainly not on the list."""
        rhythm = self._rhythms[row.rhythm]
        if row.retired_on and row.retired_on <= self._on:
            return True
        if rhythm.task.once:
            return row.done is not None or row.first_applied > self._on
        deed = self._deed(row)
        if deed is None:
            return False
        if rhythm.task.on:
            return self._is_settled(row.rhythm, row.first_applied, self._day(deed))
        if not rhythm.task.every:
            return False  # of a kind that has no bound
        if deed.when < rhythm.surely_after and self._day(deed) <= rhythm.done_after:
            return False
        return not rhythm.by_usage or self._is_passing(_machine(row), rhythm.by_usage, deed)

    def _deed(self, row: Latest) -> _Deed | None:
        """The latest deed; None without one, and where two are so close that either may be it."""
        if self.stands_alone(row):
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

    def _day(self, deed: _Deed) -> str:
        return deed.when if deed.entry is None else when_done(self._view.store, deed.entry)[0]

    def _settled(self, rhythm: str, first: str, done: str) -> bool:
        task, calendars = self._rhythms[rhythm].task, self._view.calendars_of_shop
        return is_settled(task, (to_date(first), to_date(done)), self._asked, calendars)

    def _is_passing(self, machine: str, by_usage: Iterable[Countdown], deed: _Deed) -> bool:
        """Not told of a `last_done`, which may come with readings."""
        if deed.entry is None:
            return False
        for interval in by_usage:
            passed = self._paces.passed(machine, interval)
            if passed is None:
                return False
            usage = self._paces.usage_at((machine, interval.unit), deed.entry)
            if usage is None or usage <= passed:
                return False
        return True


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
