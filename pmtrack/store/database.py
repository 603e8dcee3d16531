"""An open store and its transactions. Every trouble of the file gets clear words."""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pmtrack.errors import Refused
from pmtrack.store.place import Place
from pmtrack.store.trouble import clear_words
from pmtrack.store.turn import take_turn

if TYPE_CHECKING:
    from sqlite_utils import Database

BUSY_SECONDS = 30.0

Row = tuple[Any, ...]


class Store:
    """An open store. Reads and writes go through `reading` and `writing`."""

    def __init__(
        self, path: Path, connection: sqlite3.Connection, place: Place | None = None
    ) -> None:
        self.path = path
        self._connection = connection
        self._place = place  # None for one of this process alone

    @cached_property
    def db(self) -> "Database":
        """The store by sqlite-utils: for the schema, its migrations, and what needs columns' names.

        Made when first used, for its import would double the time that a daily command takes.
        """
        from sqlite_utils import Database

        return Database(self._connection, strict=True)

    def _run(self, sql: str, values: tuple[object, ...]) -> sqlite3.Cursor:
        try:
            return self._connection.execute(sql, values)
        except OverflowError:
            raise Refused("a number is too large to be kept; correct it") from None
        except UnicodeEncodeError:
            raise Refused("a text holds what is no character; type it anew") from None

    def rows(self, sql: str, *values: object) -> list[Row]:
        """All rows of a query; values go in as parameters."""
        found: list[Row] = self._run(sql, values).fetchall()
        return found

    def row(self, sql: str, *values: object) -> Row | None:
        """The first row of a query, or None."""
        found: Row | None = self._run(sql, values).fetchone()
        return found

    def each(self, sql: str, *values: object) -> Iterator[Row]:
        """The rows of a query, one at a time."""
        return self._run(sql, values)

    def add(self, table: str, **values: object) -> int:
        """Add one row and tell its number."""
        columns, marks = ", ".join(values), ", ".join("?" * len(values))
        sql = f"INSERT INTO {table} ({columns}) VALUES ({marks})"
        number = self._run(sql, tuple(values.values())).lastrowid
        assert number is not None  # noqa: S101 - an insert of one row always has one
        return number

    def change(self, sql: str, *values: object) -> None:
        """Run a statement that changes the description or what is derived."""
        self._run(sql, values)

    def add_many(self, table: str, columns: str, values: Iterable[Row]) -> None:
        """Add a row for each row of values of the named columns."""
        marks = ", ".join("?" * len(columns.split(",")))
        self._connection.executemany(f"INSERT INTO {table} ({columns}) VALUES ({marks})", values)

    def change_many(self, sql: str, values: Iterable[Row]) -> None:
        """Run such a statement for each row of values; OverflowError for too large a number."""
        self._connection.executemany(sql, values)

    @contextmanager
    def reading(self) -> Iterator["Store"]:
        """One consistent view of the store."""
        with clear_words(self.path):
            self._connection.execute("BEGIN")
            try:
                yield self
            finally:
                self._connection.rollback()

    @contextmanager
    def writing(self) -> Iterator["Store"]:
        """One transaction: all of it is durable on leaving, or nothing was changed."""
        with clear_words(self.path):
            self._keep_log()
            take_turn(self._connection, BUSY_SECONDS)
            try:
                if self._place:
                    self._place.begun()
                yield self
                self._check_place("nothing was kept; run it again")
                self._connection.execute("COMMIT")
                self._check_place("it may not be kept; look with 'pmtrack entries'")
            except BaseException:
                if self._connection.in_transaction:
                    self._connection.rollback()
                raise

    def _check_place(self, outcome: str) -> None:
        if self._place:
            self._place.check(outcome)

    def _keep_log(self) -> None:
        """A new store, or one that was a backup, has a log of changes: readers never wait."""
        if self.row("PRAGMA journal_mode") != ("wal",):
            with suppress(sqlite3.OperationalError):  # others use it just now: the next time, then
                self.change("PRAGMA journal_mode = WAL")

    def copy_into(self, target: sqlite3.Connection, **how: Any) -> None:
        """Make another file hold what this one holds, in one transaction of that file."""
        self._connection.backup(target, **how)

    def copy_from(self, source: sqlite3.Connection) -> None:
        """Make this one hold what another file holds."""
        source.backup(self._connection)

    def close(self) -> None:
        """Close the file."""
        self._connection.close()
