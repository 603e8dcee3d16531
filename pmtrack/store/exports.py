"""What calendar files have said: each export is kept whole, so that a revision can follow on."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from uuid import UUID

from pmtrack.rules.revision import CalendarEntry, CalendarJob
from pmtrack.store.codec import to_instant, to_text
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


def said_since(store: Store, period: str, uids: Iterable[str]) -> list[CalendarEntry]:
    """What files of other periods said last of some events, if later than the period's own last."""
    since = store.row("SELECT max(id) FROM export WHERE period = ?", period)
    last = store.row("SELECT max(id) FROM export")
    if since == last:
        return []
    found = list[Row]()
    for some in _in_batches(sorted(uids)):
        found += store.rows(
            "SELECT sequence, stamp, cancelled, definition, max(export) FROM export_event"
            f" WHERE uid IN ({', '.join('?' * len(some))}) AND export > ? GROUP BY uid",
            *some,
            (since and since[0]) or 0,
        )
    return [_entry(row[:4]) for row in found]


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
