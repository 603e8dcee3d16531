"""Entries that stand, in the columns in which rows of a file are compared with them.

A moment is the instant and, in the same text, a 1 for a whole day or a 0: so the rows of a file are
kept for comparing, and ordered.
"""

import json
from collections.abc import Collection, Iterator
from typing import Any

from pmtrack.store.database import Store
from pmtrack.store.standing import STANDS

# between two values of the column that orders the rows: the entry, the compared columns of the kind
# in their order, and the meters as JSON. Of shifts there are most: they are found by their machines

_SHIFTS = f"""
SELECT entry.id, log.machine, log.shift, log.day, entry.by, log.parts, log.scrap, log.program,
    log.material, log.confirmed,
    (SELECT json_group_object(meter, amount) FROM count WHERE count.entry = entry.id)
FROM json_each(?3) AS asked CROSS JOIN shift_log AS log JOIN entry ON entry.id = log.entry
WHERE log.machine = asked.value AND log.day BETWEEN ?1 AND ?2
    AND {STANDS}
"""
# Readings of which only some are marked have a share of 1: no row of a file equals them.
_DIALS = f"""
SELECT entry.id, min(dial.machine), entry.at || entry.whole_day, entry.by, avg(dial.wrapped),
    avg(dial.exchanged), json_group_object(dial.meter, dial.reading)
FROM dial JOIN entry ON entry.id = dial.entry
WHERE entry.kind = 'dial' AND entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND {STANDS}
GROUP BY entry.id
"""
_STOPS = f"""
SELECT entry.id, stop.machine, stop.started || '0', stop.ended || '0', stop.cause, stop.planned,
    entry.by, '{{}}'
FROM stop JOIN entry ON entry.id = stop.entry
WHERE stop.started || '0' BETWEEN ?1 AND ?2
    AND {STANDS}
"""
_COMPLETIONS = f"""
SELECT entry.id, completion.task, entry.at || entry.whole_day, entry.by, completion.minutes,
    (SELECT json_group_object(meter, reading) FROM dial WHERE dial.entry = entry.id)
FROM completion JOIN entry ON entry.id = completion.entry
WHERE entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND {STANDS}
"""
_TOOL_COUNTS = f"""
SELECT entry.id, counted.tool, entry.at || entry.whole_day, counted.hits, entry.by,
    counted.material, '{{}}'
FROM tool_count AS counted JOIN entry ON entry.id = counted.entry
WHERE entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND {STANDS}
"""
_TOOL_EVENTS = f"""
SELECT entry.id, event.tool, entry.at || entry.whole_day, event.event, entry.by, event.mm,
    event.why, event.machine, event.station, event.length, '{{}}'
FROM tool_event AS event JOIN entry ON entry.id = event.entry
WHERE entry.at || entry.whole_day BETWEEN ?1 AND ?2
    AND {STANDS}
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


def standing_rows(
    store: Store, kind: str, between: tuple[Any, Any], machines: Collection[str], last: int
) -> Iterator[tuple[int, list[Any], dict[str, int]]]:
    """Entry, compared columns and amounts by meter of what stands of a kind of file, latest first.

    What is asked for lies between two dates or moments and was entered up to the entry `last`; of
    shifts, those of some machines.
    """
    sql = _UP_TO.format(_STORED[kind])
    for entry, *columns, meters in store.each(sql, *between, json.dumps(list(machines)), last):
        yield entry, columns, json.loads(meters)
