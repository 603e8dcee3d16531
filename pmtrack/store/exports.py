"""What calendar files have said: each export is kept whole, so that a revision can follow on."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from uuid import UUID

from pmtrack.rules.revision import CalendarEntry, CalendarJob
from pmtrack.store.codec import to_instant, to_text
from pmtrack.store.database import Row, Store
from pmtrack.store.records import decode, encode


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


def last_said(store: Store, uids: Iterable[str]) -> list[CalendarEntry]:
    """What any calendar file last said of some events."""
    found = []
    for uid in uids:
        row = store.row(
            "SELECT sequence, stamp, cancelled, definition FROM export_event"
            " WHERE uid = ? ORDER BY export DESC LIMIT 1",
            uid,
        )
        if row:
            found.append(_entry(row))
    return found


def keep_export(store: Store, period: str, at: datetime, entries: Sequence[CalendarEntry]) -> None:
    """Keep what a calendar file says; nothing is added when the last one said the same."""
    if entries == sorted(
        last_export(store, period), key=lambda e: (e.job.day, e.job.task, e.job.uid)
    ):
        return
    number = store.add("export", at=to_text(at), period=period)
    for entry in entries:
        store.add(
            "export_event",
            export=number,
            uid=entry.job.uid,
            task=entry.job.task,
            sequence=entry.sequence,
            stamp=to_text(entry.stamp),
            cancelled=int(entry.cancelled),
            definition=encode(entry.job),
        )


def _entry(row: Row) -> CalendarEntry:
    sequence, stamp, cancelled, definition = row
    return CalendarEntry(
        decode(CalendarJob, definition), sequence, to_instant(stamp), bool(cancelled)
    )
