"""The running usage of each meter: kept beside the facts, so that no answer reads all history."""

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.shop import Meter
from pmtrack.rules.usage import Tally, fold
from pmtrack.store.codec import (
    damaged,
    from_millionths,
    maybe_amount,
    maybe_millionths,
    to_date,
    to_instant,
    to_millionths,
    to_text,
)
from pmtrack.store.database import Row, Store
from pmtrack.store.records import decode
from pmtrack.store.standing import STANDS, stands

_ENTRY = "entry, at, day, value, is_dial, wrapped, exchanged"
_TALLY = "usage, dial_offset, level, counted, unlogged"
_KEY = "at, is_dial, entry"
_BACKWARDS = "at DESC, is_dial DESC, entry DESC"

_TOGETHER = 2000  # entries that are folded anew together

Key = tuple[str, bool, int]  # of an entry: instant, whether it is a dial, number
FIRST: Key = ("", False, 0)  # before all entries


class MeterTallies:
    """The tallies of one meter. A cut is a day: what belongs to later days is left out."""

    def __init__(self, store: Store, machine: str, meter: str) -> None:
        self._store = store
        self._of = (machine, meter)

    def last(self, before: str, day: date | None = None) -> tuple[MeterEntry, Tally] | None:
        """The last entry earlier than the instant `before`, of days up to `day`, with its tally."""
        row = self._store.row(
            f"SELECT {_ENTRY}, {_TALLY} FROM tally WHERE machine = ? AND meter = ? AND at < ?"
            f" AND day <= ? ORDER BY {_BACKWARDS} LIMIT 1",
            *self._of,
            before,
            (day or date.max).isoformat(),
        )
        return (_entry(row[:7]), _tally(row[7:])) if row else None

    def day_before(self, before: str, day: date) -> date | None:
        """The day of the last entry earlier than the instant `before`, of days up to `day`."""
        row = self._store.row(
            "SELECT day FROM tally WHERE machine = ? AND meter = ? AND at < ? AND day <= ?"
            f" ORDER BY {_BACKWARDS} LIMIT 1",
            *self._of,
            before,
            day.isoformat(),
        )
        return to_date(row[0]) if row else None

    def usages(self, since: str, before: str) -> list[tuple[str, int]]:
        """Day and usage (millionths) after each entry between two instants, in time order."""
        rows = self._store.rows(
            "SELECT day, usage FROM tally WHERE machine = ? AND meter = ? AND at >= ? AND at < ?"
            f" ORDER BY {_KEY}",
            *self._of,
            since,
            before,
        )
        return [(day, usage) for day, usage in rows]

    def through(self, instant: str) -> Tally | None:
        """The tally after the last entry at or before an instant; None before the first."""
        row = self._store.row(
            f"SELECT {_TALLY} FROM tally WHERE machine = ? AND meter = ? AND at <= ?"
            f" ORDER BY {_BACKWARDS} LIMIT 1",
            *self._of,
            instant,
        )
        return _tally(row) if row else None

    def entries(self, since: str, before: str, day: date) -> list[MeterEntry]:
        """Entries from `since` on and earlier than `before`, of days up to `day`, in time order."""
        rows = self._store.rows(
            f"SELECT {_ENTRY} FROM tally WHERE machine = ? AND meter = ? AND at >= ? AND at < ?"
            f" AND day <= ? ORDER BY {_KEY}",
            *self._of,
            since,
            before,
            day.isoformat(),
        )
        return [_entry(row) for row in rows]

    def last_below(self, usage: Fraction, before: str) -> Key | None:
        """The last entry earlier than `before` after which usage was below `usage`."""
        row = self._store.row(
            f"SELECT {_KEY} FROM tally WHERE machine = ? AND meter = ? AND at < ? AND usage < ?"
            f" ORDER BY {_BACKWARDS} LIMIT 1",
            *self._of,
            before,
            to_millionths(usage),
        )
        return (row[0], bool(row[1]), row[2]) if row else None

    def first_after(self, key: Key | None) -> date | None:
        """The day of the first entry after that key; of the first entry of all without one."""
        row = self._store.row(
            f"SELECT day FROM tally WHERE machine = ? AND meter = ? AND ({_KEY}) > (?, ?, ?)"
            f" ORDER BY {_KEY} LIMIT 1",
            *self._of,
            *(key or FIRST),
        )
        return to_date(row[0]) if row else None

    def around(self, entry: MeterEntry) -> tuple[MeterEntry | None, MeterEntry | None]:
        """The dial readings next before and next after an entry in time order."""
        found = []
        for sign, order in (("<", _BACKWARDS), (">", _KEY)):
            row = self._store.row(
                f"SELECT {_ENTRY} FROM tally WHERE machine = ? AND meter = ? AND is_dial = 1"
                f" AND ({_KEY}) {sign} (?, ?, ?) ORDER BY {order} LIMIT 1",
                *self._of,
                *_key(entry),
            )
            found.append(_entry(row) if row else None)
        return found[0], found[1]

    def tail(self) -> tuple[Key, Tally] | None:
        """Where the meter stands after its last entry."""
        row = self._store.row(
            f"SELECT {_KEY}, {_TALLY} FROM tally WHERE machine = ? AND meter = ?"
            f" ORDER BY {_BACKWARDS} LIMIT 1",
            *self._of,
        )
        return ((row[0], bool(row[1]), row[2]), _tally(row[3:])) if row else None

    def insert(self, entries: Iterable[MeterEntry], wraps_at: Fraction | None) -> None:
        """Add entries and bring the tallies from the earliest on up to date."""
        new = sorted(entries, key=lambda entry: entry.order)
        if not new:
            return
        last, tally = self.tail() or (None, Tally())
        if last is None or last < _key(new[0]):
            self._write(zip(new, fold(new, tally, wraps_at), strict=True))
        else:
            self._write((entry, Tally()) for entry in new)
            self.refold(_key(new[0]), wraps_at)

    def remove(self, entry: MeterEntry, wraps_at: Fraction | None) -> None:
        """Take a voided entry out and bring the tallies after it up to date."""
        self._store.change(
            f"DELETE FROM tally WHERE machine = ? AND meter = ? AND ({_KEY}) = (?, ?, ?)",
            *self._of,
            *_key(entry),
        )
        self.refold(_key(entry), wraps_at)

    def refold(self, start: Key, wraps_at: Fraction | None) -> None:
        """Bring the tallies from a key on up to date; however many there are, some at a time."""
        before = self._store.row(
            f"SELECT {_TALLY} FROM tally WHERE machine = ? AND meter = ? AND ({_KEY}) < (?, ?, ?)"
            f" ORDER BY {_BACKWARDS} LIMIT 1",
            *self._of,
            *start,
        )
        tally = _tally(before) if before else Tally()
        sign, key = ">=", start
        while entries := self._next(sign, key):
            tallies = list(fold(entries, tally, wraps_at))
            self._write(zip(entries, tallies, strict=True))
            last = _key(entries[-1])
            if sign == ">" and last <= key:  # its row says otherwise, and would come for ever
                raise damaged(f"the usage kept of entry {last[2]} is out of order")
            sign, key, tally = ">", last, tallies[-1]

    def _next(self, sign: str, key: Key) -> list[MeterEntry]:
        """Some entries from a key on, in time order."""
        rows = self._store.rows(
            f"SELECT {_ENTRY} FROM tally WHERE machine = ? AND meter = ?"
            f" AND ({_KEY}) {sign} (?, ?, ?) ORDER BY {_KEY} LIMIT {_TOGETHER}",
            *self._of,
            *key,
        )
        return [_entry(row) for row in rows]

    def _write(self, rows: Iterable[tuple[MeterEntry, Tally]]) -> None:
        self._store.change_many(
            f"INSERT OR REPLACE INTO tally (machine, meter, {_ENTRY}, {_TALLY})"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            ((*self._of, *_entry_row(entry), *_tally_row(tally)) for entry, tally in rows),
        )

    def rebuild(self, wraps_at: Fraction | None) -> None:
        """Bring all tallies up to date, as after a change of `wraps_at`."""
        self.refold(FIRST, wraps_at)


def _key(entry: MeterEntry) -> Key:
    return to_text(entry.at), entry.is_dial, entry.entry


def _entry(row: Row) -> MeterEntry:
    entry, at, day, value, is_dial, wrapped, exchanged = row
    return MeterEntry(
        entry=entry,
        at=to_instant(at),
        day=to_date(day),
        value=from_millionths(value),
        is_dial=bool(is_dial),
        wrapped=bool(wrapped),
        exchanged=bool(exchanged),
    )


def _entry_row(entry: MeterEntry) -> Row:
    return (
        entry.entry,
        to_text(entry.at),
        entry.day.isoformat(),
        to_millionths(entry.value),
        entry.is_dial,
        entry.wrapped,
        entry.exchanged,
    )


def _tally(row: Row) -> Tally:
    usage, offset, level, counted, unlogged = row
    return Tally(
        usage=from_millionths(usage),
        offset=maybe_amount(offset),
        level=from_millionths(level),
        counted=bool(counted),
        unlogged=from_millionths(unlogged),
    )


def _tally_row(tally: Tally) -> Row:
    return (
        to_millionths(tally.usage),
        maybe_millionths(tally.offset),
        to_millionths(tally.level),
        tally.counted,
        to_millionths(tally.unlogged),
    )


def facts_of(store: Store, machine: str, meter: str) -> list[MeterEntry]:
    """All counts and dials of a meter that stand, in time order, from the facts themselves."""
    rows = store.rows(
        "SELECT entry.id, entry.at, entry.day, count.amount, 0, 0, 0 FROM count"
        " JOIN entry ON entry.id = count.entry WHERE count.machine = ?1 AND count.meter = ?2"
        f" AND {STANDS}"
        " UNION ALL"
        " SELECT entry, at, day, reading, 1, wrapped, exchanged FROM dial"
        " WHERE machine = ?1 AND meter = ?2"
        f" AND {stands('dial.entry')}",
        machine,
        meter,
    )
    return sorted((_entry(row) for row in rows), key=lambda entry: entry.order)


def work_out(store: Store) -> None:
    """Make the tallies of all meters from the facts, where there are none yet."""
    for machine, name, definition in store.rows("SELECT machine, name, definition FROM meter"):
        meter: Meter = decode(Meter, definition)
        entries = facts_of(store, machine, name)
        MeterTallies(store, machine, name).insert(entries, meter.wraps_at)


def kept_tallies(store: Store, machine: str, meter: str) -> list[tuple[MeterEntry, Tally]]:
    """All entries of a meter with the tallies kept beside them, in time order."""
    rows = store.rows(
        f"SELECT {_ENTRY}, {_TALLY} FROM tally WHERE machine = ? AND meter = ? ORDER BY {_KEY}",
        machine,
        meter,
    )
    return [(_entry(row[:7]), _tally(row[7:])) for row in rows]
