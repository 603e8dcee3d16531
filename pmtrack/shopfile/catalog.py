"""What a shop file names, read loosely, so that one fault does not hide another."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from pmtrack.shopfile.document import Document
from pmtrack.shopfile.fault import Loc

Entry = dict[str, Any]


def entries(holder: Entry, key: str, at: Loc = ()) -> Iterator[tuple[Loc, Entry]]:
    """The mappings in a list, each with its location."""
    items = holder.get(key)
    for index, item in enumerate(items if isinstance(items, list) else []):
        if isinstance(item, dict):
            yield (*at, key, index), item


def texts(entry: Entry, key: str, at: Loc = ()) -> list[tuple[Loc, str]]:
    """The texts of a value that may be one text or a list of them, with their locations."""
    value = entry.get(key)
    if isinstance(value, str):
        return [((*at, key), value.strip())]
    items = value if isinstance(value, list) else []
    return [((*at, key, i), v.strip()) for i, v in enumerate(items) if isinstance(v, str)]


def keys(entry: Entry, key: str) -> list[str]:
    """The keys of a mapping under `key`."""
    value = entry.get(key)
    return list(value) if isinstance(value, dict) else []


@dataclass
class TaskOnMachines:
    """A task of the file with those of its machines that the file describes."""

    loc: Loc
    entry: Entry
    code: str | None
    machines: list[str]
    complete: bool  # whether the file describes all machines that the task names


@dataclass
class Catalog:
    """Codes of each kind, meters of each machine, task codes of each machine."""

    document: Document
    data: Entry
    codes: dict[str, dict[str, Loc]] = field(default_factory=dict)
    meters: dict[str, list[str]] = field(default_factory=dict)
    tasks: list[TaskOnMachines] = field(default_factory=list)
    on_machine: dict[str, dict[str, TaskOnMachines]] = field(default_factory=dict)
    unplaced: set[str] = field(default_factory=set)  # codes of tasks that are not complete


def catalog_of(document: Document, data: Entry) -> Catalog:
    """Gather all names of a document."""
    catalog = Catalog(document, data)
    for section in ("suppliers", "machines", "materials", "tooling", "programs"):
        catalog.codes[section] = _codes(data, section)
    for _, machine in entries(data, "machines"):
        for _, code in texts(machine, "code"):
            catalog.meters.setdefault(code, keys(machine, "meters"))
    for loc, entry in entries(data, "tasks"):
        _add_task(catalog, loc, entry)
    return catalog


def _codes(data: Entry, section: str) -> dict[str, Loc]:
    found: dict[str, Loc] = {}
    for loc, entry in entries(data, section):
        for code_loc, code in texts(entry, "code", loc):
            found.setdefault(code, code_loc)
    return found


def _add_task(catalog: Catalog, loc: Loc, entry: Entry) -> None:
    named = dict.fromkeys(code for _, code in texts(entry, "machines"))
    code = next((code for _, code in texts(entry, "code")), None)
    known = [machine for machine in named if machine in catalog.meters]
    task = TaskOnMachines(
        loc, entry, code, known, complete=bool(known) and len(known) == len(named)
    )
    catalog.tasks.append(task)
    if code is not None:
        if not task.complete:
            catalog.unplaced.add(code)
        for machine in task.machines:
            catalog.on_machine.setdefault(machine, {}).setdefault(code, task)
