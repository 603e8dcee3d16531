"""Stores of the small shop, made once for a target and copied for each input."""

import os
import shutil
from pathlib import Path
from typing import Any

import yaml

from tests.command import APPLIED, SMALL_SHOP, Command
from tests.conftest import WORKED


def small_shop() -> dict[str, Any]:
    """The small shop's file as texts, lists and mappings, to be changed and written again."""
    shop: dict[str, Any] = yaml.load(SMALL_SHOP.read_bytes(), yaml.BaseLoader)  # noqa: S506
    for task in shop["tasks"]:
        if "machine_down" in task:
            task["machine_down"] = task["machine_down"] == "true"
    return shop


class Desk:
    """A folder with the bytes of a worked store, put back for each input."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.run = Command(folder / "s.db")
        assert self.run("apply", str(SMALL_SHOP), now=APPLIED).status == 0
        for line in WORKED:
            assert self.run(*line.split()).status == 0, line
        self.worked = self.run.store.read_bytes()

    def put(self, data: bytes) -> None:
        """Let the store's file hold these bytes and nothing beside it."""
        for ending in ("-wal", "-shm", "-journal"):
            self.run.store.with_name(self.run.store.name + ending).unlink(missing_ok=True)
        self.run.store.write_bytes(data)

    def tidy(self) -> None:
        """Remove what commands wrote beside the store."""
        for found in os.scandir(self.folder):
            if found.is_dir():
                shutil.rmtree(found.path)
            elif not found.name.startswith(("s.db", "keep.")):
                os.unlink(found.path)
