"""Rows that are there already: twice in the file, or in the store."""

import json
from collections.abc import Iterator, Sequence

from pmtrack.imports.fault import Fault
from pmtrack.imports.kinds import Kind
from pmtrack.imports.rows import Block, Key
from pmtrack.store.database import Store
from pmtrack.store.entries import last_number

# What stands in the store between two values of the column that orders the rows: the entry, the
# compared columns of the kind in their order, and the meters as JSON. Of shifts there are most:
# they are found by their machines.

_SHIFTS = """
SELECT entry.id, log.machine, log.shift, log.day, entry.by, log.parts, log.scrap, log.program,
    log.material, log.confirmed,
    (SELECT json_group_object(meter, amount) FROM count WHERE count.entry = entry.id)
FROM json_each(?3) AS asked CROSS JOIN shift_log AS log JOIN entry ON entry.id = log.entry
WHERE log.machine = asked.value AND log.day BETWEEN ?1 AND ?2
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
# Readings of which only some are marked have a share of 1: no row of a file equals them.
_DIALS = """
SELECT entry.id, min(dial.machine), entry.at || entry.whole_day, entry.by, avg(dial.wrapped),
    avg(dial.exchanged), json_group_object(dial.meter, dial.reading)
FROM dial JOIN entry ON entry.id = dial.entry
WHERE entry.kind = 'dial' AND entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
GROUP BY entry.id
"""
_STOPS = """
SELECT entry.id, stop.machine, stop.started || '0', stop.ended || '0', stop.cause, stop.planned,
    entry.by, '{}'
FROM stop JOIN entry ON entry.id = stop.entry
WHERE stop.started || '0' BETWEEN ?1 AND ?2
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_COMPLETIONS = """
SELECT entry.id, completion.task, entry.at || entry.whole_day, entry.by, completion.minutes,
    (SELECT json_group_object(meter, reading) FROM dial WHERE dial.entry = entry.id)
FROM completion JOIN entry ON entry.id = completion.entry
WHERE entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_TOOL_COUNTS = """
SELECT entry.id, counted.tool, entry.at || entry.whole_day, counted.hits, entry.by,
    counted.material, '{}'
FROM tool_count AS counted JOIN entry ON entry.id = counted.entry
WHERE entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_TOOL_EVENTS = """
SELECT entry.id, event.tool, entry.at || entry.whole_day, event.event, entry.by, event.mm,
    event.why, event.machine, event.station, event.length, '{}'
FROM tool_event AS event JOIN entry ON entry.id = event.entry
WHERE entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = entry.id)
"""
_UP_TO = "SELECT * FROM ({}) AS found WHERE id <= ?4 ORDER BY id DESC"
_STORED = {
    "shifts": _SHIFTS,
    "dials": _DIALS,
    "stops": _STOPS,
    "completions": _COMPLETIONS,
    "tool-counts": _TOOL_COUNTS,
    "tool-events": _TOOL_EVENTS,
}


class KnownRows:
    """Finds rows that are there already; blocks are asked about in the order of time."""

    def __init__(self, store: Store, kind: Kind, meters: Sequence[str]) -> None:
        self._store = store
        self._kind = kind
        self._meters = meters
        self._last = last_number(store)  # what is made later comes from the file
        self._moment: str | int | None = None
        self._first: dict[Key, int] = {}  # by key, the first line of it at that moment

    def faults(self, block: Block) -> list[Fault]:
        """A fault for each row equal to an earlier one of the file, or to a stored one."""
        stored, position = dict(self._stored(block)), self._kind.position
        faults = []
        for line, key in zip(block.lines, block.keys, strict=True):
            if key[position] != self._moment:
                self._moment = key[position]
                self._first.clear()
            earlier = self._first.setdefault(key, line)
            if earlier != line:
                text = f"the same as line {earlier}; delete one, or add --again if both are meant"
                faults.append(Fault(line, text))
            elif key in stored:
                text = f"in the store already, as entry {stored[key]}"
                faults.append(Fault(line, f"{text}; delete it, or add --again if it is meant"))
        return faults

    def _stored(self, block: Block) -> Iterator[tuple[Key, int]]:
        """Keys and numbers of entries that stand in the span of time of a block, latest first."""
        if not (block.keys and self._last):
            return
        moments = [key[self._kind.position] for key in block.keys]
        machines = json.dumps(sorted({str(key[0]) for key in block.keys}))
        sql = _UP_TO.format(_STORED[self._kind.name])
        rows = self._store.each(sql, min(moments), max(moments), machines, self._last)
        for entry, *columns, meters in rows:
            amounts = json.loads(meters)
            if amounts.keys() <= set(self._meters):
                yield (*columns, *map(amounts.get, self._meters)), entry
