"""What the store remembers of tools and the programs that wear them, up to the end of a day."""

import json
from collections.abc import Collection
from datetime import date, datetime
from fractions import Fraction

from pmtrack.rules.facts import Moment, ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.store.codec import (
    from_millionths,
    maybe_amount,
    to_date,
    to_instant,
    to_moment,
    to_text,
)
from pmtrack.store.database import Store
from pmtrack.store.history import SHIFT_LOG, shift_log
from pmtrack.store.standing import STANDS


def program_logs(store: Store, program: str, first: date, last: date) -> list[ShiftLog]:
    """Shift logs that name a program, on the dates from first to last, in time order."""
    rows = store.rows(
        f"{SHIFT_LOG} WHERE shift_log.program = ? AND shift_log.day BETWEEN ? AND ?"
        f" AND {STANDS} ORDER BY entry.at, entry.id",
        program,
        first.isoformat(),
        last.isoformat(),
    )
    return [shift_log(row) for row in rows]


def program_days(store: Store, program: str, day: date) -> set[tuple[date, str]]:
    """The dates up to `day` on which a program made parts, each with the machine."""
    rows = store.rows(
        "SELECT DISTINCT shift_log.day, shift_log.machine FROM shift_log"
        " JOIN entry ON entry.id = shift_log.entry"
        f" WHERE shift_log.program = ? AND shift_log.day <= ? AND {STANDS}"
        " AND COALESCE(shift_log.parts, 0) + COALESCE(shift_log.scrap, 0) > 0",
        program,
        day.isoformat(),
    )
    return {(to_date(on), machine) for on, machine in rows}


def program_made(
    store: Store,
    programs: Collection[str],
    span: tuple[Moment | None, date],
    without: Collection[date],
) -> list[tuple[str, str, str | None, Fraction]]:
    """Parts that programs made, scrap included: machine, program, logged material, parts.

    Later than a moment, on days up to a last one; days in `without` are left out.
    """
    since, last = span
    first, later = _later_than(since)
    rows = store.rows(
        "SELECT shift_log.machine, shift_log.program, shift_log.material,"
        " sum(COALESCE(shift_log.parts, 0) + COALESCE(shift_log.scrap, 0)) FROM shift_log"
        " JOIN entry ON entry.id = shift_log.entry"
        " WHERE shift_log.program IN (SELECT value FROM json_each(?))"
        " AND shift_log.day BETWEEN ? AND ? AND entry.at > ?"
        f" AND {STANDS} AND shift_log.day NOT IN (SELECT value FROM json_each(?))"
        " GROUP BY shift_log.program, shift_log.machine, shift_log.material",
        json.dumps(list(programs)),
        first.isoformat(),
        last.isoformat(),
        later,
        json.dumps([day.isoformat() for day in without]),
    )
    return [(*source, from_millionths(made)) for *source, made in rows]


def _later_than(moment: Moment | None) -> tuple[date, str]:
    """The first day on which a shift can end later than a moment, and the instant, if it has one.

    A shift belongs to the day on which it begins, and ends a day later at most.
    """
    if moment is None:
        return date.min, ""
    if moment.at is None:
        return moment.day + ONE_DAY, ""
    return moment.day - ONE_DAY, to_text(moment.at)


def tool_counts(store: Store, tools: Collection[str], day: date) -> list[ToolCount]:
    """Hits entered for tools on days up to `day`, in time order."""
    rows = store.rows(
        "SELECT entry.id, tool_count.tool, entry.day, entry.at, tool_count.hits,"
        " tool_count.material FROM tool_count JOIN entry ON entry.id = tool_count.entry"
        " WHERE tool_count.tool IN (SELECT value FROM json_each(?))"
        f" AND entry.day <= ? AND {STANDS} ORDER BY entry.at, entry.id",
        json.dumps(list(tools)),
        day.isoformat(),
    )
    return [
        ToolCount(
            entry=number,
            tool=tool,
            day=to_date(on),
            at=to_instant(at),
            hits=from_millionths(hits),
            material=material,
        )
        for number, tool, on, at, hits, material in rows
    ]


def tool_events(store: Store, tools: Collection[str], day: date) -> list[ToolEvent]:
    """What was done to tools on days up to `day`, in time order."""
    rows = store.rows(
        "SELECT entry.id, tool_event.tool, entry.day, entry.at, entry.whole_day, tool_event.event,"
        " tool_event.mm, tool_event.why, tool_event.machine, tool_event.station,"
        " tool_event.length FROM tool_event JOIN entry ON entry.id = tool_event.entry"
        " WHERE tool_event.tool IN (SELECT value FROM json_each(?))"
        f" AND entry.day <= ? AND {STANDS} ORDER BY entry.at, entry.id",
        json.dumps(list(tools)),
        day.isoformat(),
    )
    return [
        ToolEvent(
            entry=number,
            tool=tool,
            moment=to_moment(on, at, whole_day),
            at=to_instant(at),
            event=event,
            mm=maybe_amount(mm),
            why=why,
            machine=machine,
            station=station,
            length=maybe_amount(length),
        )
        for number, tool, on, at, whole_day, event, mm, why, machine, station, length in rows
    ]


def ever_fitted(store: Store, places: Collection[tuple[str | None, str | None]]) -> list[str]:
    """The tools in the shop file that were ever fitted in some stations of machines."""
    rows = store.rows(
        "SELECT DISTINCT tool_event.tool FROM tool_event"
        " JOIN entry ON entry.id = tool_event.entry"
        " JOIN tool ON tool.code = tool_event.tool AND tool.retired_on IS NULL"
        " JOIN json_each(?) AS place ON tool_event.machine = json_extract(place.value, '$[0]')"
        " AND tool_event.station = json_extract(place.value, '$[1]')"
        f" WHERE tool_event.event = 'fit' AND {STANDS} ORDER BY tool.position",
        json.dumps(list(places)),
    )
    return [tool for (tool,) in rows]


def scrapped_since(store: Store, tools: Collection[str], at: datetime) -> dict[str, date]:
    """Those of some tools that were scrapped before an instant, each with its day.

    One replaced since is left out, also by a later entry of the same instant.
    """
    rows = store.rows(
        "SELECT tool_event.tool, tool_event.event, entry.day FROM tool_event"
        " JOIN entry ON entry.id = tool_event.entry"
        " WHERE tool_event.tool IN (SELECT value FROM json_each(?))"
        f" AND tool_event.event IN ('scrap', 'replace') AND entry.at < ? AND {STANDS}"
        " ORDER BY entry.at, entry.id",
        json.dumps(list(tools)),
        to_text(at),
    )
    last = {tool: (event, day) for tool, event, day in rows}
    return {tool: to_date(day) for tool, (event, day) in last.items() if event == "scrap"}
