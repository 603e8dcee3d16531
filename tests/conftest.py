"""Stores of a small invented shop, and the command line on them."""

from pathlib import Path

import pytest
from hypothesis import settings

from tests.command import APPLIED, SMALL_SHOP, Command, copied

# Laws are tried without a deadline: the time of a case depends on what else runs.
settings.register_profile("suite", deadline=None, max_examples=50)
settings.register_profile("thorough", deadline=None, max_examples=1000)
settings.load_profile("suite")

WORKED = (  # entries 1 to 10, all of 24 and 25 November 2026
    "log TP-1 --shift day --date 2026-11-24 --hits 41200 --parts 310 --scrap 4",
    "log TP-1 --shift day --date 2026-11-25 --dial hits=1204350",
    "done TP-1/weekly --at 2026-11-25T10:00 --minutes 25",
    "stop PB-1 --cause gauge --from 2026-11-25T13:00",
    "idle FE-1 --why cleared --at 2026-11-25T08:00",
    "fit RD-10 --station T12 --at 2026-11-24T06:00",
    "log PB-1 --shift day --date 2026-11-25 --count cycles=310",
    "void 7 --why twice",
    "job TP-1 hose --found-in 3 --at 2026-11-25T10:05",
    "done TP-1/job-9",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The long ones come first, so that none of them is left alone at the end."""
    items.sort(key=lambda item: item.get_closest_marker("long") is None)


@pytest.fixture(scope="session")
def applied_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store to which the small shop was applied, to be copied."""
    path = tmp_path_factory.mktemp("applied") / "shop.db"
    assert Command(path)("apply", str(SMALL_SHOP), now=APPLIED).status == 0
    return path


@pytest.fixture(scope="session")
def worked_once(applied_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store in which ten things were entered, to be copied."""
    path = copied(applied_once, tmp_path_factory.mktemp("worked") / "shop.db")
    for line in WORKED:
        assert Command(path)(*line.split()).status == 0, line
    return path


@pytest.fixture
def shop_store(applied_once: Path, tmp_path: Path) -> Path:
    """A store to which the small shop was applied."""
    return copied(applied_once, tmp_path / "pmtrack.db")


@pytest.fixture
def worked_store(worked_once: Path, tmp_path: Path) -> Path:
    """A store of the small shop in which ten things were entered."""
    return copied(worked_once, tmp_path / "pmtrack.db")


@pytest.fixture
def run(shop_store: Path) -> Command:
    """The command line on a store of the small shop, without any entry."""
    return Command(shop_store)


@pytest.fixture
def run_worked(worked_store: Path) -> Command:
    """The command line on a store of the small shop with ten entries."""
    return Command(worked_store)
