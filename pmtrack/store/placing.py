"""Putting a whole store where it belongs: what was there, or all of the new, and nothing between.

A file that others may have open is never taken away from under them: SQLite replaces what is in
it in one transaction, which waits for a writer, and whoever has the file open sees the new next.
"""

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from uuid import uuid4

from pmtrack.errors import Refused
from pmtrack.store import database
from pmtrack.store.contents import Contents, contents_of
from pmtrack.store.database import Store
from pmtrack.store.opening import APPLICATION_ID
from pmtrack.store.trouble import BUSY, clear_words, kind_of

_BESIDE = ("-wal", "-shm", "-journal")  # what SQLite keeps next to a file
_BUSY = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
_DAMAGED = (0, sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
_ERRORS = (sqlite3.Error, UnicodeDecodeError)  # the latter where SQLite names a damaged name
_MARK = slice(68, 72)  # where a file bears the application's mark


def what_is_there(path: Path) -> list[Path]:
    """The files that lie where a store at `path` would: itself and what SQLite keeps beside it."""
    every = [path, *(path.with_name(path.name + ending) for ending in _BESIDE)]
    return [file for file in every if os.path.lexists(file)]


def write_new(store: Store, path: Path, wal: bool) -> None:
    """Copy a store to a file that is not there yet. Raises Refused if it reads back badly.

    It is written beside, checked, and named when it is whole and on disk. `wal` makes it ready for
    several who write; without, it stays one file that can be carried away.
    """
    part = path.with_name(f".{path.name[:40]}.{uuid4().hex[:12]}")
    with clear_words(path):
        try:
            _write(store, part, wal)
            _name(part, path)
        finally:
            for file in what_is_there(part):
                file.unlink()
    settle(path.parent)


def _write(store: Store, part: Path, wal: bool) -> None:
    with closing(sqlite3.connect(part, isolation_level=None)) as copy:
        copy.execute("PRAGMA synchronous = FULL")
        store.copy_into(copy)
        copy.execute(f"PRAGMA journal_mode = {'WAL' if wal else 'DELETE'}")
        found = copy.execute("PRAGMA integrity_check").fetchone()
    if found != ("ok",):
        raise Refused(f"{store.path}: its copy does not read back well: {found[0]}")


def _name(part: Path, path: Path) -> None:
    """Give the written file its name, unless another took it meanwhile."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise Refused(f"{path}: a file came to be here meanwhile; name a new one") from None
    except OSError:  # a disk that knows no second names, like many a stick
        os.rename(part, path)


def settle(folder: Path) -> None:
    """Have the names in a folder on disk before anything is told."""
    if hasattr(os, "O_DIRECTORY"):
        opened = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


def look_at(path: Path) -> Contents | None:
    """What the store at `path` holds; None if it is too damaged to tell.

    Raises Refused for what is no store of pmtrack.
    """
    if path.is_dir():
        raise Refused(f"{path}: this is a folder; name a file with --store")
    with closing(sqlite3.connect(path, timeout=database.BUSY_SECONDS)) as connection:
        if _mark(path, connection) != APPLICATION_ID:
            raise Refused(
                f"{path}: this is no pmtrack store, or one damaged beyond telling; "
                "name another file with --store, or move it away first"
            )
        try:
            return contents_of(Store(path, connection))
        except _ERRORS as error:
            if kind_of(error) in _DAMAGED:
                return None
            raise


def _mark(path: Path, connection: sqlite3.Connection) -> int:
    """The mark of the program that made a file, also where SQLite finds the file damaged."""
    try:
        return int(connection.execute("PRAGMA application_id").fetchone()[0])
    except _ERRORS as error:
        if kind_of(error) not in _DAMAGED:
            raise
        with path.open("rb") as file:
            return int.from_bytes(file.read(_MARK.stop)[_MARK], "big")


def replace_inside(new: Store, path: Path) -> Contents | None:
    """Put what `new` holds into the store at `path`, and tell what that held until then.

    One transaction: after a kill the old store is there, or the new one. Raises Refused when
    another program keeps it busy, or it is damaged so that it cannot be written.
    """
    with clear_words(path):
        before = look_at(path)
        with closing(sqlite3.connect(path, timeout=database.BUSY_SECONDS)) as live:
            others_can_read = _made_ready(live)

            def watch(status: int, left: int, pages: int) -> None:
                """After the first page nobody else can write: this is what is replaced."""
                nonlocal before
                if status in _BUSY:
                    raise Refused(f"{path}: {BUSY}")
                if left == pages - 1 and before is not None and others_can_read:
                    before = look_at(path)

            try:
                new.copy_into(live, pages=1, progress=watch)
            except _ERRORS as error:
                if kind_of(error) not in _DAMAGED:
                    raise
                files = " and ".join(file.name for file in what_is_there(path))
                raise Refused(
                    f"{path}: damaged so that it cannot be written; nothing was changed; "
                    f"move {files} away, then repeat"
                ) from error
            found = live.execute("PRAGMA quick_check").fetchone()
    if found != ("ok",):
        raise Refused(f"{path}: it does not read back well: {found[0]}; check the disk")
    return before


def _made_ready(live: sqlite3.Connection) -> bool:
    """Make a file ready to be written anew; tells whether others can read it meanwhile."""
    live.execute("PRAGMA writable_schema = ON")  # one that was cut short can be opened, too
    with suppress(*_ERRORS):  # damaged: SQLite's own setting is as strict
        live.execute("PRAGMA synchronous = FULL")
    with suppress(*_ERRORS):  # damaged or busy: the copying tells
        return tuple(live.execute("PRAGMA journal_mode = WAL").fetchone()) == ("wal",)
    return False
