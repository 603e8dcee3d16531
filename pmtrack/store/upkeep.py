"""Looking after the store: a copy while others write, and a check of all that is derived."""

import sqlite3
from pathlib import Path

from pmtrack.errors import Refused
from pmtrack.rules.shop import Meter
from pmtrack.rules.usage import Tally, fold
from pmtrack.store.database import Store, clear_words
from pmtrack.store.records import decode
from pmtrack.store.tallies import facts_of, kept_tallies


def back_up(store: Store, target: Path) -> None:
    """Copy the store to a new file, whole and checked. Raises Refused if the file exists."""
    if target.exists():
        raise Refused(f"{target}: a file is here already; name a new one")
    if not target.parent.is_dir():
        raise Refused(f"{target.parent}: no such folder; make it first")
    with clear_words(target):
        copy = sqlite3.connect(target)
        try:
            store.db.conn.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
            found = copy.execute("PRAGMA integrity_check").fetchone()
        except BaseException:
            copy.close()
            target.unlink(missing_ok=True)
            raise
        copy.close()
    if found != ("ok",):
        raise Refused(f"{target}: the copy does not read back well: {found[0]}")


def verify(store: Store) -> list[str]:
    """What is wrong with the store, a line each; empty if nothing is."""
    faults = [str(row[0]) for row in store.rows("PRAGMA integrity_check") if row[0] != "ok"]
    faults += [
        f"{table}: row {row} names a {parent} that is not there"
        for table, row, parent, _ in store.rows("PRAGMA foreign_key_check")
    ]
    faults += [
        f"entry {number}: '{at}' is no instant"
        for number, at in store.rows(
            "SELECT id, at FROM entry WHERE strftime('%Y-%m-%dT%H:%M:%SZ', at) IS NOT at"
        )
    ]
    for machine, name, definition in store.rows("SELECT machine, name, definition FROM meter"):
        meter: Meter = decode(Meter, definition)
        entries = facts_of(store, machine, name)
        slow = list(zip(entries, fold(entries, Tally(), meter.wraps_at), strict=True))
        if slow != kept_tallies(store, machine, name):
            faults.append(f"{machine} {name}: the usage kept differs from its entries")
    return faults
