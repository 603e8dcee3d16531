"""A table as a CSV file that a spreadsheet opens without running anything in it."""

import csv
import io
from collections.abc import Iterable, Sequence

Cell = str | int | float | None

_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")  # noqa: RUF001 - the wide forms
_DECIMALS = 6


def csv_table(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A header row and the rows, as RFC 4180 has it, in UTF-8.

    Text that a spreadsheet might take for a formula gets an apostrophe in front; numbers stay
    numbers, unknown ones are empty cells.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_cell(name) for name in header])
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return text.getvalue().encode()


def _cell(value: Cell) -> str | int | float:
    if value is None:
        return ""
    if isinstance(value, float):
        short = round(value, _DECIMALS)
        return int(short) if short.is_integer() else short
    if isinstance(value, str) and value.startswith(_RISKY):
        return f"'{value}"
    return value
