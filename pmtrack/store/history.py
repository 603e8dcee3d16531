"""What the store remembers up to the end of a day; voided entries are left out."""

import json
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime
from fractions import Fraction

from pmtrack.rules.facts import (
    DaysOut,
    Moment,
    ShiftLog,
    Span,
    Stop,
)
from pmtrack.store.codec import (
    from_millionths,
    maybe_instant,
    to_date,
    to_instant,
    to_moment,
)
from pmtrack.store.database import Row, Store
from pmtrack.store.standing import STANDS, stands

_LOG_STANDS = stands("shift_log.entry")


def completions(store: Store, task: str, day: date) -> list[tuple[int, Moment]]:
    """Entry and moment of each completion of a task on days up to `day`, in time order."""
    rows = store.rows(
        "SELECT entry.id, entry.day, entry.at, entry.whole_day FROM completion"
        " JOIN entry ON entry.id = completion.entry"
        f" WHERE completion.task = ? AND entry.day <= ? AND {STANDS}"
        " ORDER BY completion.at, entry.id",
        task,
        day.isoformat(),
    )
    return [(number, to_moment(on, at, whole_day)) for number, on, at, whole_day in rows]


def other_completion(store: Store, task: str, day: date, entry: int) -> int | None:
    """The entry of the completion of a task on a day that was entered last, but for one entry."""
    row = store.row(
        "SELECT entry.id FROM completion JOIN entry ON entry.id = completion.entry"
        f" WHERE completion.task = ? AND entry.day = ? AND entry.id <> ? AND {STANDS}"
        " ORDER BY entry.id DESC LIMIT 1",
        task,
        day.isoformat(),
        entry,
    )
    return row[0] if row else None


def ever_out_of_service(store: Store) -> set[str]:
    """The machines that were ever taken out of service."""
    return {machine for (machine,) in store.each("SELECT DISTINCT machine FROM service_change")}


def out_of_service(store: Store, machine: str, day: date) -> list[DaysOut]:
    """The spans of days at whose end a machine was out, as known on a day."""
    rows = store.rows(
        "SELECT entry.id, service_change.day, service_change.out FROM service_change"
        " JOIN entry ON entry.id = service_change.entry"
        f" WHERE service_change.machine = ? AND entry.day <= ? AND {STANDS}"
        " ORDER BY service_change.at, entry.id",
        machine,
        day.isoformat(),
    )
    spans: list[DaysOut] = []
    since: DaysOut | None = None
    for number, text, out in rows:
        if out and since is None:
            since = DaysOut(number, to_date(text), None)
        elif not out and since is not None:
            spans.append(replace(since, back=to_date(text)))
            since = None
    return [*spans, since] if since else spans


def stops(store: Store, machine: str, day: date) -> list[Stop]:
    """The stops of a machine begun on days up to `day`; one without an end runs to a restart.

    A restart of the very instant ends it when it was entered later.
    """
    rows = store.rows(
        "SELECT entry.id, stop.started, stop.ended, stop.planned, stop.cause, ("
        "  SELECT min(restart.at) FROM restart JOIN entry AS r ON r.id = restart.entry"
        "  WHERE restart.machine = stop.machine AND r.day <= ?"
        "  AND (restart.at, r.id) > (stop.started, entry.id)"
        f"  AND {stands('r.id')}"
        f") FROM stop JOIN entry ON entry.id = stop.entry WHERE stop.machine = ? AND {STANDS}"
        " AND entry.day <= ? ORDER BY stop.started, entry.id",
        day.isoformat(),
        machine,
        day.isoformat(),
    )
    return [
        Stop(
            entry=number,
            machine=machine,
            span=Span(to_instant(started), maybe_instant(ended or restarted)),
            planned=bool(planned),
            cause=cause,
        )
        for number, started, ended, planned, cause, restarted in rows
    ]


SHIFT_LOG = (
    "SELECT entry.id, shift_log.machine, shift_log.shift, shift_log.day, entry.at, shift_log.parts,"
    " shift_log.scrap, shift_log.program, shift_log.material"
    " FROM shift_log JOIN entry ON entry.id = shift_log.entry"
)


def shift_log(row: Row) -> ShiftLog:
    """The record of a row that SHIFT_LOG selects."""
    number, machine, shift, day, at, parts, scrap, program, material = row
    return ShiftLog(
        entry=number,
        machine=machine,
        shift=shift,
        day=to_date(day),
        at=to_instant(at),
        parts=from_millionths(parts or 0),
        scrap=from_millionths(scrap or 0),
        program=program,
        material=material,
    )


def shift_logs(store: Store, machine: str, first: date, last: date) -> list[ShiftLog]:
    """What was logged for the shifts of a machine that start on the dates from first to last."""
    rows = store.rows(
        f"{SHIFT_LOG} WHERE shift_log.machine = ? AND shift_log.day BETWEEN ? AND ?"
        f" AND {STANDS} ORDER BY entry.at, entry.id",
        machine,
        first.isoformat(),
        last.isoformat(),
    )
    return [shift_log(row) for row in rows]


def logged_shifts(store: Store, machine: str, first: date, last: date) -> set[tuple[str, date]]:
    """Shift and date of each log of a machine on the dates from first to last."""
    rows = store.rows(
        "SELECT DISTINCT shift, day FROM shift_log"
        f" WHERE machine = ? AND day BETWEEN ? AND ? AND {_LOG_STANDS}",
        machine,
        first.isoformat(),
        last.isoformat(),
    )
    return {(shift, to_date(day)) for shift, day in rows}


def machines_perhaps_lacking(
    store: Store, slots: Iterable[tuple[str, date]], day: date
) -> list[str]:
    """The machines in the shop on a day that lack a log of one of the slots, or were ever out.

    A slot is the name of a shift and its date; a machine that was out has slots of its own.
    """
    rows = store.rows(
        "WITH slot AS MATERIALIZED (SELECT json_extract(value, '$[0]') AS shift,"
        "  json_extract(value, '$[1]') AS day FROM json_each(?2))"
        " SELECT code FROM machine WHERE (retired_on IS NULL OR retired_on > ?1)"
        " AND (EXISTS (SELECT 1 FROM slot WHERE NOT EXISTS ("
        "  SELECT 1 FROM shift_log WHERE shift_log.machine = machine.code"
        "  AND shift_log.day = slot.day AND shift_log.shift = slot.shift"
        f" AND {_LOG_STANDS}))"
        " OR EXISTS (SELECT 1 FROM service_change WHERE service_change.machine = machine.code))"
        " ORDER BY retired_on IS NOT NULL, position",
        day.isoformat(),
        json.dumps([(shift, on.isoformat()) for shift, on in slots]),
    )
    return [code for (code,) in rows]


def service_changes(store: Store, machine: str) -> list[tuple[int, datetime, bool]]:
    """Entries by which a machine was taken out of service (True) and came back, in time order."""
    rows = store.rows(
        "SELECT entry.id, service_change.at, service_change.out FROM service_change"
        " JOIN entry ON entry.id = service_change.entry"
        f" WHERE service_change.machine = ? AND {STANDS} ORDER BY service_change.at, entry.id",
        machine,
    )
    return [(number, to_instant(at), bool(out)) for number, at, out in rows]


def last_shift_logs(store: Store, machine: str, count: int) -> list[ShiftLog]:
    """The latest shift logs of a machine, newest first."""
    rows = store.rows(
        f"{SHIFT_LOG} WHERE shift_log.machine = ? AND {STANDS}"
        " ORDER BY shift_log.day DESC, entry.at DESC, entry.id DESC LIMIT ?",
        machine,
        count,
    )
    return [shift_log(row) for row in rows]


def counts_of(store: Store, entry: int) -> dict[str, Fraction]:
    """The counts of a shift log by meter."""
    rows = store.rows("SELECT meter, amount FROM count WHERE entry = ?", entry)
    return {meter: from_millionths(amount) for meter, amount in rows}


def completion_days(store: Store, day: date) -> dict[str, set[str]]:
    """By task, the days up to `day` on which it was done."""
    rows = store.each(
        "SELECT completion.task, entry.day FROM completion"
        f" JOIN entry ON entry.id = completion.entry WHERE entry.day <= ? AND {STANDS}",
        day.isoformat(),
    )
    found = defaultdict[str, set[str]](set)
    for task, on in rows:
        found[task].add(on)
    return found


def times_done(store: Store, tasks: Iterable[str], day: date) -> tuple[int, date | None]:
    """On how many days up to `day` any of the tasks was done, and the latest of them."""
    count, last = store.rows(
        "SELECT count(DISTINCT entry.day), max(entry.day) FROM completion"
        " JOIN entry ON entry.id = completion.entry"
        " WHERE completion.task IN (SELECT value FROM json_each(?))"
        f" AND entry.day <= ? AND {STANDS}",
        json.dumps(list(tasks)),
        day.isoformat(),
    )[0]
    return count, to_date(last) if last else None


def counted(
    store: Store, machines: Iterable[str], days: tuple[date, date], before: int
) -> dict[tuple[str, str, str, str], int]:
    """Counts that stand, in millionths, by machine, meter, shift and date (as text).

    Those of some machines for the dates from first to last, of entries numbered below `before`.
    """
    rows = store.rows(
        "SELECT shift_log.machine, count.meter, shift_log.shift, shift_log.day, sum(count.amount)"
        " FROM json_each(?) AS asked CROSS JOIN shift_log ON shift_log.machine = asked.value"
        " JOIN count ON count.entry = shift_log.entry JOIN entry ON entry.id = shift_log.entry"
        f" WHERE shift_log.day BETWEEN ? AND ? AND entry.id < ? AND {STANDS}"
        " GROUP BY shift_log.machine, count.meter, shift_log.shift, shift_log.day",
        json.dumps(list(machines)),
        days[0].isoformat(),
        days[1].isoformat(),
        before,
    )
    return {(machine, meter, shift, day): amount for machine, meter, shift, day, amount in rows}


def largest_count(store: Store, machine: str, meter: str, since: int) -> int:
    """The entry of the largest count of a meter, of those numbered from `since` on."""
    row = store.row(
        "SELECT entry FROM count WHERE entry >= ? AND machine = ? AND meter = ?"
        " ORDER BY amount DESC, entry LIMIT 1",
        since,
        machine,
        meter,
    )
    assert row is not None  # noqa: S101 - asked for meters that were counted since
    return int(row[0])
