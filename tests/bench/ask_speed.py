"""How long `today` takes: on the sample shop, and on years of entries of many machines."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.bench.big_shop import Size, with_history
from tests.bench.figure import (
    IMPORTS,
    TODAY,
    Figure,
    in_turn,
    loaded,
    pmtrack,
    python,
    run,
    seconds,
)
from tests.bench.write_speed import big_log_figure

# SQLite alone: the latest row of each meter and of each task by index, every page read anew.
_LATEST = """
import sqlite3, sys, time
connection = sqlite3.connect(sys.argv[1])
meters = connection.execute("SELECT machine, name FROM meter").fetchall()
tasks = connection.execute("SELECT name FROM task").fetchall()
start = time.perf_counter()
for meter in meters:
    connection.execute("SELECT * FROM tally WHERE machine = ? AND meter = ?"
        " ORDER BY at DESC, is_dial DESC, entry DESC LIMIT 1", meter).fetchone()
for task in tasks:
    connection.execute("SELECT * FROM completion JOIN entry ON entry.id = completion.entry"
        " WHERE task = ? ORDER BY completion.at DESC LIMIT 1", task).fetchone()
print(time.perf_counter() - start)
"""


def start_figures(folder: Path) -> list[Figure]:
    """`today` on the sample shop against a bare import of the modules that it needs."""
    store = folder / "demo.db"
    run(pmtrack(store, "demo"))
    return [
        _start_figure(store, "start: today, to its imports", own=True),
        _start_figure(store, "  to those of libraries alone", own=False),
    ]


def _start_figure(store: Path, name: str, own: bool) -> Figure:
    today, bare = pmtrack(store, "today"), python(IMPORTS, loaded(store, "today", own=own))
    measured, floor = in_turn(lambda _: seconds(today), lambda _: seconds(bare), 9)
    return Figure(name, measured, floor, 1.3)


def today_figures(folder: Path, scale: float) -> list[Figure]:
    """`today` against SQLite's own fetches, and against a tenth of the history."""
    size, short = Size.scaled(scale), Size.scaled(scale, 0.1)
    big, tenth = folder / "big.db", folder / "tenth.db"
    with_history(big, size)
    with_history(tenth, short)
    command, less = pmtrack(big, "today", "--json"), pmtrack(tenth, "today", "--json")
    measured, of_tenth = in_turn(lambda _: seconds(command), lambda _: seconds(less), 7)
    _, fetch = in_turn(lambda _: 0.0, lambda _: float(run(python(_LATEST, str(big)))), 3)
    outside = loaded(big, "today", "--json", own=False)
    _, bare = in_turn(lambda _: 0.0, lambda _: seconds(python(IMPORTS, outside)), 3)
    entries = size.machines * size.entries_each
    told = f"{size.machines:,} machines, {10 * size.machines:,} tasks, {entries:,} entries"
    return [
        Figure("today, to SQLite's fetches", measured, fetch, 3.0, told),
        Figure("  the same but for imports", measured - bare, fetch, 3.0, f"of {TODAY}"),
        Figure("today, to a tenth of history", measured, of_tenth, 1.2),
        big_log_figure(big),
        *_one_task_figures(folder, big),
    ]


def _one_task_figures(folder: Path, big: Path) -> list[Figure]:
    """`why` and `done` of one task of the many against one of the sample shop."""
    sample = folder / "demo.db"
    run(pmtrack(sample, "demo"))
    found = []
    for command in ("why", "done"):
        of_many = partial(seconds, pmtrack(big, command, "M0001/service"))
        of_few = partial(seconds, pmtrack(sample, command, "TP-1/half-year"))
        measured, floor = in_turn(_without_number(of_many), _without_number(of_few), 5)
        found.append(Figure(f"{command}, to the sample shop's", measured, floor, 1.2))
    return found


def _without_number(work: Callable[[], float]) -> Callable[[int], float]:
    return lambda _: work()
