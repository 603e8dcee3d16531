"""Rows that are there already: twice in the file, or in the store."""

import json
from collections.abc import Iterable, Iterator

from pmtrack.imports.fault import Fault
from pmtrack.imports.kinds import Kind
from pmtrack.imports.rows import Key, Row
from pmtrack.store.database import Store

# What stands in the store between two values of the column that orders the rows: the entry, the
# compared columns of the kind in their order, and the meters as JSON.

_SHIFTS = """
SELECT entry.id, log.machine, log.shift, log.day, entry.by, log.parts, log.scrap, log.program,
    log.material, log.confirmed,
    (SELECT json_group_object(meter, amount) FROM count WHERE count.entry = entry.id)
FROM shift_log AS log JOIN entry ON entry.id = log.entry
WHERE log.day BETWEEN ? AND ?
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
# Readings of which only some are marked have a share of 1: no row of a file equals them.
_DIALS = """
SELECT entry.id, min(dial.machine), entry.at || entry.whole_day, entry.by, avg(dial.wrapped),
    avg(dial.exchanged), json_group_object(dial.meter, dial.reading)
FROM dial JOIN entry ON entry.id = dial.entry
WHERE entry.kind = 'dial' AND entry.at || entry.whole_day BETWEEN ? AND ?
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
GROUP BY entry.id
"""
_STOPS = """
SELECT entry.id, stop.machine, stop.started || '0', stop.ended || '0', stop.cause, stop.planned,
    entry.by, '{}'
FROM stop JOIN entry ON entry.id = stop.entry
WHERE stop.started || '0' BETWEEN ? AND ?
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_COMPLETIONS = """
SELECT entry.id, completion.task, entry.at || entry.whole_day, entry.by, completion.minutes,
    (SELECT json_group_object(meter, reading) FROM dial WHERE dial.entry = entry.id)
FROM completion JOIN entry ON entry.id = completion.entry
WHERE entry.at || entry.whole_day BETWEEN ? AND ?
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_TOOL_COUNTS = """
SELECT entry.id, counted.tool, entry.at || entry.whole_day, counted.hits, entry.by,
    counted.material, '{}'
FROM tool_count AS counted JOIN entry ON entry.id = counted.entry
WHERE entry.at || entry.whole_day BETWEEN ? AND ?
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_TOOL_EVENTS = """
SELECT entry.id, event.tool, entry.at || entry.whole_day, event.event, entry.by, event.mm,
    event.why, event.machine, event.station, event.length, '{}'
FROM tool_event AS event JOIN entry ON entry.id = event.entry
WHERE entry.at || entry.whole_day BETWEEN ? AND ?
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_STORED = {
    "shifts": _SHIFTS,
    "dials": _DIALS,
    "stops": _STOPS,
    "completions": _COMPLETIONS,
    "tool-counts": _TOOL_COUNTS,
    "tool-events": _TOOL_EVENTS,
}


def known_rows(store: Store, kind: Kind, rows: Iterable[Row]) -> Iterator[Fault]:
    """A fault for each row that is equal to an earlier one of the file, or to a stored one."""
    first: dict[Key, Row] = {}
    for row in rows:
        earlier = first.setdefault(row.key, row)
        if earlier is not row:
            text = f"the same as line {earlier.line}; delete one, or add --again if both are meant"
            yield Fault(row.line, text)
    for entry, key in _stored(store, kind, first):
        if key in first:
            text = (
                f"in the store already, as entry {entry}; delete it, or add --again if it is meant"
            )
            yield Fault(first[key].line, text)
            del first[key]  # a second equal entry tells nothing new


def _stored(store: Store, kind: Kind, keys: Iterable[Key]) -> Iterator[tuple[int, Key]]:
    """Entries that stand in the span of time of the keys, each with its key."""
    moments = [key[kind.position] for key in keys]
    if not moments:
        return
    for entry, *columns, meters in store.each(_STORED[kind.name], min(moments), max(moments)):
        yield entry, (*columns, frozenset(json.loads(meters).items()))
