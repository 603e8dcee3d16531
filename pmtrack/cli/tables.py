"""Answers written to a file for a spreadsheet."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from pmtrack.screens.lines import tell

CsvFile = Annotated[
    Path | None, typer.Option("--csv", help="Write it to this CSV file, for a spreadsheet.")
]


def write_table(path: Path, store: Path, items: Iterable[Mapping[str, Any]]) -> None:
    """Write a row for each item, in one go; a file that is the store is refused."""
    from pmtrack.cli.files import keep_apart, write_whole
    from pmtrack.exports.csv_table import csv_table
    from pmtrack.screens.table_csv import table_rows

    keep_apart(path, store)
    header, rows = table_rows(items)
    write_whole(path, csv_table(header, rows))
    tell(f"{path}: {len(rows)} rows")
