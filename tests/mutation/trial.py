"""Shows changes to tests: each one in a process of its own, forked with the tests loaded."""

import ast
import os
import pickle
import resource
import signal
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import coverage
import pytest
from _pytest.runner import runtestprotocol

from tests.mutation.changes import Change
from tests.mutation.swap import swap

ENOUGH = 3.0  # CPU seconds of tests that one change is shown to
LIMIT = 9.0  # CPU seconds after which a change counts as noticed: it does not come to an end
_NOTICED, _LEFT = 1, 0


Asked = tuple[str, str, Change, Sequence[pytest.Item]]  # a module, its source, and its tests


@dataclass
class Reach:
    """CPU seconds of each test, and the tests that reach each line of a module."""

    seconds: dict[str, float] = field(default_factory=dict)
    tests: dict[str, dict[int, set[str]]] = field(default_factory=dict)

    def of(self, module: str, change: Change) -> list[str]:
        """The tests to ask about a change, the module's own and the quickest first.

        What holds as the module is loaded may bear on any test: those that reach the module go
        before the others.
        """
        lines = self.tests.get(module, {})
        asked = lines if change.loaded else range(change.first, change.last + 1)
        near = set().union(*(lines.get(line, set()) for line in asked))
        chosen: list[str] = []
        own, spent = f"/test_{module}.py", 0.0
        for test in sorted(
            self.seconds if change.loaded else near,
            key=lambda name: (own not in name, name not in near, self.seconds[name], name),
        ):
            spent += self.seconds[test]
            if chosen and spent > ENOUGH:
                break
            chosen.append(test)
        return chosen

    def add(self, other: "Reach") -> None:
        """Take over what another share of the tests has reached."""
        self.seconds |= other.seconds
        for module, lines in other.tests.items():
            mine = self.tests.setdefault(module, {})
            for line, names in lines.items():
                mine[line] = mine.get(line, set()) | names


def reach(items: Sequence[pytest.Item], sources: Path, workers: int) -> Reach:
    """Runs the unchanged rules under coverage, in children so that nothing is kept from it here."""
    readings = []
    for share in range(workers):
        reading, writing = os.pipe()
        if not os.fork():
            _silence()
            with os.fdopen(writing, "wb") as out:
                pickle.dump(_measured(items[share::workers], sources), out)
            os._exit(0)
        os.close(writing)
        readings.append(reading)
    found = Reach()
    for reading in readings:
        with os.fdopen(reading, "rb") as received:
            share_of_it = pickle.load(received)  # noqa: S301 - from our own child
        os.wait()
        if isinstance(share_of_it, str):
            raise SystemExit(f"{share_of_it} fails on the rules as they are")
        found.add(share_of_it)
    return found


def _measured(items: Sequence[pytest.Item], sources: Path) -> Reach | str:
    """What tests reach, or the name of one that fails; with each module put in its own place."""
    for path in sources.glob("*.py"):
        loaded = sys.modules.get(f"pmtrack.rules.{path.stem}")
        if loaded:
            swap(loaded, ast.parse(path.read_text("utf-8")))
    measure = coverage.Coverage(data_file=None, config_file=False, include=[f"{sources}/*"])
    found = Reach()
    measure.start()
    for item in items:
        measure.switch_context(item.nodeid)
        start = time.process_time()
        if _fails(item):
            return item.nodeid
        found.seconds[item.nodeid] = time.process_time() - start
    measure.stop()
    data = measure.get_data()
    for path in map(Path, data.measured_files()):
        lines = data.contexts_by_lineno(str(path))
        found.tests[path.stem] = {at: set(names) for at, names in lines.items()}
    return found


def trials(asked: Sequence[Asked], workers: int) -> Iterator[tuple[int, bool]]:
    """For each change, in the order in which they end: its place, and whether a test noticed."""
    waiting = [(place, one) for place, one in enumerate(asked) if one[3]]
    yield from ((place, False) for place, one in enumerate(asked) if not one[3])
    running: dict[int, int] = {}
    while waiting or running:
        while waiting and len(running) < workers:
            place, (module, source, change, items) = waiting.pop(0)
            changed = change.made_in(source)
            child = os.fork()
            if not child:
                _try(module, changed, items)
            running[child] = place
        ended, status = os.waitpid(-1, 0)
        if ended in running:
            yield running.pop(ended), status != 0


def _try(module: str, changed: ast.Module, items: Sequence[pytest.Item]) -> None:
    """Ends this process: with 0 where no test noticed; CPU time is limited, and so is memory."""
    try:
        _silence()
        signal.setitimer(signal.ITIMER_PROF, LIMIT)
        resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
        swap(sys.modules[module], changed)
        os._exit(_NOTICED if any(_fails(item) for item in items) else _LEFT)
    except BaseException:  # the module cannot even be loaded, or the memory is gone
        os._exit(_NOTICED)


def _fails(item: pytest.Item) -> bool:
    return any(report.failed for report in runtestprotocol(item, log=False, nextitem=None))


def _silence() -> None:
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)
