"""Whether crashes lose anything: desks that write on one store, killed at random points.

Run: python tests/bench/crashes.py [--kills 1000] [--seed N] [--short] [--prove]. Commands are
forked children that get SIGKILL at any time of their life, at a statement, or while the COMMIT
runs; most with four desks at once, the others with one, where the next command must mend what the
kill left. `--prove` runs the same on stores whose code was broken, which must be found out.
"""

import argparse
import gc
import io
import os
import pickle
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from pathlib import Path

from pmtrack.cli import main as pmtrack
from tests.bench.broken_store import BROKEN
from tests.bench.counted import Counted
from tests.bench.crash_check import Ran, faults_of
from tests.bench.crash_commands import KINDS, MACHINES, NOW, Desk, Typed
from tests.bench.forked import WAYS, Ended, Kill, run

KILLS, SHORT_KILLS = 1000, 40
DESKS = len(MACHINES)
_TRIED = 0.6  # share of commands that are to be killed
_GUESSED = (25, 0.05)  # statements and seconds of a command before one of its kind was run whole
_AFTER_COMMIT = 0.006  # seconds within which a COMMIT is over, and the file closed


@dataclass
class _Worker:
    """One desk, until so many of its commands were killed."""

    store: Path
    desk: Desk
    spoil: Callable[[], None] | None
    ran: list[Ran] = field(default_factory=list)
    usual: dict[str, tuple[int, float]] = field(default_factory=dict)  # what a whole run took

    def work(self, kills: int) -> list[Ran]:
        """Type commands until so many were killed."""
        killed = 0
        while killed < kills:
            typed = self.desk.next()
            ended = self._run(typed)
            one = Ran(typed, ended)
            self.ran.append(one)
            killed += ended.killed
            if ended.status == 0:
                self.usual[typed.kind] = ended.statements, ended.seconds
                self.desk.voidable += one.numbers[:1] if typed.kind in ("log", "import") else []
        return self.ran

    def _run(self, typed: Typed) -> Ended:
        words = ["--store", str(self.store), "--now", NOW, *typed.words]
        return run(words, self._kill(typed.kind), self.spoil)

    def _kill(self, kind: str) -> Kill | None:
        chance = self.desk.chance
        if chance.random() > _TRIED:
            return None
        way = chance.choice(WAYS)
        statements, seconds = self.usual.get(kind, _GUESSED)
        if way == "a statement":
            return Kill(way, chance.randint(1, statements))
        return Kill(way, chance.uniform(0, seconds if way == "any time" else _AFTER_COMMIT))


def _at_once(workers: list[_Worker], kills: int) -> list[Ran]:
    """All desks work at the same time, each in a process of its own."""
    children = []
    for number, worker in enumerate(workers):
        share = kills // len(workers) + (number < kills % len(workers))
        told = worker.store.with_name(f"{worker.desk.name}.ran")
        child = os.fork()
        if child == 0:
            _tell(worker, share, told)
        children.append((child, told))
    ran: list[Ran] = []
    for child, told in children:
        if os.waitpid(child, 0)[1]:
            raise RuntimeError(f"the desk of {told.stem} failed")
        ran += pickle.loads(told.read_bytes())  # noqa: S301 - written by our own child
    return ran


def _load(folder: Path, kinds: Iterable[str]) -> None:
    """Run each kind of command once in this process, so that children need not load its modules."""
    desk = Desk("loading", folder, random.Random(0))
    desk.voidable.append(1)
    with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
        for kind in kinds:
            words = ["--store", str(folder / "loading.db"), "--now", NOW]
            pmtrack([*words, *desk.typed_of(kind).words])


def _tell(worker: _Worker, kills: int, told: Path) -> None:
    """In the child: work, write down what came of it, and end."""
    status = 1
    try:
        told.write_bytes(pickle.dumps(worker.work(kills)))
        status = 0
    except BaseException:
        sys.excepthook(*sys.exc_info())
    finally:
        os._exit(status)


def crashes(
    kills: int, seed: int, folder: Path, spoil: Callable[[], None] | None = None
) -> tuple[list[Ran], list[str]]:
    """Commands that ran until so many were killed, on a new store, and all that is wrong then."""
    kinds = {kind: often for kind, often in KINDS.items() if kind != "plan" or kills > SHORT_KILLS}
    _load(folder, kinds)
    gc.freeze()  # children share what is loaded
    store, first = folder / "shop.db", Desk("first", folder, random.Random(seed)).typed_of("apply")
    made = run(["--store", str(store), "--now", NOW, *first.words], None)
    desks = [
        Desk(f"desk{number}", folder, random.Random(f"{seed} {number}"), own, kinds)
        for number, own in enumerate(MACHINES)
    ]
    last = Desk("alone", folder, random.Random(seed), MACHINES[0], kinds)
    crowd, alone = kills * 2 // 3, kills - kills * 2 // 3
    ran = [Ran(first, made)]
    ran += _at_once([_Worker(store, desk, spoil) for desk in desks], crowd)
    ran += _at_once([_Worker(store, last, spoil)], alone)
    return ran, faults_of(store, ran)


def _counted(kills: int, seed: int) -> Counted:
    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        ran, faults = crashes(kills, seed, Path(folder))
    acknowledged = [one for one in ran if one.acknowledged]
    entries = sum(len(one.numbers) for one in acknowledged)
    silent = sum(1 for one in ran if one.ended.killed and one.ended.rows and not one.acknowledged)
    told = (
        f"{sum(one.ended.killed for one in ran):,} killed of {len(ran):,} commands ({silent:,} "
        f"while COMMIT ran); {entries:,} entries of {len(acknowledged):,} commands told: all there "
        f"once, no half command, file sound; {time.perf_counter() - start:.0f} s"
    )
    return Counted("crashes", told if not faults else "see below", tuple(faults))


def _proved(kills: int, seed: int) -> list[Counted]:
    """The same on broken stores: each must show faults."""
    found = []
    for name, spoil in BROKEN.items():
        with tempfile.TemporaryDirectory() as folder:
            _, faults = crashes(kills, seed, Path(folder), spoil)
        kinds = Counter("lost" if "LOST" in f else "half" if "HALF" in f else "other"
                        for f in faults)  # fmt: skip
        told = ", ".join(f"{times} {kind}" for kind, times in sorted(kinds.items()))
        missed = () if faults else ("nothing was found, though the store is broken",)
        found.append(Counted(f"broken: {name}", f"found out: {told}", missed))
    return found


def main() -> int:
    """Kill, check and tell; 1 if anything was lost, or a broken store went unnoticed."""
    parser = argparse.ArgumentParser(description="Whether crashes lose anything.")
    parser.add_argument("--kills", type=int, default=KILLS, help="processes to kill")
    parser.add_argument("--seed", type=int, default=1, help="of what is typed and killed")
    parser.add_argument("--short", action="store_true", help=f"{SHORT_KILLS} kills")
    parser.add_argument("--prove", action="store_true", help="on broken stores, half of it")
    told = parser.parse_args()
    kills = SHORT_KILLS if told.short else told.kills
    found = _proved(kills // 2, told.seed) if told.prove else [_counted(kills, told.seed)]
    for one in found:
        print("\n".join(one.lines()), flush=True)
    return int(any(one.faults for one in found))


if __name__ == "__main__":
    sys.exit(main())
