"""Runs targets one after another, each in a process of its own, and tells what was found."""

import importlib.util
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.fuzz.names import NAMES

ROOT = Path(__file__).parents[2]
ABSENT = "the fuzzer atheris is not installed here; it has wheels for some Pythons on Linux alone"


@dataclass(frozen=True)
class Outcome:
    """What a target told: inputs tried, seconds, and the files of its faults."""

    name: str
    runs: int
    seconds: float
    faults: tuple[str, ...]

    def line(self) -> str:
        """The outcome as a line of the table."""
        told = (
            f"{self.name:14} {self.runs:>9,} runs {self.seconds:6.0f} s  {len(self.faults)} faults"
        )
        return "\n".join([told, *(f"    {fault}" for fault in self.faults)])


def installed() -> bool:
    """Whether the fuzzer can be imported."""
    return importlib.util.find_spec("atheris") is not None


def fuzz(names: Sequence[str] = NAMES, seconds: int = 60) -> list[Outcome]:
    """Fuzz each target for so many seconds; empty where there is no fuzzer.

    Faults with their inputs stay in a folder that the outcome names.
    """
    if not installed():
        print(ABSENT, file=sys.stderr)
        return []
    return [_one(name, seconds) for name in names]


def _one(name: str, seconds: int) -> Outcome:
    folder = Path(tempfile.mkdtemp(prefix=f"fuzz-{name}-"))
    for name_within in ("home", "faults"):
        (folder / name_within).mkdir()
    began = time.monotonic()
    with open(folder / "log.txt", "wb") as log:
        try:
            status = subprocess.run(
                [sys.executable, "-m", "tests.fuzz.one_target", name, str(folder), str(seconds)],
                cwd=ROOT,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
                timeout=seconds + 300,
                env=os.environ | {"HOME": str(folder / "home"), "PYTHONPATH": str(ROOT)},
            ).returncode
        except subprocess.TimeoutExpired:
            status = -1
    return _outcome(name, folder, status, time.monotonic() - began)


def _outcome(name: str, folder: Path, status: int, took: float) -> Outcome:
    told = folder / "figures.json"
    figures: dict[str, int] = json.loads(told.read_text()) if told.exists() else {"runs": 0}
    kept = folder / "faults"
    faults = sorted(str(path) for path in kept.iterdir() if path.suffix != ".txt")
    if status != 0 or not figures["runs"]:
        faults.append(f"{folder}/log.txt: the fuzzer ended with status {status}")
    if not faults:
        shutil.rmtree(folder)
    return Outcome(name, figures["runs"], took, tuple(faults))
