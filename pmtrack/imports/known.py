"""Rows that are there already: twice in the file, or in the store."""

from collections.abc import Iterator, Sequence

from pmtrack.imports.fault import Fault
from pmtrack.imports.kinds import Kind
from pmtrack.imports.rows import Block, Key
from pmtrack.store.database import Store
from pmtrack.store.entries import last_number
from pmtrack.store.known_rows import standing_rows


class KnownRows:
    """Finds rows that are there already; blocks are asked about in the order of time."""

    def __init__(self, store: Store, kind: Kind, meters: Sequence[str]) -> None:
        self._store = store
        self._kind = kind
        self._meters = meters
        self._last = last_number(store)  # what is made later comes from the file
        self._moment: str | int | None = None
        self._first: dict[Key, int] = {}  # by key, the first line of it at that moment

    def faults(self, block: Block) -> list[Fault]:
        """A fault for each row equal to an earlier one of the file, or to a stored one."""
        stored, position = dict(self._stored(block)), self._kind.position
        faults = []
        for line, key in zip(block.lines, block.keys, strict=True):
            if key[position] != self._moment:
                self._moment = key[position]
                self._first.clear()
            earlier = self._first.setdefault(key, line)
            if earlier != line:
                text = f"the same as line {earlier}; delete one, or add --again if both are meant"
                faults.append(Fault(line, text))
            elif key in stored:
                text = f"in the store already, as entry {stored[key]}"
                faults.append(Fault(line, f"{text}; delete it, or add --again if it is meant"))
        return faults

    def _stored(self, block: Block) -> Iterator[tuple[Key, int]]:
        """Keys and numbers of entries that stand in the span of time of a block, latest first."""
        if not (block.keys and self._last):
            return
        moments = [key[self._kind.position] for key in block.keys]
        machines = {str(key[0]) for key in block.keys}
        between = min(moments), max(moments)
        for entry, columns, amounts in standing_rows(
            self._store, self._kind.name, between, sorted(machines), self._last
        ):
            if amounts.keys() <= set(self._meters):
                yield (*columns, *map(amounts.get, self._meters)), entry
