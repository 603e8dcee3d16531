"""A table as a CSV file that a spreadsheet opens without running anything in it."""

import csv
import io
import re
from collections.abc import Iterable, Sequence

Cell = str | int | float | None

# What begins a formula, also in its wide form, and also behind what a program may trim away
# (OWASP, CSV Injection).
_RISKY = re.compile("[\\s\u200b-\u200f\u2060\ufeff]*?[-=+@\t\r\n\uff0d\uff1d\uff0b\uff20]")
_DECIMALS = 6


def csv_table(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A header row and the rows, as RFC 4180 has it, in UTF-8.

    Text that a spreadsheet might take for a formula gets an apostrophe in front. All text stands
    in quotes, so that a semicolon in it begins no cell where the list separator is one. Numbers
    stay numbers, unknown ones are empty cells.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow([_cell(name) for name in header])
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return text.getvalue().encode()


def _cell(value: Cell) -> str | int | float:
    if value is None:
        return ""
    if isinstance(value, float):
        short = round(value, _DECIMALS)
        return int(short) if short.is_integer() else short
    if isinstance(value, str) and _RISKY.match(value):
        return f"'{value}"
    return value
