"""A whole store made again from the plain files that `unload` wrote."""

import csv
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from pmtrack.errors import FaultyFile, PmtrackError
from pmtrack.rules.text import first_of
from pmtrack.store.database import Store
from pmtrack.store.opening import (
    APPLICATION_ID,
    KNOWN_STEPS,
    apply_steps,
    make_current,
    staged,
)
from pmtrack.store.plain_files import Cells, Index, described_rows, read_index, table_rows
from pmtrack.store.plain_form import INDEX, KEPT_AS_JSON, Column, tables_of
from pmtrack.store.restoring import check
from pmtrack.store.tallies import work_out
from pmtrack.store.trouble import clear_words

_LONGEST_CELL = 2**30  # characters
_MOST = 20  # faults that are told at once


@contextmanager
def loaded(folder: Path) -> Iterator[Store]:
    """A private store made from the files of a folder, checked, and gone afterwards.

    Raises FaultyFile with the file and line of all that is wrong.
    """
    index = read_index(folder)
    with closing(staged(folder)) as new, clear_words(folder):
        new.change(f"PRAGMA application_id = {APPLICATION_ID}")
        following = KNOWN_STEPS[len(index.steps) :]
        with new.writing():
            apply_steps(new, following[0] if following else None)
            with _cells_of_any_length():
                faults = _fill(new, index)
            if faults:
                raise FaultyFile(first_of(faults, _MOST))
        make_current(new)
        with new.writing():
            new.change("DELETE FROM tally")  # bringing it up to date may have made them
            work_out(new)
        check(new)
        yield new


@contextmanager
def _cells_of_any_length() -> Iterator[None]:
    """What a calendar says of a visit may be longer than a cell usually is."""
    before = csv.field_size_limit(_LONGEST_CELL)
    try:
        yield
    finally:
        csv.field_size_limit(before)


def _fill(new: Store, index: Index) -> list[str]:
    """Put the rows of all files into their tables; tells what is wrong."""
    tables = tables_of(new)
    faults = [
        f"{index.folder / INDEX}: a store of these steps has no table {name}"
        for name in index.tables
        if name not in tables
    ]
    described = {name: columns for name, columns in tables.items() if name in KEPT_AS_JSON}
    _add(new, described_rows(index, described, faults), tables, faults)
    for name, columns in tables.items():
        if name not in KEPT_AS_JSON:
            _add(new, table_rows(index, name, columns, faults), tables, faults)
    return faults


def _add(
    new: Store, rows: Iterator[Cells], tables: dict[str, list[Column]], faults: list[str]
) -> None:
    for row in rows:
        columns = ", ".join(f'"{column.name}"' for column in tables[row.table])
        marks = ", ".join("?" * len(tables[row.table]))
        try:
            new.change(f"INSERT INTO {row.table} ({columns}) VALUES ({marks})", *row.values)
        except (sqlite3.IntegrityError, PmtrackError) as error:
            faults.append(f"{row.place}: cannot be taken: {error}")
