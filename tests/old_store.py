"""A store as it was before plans could be saved."""

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlite_utils import Database

from pmtrack.store.database import APPLICATION_ID
from pmtrack.store.schema import steps

TABLES = (
    "store", "applied", "supplier", "machine", "meter", "task", "material", "tool", "program",
    "entry", "void", "shift_log", "count", "dial", "completion", "measurement", "deferral", "job",
    "stop", "restart", "service_change", "tool_count", "tool_event", "tally", "export",
    "export_event",
)  # fmt: skip


def four_steps(store: Path, target: Path) -> Path:
    """A store of the first four steps alone, with all that a store of today holds in them."""
    with closing(sqlite3.connect(target, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        steps.apply(Database(connection, strict=True), stop_before="m005_plans")
        connection.execute("ATTACH ? AS now", (str(store),))
        for table in TABLES:
            connection.execute(f"INSERT INTO main.{table} SELECT * FROM now.{table}")  # noqa: S608
        connection.execute("DETACH now")
    return target
