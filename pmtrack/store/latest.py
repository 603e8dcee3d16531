"""The latest facts of all tasks and meters at once, as the store keeps them: texts, whole numbers.

They are read for every task of the shop, so nothing is made of them that is not asked for.
"""

import json
from datetime import date
from typing import NamedTuple

from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import Task
from pmtrack.store.codec import damaged
from pmtrack.store.database import Store
from pmtrack.store.records import decode


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
    "  AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = completion.entry)"
    "  ORDER BY completion.at DESC, completion.entry DESC LIMIT 1)"
    " FROM task INDEXED BY task_rhythm WHERE raised_by IS NULL"
    " OR NOT EXISTS (SELECT 1 FROM void WHERE void.target = raised_by)"
)
LATEST_AFTER = 2  # days from a completion's day to the date of its instant, in any time zone


def latest_of_tasks(store: Store, day: date) -> list[Latest]:
    """All tasks and one-off jobs, each with its last completion on days up to `day`."""
    bounds = [_days_later(day, days).isoformat() for days in (0, -1, LATEST_AFTER + 1)]
    return list(map(Latest._make, store.each(_LATEST, *bounds)))


def _days_later(day: date, days: int) -> date:
    return date.fromordinal(min(max(day.toordinal() + days, 1), date.max.toordinal()))


def when_done(store: Store, entry: int) -> tuple[str, str, bool]:
    """Day and instant of a completion, and whether it counts at the end of that day."""
    row = store.row("SELECT day, at, whole_day FROM entry WHERE id = ?", entry)
    if row is None:
        raise damaged(f"entry {entry} is missing")
    return row[0], row[1], bool(row[2])


def usage_when_done(store: Store, entry: int, meter: tuple[str, str]) -> tuple[str, bool, int]:
    """Day of a completion, whether it counts at its end, and the meter's usage at its instant."""
    row = store.row(
        "SELECT day, whole_day, (SELECT usage FROM tally"
        "  WHERE machine = ? AND meter = ? AND tally.at <= entry.at"
        "  ORDER BY tally.at DESC, is_dial DESC, tally.entry DESC LIMIT 1)"
        " FROM entry WHERE id = ?",
        *meter,
        entry,
    )
    if row is None:
        raise damaged(f"entry {entry} is missing")
    return row[0], bool(row[1]), row[2] or 0


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
        "SELECT m.machine, m.name, m.definition FROM meter m"
        " JOIN machine ON machine.code = m.machine WHERE m.retired_on IS machine.retired_on"
    )
    return {(machine, name): definition for machine, name, definition in rows}


class Closing(NamedTuple):
    """A meter at the end of a day, in millionths since its level, and the day it was read last.

    `tangled` says that entries of later days came before the last one of this day.
    """

    usage: int
    day: str
    tangled: int


def closing(
    store: Store, meter: tuple[str, str], day: date, ends: tuple[str, str]
) -> Closing | None:
    """A meter after all entries of days up to `day`; None before the first.

    `ends` are the day's midnight and an instant by which its night shift is over.
    """
    midnight, night = ends
    row = store.row(
        "SELECT usage, day, at >= ?3 AND EXISTS (SELECT 1 FROM tally AS other"
        "  WHERE other.machine = tally.machine AND other.meter = tally.meter"
        "  AND other.at >= ?3 AND other.at <= tally.at AND other.day > ?5)"
        " FROM tally WHERE machine = ?1 AND meter = ?2 AND at < ?4 AND day <= ?5"
        " ORDER BY at DESC, is_dial DESC, entry DESC LIMIT 1",
        *meter,
        midnight,
        night,
        day.isoformat(),
    )
    return Closing._make(row) if row else None
