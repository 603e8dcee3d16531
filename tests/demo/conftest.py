"""The demo of the whole sample shop, built once, and small demos of a part of it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from pmtrack.demo import build_demo
from pmtrack.rules.shop import Shop
from pmtrack.shopfile import read_shop
from pmtrack.store import Store, open_store
from pmtrack.store.database import Row

SAMPLE = Path(__file__).parents[2] / "sample_shop.yaml"
SMALL = ("TP-1", "PB-2", "SH-1", "DS-1", "AC-1", "EW-1", "SL-1")


@dataclass(frozen=True)
class Demo:
    """A store that was filled by the demo, with what went in."""

    store: Store
    shop: Shop
    now: datetime

    @property
    def today(self) -> date:
        """The shop's date now."""
        return self.now.astimezone(self.shop.zone).date()

    def rows(self, sql: str, *values: object) -> list[Row]:
        """All rows of a query."""
        return self.store.rows(sql, *values)


def read_sample() -> Shop:
    """The sample shop."""
    shop, faults = read_shop(SAMPLE.read_bytes(), SAMPLE.name)
    assert shop is not None, faults
    return shop


def part_of(shop: Shop) -> Shop:
    """A few machines of the shop with their tasks, so that a demo is built quickly."""
    return replace(
        shop,
        machines=tuple(m for m in shop.machines if m.code in SMALL),
        tasks=tuple(t for t in shop.tasks if t.machine in SMALL),
        tools=tuple(t for t in shop.tools if t.machine in SMALL),
    )


def build(path: Path, shop: Shop, local: str) -> Demo:
    """A demo whose now is a local time of the shop, like 2026-11-25T06:05."""
    now = datetime.fromisoformat(local).replace(tzinfo=shop.zone).astimezone(UTC)
    store = open_store(path, create=True, demo=True, now=now)
    with store.writing():
        build_demo(store, shop, now)
    return Demo(store, shop, now)


@pytest.fixture(scope="session")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Demo]:
    """The sample shop on the Wednesday before the holiday, five minutes into the day shift."""
    path = tmp_path_factory.mktemp("whole") / "demo.db"
    demo = build(path, read_sample(), "2026-11-25T06:05")
    yield demo
    demo.store.close()


@pytest.fixture
def small(tmp_path: Path) -> Iterator[Callable[[str], Demo]]:
    """Builds demos of a part of the shop for a local time."""
    made: list[Demo] = []

    def make(local: str) -> Demo:
        made.append(build(tmp_path / f"{len(made)}.db", part_of(read_sample()), local))
        return made[-1]

    yield make
    for demo in made:
        demo.store.close()
