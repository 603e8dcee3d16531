"""Since when the store knows of a machine."""

from datetime import date

from pmtrack.store.codec import to_date
from pmtrack.store.database import Store
from pmtrack.store.standing import STANDS


def first_day(store: Store, machine: str) -> date | None:
    """The first day of which a stop or a shift of a machine is entered; None without any."""
    row = store.row(
        "SELECT min(entry.day) FROM entry WHERE entry.id IN ("
        " SELECT entry FROM stop WHERE machine = ?"
        f" UNION SELECT entry FROM shift_log WHERE machine = ?) AND {STANDS}",
        machine,
        machine,
    )
    return to_date(row[0]) if row and row[0] else None
