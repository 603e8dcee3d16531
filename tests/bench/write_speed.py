"""How long it takes to log a shift, to take over many from a CSV file, and to apply a shop file."""

import csv
import json
import random
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

from tests.bench.big_shop import HEAD, Size, described, shop_text
from tests.bench.figure import (
    IMPORTS,
    TODAY,
    Figure,
    in_turn,
    loaded,
    peak_megabytes,
    pmtrack,
    python,
    run,
    seconds,
)

_OPEN = (
    "import sqlite3\n"
    "db = sqlite3.connect(sys.argv[2], timeout=30, isolation_level=None)\n"
    "db.execute('PRAGMA foreign_keys = ON')\n"
    "db.execute('PRAGMA synchronous = FULL')\n"
    "db.execute('BEGIN IMMEDIATE')\n"
)
_ENTRY = (
    "INSERT INTO entry (kind, at, day, whole_day, by, recorded_at, note) VALUES"
    " ('shift', '2026-11-24T19:30:00Z', '2026-11-24', 1, 'Dana', '2026-11-25T11:05:00Z', '')"
)
_ONE_ENTRY = IMPORTS + _OPEN + "db.execute(sys.argv[3]); db.execute('COMMIT')"
# the columns of the file into the tables that hold them, the entries' texts and numbers ready
_MANY = (
    "import csv, json, sys, time\n" + _OPEN + "with open(sys.argv[1], newline='') as file:\n"
    "    rows = list(csv.reader(file))[1:]\n"
    "entries = [(n, 'shift', r[2] + 'T19:30:00Z', r[2], 1, r[3], '2026-11-25T11:05:00Z', '')"
    " for n, r in enumerate(rows, 1)]\n"
    "logs = [(n, r[0], r[1], r[2], int(r[4]) * 10**6, None, None, None, 0)"
    " for n, r in enumerate(rows, 1)]\n"
    "counts = [(n, r[0], 'hours', int(float(r[5]) * 10**6)) for n, r in enumerate(rows, 1)]\n"
    "start = time.perf_counter()\n"
    "for sql, values in zip(json.loads(sys.argv[3]), (entries, logs, counts)):\n"
    "    db.executemany(sql, values)\n"
    "db.execute('COMMIT')\n"
    "print(time.perf_counter() - start)\n"
)
_INTO = (
    "INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
    "INSERT INTO shift_log VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
    "INSERT INTO count VALUES (?, ?, ?, ?)",
)
MACHINES_IMPORTED = 100
SHOP_LINES = 5000


def log_figures(folder: Path) -> list[Figure]:
    """One durable entry against a bare insert in a fresh interpreter with the same imports."""
    first, second, bare = (folder / name for name in ("probe.db", "log.db", "bare.db"))
    for store in (first, second, bare):
        described(store, shop_text(["M0000"]))
    log = ("log", "M0000", "--shift", "late", "--date", "2026-11-24", "--hours", "0.1")
    modules = loaded(first, *log)
    measured, floor = in_turn(
        lambda _: seconds(pmtrack(second, *log)),
        lambda _: seconds(python(_ONE_ENTRY, modules, str(bare), _ENTRY)),
        9,
    )
    return [Figure("log: one durable entry", measured, floor, 1.5)]


def big_log_figure(store: Path) -> Figure:
    """The same on a store of many machines and years; the bare insert goes into it too."""
    log = ("log", "M0000", "--shift", "late", "--date", "2026-11-24", "--hours", "0.1")
    modules = loaded(store, *log)
    measured, floor = in_turn(
        lambda _: seconds(pmtrack(store, *log)),
        lambda _: seconds(python(_ONE_ENTRY, modules, str(store), _ENTRY)),
        9,
    )
    return Figure("log on the big store", measured, floor, 1.5)


def import_figures(folder: Path, scale: float) -> list[Figure]:
    """Shift rows of a CSV file against executemany; a tenth of them for the memory."""
    count = max(round(1_000_000 * scale), 1000)
    whole, tenth = _shifts(folder / "whole.csv", count), _shifts(folder / "tenth.csv", count // 10)
    stores = [folder / name for name in ("many.db", "few.db", "plain.db")]
    for store in stores:
        described(store, shop_text(Size(MACHINES_IMPORTED, 0).codes))
    plain = float(run(python(_MANY, str(whole), str(stores[2]), json.dumps(_INTO))))
    _, few = peak_megabytes(pmtrack(stores[1], "import", "shifts", str(tenth)))
    taken, peak = peak_megabytes(pmtrack(stores[0], "import", "shifts", str(whole)))
    told = f"{count:,} rows: {count / taken:,.0f} a second against {count / plain:,.0f}; peak"
    return [
        Figure(
            "import of shifts", taken, plain, 2.0, f"{told} {peak:.0f} MB, of a tenth {few:.0f} MB"
        )
    ]


def _shifts(path: Path, count: int) -> Path:
    """A file of so many shifts, in time order."""
    with path.open("w", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(("machine", "shift", "date", "by", "parts", "hours"))
        writer.writerows(_shift_rows(count))
    return path


def _shift_rows(count: int) -> Iterator[tuple[object, ...]]:
    chance = random.Random(1)
    days = -(-count // (2 * MACHINES_IMPORTED))
    first = date.fromisoformat(TODAY) - timedelta(days=days)
    for number in range(count):
        slot, machine = divmod(number, MACHINES_IMPORTED)
        day = first + timedelta(days=slot // 2)
        hours = chance.randrange(40, 80) / 10
        yield f"M{machine:04}", ("day", "late")[slot % 2], day, "Dana", machine + 40, hours


def apply_figures(folder: Path) -> list[Figure]:
    """`apply` of a long shop file against YAML's own reading of it with the same imports."""
    path, store = folder / "shop.yaml", folder / "applied.db"
    path.write_text(long_shop(SHOP_LINES))
    modules = loaded(store, "apply", str(path))  # which makes the store
    parse = IMPORTS + "import yaml; yaml.load(open(sys.argv[2], 'rb'), yaml.CSafeLoader)"
    check = (
        IMPORTS + "from pathlib import Path; from pmtrack.shopfile import read_shop\n"
        "read_shop(Path(sys.argv[2]).read_bytes(), 'shop.yaml')"
    )
    fresh = [folder / f"fresh-{number}.db" for number in range(6)]
    measured, parsed = in_turn(
        lambda number: seconds(pmtrack(fresh[number], "apply", str(path))),
        lambda _: seconds(python(parse, modules, str(path))),
        5,
    )
    again, checked = in_turn(
        lambda _: seconds(pmtrack(store, "apply", str(path))),
        lambda _: seconds(python(check, modules, str(path))),
        5,
    )
    return [
        Figure("apply, to YAML's own reading", measured, parsed, 2.0, f"{SHOP_LINES:,} lines"),
        Figure("apply, to parse with checks", measured, checked, 2.0),
        Figure("apply again, to the same", again, checked, 2.0),
    ]


def long_shop(lines: int) -> str:
    """A shop file of so many lines: some machines, each with tasks of its own."""
    machines, found = lines // 50, HEAD.splitlines()
    found.append("machines:")
    for number in range(machines):
        found += [f"  - code: M{number:04}", f"    name: Press {number}", "    meters:"]
        found.append("      hours: {fastest: 1 per hour, expected: 12 per day}")
    found.append("tasks:")
    while len(found) + 8 <= lines:
        number = len(found)
        found += [
            f"  - code: task-{number}",
            f"    machines: [M{number % machines:04}]",
            f"    title: Check number {number}",
            "    every: [3 months, 400 hours]",
            "    minutes: 30",
            "    steps:",
            "      - Clean it, look at it, and tighten what is loose.",
            "    parts: [{part: filter element, quantity: 2}, Lint-free cloths]",
        ]
    return "\n".join(found + ["#"] * (lines - len(found))) + "\n"
