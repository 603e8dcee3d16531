"""The shop's description in the store: as last applied, with what was retired kept."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, datetime
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
from pmtrack.store.codec import damaged, to_date, to_text
from pmtrack.store.database import Row, Store
from pmtrack.store.records import decode, encode


@dataclass(frozen=True)
class StoredShop:
    """The shop as last applied; `past` holds what was retired.

    `retired_on` has the day of each retired task, `gone_on` that of each retired machine.
    """

    shop: Shop
    past: Shop
    jobs: tuple[Task, ...]
    first_applied: dict[str, date]
    retired_on: dict[str, date]
    gone_on: dict[str, date] = field(default_factory=dict)

    @property
    def machines(self) -> tuple[Machine, ...]:
        """All machines, retired ones last."""
        return (*self.shop.machines, *self.past.machines)

    def machines_on(self, day: date) -> tuple[Machine, ...]:
        """The machines that are in the shop on a day: those retired later, too."""
        return tuple(m for m in self.machines if self.gone_on.get(m.code, date.max) > day)

    def machine(self, code: str) -> Machine | None:
        """The machine of that code, retired or not."""
        return self._machines.get(code)

    @cached_property
    def _machines(self) -> dict[str, Machine]:
        return {m.code: m for m in self.machines}

    @property
    def tasks(self) -> tuple[Task, ...]:
        """All tasks and one-off jobs, retired ones last."""
        return (*self.shop.tasks, *self.jobs, *self.past.tasks)


@dataclass(frozen=True)
class Change:
    """What an apply did to one thing: `added`, `changed` or `retired`, and which fields."""

    what: str
    kind: str
    name: str
    fields: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Kind:
    """A table of described things: which record it holds and what identifies a row."""

    table: str
    record: type[Any]
    keys: tuple[str, ...]


_SUPPLIER = _Kind("supplier", Supplier, ("code",))
_MACHINE = _Kind("machine", Machine, ("code",))
_METER = _Kind("meter", Meter, ("machine", "name"))
_TASK = _Kind("task", Task, ("name",))
_MATERIAL = _Kind("material", Material, ("code",))
_TOOL = _Kind("tool", Tool, ("code",))
_PROGRAM = _Kind("program", Program, ("code",))


def load_shop(store: Store) -> StoredShop:
    """The shop as last applied. Raises Refused when nothing was applied yet."""
    bare: Shop = decode(Shop, needs_shop(store))
    if not has_zone(bare):
        raise damaged(f"'{shorten(bare.timezone)}' is no time zone")
    tasks = store.rows(
        "SELECT name, definition, first_applied, retired_on, raised_by FROM task"
        " WHERE raised_by IS NULL OR NOT EXISTS (SELECT 1 FROM void WHERE target = raised_by)"
        " ORDER BY position, name"
    )
    first_applied = {name: to_date(first) for name, _, first, _, _ in tasks}
    retired_on = {name: to_date(day) for name, _, _, day, _ in tasks if day}
    gone = store.rows("SELECT code, retired_on FROM machine WHERE retired_on IS NOT NULL")
    return StoredShop(
        shop=_assemble(store, bare, [row for row in tasks if not (row[3] or row[4])], False),
        past=_assemble(store, bare, [row for row in tasks if row[3]], True),
        jobs=_tasks([row for row in tasks if row[4] and not row[3]]),
        first_applied=first_applied,
        retired_on=retired_on,
        gone_on={code: to_date(day) for code, day in gone},
    )


def needs_shop(store: Store) -> str:
    """The shop as last applied, as kept. Raises Refused when nothing was applied yet."""
    found = store.row("SELECT definition FROM applied ORDER BY id DESC LIMIT 1")
    if found is None:
        raise Refused("no shop yet; describe it with 'pmtrack apply shop.yaml'")
    return str(found[0])


def has_zone(shop: Shop) -> bool:
    """Whether the shop's time zone is one."""
    try:
        return bool(shop.zone)
    except (LookupError, ValueError, OSError):
        return False


def _tasks(rows: Iterable[Row]) -> tuple[Task, ...]:
    """The tasks of rows that begin with name and definition."""
    return tuple(_named(decode(Task, row[1]), row[0], "name") for row in rows)


def _named(record: Any, key: str, field_name: str) -> Any:
    """The record. Raises Refused when it is not the one that its row is kept for."""
    if getattr(record, field_name) != key:
        raise damaged(f"'{shorten(key)}' holds what describes something else")
    return record


def _assemble(store: Store, bare: Shop, tasks: list[Row], retired: bool) -> Shop:
    return replace(
        bare,
        suppliers=_load(store, _SUPPLIER, retired),
        machines=_machines(store, retired),
        tasks=_tasks(tasks),
        materials=_load(store, _MATERIAL, retired),
        tools=_load(store, _TOOL, retired),
        programs=_load(store, _PROGRAM, retired),
    )


def _load(store: Store, kind: _Kind, retired: bool) -> tuple[Any, ...]:
    (key,) = kind.keys
    rows = store.rows(
        f"SELECT {key}, definition FROM {kind.table} WHERE (retired_on IS NOT NULL) = ?"
        " ORDER BY position",
        int(retired),
    )
    return tuple(_named(decode(kind.record, text), code, key) for code, text in rows)


def _machines(store: Store, retired: bool) -> tuple[Machine, ...]:
    """Machines with their meters; a retired machine keeps those it had."""
    meters: dict[str, list[Meter]] = {}
    for machine, name, text in store.rows(
        "SELECT m.machine, m.name, m.definition FROM meter m"
        " JOIN machine ON machine.code = m.machine"
        " WHERE m.retired_on IS machine.retired_on ORDER BY m.position"
    ):
        meters.setdefault(machine, []).append(_named(decode(Meter, text), name, "name"))
    machines = _load(store, _MACHINE, retired)
    return tuple(replace(m, meters=tuple(meters.get(m.code, ()))) for m in machines)


def save_shop(store: Store, shop: Shop, now: datetime, today: date, by: str) -> list[Change]:
    """Make the store's description that of `shop`; tells each addition, change and retirement."""
    changes = _save_bare(store, shop, now, by)
    machines = [(m.code, replace(m, meters=())) for m in shop.machines]
    meters = [((m.code, meter.name), meter) for m in shop.machines for meter in m.meters]
    saving = _Saving(store, today)
    for kind, items in (
        (_SUPPLIER, [((s.code,), s) for s in shop.suppliers]),
        (_MACHINE, [((code,), machine) for code, machine in machines]),
        (_METER, meters),
        (_TASK, [((t.name,), t) for t in shop.tasks]),
        (_MATERIAL, [((m.code,), m) for m in shop.materials]),
        (_TOOL, [((t.code,), t) for t in shop.tools]),
        (_PROGRAM, [((p.code,), p) for p in shop.programs]),
    ):
        changes += saving.save(kind, items)
    return changes


def _save_bare(store: Store, shop: Shop, now: datetime, by: str) -> list[Change]:
    """The shop's own fields, as a further row when they differ from the last."""
    bare = replace(shop, suppliers=(), machines=(), tasks=(), materials=(), tools=(), programs=())
    text = encode(bare)
    last = store.row("SELECT definition FROM applied ORDER BY id DESC LIMIT 1")
    fields = _differing(last[0], text) if last else ()
    if last and not fields:
        return []
    store.add("applied", at=to_text(now), by=by, definition=text)
    return [Change("changed" if last else "added", "shop", shop.name, fields)]


def _differing(before: str, after: str) -> tuple[str, ...]:
    import json

    old, new = json.loads(before), json.loads(after)
    return tuple(key for key in new if old.get(key) != new[key])


@dataclass
class _Saving:
    """Saves one table after another as of one day."""

    store: Store
    today: date

    def save(self, kind: _Kind, items: Iterable[tuple[tuple[str, ...], Any]]) -> list[Change]:
        keys = ", ".join(kind.keys)
        only = " WHERE raised_by IS NULL" if kind.table == "task" else ""
        known = {
            tuple(row[: len(kind.keys)]): row[len(kind.keys) :]
            for row in self.store.rows(
                f"SELECT {keys}, definition, position, retired_on FROM {kind.table}{only}"
            )
        }
        changes = []
        for position, (key, record) in enumerate(items):
            changes += self._save_one(kind, key, (encode(record), position), known.pop(key, None))
        for key, (_, _, retired_on) in known.items():
            if retired_on is None:
                self._update(kind, key, retired_on=self.today.isoformat())
                changes.append(Change("retired", kind.table, "/".join(key)))
        return changes

    def _save_one(
        self,
        kind: _Kind,
        key: tuple[str, ...],
        wanted: tuple[str, int],
        stored: tuple[str, int, str | None] | None,
    ) -> list[Change]:
        definition, position = wanted
        name = "/".join(key)
        if stored is None:
            self._insert(kind, key, definition, position)
            return [Change("added", kind.table, name)]
        old, old_position, retired_on = stored
        if (old, old_position, retired_on) == (definition, position, None):
            return []
        self._update(kind, key, definition=definition, position=position, retired_on=None)
        if retired_on is not None:
            return [Change("added", kind.table, name, ("again",))]
        fields = _differing(old, definition)
        return [Change("changed", kind.table, name, fields)] if fields else []

    def _insert(self, kind: _Kind, key: tuple[str, ...], definition: str, position: int) -> None:
        values: dict[str, object] = dict(zip(kind.keys, key, strict=True))
        if kind.table == "task":
            values |= {"machine": key[0].split("/")[0], "first_applied": self.today.isoformat()}
        if kind.table == "tool":
            values["machine"] = decode(Tool, definition).machine
        self.store.add(kind.table, **values, position=position, definition=definition)

    def _update(self, kind: _Kind, key: tuple[str, ...], **values: object) -> None:
        if kind.table == "tool" and "definition" in values:
            values["machine"] = decode(Tool, str(values["definition"])).machine
        columns = ", ".join(f"{column} = ?" for column in values)
        where = " AND ".join(f"{column} = ?" for column in kind.keys)
        self.store.change(
            f"UPDATE {kind.table} SET {columns} WHERE {where}",
            *values.values(),
            *key,
        )


def is_demo(store: Store) -> bool:
    """Whether the store was made by `demo`."""
    row = store.row("SELECT demo FROM store")
    return bool(row and row[0])
