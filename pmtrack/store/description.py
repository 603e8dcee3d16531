"""The shop's description is brought up to what a shop file says; what was retired is kept."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from pmtrack.rules.shop import Shop, Tool
from pmtrack.store.codec import to_text
from pmtrack.store.database import Store
from pmtrack.store.records import decode, encode
from pmtrack.store.tables import DESCRIBED, Described


@dataclass(frozen=True)
class Change:
    """What an apply did to one thing: `added`, `changed` or `retired`, and which fields."""

    what: str
    kind: str
    name: str
    fields: tuple[str, ...] = ()


def save_shop(store: Store, shop: Shop, now: datetime, today: date, by: str) -> list[Change]:
    """Make the store's description that of `shop`; tells each addition, change and retirement."""
    changes = _save_bare(store, shop, now, by)
    saving = _Saving(store, today)
    items = _items(shop)
    for kind in DESCRIBED:
        changes += saving.save(kind, items[kind.table])
    return changes


def _items(shop: Shop) -> dict[str, list[tuple[tuple[str, ...], Any]]]:
    """What goes into each table: keys and records, in the order of the shop file."""
    return {
        "supplier": [((s.code,), s) for s in shop.suppliers],
        "machine": [((m.code,), replace(m, meters=())) for m in shop.machines],
        "meter": [((m.code, meter.name), meter) for m in shop.machines for meter in m.meters],
        "task": [((t.name,), t) for t in shop.tasks],
        "material": [((m.code,), m) for m in shop.materials],
        "tool": [((t.code,), t) for t in shop.tools],
        "program": [((p.code,), p) for p in shop.programs],
    }


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

    def save(self, kind: Described, items: Iterable[tuple[tuple[str, ...], Any]]) -> list[Change]:
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
        kind: Described,
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

    def _insert(
        self, kind: Described, key: tuple[str, ...], definition: str, position: int
    ) -> None:
        values: dict[str, object] = dict(zip(kind.keys, key, strict=True))
        if kind.table == "task":
            values |= {"machine": key[0].split("/")[0], "first_applied": self.today.isoformat()}
        if kind.table == "tool":
            values["machine"] = decode(Tool, definition).machine
        self.store.add(kind.table, **values, position=position, definition=definition)

    def _update(self, kind: Described, key: tuple[str, ...], **values: object) -> None:
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
