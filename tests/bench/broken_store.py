"""Stores whose code was broken on purpose: the bench of crashes must find each of them out."""

import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from pmtrack import cli
from pmtrack.store.database import Store

_LATE = 0.15  # seconds


@contextmanager
def _each_by_itself(self: Store) -> Iterator[Store]:
    """Each statement is kept by itself."""
    yield self
    self._connection.execute("BEGIN")
    self._connection.execute("COMMIT")


def _without_transaction() -> None:
    Store.writing = _each_by_itself  # type: ignore[method-assign]


def _told_too_early() -> None:
    """The number is told first, and what it stands for is kept as the process ends."""
    waiting: list[sqlite3.Connection] = []
    command = cli.main

    @contextmanager
    def kept_later(self: Store) -> Iterator[Store]:
        self._connection.execute("BEGIN IMMEDIATE")
        waiting.append(self._connection)
        yield self

    def and_keep(arguments: list[str] | None = None) -> int:
        status = command(arguments)
        time.sleep(_LATE)
        for connection in waiting:
            connection.execute("COMMIT")
        return status

    Store.writing = kept_later  # type: ignore[method-assign]
    Store.close = lambda self: None  # type: ignore[method-assign]
    cli.main = and_keep


BROKEN: dict[str, Callable[[], None]] = {
    "no transaction": _without_transaction,
    "told before it is kept": _told_too_early,
}
