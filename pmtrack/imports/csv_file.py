"""A CSV file's cells, whatever the bytes: lines and what cannot be read."""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass

from pmtrack.imports.fault import Fault

_BREAK = re.compile(rb"\r\n|\r|\n")
_BOM = b"\xef\xbb\xbf"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_SAVE = "save it as CSV UTF-8 with commas"
_OTHER_MARKS = {";": "semicolons", "\t": "tabs", "|": "bars"}


@dataclass(frozen=True)
class Line:
    """The cells of a row, without blanks around them, and the line on which it starts."""

    number: int
    cells: list[str]


@dataclass(frozen=True)
class Sheet:
    """A header and the rows below it; without a header it cannot be read at all."""

    header: Line | None
    rows: list[Line]
    faults: list[Fault]


def read_sheet(data: bytes) -> Sheet:
    """The cells of a file; blank rows are left out, rows of a wrong length are faults."""
    text = _decode(data)
    if isinstance(text, Fault):
        return Sheet(None, [], [text])
    lines: list[Line] = []
    faults: list[Fault] = []
    for found in _parse(text):
        if isinstance(found, Fault):
            faults.append(found)
        elif any(found.cells):
            lines.append(found)
    if not lines:
        return Sheet(None, [], faults or [Fault(1, "the file is empty; begin with the header")])
    return _with_header(lines, faults)


def _with_header(lines: list[Line], faults: list[Fault]) -> Sheet:
    header, *rows = lines
    if len(header.cells) == 1:
        marks = [words for mark, words in _OTHER_MARKS.items() if mark in header.cells[0]]
        if marks:
            text = f"the columns are set apart by {marks[0]}; {_SAVE}"
            return Sheet(None, [], [Fault(header.number, text)])
    width = len(header.cells)
    wrong = [_wrong_length(row, width) for row in rows if len(row.cells) != width]
    return Sheet(header, [row for row in rows if len(row.cells) == width], faults + wrong)


def _wrong_length(row: Line, width: int) -> Fault:
    mend = (
        "write the commas of empty cells too"
        if len(row.cells) < width
        else 'put a cell that holds a comma in quotes, like "41,200"'
    )
    return Fault(row.number, f"{_cells(len(row.cells))} where the header has {width}; {mend}")


def _cells(number: int) -> str:
    return "1 cell" if number == 1 else f"{number} cells"


def _decode(data: bytes) -> str | Fault:
    if data.startswith(_UTF_16):
        return Fault(1, f"this is UTF-16 text, not UTF-8; {_SAVE}")
    try:
        text = data.removeprefix(_BOM).decode()
    except UnicodeDecodeError as error:
        start = error.start + (len(_BOM) if data.startswith(_BOM) else 0)
        return Fault(_line_at(data, start), f"this is not UTF-8 text; {_SAVE}")
    if "\0" in text:
        return Fault(_line_at(data, data.index(b"\0")), f"a NUL byte: this is no CSV text; {_SAVE}")
    return text


def _line_at(data: bytes, position: int) -> int:
    return len(_BREAK.findall(data[:position])) + 1


def _parse(text: str) -> Iterator[Line | Fault]:
    """Each row with its first line; reading goes on after a row that cannot be read."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, skipinitialspace=True)
    while True:
        start = reader.line_num + 1
        try:
            cells = next(reader, None)
        except csv.Error as error:
            yield Fault(start, _sentence(error))
            continue
        if cells is None:
            return
        yield Line(start, [cell.strip() for cell in cells])


def _sentence(error: csv.Error) -> str:
    text = str(error)
    if "unexpected end" in text:
        return "a quote is opened and never closed; close it, or delete it"
    if "field limit" in text:
        limit = csv.field_size_limit()
        return f"a cell of more than {limit:,} characters; shorten it, or close its quote"
    return "text follows a closing quote; write a quote inside a quoted cell twice"
