"""Reading the plain files of a store: rows with their places, or what is wrong and where."""

import csv
import hashlib
import io
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pmtrack.errors import FaultyFile, Refused
from pmtrack.rules.quantity import shorten
from pmtrack.store.opening import KNOWN_STEPS
from pmtrack.store.plain_form import (
    DESCRIPTION,
    FORMAT,
    INDEX,
    Column,
    Value,
    closed_up,
    from_cell,
)

_FROM_ELSEWHERE = "take the folder that 'pmtrack unload' wrote"


@dataclass(frozen=True)
class Listed:
    """What the index says of a file."""

    file: str
    rows: Any
    sha256: str


@dataclass(frozen=True)
class Index:
    """The folder, the steps of the schema that its store had taken, and its files."""

    folder: Path
    steps: tuple[str, ...]
    description: Listed
    tables: Mapping[str, Listed]


@dataclass(frozen=True)
class Cells:
    """A row for a table, and where it stands."""

    table: str
    place: str
    values: tuple[Value, ...]


def read_index(folder: Path) -> Index:
    """The index of a folder. Raises FaultyFile, or Refused for a newer pmtrack's folder."""
    if not folder.is_dir():
        raise Refused(f"{folder}: no folder here; {_FROM_ELSEWHERE}")
    path, faults = folder / INDEX, list[str]()
    data = _bytes(path, faults)
    told = None if data is None else _parsed(path, data, faults)
    if faults:
        raise FaultyFile(faults)
    if not isinstance(told, dict) or not isinstance(told.get("format"), int):
        raise FaultyFile([f"{path}:1: tells no format; {_FROM_ELSEWHERE}"])
    try:
        steps = tuple(told["steps"])
        if told["format"] != FORMAT or not steps or steps != KNOWN_STEPS[: len(steps)]:
            raise Refused(f"{path}: written by a newer pmtrack; update pmtrack")
        return Index(
            folder,
            steps,
            _listed(told["description"]),
            {str(table["table"]): _listed(table) for table in told["tables"]},
        )
    except (KeyError, TypeError, AttributeError) as error:
        raise FaultyFile([f"{path}: lacks {error}; {_FROM_ELSEWHERE}"]) from None


def _listed(told: Mapping[str, Any]) -> Listed:
    return Listed(Path(str(told["file"])).name, told["rows"], str(told["sha256"]))


def _parsed(path: Path, data: bytes, faults: list[str]) -> Any:
    """What a JSON file says, None with a fault if it cannot be read."""
    try:
        return json.loads(data)
    except UnicodeDecodeError as error:
        faults.append(f"{path}:{_line(data, error.start)}: this is not UTF-8 text; unload anew")
    except json.JSONDecodeError as error:
        faults.append(f"{path}:{error.lineno}: no JSON: {error.msg.lower()}; unload anew")
    except (ValueError, RecursionError):  # a number or a nesting without end
        faults.append(f"{path}:1: no JSON that can be read; unload anew")
    return None


def _line(data: bytes, at: int) -> int:
    return data.count(b"\n", 0, at) + 1


def _bytes(path: Path, faults: list[str]) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError as error:
        faults.append(f"{path}: {(error.strerror or 'cannot be read').lower()}; unload anew")
        return None


def _same(path: Path, data: bytes, listed: Listed, faults: list[str]) -> None:
    """A fault where a file that reads well is not the file that was written."""
    found = hashlib.sha256(data).hexdigest()
    if found != listed.sha256:
        faults.append(
            f"{path}: changed since it was unloaded; unload anew, or, if the change is meant, "
            f"give it in {INDEX} the sha256 {found}"
        )


def described_rows(
    index: Index, tables: Mapping[str, list[Column]], faults: list[str]
) -> Iterator[Cells]:
    """The rows of the description; what is wrong is added to `faults`."""
    path, before = index.folder / DESCRIPTION, len(faults)
    data = _bytes(path, faults)
    if data is None:
        return
    told = _parsed(path, data, faults)
    if len(faults) > before:
        return
    if not isinstance(told, dict) or set(told) != set(tables):
        faults.append(f"{path}:1: must have lists of {', '.join(tables)}, and nothing else")
        return
    for name, columns in tables.items():
        rows = told[name]
        if not isinstance(rows, list):
            faults.append(f"{path}: no list of {name}")
            continue
        for number, row in enumerate(rows):
            place = f"{path}: {name}[{number}]"
            names = [column.name for column in columns]
            if not isinstance(row, dict) or list(row) != names:
                faults.append(f"{place}: must have {', '.join(names)}")
            else:
                yield Cells(name, place, tuple(_told(key, row[key]) for key in names))
    if len(faults) == before:
        _same(path, data, index.description, faults)


def _told(key: str, value: Any) -> Value:
    if key == "definition":
        return closed_up(value)
    return value if isinstance(value, str | int | None) else closed_up(value)


def table_rows(
    index: Index, table: str, columns: list[Column], faults: list[str]
) -> Iterator[Cells]:
    """The rows of a table's file; what is wrong is added to `faults`."""
    listed = index.tables.get(table)
    if listed is None:
        faults.append(f"{index.folder / INDEX}: names no file for the table {table}")
        return
    path, before = index.folder / listed.file, len(faults)
    data = _bytes(path, faults)
    if data is None:
        return
    lines = _lines(path, data, faults)
    names = [column.name for column in columns]
    _, header = next(lines, (1, []))
    if header != names:
        faults.append(f"{path}:1: the header must be {','.join(names)}")
        return
    rows = 0
    for line, cells in lines:
        rows += 1
        values = _values(f"{path}:{line}", cells, columns, faults)
        if values is not None:
            yield Cells(table, f"{path}:{line}", values)
    line = _line(data, len(data))
    if not data.endswith(b"\n"):
        faults.append(f"{path}:{line}: cut short: the last line has no end; unload anew")
    if rows != listed.rows:
        faults.append(f"{path}:{line}: {rows} rows, and {INDEX} tells of {listed.rows}")
    elif len(faults) == before:
        _same(path, data, listed, faults)


def _lines(path: Path, data: bytes, faults: list[str]) -> Iterator[tuple[int, list[str]]]:
    """The cells of each row with the line it starts on, up to where nothing can be read."""
    try:
        text = data.decode()
    except UnicodeDecodeError as error:
        faults.append(f"{path}:{_line(data, error.start)}: this is not UTF-8 text; unload anew")
        return
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    while True:
        line = reader.line_num + 1
        try:
            yield line, next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            faults.append(f"{path}:{line}: cannot be read as CSV: {error}; unload anew")
            return


def _values(
    place: str, cells: list[str], columns: list[Column], faults: list[str]
) -> tuple[Value, ...] | None:
    if len(cells) != len(columns):
        faults.append(f"{place}: {len(cells)} cells where the header has {len(columns)}")
        return None
    values = []
    for cell, column in zip(cells, columns, strict=True):
        try:
            values.append(from_cell(cell, column))
        except ValueError as error:
            faults.append(f"{place}: {column.name}: '{shorten(cell)}' {error}")
    return tuple(values) if len(values) == len(columns) else None
