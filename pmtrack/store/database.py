"""Opening the store's file, and its transactions. Every trouble of the file gets clear words."""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from pmtrack.errors import Refused
from pmtrack.store.codec import to_text
from pmtrack.store.leftover import check_leftover
from pmtrack.store.place import Place
from pmtrack.store.trouble import clear_words
from pmtrack.store.turn import take_turn

if TYPE_CHECKING:
    from sqlite_utils import Database

APPLICATION_ID = 0x504D5452  # marks an SQLite file as a store of pmtrack
BUSY_SECONDS = 30.0
CACHE_KIBIBYTES = 32768  # at most; a list of the day reads pages all over a big store
KNOWN_STEPS = (
    "m001_description",
    "m002_facts",
    "m003_derived",
    "m004_exports",
    "m005_plans",
    "m006_lengths",
    "m007_rhythm",
    "m008_open_stops",
)
OLDEST_SQLITE = (3, 37, 0)  # the first with STRICT tables

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


def open_store(
    path: Path, create: bool = False, demo: bool = False, now: datetime | None = None
) -> Store:
    """Open the store at `path`, or make it there when `create` says so.

    Raises Refused if there is none, or the file is no store, damaged, or made by a newer pmtrack.
    """
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise Refused("this Python's SQLite is older than 3.37; use a newer Python")
    fresh = not path.exists() or (path.is_file() and path.stat().st_size == 0)
    nothing_here = Refused(
        f"{path}: no store here; make one with 'pmtrack apply shop.yaml', "
        "or look around with 'pmtrack demo'"
    )
    if fresh and not create:
        raise nothing_here
    if path.is_dir():
        raise Refused(f"{path}: this is a folder; name a file with --store")
    check_leftover(path)
    with clear_words(path):
        store = _connect(path)
        try:
            if not _is_empty(store):
                make_current(store)
            elif create:
                _make(store, demo, now)
            else:  # who was making it was killed
                raise nothing_here
        except BaseException:
            store.close()
            raise
    return store


def staged(path: Path) -> Store:
    """An empty database of this process alone; its words name `path`. It is gone when closed."""
    return Store(path, sqlite3.connect("", isolation_level=None))


def _connect(path: Path) -> Store:
    place = Place(path)
    connection = sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        place.opened()
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = EXTRA")  # durable without a -wal file, too
        connection.execute(f"PRAGMA cache_size = -{CACHE_KIBIBYTES}")
    except BaseException:
        connection.close()
        raise
    return Store(path, connection, place)


def _make(store: Store, demo: bool, now: datetime | None) -> None:
    assert now is not None  # noqa: S101 - who makes a store tells the time
    with store.writing():
        store.change(f"PRAGMA application_id = {APPLICATION_ID}")
        apply_steps(store)
        if store.row("SELECT 1 FROM store") is None:
            store.add("store", id=str(uuid4()), made_at=to_text(now), demo=int(demo))


def _is_empty(store: Store) -> bool:
    return store.row("SELECT 1 FROM sqlite_master") is None


def make_current(store: Store) -> None:
    """Refuse what is no store or is too new; bring an older one up to date."""
    mark = store.row("PRAGMA application_id")
    if mark is None or mark[0] != APPLICATION_ID:
        raise Refused(f"{store.path}: this is no pmtrack store; name another file with --store")
    done = {name for (name,) in store.rows("SELECT name FROM _sqlite_migrations")}
    newer = done.difference(KNOWN_STEPS)
    if newer:
        raise Refused(
            f"{store.path}: made by a newer pmtrack (it knows {min(newer)}); update pmtrack"
        )
    if done != set(KNOWN_STEPS):
        _bring_up_to_date(store)


def _bring_up_to_date(store: Store) -> None:
    """Apply the steps that are new; one may make a table anew to which others refer by name."""
    from pmtrack.store.tallies import work_out

    store.change("PRAGMA foreign_keys = OFF")
    try:
        with store.writing():
            keeps_usage = store.row("SELECT 1 FROM sqlite_master WHERE name = 'tally'")
            apply_steps(store)
            if not keeps_usage:
                work_out(store)
    finally:
        store.change("PRAGMA foreign_keys = ON")


def apply_steps(store: Store, before: str | None = None) -> None:
    """Take the steps of the schema that are still to be taken; with `before`, those before it."""
    from pmtrack.store.schema import steps

    steps.apply(store.db, stop_before=before)
