"""Waiting for one's turn to write: who has waited long goes before those who came later."""

import sqlite3
from time import sleep

from pmtrack.store.trouble import kind_of

_LONGEST_PAUSE, _SHORTEST_PAUSE = 0.03, 0.001  # seconds
_PAUSE_OF_A_SECOND = 0.0003  # the pause after a second's wait, were there no shortest one


def take_turn(connection: sqlite3.Connection, longest: float) -> None:
    """Begin a transaction that writes; wait up to `longest` seconds while others do.

    SQLite itself asks the more rarely the longer it has waited, so that in a crowd some wait for
    all the others; here it is asked the more often, with the square of the time.
    """
    (patience,) = connection.execute("PRAGMA busy_timeout").fetchone()
    connection.execute("PRAGMA busy_timeout = 0")
    waited = 0.0
    try:
        while not _began(connection, last_time=waited >= longest):
            pause = _PAUSE_OF_A_SECOND / max(waited**2, _PAUSE_OF_A_SECOND)
            pause = min(_LONGEST_PAUSE, max(_SHORTEST_PAUSE, pause))
            sleep(pause)
            waited += pause
    finally:
        connection.execute(f"PRAGMA busy_timeout = {patience}")


def _began(connection: sqlite3.Connection, last_time: bool) -> bool:
    try:
        connection.execute("BEGIN IMMEDIATE")
    except sqlite3.OperationalError as error:
        if last_time or kind_of(error) not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_PROTOCOL):
            raise
        return False
    return True
