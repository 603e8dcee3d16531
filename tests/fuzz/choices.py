"""Decisions read from bytes, so that a small change of the bytes is a small change of the case."""

from collections.abc import Sequence
from typing import TypeVar

Item = TypeVar("Item")


class Choices:
    """Reads decisions from the front; zeros once the bytes are used up."""

    def __init__(self, data: bytes) -> None:
        self._data = data
        self._at = 0

    @property
    def left(self) -> int:
        """Bytes not yet read."""
        return len(self._data) - self._at

    def bytes(self, count: int) -> bytes:
        """Up to `count` bytes."""
        read = self._data[self._at : self._at + count]
        self._at += len(read)
        return read

    def number(self, below: int) -> int:
        """A number from 0 to `below` - 1."""
        size = max(1, ((below - 1).bit_length() + 7) // 8)
        return int.from_bytes(self.bytes(size), "big") % below

    def of(self, items: Sequence[Item]) -> Item:
        """One of the items."""
        return items[self.number(len(items))]

    def text(self) -> str:
        """A text of up to 40 bytes, as an argument of a process comes: bad UTF-8 as surrogates."""
        return self.bytes(self.number(41)).decode("utf-8", "surrogateescape")
