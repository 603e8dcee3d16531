"""Stores as they were before plans could be saved, and before lengths were kept."""

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlite_utils import Database

from pmtrack.store.opening import APPLICATION_ID
from pmtrack.store.schema import steps

TABLES = (
    "store", "applied", "supplier", "machine", "meter", "task", "material", "tool", "program",
    "entry", "void", "shift_log", "count", "dial", "completion", "measurement", "deferral", "job",
    "stop", "restart", "service_change", "tool_count", "tool_event", "tally", "export",
    "export_event",
)  # fmt: skip
_PLANS = ("pin", "release", "plan", "plan_job")


def four_steps(store: Path, target: Path) -> Path:
    """A store of the first four steps alone, with all that a store of today holds in them."""
    return _older(store, target, "m005_plans", TABLES)


def five_steps(store: Path, target: Path) -> Path:
    """A store of the first five steps alone, with all that a store of today holds in them."""
    return _older(store, target, "m006_lengths", (*TABLES, *_PLANS))


def _older(store: Path, target: Path, before: str, tables: tuple[str, ...]) -> Path:
    with closing(sqlite3.connect(target, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        steps.apply(Database(connection, strict=True), stop_before=before)
        connection.execute("ATTACH ? AS now", (str(store),))
        for table in tables:
            columns = _columns(connection, table)
            connection.execute(
                f"INSERT INTO main.{table} ({columns}) SELECT {columns} FROM now.{table}"  # noqa: S608
            )
        connection.execute("DETACH now")
    return target


def _columns(connection: sqlite3.Connection, table: str) -> str:
    names = connection.execute("SELECT name FROM pragma_table_info(?, 'main')", (table,))
    return ", ".join(f'"{name}"' for (name,) in names)


def reads(store: Path) -> dict[str, str]:
    """For each table of a store, the query that reads the columns which it has."""
    with closing(sqlite3.connect(store)) as connection:
        return {
            table: f"SELECT {_columns(connection, table)} FROM {table}"  # noqa: S608
            for table in TABLES
        }
