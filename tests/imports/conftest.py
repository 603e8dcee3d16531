"""A store with a small invented shop, and a desk at which files are handed in."""

import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path
from typing import Any, BinaryIO

import pytest

from pmtrack.actions.importing import import_file
from pmtrack.actions.recorder import Recorder
from pmtrack.actions.view import View
from pmtrack.errors import FaultyFile
from pmtrack.shopfile import read_shop
from pmtrack.store import Store, open_store
from pmtrack.store.description import save_shop

NOW = datetime(2026, 11, 25, 19, 5, tzinfo=UTC)  # a Wednesday, 14:05 in the shop
SHOP = b"""\
shop:
  name: Quillback Sheet Works
  timezone: America/New_York
  shifts:
    - {name: day, days: mon-fri, start: "06:00", end: "14:00"}
    - {name: night, days: mon-fri, start: "22:00", end: "06:00"}
machines:
  - code: TP-1
    name: Turret punch press
    meters:
      hits: {fastest: 120 per minute, wraps_at: 10000000}
      hours: {expected: 11 per day}
  - {code: PB-1, name: Press brake, meters: {bends: {expected: 2000 per day}}}
  - {code: FE-1, name: Fire extinguisher}
tasks:
  - {code: monthly, machines: [TP-1], title: Monthly service, every: 1 month}
  - {code: yearly, machines: [PB-1], title: Yearly service, every: 1 year}
  - {code: look, machines: [FE-1], title: Look at the extinguisher, every: 1 month}
materials: [{code: mild}, {code: stainless, wear: 2}]
tooling:
  - {code: RD-10, machine: TP-1, sharpen_every: 60000, grind: 0.2, grindable: 3.0}
  - {code: SQ-5, machine: TP-1, sharpen_every: 50000, grind: 0.2, grindable: 2.0}
programs: [{code: KIOSK-DOOR, material: mild, hits: {RD-10: 14}}]
"""


_FAULT = re.compile(r"f\.csv:[1-9]\d*: .")


class _UndoneError(Exception):
    """Ends a transaction so that nothing of it stays."""


class Desk:
    """Where files are handed in, all of them named f.csv."""

    now = NOW

    def __init__(self, store: Store) -> None:
        self.store = store

    def take(self, kind: str, file: str | bytes, **how: Any) -> int:
        """Import a file and tell the number of its rows."""
        with self.store.writing():
            return self.hand_in(kind, file, **how)

    def hand_in(self, kind: str, file: str | bytes | BinaryIO, **how: Any) -> int:
        """Import a file within a transaction."""
        data = file.encode() if isinstance(file, str) else file
        source = BytesIO(data) if isinstance(data, bytes) else data
        told: dict[str, Any] = {"now": NOW, "by": None, "again": False} | how
        return import_file(self.view(), kind, "f.csv", source, **told).rows

    @contextmanager
    def undone(self) -> Iterator[None]:
        """A transaction of which nothing stays."""
        with suppress(_UndoneError), self.store.writing():
            yield
            raise _UndoneError

    def usage_with(self, files: list[tuple[str, str | bytes]]) -> list[tuple[Any, ...]] | None:
        """The usage that files make, None when one is refused; nothing of it stays."""
        usage, faults = None, []
        with self.undone():
            try:
                for kind, file in files:
                    self.hand_in(kind, file)
                usage = self.usage()
            except FaultyFile as error:
                faults = error.faults
        assert bool(faults) == (usage is None)
        assert all(fault.isprintable() and _FAULT.match(fault) for fault in faults)
        return usage

    def faults(self, kind: str, file: str | bytes, **how: Any) -> list[str]:
        """The faults of a file that is refused, and leaves the store as it was."""
        before = self.dump()
        with pytest.raises(FaultyFile) as caught:
            self.take(kind, file, **how)
        assert self.dump() == before
        return caught.value.faults

    def view(self) -> View:
        return View(self.store, date(2026, 11, 25))

    @contextmanager
    def recorder(self, by: str = "Dana") -> Iterator[Recorder]:
        """One transaction of a single command."""
        with self.store.writing():
            yield Recorder(self.view(), NOW, by)

    def dump(self) -> list[str]:
        """Everything in the store but its random number and when its tables were made."""
        apart = ('INSERT INTO "store"', 'INSERT INTO "_sqlite_migrations"')
        return [line for line in self.store.db.conn.iterdump() if not line.startswith(apart)]

    def usage(self) -> list[tuple[Any, ...]]:
        """Usage after each count and dial, without the numbers of the entries."""
        return self.store.rows(
            "SELECT machine, meter, at, is_dial, day, value, usage, dial_offset, level, counted,"
            " unlogged FROM tally ORDER BY machine, meter, at, is_dial, value"
        )

    def close(self) -> None:
        self.store.close()


def open_desk(folder: Path) -> Desk:
    """A desk with a new store in a folder."""
    shop, faults = read_shop(SHOP, "shop.yaml")
    assert shop is not None, faults
    store = open_store(folder / "s.db", create=True, now=NOW)
    with store.writing():
        save_shop(store, shop, NOW, date(2026, 1, 1), "Dana")
    return Desk(store)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = open_desk(tmp_path)
    yield opened
    opened.close()


@pytest.fixture
def other_desk(tmp_path: Path) -> Iterator[Desk]:
    """A second shop of the same kind, to do by single commands what a file does at once."""
    folder = tmp_path / "other"
    folder.mkdir()
    opened = open_desk(folder)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def shared_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk for tests that undo what they do."""
    opened = open_desk(tmp_path_factory.mktemp("store"))
    yield opened
    opened.close()
