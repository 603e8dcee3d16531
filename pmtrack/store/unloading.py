"""The whole store written as plain files, for other programs to read and for a later `load`."""

import csv
import hashlib
import io
import json
import os
import shutil
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any
from uuid import uuid4

from pmtrack.errors import Refused
from pmtrack.store.database import Row, Store
from pmtrack.store.opening import KNOWN_STEPS
from pmtrack.store.placing import settle
from pmtrack.store.plain_form import (
    DESCRIPTION,
    FORMAT,
    INDEX,
    KEPT_AS_JSON,
    NOTES,
    Column,
    opened_up,
    tables_of,
    to_cell,
)

_ROWS_AT_ONCE = 2000


def unload(store: Store, folder: Path) -> int:
    """Write the store into a new or empty folder, all of it or nothing; tells how many files.

    Raises Refused where something is, and where the folder cannot be made.
    """
    if folder.is_dir() and any(folder.iterdir()):
        raise Refused(f"{folder}: there are files in this folder; name a new one")
    if os.path.lexists(folder) and not folder.is_dir():
        raise Refused(f"{folder}: a file is here already; name a new folder")
    if not folder.absolute().parent.is_dir():
        raise Refused(f"{folder.parent}: no such folder; make it first")
    target = Path(os.path.realpath(folder))
    part = target.with_name(f".{target.name[:40]}.{uuid4().hex[:12]}")
    try:
        part.mkdir()
        with store.reading():
            files = _write_all(store, part)
        settle(part)
        if target.is_dir():
            target.rmdir()
        part.rename(target)
        settle(target.parent)
    except OSError as error:
        reason = (error.strerror or "it cannot be written").lower()
        raise Refused(f"{folder}: {reason}; nothing was written; name another folder") from None
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return files


def _rows_of(store: Store, table: str, columns: Sequence[Column]) -> list[Row]:
    """The rows of a table; what SQLite works out of other columns is left out."""
    names = ", ".join(f'"{column.name}"' for column in columns)
    return store.rows(f"SELECT {names} FROM {table} ORDER BY rowid")


def _write_all(store: Store, part: Path) -> int:
    """All files; the index, without which they are none, comes last."""
    tables = tables_of(store)
    told = {name: _rows_of(store, name, tables[name]) for name in KEPT_AS_JSON}
    described = {
        name: [_as_object(row, tables[name]) for row in told[name]]
        for name in tables
        if name in KEPT_AS_JSON
    }
    sum_of_description = _write(part / DESCRIPTION, [_json(described)])
    index = {
        "format": FORMAT,
        "notes": NOTES,
        "steps": KNOWN_STEPS,
        "description": {
            "file": DESCRIPTION,
            "rows": {name: len(rows) for name, rows in described.items()},
            "sha256": sum_of_description,
        },
        "tables": [
            _write_table(store, part, name, columns)
            for name, columns in tables.items()
            if name not in KEPT_AS_JSON
        ],
    }
    _write(part / INDEX, [_json(index)])
    return len(tables) - len(KEPT_AS_JSON) + 2


def _as_object(row: tuple[Any, ...], columns: list[Column]) -> dict[str, object]:
    return {
        column.name: opened_up(value) if column.name == "definition" else value
        for column, value in zip(columns, row, strict=True)
    }


def _json(value: object) -> bytes:
    return json.dumps(value, indent=1, ensure_ascii=False).encode() + b"\n"


def _write_table(store: Store, part: Path, name: str, columns: list[Column]) -> dict[str, object]:
    """One table as a CSV file; tells what the index says of it."""
    rows = 0

    def pieces() -> Iterable[bytes]:
        nonlocal rows
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\r\n")
        writer.writerow([column.name for column in columns])
        names = ", ".join(f'"{column.name}"' for column in columns)
        for row in store.each(f"SELECT {names} FROM {name} ORDER BY rowid"):
            writer.writerow([to_cell(v, c) for v, c in zip(row, columns, strict=True)])
            rows += 1
            if rows % _ROWS_AT_ONCE == 0:
                yield text.getvalue().encode()
                text.seek(0)
                text.truncate()
        yield text.getvalue().encode()

    file = f"{name.replace('_', '-')}.csv"
    found = _write(part / file, pieces())
    return {
        "table": name,
        "file": file,
        "columns": [{"name": column.name, "form": column.form} for column in columns],
        "rows": rows,
        "sha256": found,
    }


def _write(path: Path, pieces: Iterable[bytes]) -> str:
    """Write a file and have it on disk; tells the SHA-256 of its bytes."""
    seen = hashlib.sha256()
    with path.open("wb") as file:
        for piece in pieces:
            seen.update(piece)
            file.write(piece)
        file.flush()
        os.fsync(file.fileno())
    return seen.hexdigest()
