"""Maintenance work that the store remembers: jobs done, with the minutes entered for them."""

from datetime import date

from pmtrack.store.codec import to_date
from pmtrack.store.database import Store
from pmtrack.store.standing import STANDS


def jobs_done(store: Store, first: date, last: date) -> list[tuple[str, date, int | None]]:
    """Task, day and minutes (None if nobody entered them) of each completion of those days."""
    rows = store.rows(
        "SELECT completion.task, entry.day, completion.minutes FROM completion"
        " JOIN entry ON entry.id = completion.entry"
        f" WHERE entry.day BETWEEN ? AND ? AND {STANDS} ORDER BY completion.at, entry.id",
        first.isoformat(),
        last.isoformat(),
    )
    return [(task, to_date(day), minutes) for task, day, minutes in rows]
