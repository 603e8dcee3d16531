"""Opening the store's file: making it, bringing it up to date, refusing what is no store."""

import sqlite3
from datetime import datetime
from pathlib import Path
from uuid import uuid4

from pmtrack.errors import Refused
from pmtrack.store import database
from pmtrack.store.codec import to_text
from pmtrack.store.database import Store
from pmtrack.store.leftover import check_leftover
from pmtrack.store.place import Place
from pmtrack.store.trouble import clear_words

APPLICATION_ID = 0x504D5452  # marks an SQLite file as a store of pmtrack
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
    connection = sqlite3.connect(path, timeout=database.BUSY_SECONDS, isolation_level=None)
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
