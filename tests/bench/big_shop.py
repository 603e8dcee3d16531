"""An invented shop of any size as a shop file, and a store of its years of shifts and jobs.

Each machine has one meter, ten tasks and the same number of entries: two shifts a working day, and
every task done again and again, about one interval apart. The shop is well run, as a shop with so
many machines must be: of its tasks some 4 % are on the list, the others were done well within their
interval. A shop that leaves nearly all of its tasks overdue would measure how fast a list of
thousands of lines is printed, which nobody reads. The same size and seed give the same store.
"""

import random
import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from pmtrack.rules.shoptime import shift_span
from pmtrack.shopfile import read_shop
from pmtrack.store import open_store
from pmtrack.store.codec import to_text
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
DAYS = (7, 14, 30, 61, 91, 182, 365, 29, 47, 182)  # that each routine's interval takes
SHIFTS = ("day", "late")
RECORDED = "2026-11-25T06:00:00Z"
MILLION = 10**6
JOBS_IN = 6  # one entry of so many is a completion: those of the later years
LATE = 0.04  # the share of tasks that are due, overdue or soon
LATE_AGES = (0.95, 1.15)  # of theirs, the shares of the interval gone
AGES = (0.0, 0.7)  # of the others, which nothing announces yet
ROUNDS = (0.85, 1.05)  # shares of the interval between two jobs of the past


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


# shifts are entered machine by machine as they end; hours of a shift are 4.5 to 7.4
_SHIFTS = (
    "INSERT INTO entry SELECT 1 + n * :machines + m, 'shift', end, day, 1, 'Dana', :at, ''"
    " FROM slot CROSS JOIN press",
    "INSERT INTO shift_log SELECT 1 + n * :machines + m, code, shift, day, NULL, NULL, NULL, NULL,"
    " 0 FROM slot CROSS JOIN press",
    "INSERT INTO count SELECT 1 + n * :machines + m, code, 'hours', hours"
    " FROM slot CROSS JOIN press CROSS JOIN run ON run.turn = m % 30 AND run.slot = n",
    "INSERT INTO tally SELECT code, 'hours', end, 0, 1 + n * :machines + m, day, hours, 0, 0,"
    " usage, NULL, 0, 1, 0 FROM press CROSS JOIN slot"
    " CROSS JOIN run ON run.turn = m % 30 AND run.slot = n",
)


def with_history(path: Path, size: Size) -> None:
    """Make the store with its history, row by row into the schema as it is."""
    described(path, shop_text(size.codes))
    slots = _slots(size.entries_each - size.entries_each // JOBS_IN)
    connection = sqlite3.connect(path, isolation_level=None)
    pragmas = ("foreign_keys = OFF", "journal_mode = OFF", "synchronous = OFF")
    for pragma in (*pragmas, "cache_size = -400000"):
        connection.execute(f"PRAGMA {pragma}")
    indices = connection.execute(
        "SELECT name, sql FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL"
        " AND tbl_name IN ('shift_log', 'completion')"
    ).fetchall()
    connection.execute("BEGIN")
    for name, _ in indices:
        connection.execute(f"DROP INDEX {name}")
    _add_shifts(connection, size, slots)
    _add_jobs(connection, size, len(slots) * size.machines + 1)
    for _, sql in indices:
        connection.execute(sql)
    connection.execute("COMMIT")
    connection.execute("PRAGMA journal_mode = WAL")
    connection.close()


def _add_shifts(
    connection: sqlite3.Connection, size: Size, slots: list[tuple[str, str, str]]
) -> None:
    """A log of each machine for each shift, with the tally of its hours."""
    connection.execute("CREATE TEMP TABLE slot (n INTEGER PRIMARY KEY, shift, day, end)")
    connection.execute("CREATE TEMP TABLE press (m INTEGER PRIMARY KEY, code)")
    connection.execute(
        "CREATE TEMP TABLE run (turn INTEGER, slot INTEGER, hours, usage, PRIMARY KEY (turn, slot))"
        " WITHOUT ROWID"
    )
    connection.executemany(
        "INSERT INTO slot VALUES (?, ?, ?, ?)", ((n, *slot) for n, slot in enumerate(slots))
    )
    connection.executemany("INSERT INTO press VALUES (?, ?)", enumerate(size.codes))
    connection.executemany("INSERT INTO run VALUES (?, ?, ?, ?)", _runs(len(slots)))
    for sql in _SHIFTS:
        connection.execute(sql, {"machines": size.machines, "at": RECORDED})


def _runs(slots: int) -> Iterator[tuple[int, int, int, int]]:
    """Hours of each shift and their sum, in millionths, the same for every thirtieth machine."""
    for turn in range(30):
        usage = 0
        for slot in range(slots):
            hours = (45 + (turn * 7 + slot * 13) % 30) * MILLION // 10
            usage += hours
            yield turn, slot, hours, usage


def _add_jobs(connection: sqlite3.Connection, size: Size, first: int) -> None:
    """The jobs, taken over after the shifts."""
    jobs = list(_jobs(size, first))
    connection.executemany(
        "INSERT INTO entry VALUES (?, 'completion', ?, ?, 0, 'Robin', ?, '')",
        ((number, at, day, RECORDED) for number, _, at, day in jobs),
    )
    connection.executemany(
        "INSERT INTO completion VALUES (?, ?, ?, 20)",
        ((number, task, at) for number, task, at, _ in jobs),
    )


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


def _jobs(size: Size, first: int) -> Iterator[tuple[int, str, str, str]]:
    """Entry, task, instant and day of each completion, in order of days."""
    chance = random.Random(size.entries_each)
    found = [
        job for code in size.codes for job in _done(code, size.entries_each // JOBS_IN, chance)
    ]
    for number, (day, task) in enumerate(sorted(found), first):
        yield number, task, f"{day}T15:00:00Z", day.isoformat()


def _done(machine: str, count: int, chance: random.Random) -> list[tuple[date, str]]:
    """The last so many jobs of a machine, of each task one at least: day and task."""
    latest, earlier = [], []
    for (code, _), interval in zip(ROUTINES, DAYS, strict=True):
        low, high = LATE_AGES if chance.random() < LATE else AGES
        days = _days_back(interval, chance.uniform(low, high), chance)
        task = f"{machine}/{code}"
        latest.append((next(days), task))
        earlier += [(next(days), task) for _ in range(3 * count // interval + 1)]
    return latest + sorted(earlier, reverse=True)[: count - len(latest)]


def _days_back(interval: int, age: float, chance: random.Random) -> Iterator[date]:
    """The working days on which a task was done, from the last one back; age in intervals."""
    day = date.fromisoformat(TODAY)
    while True:
        day -= timedelta(days=max(round(age * interval), 1))
        if day.weekday() >= 5:
            day -= timedelta(days=day.weekday() - 4)
        yield day
        age = chance.uniform(*ROUNDS)
