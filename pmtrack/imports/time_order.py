"""The rows of a file in the order of time."""

from collections.abc import Iterator

from pmtrack.imports.csv_file import Line, Sheet
from pmtrack.imports.fault import Fault
from pmtrack.imports.rows import Block, RowReader
from pmtrack.store.database import Store
from pmtrack.store.sorted_rows import SortedRows

_BETWEEN = "\0"  # no cell holds it


def survey(sheet: Sheet, reader: RowReader) -> tuple[int, bool]:
    """How many rows a sheet has, and whether they stand in the order of time.

    Rows whose time cannot be read do not matter to the order.
    """
    place = reader.when
    rows, in_order, before, last = 0, True, "", ""
    for _, cells in sheet.lines([]):
        if len(cells) <= place:
            continue
        rows += 1
        text = cells[place]
        if text != before:
            before = text
            moment = reader.moment(text) or last
            in_order, last = in_order and last <= moment, moment
    return rows, in_order


def sorted_blocks(
    store: Store, sheet: Sheet, reader: RowReader, faults: list[Fault]
) -> Iterator[Block]:
    """The rows that can be read in the order of time, those of one moment as they stand.

    They are put in order on the disk. What is wrong with others is added to `faults`.
    """
    position = reader.kind.position
    with SortedRows(store) as waiting:
        for block in reader.blocks(sheet.lines(faults), faults):
            moments = [key[position] for key in block.keys]
            texts = map(_BETWEEN.join, block.cells)
            waiting.add(zip(moments, block.lines, texts, strict=True))
        yield from reader.blocks(_lines(waiting), faults)


def _lines(rows: SortedRows) -> Iterator[Line]:
    for line, text in rows:
        yield line, text.split(_BETWEEN)
