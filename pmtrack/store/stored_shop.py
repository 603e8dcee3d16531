"""The shop's description as last applied, each part of it read when it is first asked for."""

import json
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from functools import cached_property
from typing import Any

from pmtrack.errors import Refused
from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import (
    Machine,
    Material,
    Meter,
    Program,
    Shop,
    Supplier,
    Task,
    Tool,
)
from pmtrack.store.codec import damaged, to_date
from pmtrack.store.database import Row, Store
from pmtrack.store.records import decode
from pmtrack.store.standing import stands

# a one-off job, which the shop file does not name, goes with its machine
_TASK = (
    "SELECT name, definition, first_applied, COALESCE(retired_on, CASE WHEN raised_by IS NOT NULL"
    "  THEN (SELECT machine.retired_on FROM machine WHERE machine.code = task.machine) END)"
    " AS retired_on, raised_by FROM task"
    f" WHERE (raised_by IS NULL OR {stands('raised_by')})"
)
_METER = (
    "SELECT m.machine, m.name, m.definition FROM meter m JOIN machine ON machine.code = m.machine"
    " WHERE m.retired_on IS machine.retired_on"
)


class StoredShop:
    """The shop as last applied; `past` holds what was retired. It is asked while the store is open.

    One machine or task is read by itself: a daily command needs few of them.
    """

    def __init__(self, store: Store, bare: Shop) -> None:
        self._store = store
        self.bare = bare  # without machines, tasks, tools and the like
        self._known: dict[str, Machine | None] = {}
        self._rows: dict[str, Row | None] = {}
        self._tasks: dict[str, Task] = {}
        self._meters: dict[str, Meter] = {}
        self._routines: dict[str, Task] = {}

    # --- the whole of it

    @cached_property
    def shop(self) -> Shop:
        """The shop with all that its file describes."""
        return self._assemble([row for row in self._all_rows if not (row[3] or row[4])], False)

    @cached_property
    def past(self) -> Shop:
        """What was retired."""
        return self._assemble([row for row in self._all_rows if row[3]], True)

    @cached_property
    def jobs(self) -> tuple[Task, ...]:
        """The one-off jobs."""
        return tuple(self._task(row) for row in self._all_rows if row[4] and not row[3])

    @property
    def machines(self) -> tuple[Machine, ...]:
        """All machines, retired ones last."""
        return (*self.shop.machines, *self.past.machines)

    def machines_on(self, day: date) -> tuple[Machine, ...]:
        """The machines that are in the shop on a day: those retired later, too."""
        return tuple(m for m in self.machines if self.gone_on.get(m.code, date.max) > day)

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """All tasks and one-off jobs, retired ones last."""
        return (*self.shop.tasks, *self.jobs, *self.past.tasks)

    @cached_property
    def first_applied(self) -> dict[str, date]:
        """The day on which each task was first applied, or a job was raised."""
        return {name: to_date(first) for name, _, first, _, _ in self._all_rows}

    @cached_property
    def retired_on(self) -> dict[str, date]:
        """The day of each retired task."""
        return {name: to_date(day) for name, _, _, day, _ in self._all_rows if day}

    @cached_property
    def gone_on(self) -> dict[str, date]:
        """The day of each retired machine."""
        rows = self._store.rows("SELECT code, retired_on FROM machine WHERE retired_on IS NOT NULL")
        return {code: to_date(day) for code, day in rows}

    @cached_property
    def _all_rows(self) -> list[Row]:
        rows = self._store.rows(f"{_TASK} ORDER BY position, name")
        self._rows.update((row[0], row) for row in rows)
        return rows

    def _assemble(self, tasks: Iterable[Row], retired: bool) -> Shop:
        return replace(
            self.bare,
            suppliers=self._load("supplier", Supplier, retired),
            machines=self._machines(retired),
            tasks=tuple(map(self._task, tasks)),
            materials=self.past_materials if retired else self.materials,
            tools=self._load("tool", Tool, True) if retired else self.tools,
            programs=self.past_programs if retired else self.programs,
        )

    def _machines(self, retired: bool) -> tuple[Machine, ...]:
        """Machines with their meters; a retired machine keeps those it had."""
        meters: dict[str, list[Meter]] = {}
        for machine, name, text in self._store.rows(f"{_METER} ORDER BY m.position"):
            meters.setdefault(machine, []).append(self._meter(name, text))
        machines = self._load("machine", Machine, retired)
        return tuple(replace(m, meters=tuple(meters.get(m.code, ()))) for m in machines)

    def _load(self, table: str, record: type[Any], retired: bool) -> tuple[Any, ...]:
        rows = self._store.rows(
            f"SELECT code, definition FROM {table} WHERE (retired_on IS NOT NULL) = ?"
            " ORDER BY position",
            int(retired),
        )
        return tuple(_named(decode(record, text), code, "code") for code, text in rows)

    # --- what a command of the day asks for

    @cached_property
    def tools(self) -> tuple[Tool, ...]:
        """The tools of the shop file."""
        return self._load("tool", Tool, False)

    @cached_property
    def programs(self) -> tuple[Program, ...]:
        """The programs of the shop file."""
        return self._load("program", Program, False)

    @cached_property
    def materials(self) -> tuple[Material, ...]:
        """The materials of the shop file."""
        return self._load("material", Material, False)

    @cached_property
    def past_programs(self) -> tuple[Program, ...]:
        """The programs that were retired."""
        return self._load("program", Program, True)

    @cached_property
    def past_materials(self) -> tuple[Material, ...]:
        """The materials that were retired."""
        return self._load("material", Material, True)

    def machine(self, code: str) -> Machine | None:
        """The machine of that code, retired or not."""
        if code not in self._known:
            self._known[code] = None
            self.read_machines([code])
        return self._known[code]

    def read_machines(self, codes: Iterable[str]) -> None:
        """Read some machines together, so that none is read by itself."""
        wanted = json.dumps(list(codes))
        among = "IN (SELECT value FROM json_each(?))"
        meters = defaultdict[str, list[Meter]](list)
        rows = self._store.each(f"{_METER} AND m.machine {among} ORDER BY m.position", wanted)
        for code, name, text in rows:
            meters[code].append(self._meter(name, text))
        rows = self._store.each(f"SELECT code, definition FROM machine WHERE code {among}", wanted)
        for code, text in rows:
            machine: Machine = _named(decode(Machine, text), code, "code")
            self._known[code] = replace(machine, meters=tuple(meters[code]))

    def _meter(self, name: str, definition: str) -> Meter:
        """Many machines have the same meters."""
        if definition not in self._meters:
            self._meters[definition] = decode(Meter, definition)
        meter: Meter = _named(self._meters[definition], name, "name")
        return meter

    def task(self, name: str) -> Task | None:
        """The task or one-off job of that name, retired or not."""
        row = self._row(name)
        return self._task(row) if row else None

    def _task(self, row: Row) -> Task:
        name, definition, *_ = row
        if name not in self._tasks:
            self._tasks[name] = _named(self._decoded(name, definition), name, "name")
        return self._tasks[name]

    def _decoded(self, name: str, definition: str) -> Task:
        """Many machines have the same tasks: a text that differs in the machine is read once."""
        machine = name.partition("/")[0]
        rest = definition.removeprefix(f'{{"machine":"{machine}",')
        if rest not in self._routines:
            whole = definition if rest == definition else f'{{"machine":"",{rest}'
            self._routines[rest] = decode(Task, whole)
        found = self._routines[rest]
        return found if found.machine else replace(found, machine=machine)

    def read_tasks(self, names: Iterable[str]) -> None:
        """Read the rows of some tasks together, so that none is read by itself."""
        rows = self._store.rows(
            f"{_TASK} AND name IN (SELECT value FROM json_each(?))", json.dumps(list(names))
        )
        self._rows.update((row[0], row) for row in rows)

    def tasks_of(self, machine: str) -> tuple[Task, ...]:
        """The tasks and one-off jobs of a machine, in the order of `tasks`."""
        rows = self._store.rows(
            f"{_TASK} AND name > ? AND name < ?"
            " ORDER BY retired_on IS NOT NULL, raised_by IS NOT NULL, position, name",
            f"{machine}/",
            f"{machine}0",  # the character after the stroke
        )
        self._rows.update((row[0], row) for row in rows)
        return tuple(map(self._task, rows))

    def applied_on(self, name: str) -> date:
        """The day on which a task was first applied, or a job was raised."""
        row = self._row(name)
        if row is None:
            raise damaged(f"task '{shorten(name)}' is missing")
        return to_date(row[2])

    def retired_day(self, name: str) -> date | None:
        """The day on which a task was retired; None for one that is not."""
        row = self._row(name)
        return to_date(row[3]) if row and row[3] else None

    def _row(self, name: str) -> Row | None:
        if name not in self._rows:
            self._rows[name] = self._store.row(f"{_TASK} AND name = ?", name)
        return self._rows[name]


def load_shop(store: Store) -> StoredShop:
    """The shop as last applied. Raises Refused when nothing was applied yet."""
    bare: Shop = decode(Shop, needs_shop(store))
    if not has_zone(bare):
        raise damaged(f"'{shorten(bare.timezone)}' is no time zone")
    return StoredShop(store, bare)


def needs_shop(store: Store) -> str:
    """The shop as last applied, as kept. Raises Refused when nothing was applied yet."""
    found = store.row("SELECT definition FROM applied ORDER BY id DESC LIMIT 1")
    if found is None:
        raise Refused("no shop yet; describe it with 'pmtrack apply shop.yaml'")
    return str(found[0])


def has_shop(store: Store) -> bool:
    """Whether a shop was applied yet."""
    return store.row("SELECT 1 FROM applied") is not None


def has_zone(shop: Shop) -> bool:
    """Whether the shop's time zone is one."""
    try:
        return bool(shop.zone)
    except (LookupError, ValueError, OSError):
        return False


def _named(record: Any, key: str, field_name: str) -> Any:
    """The record. Raises Refused when it is not the one that its row is kept for."""
    if getattr(record, field_name) != key:
        raise damaged(f"'{shorten(key)}' holds what describes something else")
    return record
