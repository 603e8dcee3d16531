"""An invented shop of any size as a shop file, and a store of its years of shifts and jobs.

Each machine has one meter, ten tasks and the same number of entries: two shifts a working day,
and now and then a job. The same size and seed give the same store.
"""

import random
import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from pmtrack.rules.shoptime import shift_span
from pmtrack.shopfile import read_shop
from pmtrack.store.codec import to_text
from pmtrack.store.database import open_store
from pmtrack.store.description import save_shop
from tests.bench.figure import TODAY

HEAD = """\
shop:
  name: Quillback Sheet Works
  timezone: America/New_York
  shifts:
    - {name: day, days: mon-fri, start: "06:00", end: "14:30"}
    - {name: late, days: mon-fri, start: "14:30", end: "23:00"}
  crew_hours: 400
"""
ROUTINES = (
    ("weekly", "1 week"),
    ("fortnight", "2 weeks"),
    ("monthly", "1 month"),
    ("two-months", "2 months"),
    ("quarterly", "3 months"),
    ("half-year", "6 months"),
    ("yearly", "1 year"),
    ("filter", "250 hours"),
    ("grease", "[2 months, 400 hours]"),
    ("service", "[6 months, 2000 hours]"),
)
SHIFTS = ("day", "late")
RECORDED = "2026-11-25T06:00:00Z"
MILLION = 10**6
JOBS_IN = 50  # one entry of so many is a completion


@dataclass(frozen=True)
class Size:
    """How many machines, and entries of each."""

    machines: int
    entries_each: int

    @classmethod
    def scaled(cls, scale: float, history: float = 1.0) -> "Size":
        """A share of 2,000 machines with 5,000 entries each, of those a share again."""
        return cls(max(round(2000 * scale), 2), max(round(5000 * history), 100))

    @property
    def codes(self) -> list[str]:
        """The machines' codes."""
        return [f"M{number:04}" for number in range(self.machines)]


def shop_text(codes: Iterable[str], routines: Iterable[tuple[str, str]] = ROUTINES) -> str:
    """The shop file of such machines, each with every routine."""
    codes = list(codes)
    lines = [HEAD + "machines:"]
    lines += [
        f"  - {{code: {code}, name: Press {code}, meters: "
        "{hours: {fastest: 1 per hour, expected: 12 per day}}}"
        for code in codes
    ]
    lines.append("tasks:")
    for code, every in routines:
        lines.append(f"  - code: {code}\n    title: Routine {code}\n    every: {every}")
        lines.append(f"    minutes: 20\n    machines: [{', '.join(codes)}]")
    return "\n".join(lines) + "\n"


def described(path: Path, text: str) -> None:
    """Make a store of a shop file whose tasks were applied years ago."""
    shop, faults = read_shop(text.encode(), "shop.yaml")
    assert shop is not None, faults
    long_ago = datetime(2010, 1, 4, 12, tzinfo=UTC)
    store = open_store(path, create=True, now=long_ago)
    with store.writing():
        save_shop(store, shop, long_ago, long_ago.date(), "bench")
    store.close()


def with_history(path: Path, size: Size) -> None:
    """Make the store with its history, row by row into the schema as it is."""
    described(path, shop_text(size.codes))
    slots = _slots(size.entries_each - size.entries_each // JOBS_IN)
    connection = sqlite3.connect(path, isolation_level=None)
    for pragma in ("foreign_keys = OFF", "synchronous = OFF", "cache_size = -400000"):
        connection.execute(f"PRAGMA {pragma}")
    indices = connection.execute(
        "SELECT name, sql FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL"
        " AND tbl_name IN ('shift_log', 'completion')"
    ).fetchall()
    connection.execute("BEGIN")
    for name, _ in indices:
        connection.execute(f"DROP INDEX {name}")
    for table, rows in _tables(size, slots):
        _insert(connection, table, rows)
    for _, sql in indices:
        connection.execute(sql)
    connection.execute("COMMIT")
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()


def _insert(connection: sqlite3.Connection, table: str, rows: Iterator[tuple[object, ...]]) -> None:
    first = next(rows)
    sql = f"INSERT INTO {table} VALUES ({', '.join('?' * len(first))})"  # noqa: S608 - our own names
    connection.execute(sql, first)
    connection.executemany(sql, rows)


def _slots(count: int) -> list[tuple[str, str, str]]:
    """Shift, day and end of the last so many shifts before the bench's day, in time order."""
    shop, _ = read_shop(shop_text(["M0000"]).encode(), "shop.yaml")
    assert shop is not None
    found: list[tuple[str, str, str]] = []
    day = date.fromisoformat(TODAY)
    while len(found) < count:
        day -= timedelta(days=1)
        if day.weekday() < 5:
            found += [
                (shift.name, day.isoformat(), to_text(shift_span(shift, day, shop.zone)[1]))
                for shift in reversed(shop.shifts)
            ]
    return found[:count][::-1]


def _tables(
    size: Size, slots: list[tuple[str, str, str]]
) -> Iterator[tuple[str, Iterator[tuple[object, ...]]]]:
    """The rows of each table; shifts are entered machine by machine as they end, jobs last."""
    machines, first_job = size.codes, len(slots) * size.machines
    jobs = list(_jobs(size, slots, first_job + 1))
    yield "entry", _entries(size, slots)
    yield (
        "shift_log",
        (
            (1 + at * size.machines + m, code, shift, day, None, None, None, None, 0)
            for at, (shift, day, _) in enumerate(slots)
            for m, code in enumerate(machines)
        ),
    )
    yield (
        "count",
        (
            (1 + at * size.machines + m, code, "hours", _hours(m, at))
            for at in range(len(slots))
            for m, code in enumerate(machines)
        ),
    )
    yield "tally", _tallies(size, slots)
    yield (
        "entry",
        ((n, "completion", at, day, 0, "Robin", RECORDED, "") for n, _, at, day in jobs),
    )
    yield "completion", ((n, task, at, 20) for n, task, at, _ in jobs)


def _entries(size: Size, slots: list[tuple[str, str, str]]) -> Iterator[tuple[object, ...]]:
    for number, (_, day, end) in enumerate(slots):
        for m in range(size.machines):
            entry = 1 + number * size.machines + m
            yield entry, "shift", end, day, 1, "Dana", RECORDED, ""


def _hours(machine: int, at: int) -> int:
    """Hours of a shift, 4.5 to 7.4, in millionths."""
    return (45 + (machine * 7 + at * 13) % 30) * MILLION // 10


def _tallies(size: Size, slots: list[tuple[str, str, str]]) -> Iterator[tuple[object, ...]]:
    for m, code in enumerate(size.codes):
        usage = 0
        for at, (_, day, end) in enumerate(slots):
            value = _hours(m, at)
            usage += value
            entry = 1 + at * size.machines + m
            yield code, "hours", end, 0, entry, day, value, 0, 0, usage, None, 0, 1, 0


def _jobs(
    size: Size, slots: list[tuple[str, str, str]], first: int
) -> Iterator[tuple[int, str, str, str]]:
    """Entry, task, instant and day of each completion: the tasks in turn, spread over the time."""
    chance = random.Random(size.entries_each)
    each = size.entries_each // JOBS_IN
    for number in range(each * size.machines):
        turn, m = divmod(number, size.machines)
        at = (turn * len(slots) + chance.randrange(len(slots))) // each
        _, day, end = slots[min(at, len(slots) - 1)]
        code = ROUTINES[(turn + m) % len(ROUTINES)][0]
        yield first + number, f"M{m:04}/{code}", end, day
