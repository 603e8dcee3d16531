"""Rows put in order on the disk, where there may be too many of them for memory."""

from collections.abc import Iterable, Iterator
from types import TracebackType
from typing import Self

from pmtrack.store.database import Row, Store


class SortedRows:
    """Texts with a moment and a number each; they come back by moment, then by number."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def __enter__(self) -> Self:
        self._store.change("CREATE TEMP TABLE waiting (moment TEXT, number INTEGER, text TEXT)")
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if error is None:  # else the transaction takes it back
            self._store.change("DROP TABLE waiting")

    def add(self, rows: Iterable[Row]) -> None:
        """Add some: moment, number and text."""
        self._store.change_many("INSERT INTO waiting VALUES (?, ?, ?)", rows)

    def __iter__(self) -> Iterator[tuple[int, str]]:
        """Number and text of each."""
        return iter(self._store.each("SELECT number, text FROM waiting ORDER BY moment, number"))
