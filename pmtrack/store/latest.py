"""The latest facts of all tasks and meters at once, as the store keeps them: texts, whole numbers.

They are read for every task of the shop, so nothing is made of them that is not asked for.
"""

import json
from collections.abc import Collection, Container, Iterable, Mapping
from datetime import date
from typing import NamedTuple

from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import Task
from pmtrack.store.codec import damaged
from pmtrack.store.database import Row, Store
from pmtrack.store.records import decode
from pmtrack.store.standing import stands


class Latest(NamedTuple):
    """A task with its rhythm; `done` is instant and entry of its last completion, in one text."""

    name: str
    rhythm: str
    first_applied: str
    retired_on: str | None
    done: str | None

    @property
    def entry(self) -> int | None:
        """The entry of the last completion."""
        return int(self.done.rpartition(" ")[2]) if self.done else None


# the index of tasks holds the rhythms ready, that of completions all that is asked of them; the
# entry is only looked at where its day may be a later one, in whatever time zone it was entered
_LATEST = (
    "SELECT name, rhythm, first_applied, retired_on, ("
    "  SELECT completion.at || ' ' || completion.entry FROM completion"
    "  WHERE completion.task = task.name AND completion.at < ?3"
    "  AND (completion.at < ?2 OR ?1 >= (SELECT day FROM entry WHERE id = completion.entry))"
    f"  AND {stands('completion.entry')}"
    "  ORDER BY completion.at DESC, completion.entry DESC LIMIT 1)"
    " FROM task INDEXED BY task_rhythm WHERE raised_by IS NULL"
    f" OR {stands('raised_by')}"
)
LATEST_AFTER = 2  # days from a completion's day to the date of its instant, in any time zone


def latest_of_tasks(store: Store, day: date) -> list[Row]:
    """All tasks and one-off jobs, each with its last completion on days up to `day`.

    The fields are those of a `Latest`, which few of the rows need to become.
    """
    bounds = [_days_later(day, days).isoformat() for days in (0, -1, LATEST_AFTER + 1)]
    return store.rows(_LATEST, *bounds)


def _days_later(day: date, days: int) -> date:
    return date.fromordinal(min(max(day.toordinal() + days, 1), date.max.toordinal()))


class Done(NamedTuple):
    """Day and instant of a completion, and whether it counts at the end of that day."""

    day: str
    at: str
    whole_day: int


def when_done(store: Store, entries: Collection[int]) -> dict[int, Done]:
    """When each of some completions was, by entry. Raises Refused where an entry is missing."""
    rows = store.each(
        "SELECT entry.id, entry.day, entry.at, entry.whole_day"
        " FROM json_each(?) AS asked CROSS JOIN entry ON entry.id = asked.value",
        json.dumps(list(entries)),
    )
    found = {entry: Done(day, at, whole) for entry, day, at, whole in rows}
    _check_entries(entries, found)
    return found


class UsageDone(NamedTuple):
    """Day of a completion, whether it counts at its end, and a meter's usage at its instant."""

    day: str
    whole_day: int
    usage: int


def usage_when_done(store: Store, meter: str, machines: Mapping[int, str]) -> dict[int, UsageDone]:
    """The usage (millionths) of the meter of that name at completions, by entry.

    `machines` has the machine of each entry. Raises Refused where an entry is missing.
    """
    rows = store.each(
        "SELECT entry.id, entry.day, entry.whole_day, (SELECT usage FROM tally"
        "  WHERE machine = asked.value AND meter = ?2 AND tally.at <= entry.at"
        "  ORDER BY tally.at DESC, is_dial DESC, tally.entry DESC LIMIT 1)"
        " FROM json_each(?1) AS asked CROSS JOIN entry ON entry.id = CAST(asked.key AS INTEGER)",
        json.dumps(machines),
        meter,
    )
    found = {entry: UsageDone(day, whole, usage or 0) for entry, day, whole, usage in rows}
    _check_entries(machines, found)
    return found


def _check_entries(asked: Iterable[int], found: Container[int]) -> None:
    for entry in asked:
        if entry not in found:
            raise damaged(f"entry {entry} is missing")


_RHYTHM = ("every", "on", "once", "starts", "last_done", "lead", "covers")


def task_of_rhythm(rhythm: str) -> Task:
    """A task with what bears on when it is listed; its machine, code and title are empty.

    Raises Refused for what no definition says.
    """
    try:
        fields = zip(_RHYTHM, json.loads(rhythm), strict=True)
        told = {name: value for name, value in fields if value is not None}
    except (ValueError, TypeError):
        raise damaged(f"'{shorten(str(rhythm))}' cannot be read") from None
    task: Task = decode(Task, json.dumps({"machine": "", "code": "", "title": "", **told}))
    return task


def meter_definitions(store: Store) -> dict[tuple[str, str], str]:
    """What the shop file says of each meter, as text; retired machines keep those they had."""
    rows = store.each(
        "SELECT machine, name, definition FROM meter WHERE retired_on IS NULL"
        " OR retired_on = (SELECT retired_on FROM machine WHERE code = meter.machine)"
    )
    return {(machine, name): definition for machine, name, definition in rows}


class Closing(NamedTuple):
    """A meter at the end of a day, in millionths since its level, and the day it was read last.

    `tangled` says that entries of later days came before the last one of this day.
    """

    usage: int
    day: str
    tangled: bool


def closings(
    store: Store, meter: str, machines: Collection[str], day: date, ends: tuple[str, str]
) -> dict[str, Closing]:
    """The meter of that name after all entries of days up to `day`, by machine; none before any.

    `ends` are the day's midnight and an instant by which its night shift is over.
    """
    rows = store.each(
        "SELECT closing.machine, closing.usage, closing.day, closing.at >= ?4 AND EXISTS ("
        "  SELECT 1 FROM tally AS other WHERE other.machine = closing.machine AND other.meter = ?2"
        "  AND other.at >= ?4 AND other.at <= closing.at AND other.day > ?3)"
        " FROM json_each(?1) AS asked CROSS JOIN tally AS closing"
        "  ON closing.machine = asked.value AND closing.meter = ?2"
        "  AND (closing.at, closing.is_dial, closing.entry) = ("
        "   SELECT at, is_dial, entry FROM tally"
        "   WHERE machine = asked.value AND meter = ?2 AND at < ?5 AND day <= ?3"
        "   ORDER BY at DESC, is_dial DESC, entry DESC LIMIT 1)",
        json.dumps(list(machines)),
        meter,
        day.isoformat(),
        *ends,
    )
    return {machine: Closing(usage, on, bool(tangled)) for machine, usage, on, tangled in rows}
