"""Values of the store's rows changed behind its back: each of its type, none that pmtrack wrote."""

import sqlite3
from contextlib import closing
from pathlib import Path

from tests.fuzz.choices import Choices
from tests.fuzz.desk import Desk
from tests.fuzz.store_bytes import ASKED, ask

NUMBERS = [0, 1, -1, 2, 10**6, 10**12, 10**18, 2**63 - 1, -(2**63), 41_200_000_001, None]
TEXTS = [
    "", " ", "x", "TP-1", "PB-1", "GONE", "TP-1/monthly", "RD-10", "hits", "day", "night", "{}",
    "[]",
    "null", "1", '{"x":1}', "2026-11-25", "2026-11-45", "0000-00-00", "0001-01-01", "9999-12-31",
    "2026-11-25T15:00:00Z", "2026-11-45T15:00:00Z", "0001-01-01T00:00:00Z", "9999-12-31T23:59:59Z",
    "2026-11-25T15:00:00", "2026-11-25", "2026-W48-3", "20261125", "\x1b[2J", "\x00", "\u202e",
    "x" * 10_000, None,
]  # fmt: skip
PARTS = [
    '"2026-11-20"', '"0001-01-01"', '"9999-12-31"', '"1"', '"0"', '"-1"', '"1/0"', '"1e400"',
    '"nan"',
    "null", "1", "-1", "1e999", "true", "[]", "{}", '""', '"x"', '"day"', '"TP-1"', "[[]]", "[{}]",
    '"America/Nowhere"', '"FREQ=SECONDLY"', '"FREQ=DAILY;INTERVAL=0"', '"999999999999"',
    '"\\u001b"',
    '"\\ud800"', "[1]", '["x"]', '"00:00:00"', '"06:00:00"', '"1/3"', "99999999999999999999",
]  # fmt: skip


class StoredValues:
    """Changes up to three values by SQL, or parts of the JSON in them, then runs commands."""

    name = "stored-values"

    def __init__(self, folder: Path) -> None:
        self.desk = Desk(folder)
        shop = (Path(__file__).parents[1] / "small_shop.yaml").read_bytes()
        (folder / "keep.yaml").write_bytes(shop)
        self.desk.run("plan", "2027-Q1", "--save")
        self.desk.run("calendar", "2027-Q1", "--out", str(folder / "c.ics"))
        self.desk.run("pin", "TP-1/half-year", "2026-12-08", "--why", "x")
        self.desk.tidy()
        with closing(sqlite3.connect(self.desk.run.store)) as connection:
            for (name,) in connection.execute(
                "SELECT name FROM sqlite_master WHERE type = 'trigger'"
            ).fetchall():
                connection.execute(f"DROP TRIGGER {name}")
            connection.commit()
            self.columns = _columns(connection)
        self.desk.worked = self.desk.run.store.read_bytes()

    def seeds(self) -> list[bytes]:
        return [
            bytes([0, (at + turn) % len(ASKED), at, 0, (at * 5 + turn) % 40, (at + turn * 9) % 40])
            for at in range(len(self.columns))
            for turn in range(3)
        ]

    def attempt(self, data: bytes) -> None:
        choices, desk = Choices(data), self.desk
        edits, asked = choices.number(3) + 1, choices.number(len(ASKED))
        desk.put(desk.worked)
        with closing(sqlite3.connect(desk.run.store)) as connection:
            connection.execute("PRAGMA ignore_check_constraints = ON")
            for _ in range(edits):
                self._change(connection, choices)
            connection.commit()
        for question in (ASKED[asked], ASKED[(asked + 11) % len(ASKED)], ["verify"]):
            ask(desk, question, None)
        desk.tidy()

    def _change(self, connection: sqlite3.Connection, choices: Choices) -> None:
        """One value of one row; what STRICT tables and unique keys refuse stays as it was."""
        table, column, kind = choices.of(self.columns)
        rows = connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608
        skip = choices.number(max(rows, 1))
        old = connection.execute(
            f"SELECT {column} FROM {table} LIMIT 1 OFFSET ?",  # noqa: S608
            (skip,),
        ).fetchone()
        value: object = choices.of(NUMBERS if kind == "INTEGER" else TEXTS)
        if column == "definition" and old:
            value = _other_part(str(old[0]), choices)
        try:
            connection.execute(
                f"UPDATE {table} SET {column} = ? WHERE {column} IS ?",  # noqa: S608
                (value, old and old[0]),
            )
        except (sqlite3.Error, UnicodeError):
            return


def _columns(connection: sqlite3.Connection) -> list[tuple[str, str, str]]:
    """Table, column and type of each value that a row of the store holds."""
    tables = [
        name
        for (name,) in connection.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
        )
        if connection.execute(f"SELECT 1 FROM {name}").fetchone()  # noqa: S608
    ]
    return [
        (table, f'"{row[1]}"' if row[1] != "definition" else "definition", row[2])
        for table in tables
        for row in connection.execute(f"PRAGMA table_info({table})")
    ]


def _other_part(text: str, choices: Choices) -> str:
    """The JSON text with one of its values changed."""
    import re

    parts = re.split(r'((?<=[:\[,])(?:"(?:[^"\\]|\\.)*"|[\w.-]+)(?=[,}\]]))', text)
    places = range(1, len(parts), 2)
    if places:
        parts[choices.of(places)] = choices.of(PARTS)
    return "".join(parts)
