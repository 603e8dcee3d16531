"""Since when the store knows what the machines did."""

from datetime import date

from pmtrack.store.codec import to_date
from pmtrack.store.database import Store
from pmtrack.store.standing import STANDS

_OF_ALL = f"SELECT min(entry.day) FROM entry WHERE entry.kind IN ('shift', 'stop') AND {STANDS}"
_OF_ONE = (
    "SELECT min(entry.day) FROM entry WHERE entry.id IN ("
    " SELECT entry FROM stop WHERE machine = ?1"
    f" UNION SELECT entry FROM shift_log WHERE machine = ?1) AND {STANDS}"
)


def first_day(store: Store, machine: str | None = None) -> date | None:
    """The first day of which a stop or a shift is entered, of one machine or of any."""
    row = store.row(_OF_ALL) if machine is None else store.row(_OF_ONE, machine)
    return to_date(row[0]) if row and row[0] else None
