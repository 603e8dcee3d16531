"""A CSV file's cells, whatever the bytes: lines and what cannot be read, never the file at once."""

import codecs
import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import dropwhile
from typing import BinaryIO

from pmtrack.imports.fault import Fault

_BREAK = re.compile(rb"\r\n|\r|\n")
_BLOCK = 2**18  # bytes looked at together
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_SAVE = "save it as CSV UTF-8 with commas"
_OTHER_MARKS = {";": "semicolons", "\t": "tabs", "|": "bars"}

Line = tuple[int, list[str]]  # on which line a row starts, and its cells with the blanks around


@dataclass(frozen=True)
class Sheet:
    """A file whose bytes are text, and its header; without a header it cannot be read at all."""

    file: BinaryIO
    header: Line | None
    faults: list[Fault]  # what is wrong with the text, or with lines down to the header

    def lines(self, faults: list[Fault]) -> Iterator[Line]:
        """The rows below the header; what is wrong with lines that are none is added to `faults`.

        A row may be blank, or of another length than the header.
        """
        if self.header is None:
            return iter(())
        start = self.header[0]
        return dropwhile(lambda line: line[0] <= start, _parse(self.file, faults))


def is_blank(cells: list[str]) -> bool:
    """Whether nothing is written in a row."""
    return not any(map(str.strip, cells))


def open_sheet(file: BinaryIO) -> Sheet:
    """The sheet in a file of bytes that can be gone through more than once."""
    broken = _check_text(file)
    if broken:
        return Sheet(file, None, [broken])
    faults: list[Fault] = []
    found = next((line for line in _parse(file, faults) if not is_blank(line[1])), None)
    if found is None:
        return Sheet(file, None, faults or [Fault(1, "the file is empty; begin with the header")])
    number, cells = found
    names = [cell.strip() for cell in cells]
    marks = [words for mark, words in _OTHER_MARKS.items() if mark in names[0]]
    if len(names) == 1 and marks:
        text = f"the columns are set apart by {marks[0]}; {_SAVE}"
        return Sheet(file, None, [Fault(number, text)])
    return Sheet(file, (number, names), faults)


def wrong_length(line: int, cells: int, width: int) -> Fault:
    """The fault of a row that has so many cells where the header has another number."""
    mend = (
        "write the commas of empty cells too"
        if cells < width
        else 'put a cell that holds a comma in quotes, like "41,200"'
    )
    told = "1 cell" if cells == 1 else f"{cells} cells"
    return Fault(line, f"{told} where the header has {width}; {mend}")


def _check_text(file: BinaryIO) -> Fault | None:
    """Why the bytes are no text, or None."""
    file.seek(0)
    if file.read(2) in _UTF_16:
        return Fault(1, f"this is UTF-16 text, not UTF-8; {_SAVE}")
    file.seek(0)
    begun, rest, nul = 0, b"", None
    while block := file.read(_BLOCK):
        data = rest + block
        try:
            _, used = codecs.utf_8_decode(data, "strict", False)
        except UnicodeDecodeError as error:
            return _no_text(file, begun + error.start)
        if nul is None and b"\0" in data:
            nul = begun + data.index(b"\0")
        begun, rest = begun + used, data[used:]
    if rest:
        return _no_text(file, begun)
    if nul is not None:
        return Fault(_line_at(file, nul), f"a NUL byte: this is no CSV text; {_SAVE}")
    return None


def _no_text(file: BinaryIO, position: int) -> Fault:
    return Fault(_line_at(file, position), f"this is not UTF-8 text; {_SAVE}")


def _line_at(file: BinaryIO, position: int) -> int:
    """The line in which a byte stands."""
    file.seek(0)
    breaks, last = 0, b""
    while position and (block := file.read(min(_BLOCK, position))):
        split = last == b"\r" and block.startswith(b"\n")  # one line's end in two blocks
        breaks += len(_BREAK.findall(block)) - split
        position -= len(block)
        last = block[-1:]
    return breaks + 1


def _parse(file: BinaryIO, faults: list[Fault]) -> Iterator[Line]:
    """Each row with its first line; reading goes on after a row that cannot be read."""
    file.seek(0)
    text = io.TextIOWrapper(file, encoding="utf-8-sig", newline="")
    reader = csv.reader(text, strict=True, skipinitialspace=True)
    start, more = 1, True
    try:
        while more:
            try:
                for cells in reader:
                    yield start, cells
                    start = reader.line_num + 1
                more = False
            except csv.Error as error:
                faults.append(Fault(start, _sentence(error)))
                start = reader.line_num + 1
    finally:
        text.detach()  # the file stays open


def _sentence(error: csv.Error) -> str:
    text = str(error)
    if "unexpected end" in text:
        return "a quote is opened and never closed; close it, or delete it"
    if "field limit" in text:
        limit = csv.field_size_limit()
        return f"a cell of more than {limit:,} characters; shorten it, or close its quote"
    return "text follows a closing quote; write a quote inside a quoted cell twice"
