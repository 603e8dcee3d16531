"""Taking over facts from a CSV file: all rows or none, each as its single command would."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import BinaryIO

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.shift_rows import ShiftRows
from pmtrack.actions.single_rows import SingleRows
from pmtrack.actions.view import View
from pmtrack.errors import FaultyFile
from pmtrack.imports.csv_file import Sheet, open_sheet
from pmtrack.imports.fault import Fault
from pmtrack.imports.kinds import kind_named
from pmtrack.imports.known import KnownRows
from pmtrack.imports.rows import Block, RowReader
from pmtrack.imports.time_order import sorted_blocks, survey

Progress = Callable[[int, int], None]
_NOBODY = "import"  # until the first row says who


@dataclass(frozen=True)
class Imported:
    """How many rows were taken, and the first and last entry made; None for a file of no row."""

    rows: int
    entries: tuple[int, int] | None


def import_file(  # noqa: PLR0913 - what the command line says, as it is
    view: View,
    kind: str,
    name: str,
    file: BinaryIO,
    now: datetime,
    by: str | None,
    again: bool,
    progress: Progress = lambda done, total: None,
    remark: Callable[[str], None] = lambda line: None,
) -> Imported:
    """Add the facts of a file within one transaction, and tell what was made of it.

    The file is gone through more than once and never held in memory. `by` stands for rows that do
    not say who. `progress` is told rows done and rows in all, `remark` what is taken though it
    looks odd. Raises FaultyFile with all that is wrong, or UnreadableInput if there is no such
    kind.
    """
    chosen = kind_named(kind)
    sheet = open_sheet(file)
    reader = RowReader(sheet, chosen, replace(view.shop, machines=view.stored.machines), by)
    recorder = Recorder(view, now, by or _NOBODY)
    taker = ShiftRows(recorder, reader.meters) if kind == "shifts" else SingleRows(recorder, reader)
    known = None if again else KnownRows(view.store, chosen, reader.meters)
    faults, found = [*sheet.faults, *reader.header_faults], list[Fault]()
    rows = 0
    for block in _blocks(view, sheet, reader, (faults, progress)):
        twice = known.faults(block) if known else []
        faults += twice
        found += taker.take(block.without({fault.line for fault in twice}) if twice else block)
        rows += len(block.lines)
    found += taker.finish()
    faults += [fault.in_terms_of_the_file(taker.line_of) for fault in found]
    if faults:
        raise FaultyFile(list(dict.fromkeys(fault.render(name) for fault in sorted(faults))))
    for line in taker.remarks():
        remark(line)
    return Imported(rows, taker.entries)


def _blocks(
    view: View, sheet: Sheet, reader: RowReader, told: tuple[list[Fault], Progress]
) -> Iterator[Block]:
    """The rows that can be read, in the order of time; none below a header that is wrong."""
    faults, progress = told
    if sheet.header is None:
        return
    if reader.header_faults:
        yield from reader.blocks(sheet.lines(faults), faults)
        return
    total, in_order = survey(sheet, reader)
    done = 0
    blocks = (
        reader.blocks(sheet.lines(faults), faults)
        if in_order
        else sorted_blocks(view.store, sheet, reader, faults)
    )
    for block in blocks:
        progress(done, total)
        yield block
        done += len(block.lines)
    progress(total, total)
