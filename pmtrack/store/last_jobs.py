"""When tasks were done and put off last, for any number of them at once."""

import json
from collections.abc import Collection, Iterator
from datetime import date

from pmtrack.rules.facts import Base, Deferral, done_base
from pmtrack.store.codec import to_date, to_instant, to_moment
from pmtrack.store.database import Row, Store
from pmtrack.store.standing import STANDS


def last_completions(store: Store, tasks: Collection[str], day: date) -> dict[str, Base | None]:
    """The last completion of each of some tasks on days up to `day`; None without one."""
    found = dict[str, Base | None].fromkeys(tasks)
    kept = "entry.day, entry.at, entry.whole_day"
    for task, number, on, at, whole_day in _last(store, "completion", kept, tasks, day):
        found[task] = done_base(to_moment(on, at, whole_day), number, task)
    return found


def last_deferrals(store: Store, tasks: Collection[str], day: date) -> dict[str, Deferral | None]:
    """The latest deferral of each of some tasks made on days up to `day`; None without one."""
    found = dict[str, Deferral | None].fromkeys(tasks)
    kept = "deferral.at, deferral.until, deferral.why"
    for task, number, at, until, why in _last(store, "deferral", kept, tasks, day):
        found[task] = Deferral(number, to_instant(at), to_date(until), why)
    return found


def _last(
    store: Store, table: str, columns: str, tasks: Collection[str], day: date
) -> Iterator[Row]:
    """Task, entry and columns of the latest row of each task in a table of such deeds."""
    return store.each(
        f"SELECT asked.value, entry.id, {columns} FROM json_each(?1) AS asked"
        f" JOIN {table} ON {table}.entry = ("
        f"  SELECT {table}.entry FROM {table} JOIN entry ON entry.id = {table}.entry"
        f"  WHERE {table}.task = asked.value AND entry.day <= ?2 AND {STANDS}"
        f"  ORDER BY {table}.at DESC, entry.id DESC LIMIT 1)"
        f" JOIN entry ON entry.id = {table}.entry",
        json.dumps(list(tasks)),
        day.isoformat(),
    )
