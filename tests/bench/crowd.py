"""Whether a crowd loses anything, and how long it waits: many log shifts at once while others read.

Run: python tests/bench/crowd.py [--writers 16] [--shifts 25] [--short]. Each writer is a process
that logs its shifts one after another; readers ask as long as writers write. A shift counts hits
and hours, always a thousand to one, so that a reader who saw half a command would notice.
"""

import argparse
import io
import json
import os
import pickle
import statistics
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from unittest.mock import patch

from pmtrack.cli import main as pmtrack
from pmtrack.store import Store
from tests.bench.counted import Counted

WRITERS, SHIFTS, READERS = 16, 25, 3
SHORT = (6, 5)
NOW = "2026-11-25T14:45"
_FIRST_DAY = date(2026, 6, 1)
_HITS = 1000  # for each hour
_LINES = """\
shop:
  name: Quillback Sheet Works
  timezone: America/New_York
  shifts: [{name: day, days: mon-sun, start: "06:00", end: "14:30"}]
machines:
"""
_MACHINE = "  - {{code: M{number}, name: Press {number}, meters: {{hits: {{}}, hours: {{}}}}}}\n"
_TASKS = "tasks: [{{code: monthly, machines: [{codes}], title: Service, every: 400 hours}}]\n"
READS = (
    ("usage", "--json"),
    ("today", "--json"),
    ("usage", "--json"),
    ("report", "--from", f"{_FIRST_DAY}", "--to", "2026-06-30", "--json"),
)


@dataclass(frozen=True)
class Said:
    """What a command told, how long it took, and how much of that it waited for its turn."""

    status: int
    out: str
    err: str
    seconds: float
    waited: float


def _run(store: Path, *words: str) -> Said:
    out, err, start = io.StringIO(), io.StringIO(), time.perf_counter()
    _WAITS.clear()
    with redirect_stdout(out), redirect_stderr(err):
        status = pmtrack(["--store", str(store), "--now", NOW, *words])
    took = time.perf_counter() - start
    return Said(status, out.getvalue(), err.getvalue(), took, sum(_WAITS))


_WAITS: list[float] = []
_writing = Store.writing


@contextmanager
def _timed_writing(store: Store) -> Iterator[Store]:
    """As `Store.writing`; tells how long it took until the turn came."""
    start = time.perf_counter()
    with _writing(store):
        _WAITS.append(time.perf_counter() - start)
        yield store


def _write(store: Path, number: int, shifts: int) -> list[Said]:
    """One writer's shifts, each of a day of its own."""
    return [
        _run(
            store, "log", f"M{number}", "--shift", "day",
            "--date", f"{_FIRST_DAY + timedelta(days=shift)}",
            "--hits", f"{_HITS * (1 + shift % 8)}", "--hours", f"{1 + shift % 8}",
            "--by", f"desk {number}",
        )
        for shift in range(shifts)
    ]  # fmt: skip


def _read(store: Path, end: Path) -> tuple[int, list[str]]:
    """Ask until the end is told; how many answers came, and what was wrong with them."""
    answers, faults, before = 0, list[str](), dict[str, float]()
    while not end.exists():
        words = READS[answers % len(READS)]
        said = _run(store, *words)
        answers += 1
        if said.status or said.err:
            faults.append(f"{words[0]}: status {said.status}: {said.err.strip()}")
        elif words[0] == "usage":
            now = _usage(said.out)
            faults += [
                f"{name}: half a command was seen: {hits}"
                for name, hits in now.items()
                if hits % _HITS or now[name.replace("hits", "hours")] * _HITS not in (hits, 0)
                if name.endswith("hits")
            ]
            faults += [f"{name} went back" for name in now if now[name] < before.get(name, 0)]
            before = now
    return answers, faults


def _usage(told: str) -> dict[str, float]:
    return {f"{m['machine']} {m['meter']}": float(m["usage"] or 0) for m in json.loads(told)}


def _start(work: Callable[[], Any], gate: tuple[int, int], told: Path) -> int:
    """A child that waits for the gate to open, works, and writes down what came of it."""
    child = os.fork()
    if child:
        return child
    status = 1
    try:
        os.close(gate[1])
        os.read(gate[0], 1)
        told.write_bytes(pickle.dumps(work()))
        status = 0
    except BaseException:
        sys.excepthook(*sys.exc_info())
    finally:
        os._exit(status)


def _crowd(store: Path, writers: int, shifts: int) -> tuple[list[list[Said]], list[Any]]:
    """What each writer and each reader met."""
    folder, gate, end = store.parent, os.pipe(), store.with_name("end")
    writing = {
        _start(lambda n=number: _write(store, n, shifts), gate, folder / f"w{number}"): number  # type: ignore[misc]
        for number in range(writers)
    }
    reading = [
        _start(lambda: _read(store, end), gate, folder / f"r{number}") for number in range(READERS)
    ]
    os.close(gate[1])
    failed = [os.waitpid(child, 0)[1] for child in writing]
    end.touch()
    failed += [os.waitpid(child, 0)[1] for child in reading]
    os.close(gate[0])
    if any(failed):
        raise RuntimeError("a process of the crowd failed")
    return (
        [pickle.loads((folder / f"w{n}").read_bytes()) for n in range(writers)],  # noqa: S301
        [pickle.loads((folder / f"r{n}").read_bytes()) for n in range(READERS)],  # noqa: S301
    )


def _faults(store: Path, wrote: list[list[Said]], shifts: int) -> list[str]:
    """What is wrong in the store, and in what the writers were told."""
    every = [said for mine in wrote for said in mine]
    faults = [f"log: status {s.status}: {s.err.strip()}" for s in every if s.status or s.err]
    told = [said.out.partition(":")[0] for said in every if not said.status]
    if sorted(told) != sorted(f"entry {n}" for n in range(1, len(every) + 1)):
        faults.append(f"{len(every)} entries, {len(set(told))} numbers told")
    entries = json.loads(_run(store, "entries", "--json").out)
    there = Counter((e["by"], e["day"], e["counts"].get("hours")) for e in entries)
    wanted = Counter(
        (f"desk {number}", f"{_FIRST_DAY + timedelta(days=shift)}", 1 + shift % 8)
        for number in range(len(wrote))
        for shift in range(shifts)
    )
    faults += [f"lost: {key}" for key in wanted - there]
    faults += [f"twice, or never entered: {key}" for key in there - wanted]
    verified = _run(store, "verify")
    if verified.status or verified.err:
        faults.append(f"verify: {verified.err.strip()}")
    return faults


def crowd(writers: int, shifts: int) -> Counted:
    """The crowd's figure."""
    with (
        tempfile.TemporaryDirectory() as name,
        patch.object(Store, "writing", _timed_writing),
    ):
        store = Path(name) / "shop.db"
        shop = store.with_name("shop.yaml")
        machines = "".join(_MACHINE.format(number=number) for number in range(writers))
        codes = ", ".join(f"M{number}" for number in range(writers))
        shop.write_text(_LINES + machines + _TASKS.format(codes=codes))
        applied = _run(store, "apply", str(shop))
        alone = store.with_name("alone.db")
        _run(alone, "apply", str(shop))
        for words in READS:  # which load their modules
            _run(alone, *words)
        median_alone = statistics.median(said.seconds for said in _write(alone, 0, 9))
        wrote, read = _crowd(store, writers, shifts)
        faults = [f"apply: {applied.err}"] * bool(applied.status) + _faults(store, wrote, shifts)
    faults += [fault for _, found in read for fault in found]
    every = [said for mine in wrote for said in mine]
    told = (
        f"{len(every)} shifts of {writers} writers, {sum(n for n, _ in read)} answers to {READERS} "
        f"readers: none lost, none twice, none half; alone {median_alone * 1000:.0f} ms; command "
        f"{_spread([s.seconds for s in every])}; for its turn {_spread([s.waited for s in every])}"
    )
    return Counted("crowd", told if not faults else "see below", tuple(faults))


def _spread(seconds: list[float]) -> str:
    """Median, 95 % and longest, in ms."""
    cuts = statistics.quantiles(seconds, n=20)
    return f"{cuts[9] * 1000:.0f} / {cuts[18] * 1000:.0f} / {max(seconds) * 1000:.0f} ms"


def main() -> int:
    """Let the crowd write, check and tell; 1 if anything was lost or refused."""
    parser = argparse.ArgumentParser(description="Whether a crowd loses anything.")
    parser.add_argument("--writers", type=int, default=WRITERS, help="processes that log")
    parser.add_argument("--shifts", type=int, default=SHIFTS, help="that each logs")
    parser.add_argument("--short", action="store_true", help=f"{SHORT[0]} writers of {SHORT[1]}")
    told = parser.parse_args()
    found = crowd(*SHORT) if told.short else crowd(told.writers, told.shifts)
    print("\n".join(found.lines()), flush=True)
    return int(bool(found.faults))


if __name__ == "__main__":
    sys.exit(main())
