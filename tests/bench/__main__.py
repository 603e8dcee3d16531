"""All figures by which pmtrack is held, one after the other: `python -m tests.bench [--short]`.

Speed and scale, plans, crashes, crowds, hostile input, what the tests of the rules reach and what
they notice. Each part is a program of its own, run in a fresh process. At full size they take hours
and some 5 GB in the folder for temporary files; `--short` is a few minutes of each. The status is 1
where a part ends with a fault; a ratio over its limit is told in its table, and is none.
"""

import argparse
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Part:
    """What is shown, by which commands (arguments of Python) in full, and in short."""

    name: str
    full: tuple[str, ...]
    short: tuple[str, ...]


REACHED = (
    "-m coverage erase",
    "-m coverage run -m pytest -q -n 2 tests/rules",
    "-m coverage combine -q",
    "-m coverage report --include=*/pmtrack/rules/* --skip-covered --fail-under=100",
)
PARTS = (
    Part("speed", ("-m tests.bench.speed --scale 1",), ("-m tests.bench.speed --scale 0.005",)),
    Part("plans", ("-m tests.bench.planning",), ("-m tests.bench.planning 20",)),
    Part("crashes", ("-m tests.bench.crashes",), ("-m tests.bench.crashes --short",)),
    Part("crowds", ("-m tests.bench.crowd",), ("-m tests.bench.crowd --short",)),
    Part("hostile", ("-m tests.fuzz --seconds 60",), ("-m tests.fuzz --seconds 5",)),
    Part("noticed", ("-m tests.mutation",), ("-m tests.mutation --short",)),
    Part("reached", REACHED, REACHED),
)


def main(arguments: Sequence[str]) -> int:
    """Run the parts asked for and tell which ended with a fault."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--short", action="store_true", help="a few minutes instead of hours")
    parser.add_argument("--only", nargs="+", choices=[part.name for part in PARTS])
    told = parser.parse_args(arguments)
    ended = {
        part.name: _ran(part.name, part.short if told.short else part.full)
        for part in PARTS
        if part.name in (told.only or [part.name])
    }
    print("\n== all in all")
    for name, (sound, took) in ended.items():
        print(f"{name:10} {'ok' if sound else 'FAULT':6} {took:7.0f} s")
    return int(not all(sound for sound, _ in ended.values()))


def _ran(name: str, commands: Sequence[str]) -> tuple[bool, float]:
    """Whether all commands of a part ended well, and the seconds they took."""
    start, sound = time.perf_counter(), True
    for command in commands:
        print(f"\n== {name}: python {command}", flush=True)
        done = subprocess.run([sys.executable, *command.split()], cwd=ROOT)
        sound = sound and done.returncode == 0
    return sound, time.perf_counter() - start


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
