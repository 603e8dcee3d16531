"""Troubles of the store's file in clear words: what it is, what became of the command, the mend."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from pmtrack.errors import Refused

BUSY = "many use the store at once; nothing was kept; run it again"
_SENTENCES = {
    sqlite3.SQLITE_NOTADB: "this is no pmtrack store; name another file with --store",
    sqlite3.SQLITE_CORRUPT: "the store is damaged; nothing was changed; go back to a backup",
    sqlite3.SQLITE_READONLY: "the store cannot be written; check permissions of file and folder",
    sqlite3.SQLITE_BUSY: BUSY,
    sqlite3.SQLITE_LOCKED: BUSY,
    sqlite3.SQLITE_PROTOCOL: BUSY,  # readers that came and went kept it from a place among them
    sqlite3.SQLITE_FULL: "the disk is full; nothing was changed; make room and repeat",
    sqlite3.SQLITE_CANTOPEN: "the store cannot be opened; you must be able to write its folder",
    sqlite3.SQLITE_IOERR: "the disk failed or is full; nothing was changed; check it and repeat",
}
# what reading ends in where a value is not of the type that its column holds, or names nothing
UNREAD = (ValueError, TypeError, AttributeError, LookupError, ArithmeticError, RecursionError)
_PRIMARY = 0xFF  # the part of an error code that tells its kind


def kind_of(error: Exception) -> int:
    """SQLite's code of the kind of error, like SQLITE_BUSY; 0 where it has none."""
    return int(getattr(error, "sqlite_errorcode", 0)) & _PRIMARY


@contextmanager
def clear_words(path: Path) -> Iterator[None]:
    """Turn SQLite's errors into a refusal that names the file and the mend."""
    try:
        yield
    except sqlite3.Error as error:
        words = f"the store is damaged ({error}); go back to a backup"
        raise Refused(f"{path}: {_SENTENCES.get(kind_of(error), words)}") from error
    except UnicodeDecodeError as error:  # in text that the store holds
        raise Refused(f"{path}: the store is damaged; go back to a backup") from error
