"""A store written before a key of the shop file was known: the same file changes nothing."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

from tests.command import SMALL_SHOP, Command


def forget(store: Path, table: str, *keys: str) -> None:
    """Take keys out of every description in a table, as an older pmtrack wrote them."""
    with closing(sqlite3.connect(store)) as connection, connection:
        for row, text in connection.execute(f"SELECT rowid, definition FROM {table}").fetchall():  # noqa: S608
            told = json.loads(text)
            for key in keys:
                assert told.pop(key) is None
            connection.execute(
                f"UPDATE {table} SET definition = ? WHERE rowid = ?",  # noqa: S608
                (json.dumps(told, separators=(",", ":")), row),
            )


def test_the_same_file_changes_nothing_in_a_store_from_before_rates(run: Command) -> None:
    forget(run.store, "applied", "crew_rate")
    forget(run.store, "machine", "kind", "hourly_rate")
    (row,) = run.json("report", "--from", "2026-11-23", "--to", "2026-11-25", "--by", "kind")[
        "groups"
    ]
    assert (row["group"], row["pm_cost"]) == ("no kind", None)
    again = run.done("apply", str(SMALL_SHOP))
    assert again == run.done("apply", str(SMALL_SHOP))
    assert "changed" not in again


def test_a_rate_that_comes_in_is_told_as_a_change(run: Command) -> None:
    path = run.store.with_name("rated.yaml")
    text = SMALL_SHOP.read_text()
    path.write_text(text.replace("  crew_hours: 6\n", "  crew_hours: 6\n  crew_rate: 40\n"))
    told = run.done("apply", str(path))
    assert "crew_rate" in told
