"""What calendar files have said: each export is kept whole, so that a revision can follow on."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from pmtrack.rules.revision import CalendarEntry, CalendarJob
from pmtrack.store.codec import to_date, to_instant, to_text
from pmtrack.store.database import Row, Store
from pmtrack.store.records import decode, encode

_BATCH = 500  # of UIDs looked up by one statement


def store_id(store: Store) -> UUID:
    """The random identity of the store."""
    row = store.row("SELECT id FROM store")
    assert row is not None  # noqa: S101 - made with the store
    return UUID(row[0])


def last_export(store: Store, period: str) -> list[CalendarEntry]:
    """What the last calendar file of a period said; empty if there was none."""
    rows = store.rows(
        "SELECT sequence, stamp, cancelled, definition FROM export_event"
        " WHERE export = (SELECT max(id) FROM export WHERE period = ?) ORDER BY uid",
        period,
    )
    return [_entry(row) for row in rows]


def was_exported(store: Store, period: str) -> bool:
    """Whether a calendar file of the period was ever written."""
    return store.row("SELECT 1 FROM export WHERE period = ?", period) is not None


def highest(store: Store, period: str, uids: Iterable[str]) -> list[CalendarEntry]:
    """The highest revision that any file ever said of some events.

    Left out is what the period's own last file says.
    """
    if store.row("SELECT 1 FROM export WHERE period <> ?", period) is None:
        return []  # each file of a period goes on from the one before
    own = store.row("SELECT max(id) FROM export WHERE period = ?", period)
    found = list[Row]()
    for some in _in_batches(sorted(uids)):
        found += store.rows(
            "SELECT sequence, stamp, cancelled, definition FROM (SELECT *, row_number() OVER"
            " (PARTITION BY uid ORDER BY sequence DESC, stamp DESC, export IS ?1 DESC, export DESC)"
            f" AS place FROM export_event WHERE uid IN ({', '.join('?' * len(some))}))"
            " WHERE place = 1 AND export IS NOT ?1",
            own and own[0],
            *some,
        )
    return [_entry(row) for row in found]


@dataclass(frozen=True)
class OpenEvent:
    """An event that the last file of a period told as still to be done; older files had no key."""

    period: str
    uid: str
    task: str
    key: str
    day: date


def open_elsewhere(store: Store, period: str, since: date) -> list[OpenEvent]:
    """The open events from a day on in the last files of all other periods."""
    rows = store.rows(
        "SELECT last.period, event.uid, event.task,"
        " coalesce(json_extract(event.definition, '$.key'), ''),"
        " json_extract(event.definition, '$.day') AS day"
        " FROM (SELECT period, max(id) AS id FROM export WHERE period <> ? GROUP BY period) AS last"
        " JOIN export_event AS event ON event.export = last.id"
        " WHERE NOT event.cancelled AND json_extract(event.definition, '$.done') IS NULL"
        " AND day >= ? ORDER BY last.id, event.uid",
        period,
        since.isoformat(),
    )
    return [
        OpenEvent(told_in, uid, task, key, to_date(day)) for told_in, uid, task, key, day in rows
    ]


def uids_told(store: Store) -> set[str]:
    """The UIDs of all events that any file ever told."""
    return {uid for (uid,) in store.rows("SELECT DISTINCT uid FROM export_event")}


def _in_batches(uids: Sequence[str]) -> Iterator[Sequence[str]]:
    """So many at a time as a statement may have parameters, and fewer."""
    for start in range(0, len(uids), _BATCH):
        yield uids[start : start + _BATCH]


def keep_export(store: Store, period: str, at: datetime, entries: Sequence[CalendarEntry]) -> None:
    """Keep what a calendar file says."""
    number = store.add("export", at=to_text(at), period=period)
    store.change_many(
        "INSERT INTO export_event (export, uid, task, sequence, stamp, cancelled, definition)"
        " VALUES (?, ?, ?, ?, ?, ?, ?)",
        [
            (
                number,
                entry.job.uid,
                entry.job.task,
                entry.sequence,
                to_text(entry.stamp),
                int(entry.cancelled),
                encode(entry.job),
            )
            for entry in entries
        ],
    )


def _entry(row: Row) -> CalendarEntry:
    sequence, stamp, cancelled, definition = row
    return CalendarEntry(
        decode(CalendarJob, definition), sequence, to_instant(stamp), bool(cancelled)
    )
