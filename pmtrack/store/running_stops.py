"""The machines that are down: their stops that have no end yet, at the end of a day."""

from datetime import date

from pmtrack.rules.facts import Span, Stop
from pmtrack.store.codec import to_instant
from pmtrack.store.database import Store
from pmtrack.store.standing import STANDS

# of each machine the last restart, and of its stops without an end those since then
_RUNNING = (
    "SELECT entry.id, stop.machine, stop.started, stop.planned, stop.cause FROM machine"
    " LEFT JOIN restart AS back ON back.entry = ("
    "  SELECT restart.entry FROM restart JOIN entry ON entry.id = restart.entry"
    f"  WHERE restart.machine = machine.code AND entry.day <= ?1 AND {STANDS}"
    "  ORDER BY restart.at DESC, restart.entry DESC LIMIT 1)"
    " CROSS JOIN stop INDEXED BY stop_open ON stop.machine = machine.code AND stop.ended IS NULL"
    "  AND stop.started >= COALESCE(back.at, '')"
    "  AND (stop.started, stop.entry) > (COALESCE(back.at, ''), COALESCE(back.entry, 0))"
    " JOIN entry ON entry.id = stop.entry"
    " WHERE (machine.retired_on IS NULL OR machine.retired_on > ?1)"
    f" AND entry.day <= ?1 AND {STANDS}"
    " ORDER BY machine.code, stop.started, stop.entry"
)


def running_stops(store: Store, day: date) -> list[Stop]:
    """The stops that run at the end of a day, by machine and time."""
    return [
        Stop(number, code, Span(to_instant(started), None), bool(planned), cause)
        for number, code, started, planned, cause in store.rows(_RUNNING, day.isoformat())
    ]
