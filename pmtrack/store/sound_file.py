"""Whether the store's file is whole: its pages, its tables and guards, its text."""

import sqlite3
from contextlib import closing
from functools import cache
from pathlib import Path

from pmtrack.store.database import Row, Store
from pmtrack.store.opening import apply_steps, staged
from pmtrack.store.tables import WORKED_OUT

_OF_OURS = (
    "SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite%'"
    " AND name NOT LIKE '\\_sqlite%' ESCAPE '\\'"
)
_KEPT = {"table": "table", "index": "index", "trigger": "guard"}


def _pages(store: Store) -> list[str]:
    """What SQLite itself finds, the rules of each column included."""
    found = store.rows("PRAGMA integrity_check")
    return [f"the file: {text}" for (text,) in found if text != "ok"]


@cache
def _wanted() -> list[Row]:
    """The tables, indexes and guards of a store that is made now."""
    with closing(staged(Path("fresh"))) as fresh:
        with fresh.writing():
            apply_steps(fresh)
        return fresh.rows(_OF_OURS)


def _schema(store: Store) -> list[str]:
    """Each table, index and guard of facts must be as this pmtrack makes it."""
    return _differing(store, [row for row in _wanted() if row[1] != WORKED_OUT])


def worked_out(store: Store) -> list[str]:
    """As `_schema`, of the table that holds what is worked out."""
    return _differing(store, [row for row in _wanted() if row[1] == WORKED_OUT])


def _differing(store: Store, wanted: list[Row]) -> list[str]:
    found = {(kind, name): sql for kind, name, sql in store.rows(_OF_OURS)}
    faults = []
    for kind, name, sql in wanted:
        if (kind, name) not in found:
            faults.append(f"the {_KEPT[kind]} {name} is missing")
        elif kind != "index" and found[kind, name] != sql:
            faults.append(f"the {_KEPT[kind]} {name} is not as pmtrack makes it")
    return faults


def _text(store: Store) -> list[str]:
    """All text must be readable; which row is not, is found by reading on until it comes."""
    faults = []
    for (table,) in store.rows("SELECT name FROM sqlite_master WHERE type = 'table'"):
        read = 0
        try:
            for _ in store.each(f"SELECT * FROM {table}"):
                read += 1
        except (sqlite3.OperationalError, UnicodeDecodeError):
            faults.append(f"{table}, row {read + 1}: holds text that cannot be read")
    return faults


def _references(store: Store) -> list[str]:
    return [
        f"{table}, row {row}: the {parent} that it names is not there"
        for table, row, parent, _ in store.rows("PRAGMA foreign_key_check")
    ]


CHECKS = {
    "the file": _pages,
    "tables and guards": _schema,
    "text": _text,
    "references": _references,
}
