"""A store with a saved plan that was worked by hand."""

from pathlib import Path

import pytest

from tests.command import Command, copied
from tests.planned_shop import Q1, TOLD, store


@pytest.fixture(scope="session")
def saved_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with the plan worked by hand saved, to be copied."""
    run = store(tmp_path_factory.mktemp("saved"))
    assert run("plan", Q1, "--save", now=TOLD).status == 0
    return run.store


@pytest.fixture
def saved(saved_once: Path, tmp_path: Path) -> Command:
    """The command line on a store with the plan worked by hand saved."""
    return Command(copied(saved_once, tmp_path / "planned.db"))
