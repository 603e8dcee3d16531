"""What the store holds after crashes, beside what its users were told and what was begun."""

import json
import re
import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from tests.bench.crash_commands import MACHINES, MAY_BE_REFUSED, NOW, Typed
from tests.bench.forked import Ended, run

_BY_ENTRY = (
    "void", "shift_log", "count", "dial", "completion", "measurement", "deferral", "job", "stop",
    "restart", "service_change", "tool_count", "tool_event", "pin", "release",
)  # fmt: skip
# rows of each table, by who recorded the command that they belong to
_ROWS = {
    "entry": "SELECT by, count(*) FROM entry GROUP BY by",
    "task": "SELECT by, count(*) FROM task JOIN entry ON entry.id = task.raised_by GROUP BY by",
    "applied": "SELECT by, count(*) FROM applied GROUP BY by",
    "plan": "SELECT by, count(*) FROM plan GROUP BY by",
    "plan_job": "SELECT by, count(*) FROM plan_job JOIN plan ON plan.id = plan GROUP BY by",
} | {
    table: f"SELECT by, count(*) FROM {table} t JOIN entry ON entry.id = t.entry GROUP BY by"  # noqa: S608
    for table in _BY_ENTRY
}
_ONE = re.compile(r"^entry (\d+): ", re.MULTILINE)
_MANY = re.compile(r": entries (\d+) to (\d+)$|: entry (\d+)$", re.MULTILINE)
_OTHER = re.compile(r"^\d+ added, \d+ changed|^saved as plan \d+ of", re.MULTILINE)


@dataclass(frozen=True)
class Ran:
    """A command and what came of it."""

    typed: Typed
    ended: Ended

    @property
    def numbers(self) -> list[int]:
        """The entries that its user was told of."""
        one, many = _ONE.search(self.ended.out), _MANY.search(self.ended.out)
        if one:
            return [int(one[1])]
        if many and many[3]:
            return [int(many[3])]
        return list(range(int(many[1]), int(many[2]) + 1)) if many else []

    @property
    def acknowledged(self) -> bool:
        """Whether its user was told that it is kept."""
        return bool(self.numbers or _OTHER.search(self.ended.out + self.ended.err))


def faults_of(store: Path, ran: list[Ran]) -> list[str]:
    """All that is wrong after these commands on a store that was made by one `apply`."""
    faults = list(_told_wrong(ran))
    with closing(sqlite3.connect(store)) as connection:
        held = _held(connection)
        faults += _rows_wrong(held, ran)
        faults += _numbers_wrong(connection, ran)
        faults += _description_wrong(connection)
        faults += _file_wrong(connection)
    verified = run(["--store", str(store), "--now", NOW, "verify"], None)
    if (verified.status, verified.err) != (0, ""):
        faults.append(f"verify: {verified.err.strip()}")
    return faults


def _held(connection: sqlite3.Connection) -> dict[str, Counter[str]]:
    """How many rows of each table bear each name."""
    held: dict[str, Counter[str]] = {}
    for table, sql in _ROWS.items():
        for by, rows in connection.execute(sql):
            held.setdefault(by, Counter())[table] = rows
    return held


def _told_wrong(ran: list[Ran]) -> Iterator[str]:
    """A command that was not killed is done, or refused for what happened before."""
    for one in ran:
        kind, ended = one.typed.kind, one.ended
        refused = ended.status == 3 and kind in MAY_BE_REFUSED and not one.acknowledged
        if not (ended.killed or refused or (ended.status == 0 and one.acknowledged)):
            yield f"{one.typed.by} {kind}: status {ended.status}: {ended.err.strip()[-200:]}"
        elif "locked" in ended.err or "Traceback" in ended.err:
            yield f"{one.typed.by} {kind}: {ended.err.strip()[-200:]}"


def _rows_wrong(held: dict[str, Counter[str]], ran: list[Ran]) -> Iterator[str]:
    """A command's rows are all there or none; all if it was acknowledged."""
    for one in ran:
        by, found = one.typed.by, dict(held.get(one.typed.by, {}))
        named = _ROWS.keys() - ({"task"} if one.typed.kind == "apply" else ())
        begun = {table: n for table, n in (one.ended.rows or {}).items() if table in named}
        if not found and one.acknowledged:
            yield f"{by} {one.typed.kind}: LOST, though told"
        elif found and found != begun:
            word = "HALF" if begun else "HALF, and no COMMIT"
            yield f"{by} {one.typed.kind}: {word}: {found} of {begun}"
    known = {one.typed.by for one in ran}
    yield from (f"{by}: rows that nobody entered" for by in held if by not in known)


def _numbers_wrong(connection: sqlite3.Connection, ran: list[Ran]) -> Iterator[str]:
    """Each number told is one entry of who was told it; no number is left out."""
    by_number = dict(connection.execute("SELECT id, by FROM entry"))
    told = Counter(number for one in ran for number in one.numbers)
    yield from (f"entry {number}: told twice" for number, times in told.items() if times > 1)
    for one in ran:
        for number in one.numbers:
            if by_number.get(number) != one.typed.by:
                yield f"entry {number}: told to {one.typed.by}, is of {by_number.get(number)}"
    if sorted(by_number) != list(range(1, len(by_number) + 1)):
        yield "numbers of entries are left out"


def _description_wrong(connection: sqlite3.Connection) -> Iterator[str]:
    """The shop and all its machines are of the version that was applied last."""
    (last,) = connection.execute("SELECT by FROM applied ORDER BY id DESC LIMIT 1").fetchone()
    texts = connection.execute(
        "SELECT definition FROM machine UNION ALL"
        " SELECT * FROM (SELECT definition FROM applied ORDER BY id DESC LIMIT 1)"
    ).fetchall()
    versions = {json.loads(text)["name"].rpartition("drawing ")[2] for (text,) in texts}
    if versions != {last} or len(texts) != len(MACHINES) + 1:
        yield f"the shop is of versions {sorted(versions)}, applied last was {last}"


def _file_wrong(connection: sqlite3.Connection) -> Iterator[str]:
    for (told,) in connection.execute("PRAGMA integrity_check"):
        if told != "ok":
            yield f"integrity_check: {told}"
    for row in connection.execute("PRAGMA foreign_key_check"):
        yield f"foreign_key_check: {row}"
