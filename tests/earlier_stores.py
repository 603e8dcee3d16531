"""Stores as earlier versions of pmtrack left them, made from their SQL text."""

import sqlite3
from contextlib import closing
from pathlib import Path

from pmtrack.store.opening import APPLICATION_ID

STORES = Path(__file__).parent / "data" / "stores"
NOT_FACTS = ("tally", "_sqlite_migrations")


def earlier(name: str, target: Path) -> Path:
    """The store of that name, as its file."""
    with closing(sqlite3.connect(target, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.executescript((STORES / f"{name}.sql").read_text("utf-8"))
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    return target


def columns(store: Path) -> dict[str, list[str]]:
    """The columns of each table of facts that a store has."""
    with closing(sqlite3.connect(store)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {
            table: [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
            for (table,) in names
            if table not in NOT_FACTS
        }


def facts(store: Path, known: dict[str, list[str]]) -> dict[str, list[tuple[object, ...]]]:
    """What a store holds in those columns of those tables."""
    with closing(sqlite3.connect(store)) as connection:
        found = {}
        for table, names in known.items():
            listed = ", ".join(f'"{name}"' for name in names)
            sql = f"SELECT {listed} FROM {table} ORDER BY rowid"  # noqa: S608 - our own tables
            found[table] = connection.execute(sql).fetchall()
        return found


def steps_taken(store: Path) -> int:
    """How many steps of the schema a store has taken."""
    with closing(sqlite3.connect(store)) as connection:
        found: tuple[int] = connection.execute("SELECT count(*) FROM _sqlite_migrations").fetchone()
        return found[0]
