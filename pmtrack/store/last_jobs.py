"""When tasks were done and put off last, for any number of them at once."""

import json
from collections.abc import Collection
from datetime import date

from pmtrack.rules.facts import Base, Deferral, Moment
from pmtrack.store.codec import to_date, to_instant
from pmtrack.store.database import Store
from pmtrack.store.history import STANDS


def last_completions(store: Store, tasks: Collection[str], day: date) -> dict[str, Base | None]:
    """The last completion of each of some tasks on days up to `day`; None without one."""
    rows = store.each(
        "SELECT asked.value, entry.id, entry.day, entry.at, entry.whole_day"
        " FROM json_each(?1) AS asked JOIN entry ON entry.id = ("
        "  SELECT completion.entry FROM completion JOIN entry ON entry.id = completion.entry"
        f"  WHERE completion.task = asked.value AND entry.day <= ?2 AND {STANDS}"
        "  ORDER BY completion.at DESC, entry.id DESC LIMIT 1)",
        json.dumps(list(tasks)),
        day.isoformat(),
    )
    found = dict[str, Base | None].fromkeys(tasks)
    for task, number, on, at, whole_day in rows:
        moment = Moment(to_date(on), None if whole_day else to_instant(at))
        found[task] = Base(moment, f"entry {number}, {task} done", entry=number)
    return found


def last_deferrals(store: Store, tasks: Collection[str], day: date) -> dict[str, Deferral | None]:
    """The latest deferral of each of some tasks made on days up to `day`; None without one."""
    rows = store.each(
        "SELECT deferral.task, deferral.entry, deferral.at, deferral.until, deferral.why"
        " FROM json_each(?1) AS asked JOIN deferral ON deferral.entry = ("
        "  SELECT deferral.entry FROM deferral JOIN entry ON entry.id = deferral.entry"
        f"  WHERE deferral.task = asked.value AND entry.day <= ?2 AND {STANDS}"
        "  ORDER BY deferral.at DESC, entry.id DESC LIMIT 1)",
        json.dumps(list(tasks)),
        day.isoformat(),
    )
    found = dict[str, Deferral | None].fromkeys(tasks)
    for task, number, at, until, why in rows:
        found[task] = Deferral(number, to_instant(at), to_date(until), why)
    return found
