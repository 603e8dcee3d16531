"""The rows of a file, each cell read: a block at a time, so that a file may be of any length."""

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Any

from pmtrack.errors import PmtrackError
from pmtrack.imports.cells import Kept, Said
from pmtrack.imports.csv_file import Line, Sheet, is_blank, wrong_length
from pmtrack.imports.fault import Fault
from pmtrack.imports.header import lay_out
from pmtrack.imports.kinds import Kind, Values
from pmtrack.rules.shop import Shop

BLOCK = 1000  # rows that are held together
Key = tuple[Any, ...]


@dataclass(frozen=True)
class Row:
    """What a row says; amounts are whole millionths."""

    line: int
    values: Values
    meters: dict[str, int]
    key: Key


@dataclass(frozen=True)
class Block:
    """Some rows of a file: their lines, their cells as written, and their keys.

    The keys of two rows are equal if they are equal in all compared columns. A key holds values as
    the store keeps them: those of the kind's compared columns, then the meters, None for none.
    """

    lines: Sequence[int]
    cells: Sequence[list[str]]
    keys: Sequence[Key]

    def without(self, lines: Container[int]) -> "Block":
        """The rows that do not start on some lines."""
        left = [n for n, line in enumerate(self.lines) if line not in lines]
        return Block(
            [self.lines[n] for n in left],
            [self.cells[n] for n in left],
            [self.keys[n] for n in left],
        )


class RowReader:
    """Reads the rows of a sheet by its header; `by` stands where a row does not say who."""

    def __init__(self, sheet: Sheet, kind: Kind, shop: Shop, by: str | None) -> None:
        self.kind = _with_default_by(kind, by)
        self._shop = shop
        self._width = len(sheet.header[1]) if sheet.header else 0
        layout, self.header_faults = lay_out(sheet.header, self.kind, shop)
        self.meters = tuple(column.name for _, column in layout.meters)
        places = {column.name: place for place, column in (*layout.columns, *layout.meters)}
        self._columns = {  # where a column stands, None if it is left out, and what its texts say
            c.name: (places.get(c.name), Said(c, shop, by if c.name == "by" else c.form.blank))
            for c in (*self.kind.columns, *(column for _, column in layout.meters))
        }
        aside = {column.name for column in kind.columns if not column.compared}
        self._kept = {
            name: (place, Kept(said))
            for name, (place, said) in self._columns.items()
            if name not in aside
        }
        self._aside = [self._columns[name] for name in aside]

    @property
    def when(self) -> int:
        """Where the column stands by which rows are ordered."""
        found = self._columns[self.kind.when][0]
        assert found is not None  # noqa: S101 - a header without it is wrong
        return found

    def moment(self, text: str) -> str | None:
        """What the cell says by which rows are ordered, as the store keeps it; None if nothing."""
        try:
            return str(self._kept[self.kind.when][1][text])
        except PmtrackError:
            return None

    def blocks(self, lines: Iterable[Line], faults: list[Fault]) -> Iterator[Block]:
        """The rows of lines that can be read; what is wrong with others is added to `faults`.

        None can be read below a header that is wrong, but their cells are looked at.
        """
        waiting = iter(lines)
        while found := list(islice(waiting, BLOCK)):
            block = self._block(found)
            if block is None:
                sound = [line for line in found if self._is_sound(line, faults)]
                block = self._block(sound)
            yield block or Block((), (), ())

    def _is_sound(self, line: Line, faults: list[Fault]) -> bool:
        """Whether all cells of a row can be read; a blank row has none."""
        number, cells = line
        if is_blank(cells):
            return False
        if len(cells) != self._width:
            faults.append(wrong_length(number, len(cells), self._width))
            return False
        slips = []
        for place, said in self._columns.values():
            try:
                _ = place is None or said[cells[place]]
            except PmtrackError as error:
                slips.append(Fault(number, str(error)))
        faults += slips
        return not slips

    def _block(self, lines: list[Line]) -> Block | None:
        """The rows of some lines, column by column; None if there is none or a fault among them."""
        numbers, cells = zip(*lines, strict=True) if lines else ((), ())
        if self.header_faults or set(map(len, cells)) != {self._width}:
            return None
        texts = list(zip(*cells, strict=True))
        try:
            read = [
                [kept[""]] * len(lines) if at is None else list(map(kept.__getitem__, texts[at]))
                for at, kept in self._kept.values()
            ]
            for at, said in self._aside:
                _ = at is None or [said[text] for text in set(texts[at])]
        except PmtrackError:
            return None
        keys = list(zip(*read, strict=True))
        return Block(numbers, cells, list(map(self._filled, keys)) if self.kind.fill else keys)

    def _filled(self, key: Key) -> Key:
        values = dict(zip(self._kept, key, strict=True))
        if self.kind.fill:
            self.kind.fill(values, self._shop)
        return tuple(values.values())

    def rows(self, block: Block) -> Iterator[Row]:
        """The rows of a block, one by one."""
        for line, cells, key in zip(block.lines, block.cells, block.keys, strict=True):
            values = {
                name: said["" if place is None else cells[place]]
                for name, (place, said) in self._columns.items()
            }
            meters = {name: values.pop(name) for name in self.meters}
            if self.kind.fill:
                self.kind.fill(values, self._shop)
            known = {name: amount for name, amount in meters.items() if amount is not None}
            yield Row(line, values, known, key)


def _with_default_by(kind: Kind, by: str | None) -> Kind:
    """The kind with the column `by` optional, where it is known who stands for all."""
    if by is None:
        return kind
    return replace(
        kind,
        columns=tuple(
            replace(c, optional=True, may_be_empty=True) if c.name == "by" else c
            for c in kind.columns
        ),
    )
