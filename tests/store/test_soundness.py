"""What `verify` finds in a store that was damaged by hand or by a disk."""

import random
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.command import Command, copied

HEAD = "damaged; go back to a backup with 'pmtrack restore BACKUP --over'"
SPOILED = [  # what was done to the store, and what is told of it
    ("DELETE FROM entry WHERE id = 6; DELETE FROM tool_event", "entry 6 is missing"),
    (
        "DELETE FROM entry WHERE id IN (4, 5); DELETE FROM stop; DELETE FROM service_change",
        "entries 4 to 5 are missing",
    ),
    ("UPDATE entry SET id = 12 WHERE id = 10", "entries 10 to 11 are missing"),
    ("DELETE FROM stop", "entry 4: what it says as a stop is missing"),
    ("UPDATE entry SET kind = 'job' WHERE id = 4", "entry 4: is a job, yet has a row in stop"),
    ("UPDATE entry SET kind = 'back' WHERE id = 5", "entry 5: says back and does the contrary"),
    ("UPDATE entry SET day = '2026-02-30' WHERE id = 3", "entry 3: '2026-02-30' is no date (day)"),
    (
        "UPDATE entry SET recorded_at = '2026-11-25T25:00:00Z' WHERE id = 3",
        "entry 3: '2026-11-25T25:00:00Z' is no instant (recorded_at)",
    ),
    (
        "UPDATE task SET first_applied = 'soon' WHERE name = 'TP-1/weekly'",
        "'soon' is no date (first_applied)",
    ),
    (
        "UPDATE completion SET at = '2026-11-25T01:00:00Z' WHERE entry = 3",
        "entry 3: completion says 2026-11-25T01:00:00Z, the entry 2026-11-25T15:00:00Z",
    ),
    ("UPDATE void SET target = 99", "void, row 8: the entry that it names is not there"),
    (
        "INSERT INTO entry SELECT 11, kind, at, day, whole_day, by, recorded_at, note FROM entry"
        " WHERE id = 8; INSERT INTO void VALUES (11, 8, 'x')",
        "entry 11: crosses out entry 8, which is itself a crossing-out",
    ),
    ("UPDATE count SET machine = 'FE-1'", "entry 1: a count of FE-1 in a shift of TP-1"),
    ("UPDATE count SET amount = -5 WHERE entry = 1", "the file: CHECK constraint failed in count"),
    ("UPDATE machine SET definition = '{}' WHERE code = 'TP-1'",
     "machine TP-1: its description cannot be read"),
    ("UPDATE task SET definition = (SELECT definition FROM task WHERE name = 'PB-1/weekly')"
     " WHERE name = 'TP-1/weekly'", "task TP-1/weekly: its description is that of another"),
    ("UPDATE applied SET definition = replace(definition, 'America/New_York', 'America/Nowhere')",
     "shop, apply 1: its time zone cannot be read"),
    ("UPDATE task SET raised_by = 3 WHERE raised_by IS NOT NULL",
     "task TP-1/job-9: entry 3, which raised it, is a completion and no job"),
    ("INSERT INTO plan VALUES (1, 'spring', '2026-11-25T19:00:00Z', 'Dana', 0)",
     "plan 1: its quarter cannot be read"),
    ("INSERT INTO plan VALUES (1, '2027-Q1', '2026-11-25T19:00:00Z', 'Dana', 0);"
     "INSERT INTO plan_job VALUES (1, 'TP-9/x#1', 'TP-9/x', '2027-01-05', '{}')",
     "plan 1, job TP-9/x#1: cannot be read"),
    ("INSERT INTO plan VALUES (1, '2027-Q1', '2026-11-25T19:00:00Z', 'Dana', 0);"
     "INSERT INTO plan_job VALUES (1, 'TP-9/x#1', 'TP-9/x', '2027-01-05', '{}')",
     "plan 1, job TP-9/x#1: there is no task TP-9/x"),
    ("INSERT INTO export VALUES (1, '2026-11-25T19:00:00Z', '2027-Q1');"
     "INSERT INTO export_event VALUES (1, 'u', 'TP-1/weekly', 0, '2026-11-25T19:00:00Z', 0, '{}')",
     "calendar file 1, event u: cannot be read"),
    ("DROP INDEX stop_machine", "the index stop_machine is missing"),
    ("CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry BEGIN SELECT 1; END",
     "the guard entry_no_update is not as pmtrack makes it"),
    ("UPDATE tool SET definition = replace(definition, 'TP-1', 'PB-1') WHERE code = 'RD-10'",
     "tool RD-10: its description is that of another"),
]  # fmt: skip


def spoil(store: Path, script: str) -> None:
    """Damage a store by hand, past its guards; they are put back, unless the script names one."""
    with closing(sqlite3.connect(store, isolation_level=None)) as connection:
        guards = connection.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall()
        connection.execute("PRAGMA ignore_check_constraints = ON")
        for name, _ in guards:
            connection.execute(f"DROP TRIGGER {name}")
        connection.executescript(script)
        for name, sql in guards:
            if name not in script:
                connection.execute(sql)


@pytest.mark.parametrize(("script", "told"), SPOILED)
def test_each_fault_is_told_with_its_place(script: str, told: str, run_worked: Command) -> None:
    spoil(run_worked.store, script)
    answer = run_worked("verify")
    assert (answer.status, answer.out) == (3, "")
    head, *faults = answer.err.splitlines()
    assert head == f"{run_worked.store}: {HEAD}"
    assert [fault for fault in faults if told in fault], answer.err


def test_usage_that_differs_is_told_apart_from_damage(run_worked: Command) -> None:
    """The entries are whole: nothing must be given up for a backup."""
    spoil(run_worked.store, "UPDATE tally SET usage = usage + 1 WHERE meter = 'hits'")
    told = run_worked.refused(["verify"], 3, "the usage kept differs from its entries")
    head, *faults = told.err.splitlines()
    assert "the entries are sound" in head
    assert "'pmtrack load FOLDER --over' works it out anew" in head
    assert faults == ["TP-1 hits: the usage kept differs from its entries"]


def test_usage_that_cannot_be_read_is_told_with_its_place_and_no_contrary_mend(
    run_worked: Command,
) -> None:
    spoil(run_worked.store, "UPDATE tally SET at = '2026-11-45T15:00:00Z'")
    head, *faults = run_worked.refused(["verify"], 3, "is no instant").err.splitlines()
    assert "the entries are sound" in head
    assert faults == ["usage: cannot be read: '2026-11-45T15:00:00Z' is no instant"]


def test_usage_of_no_meter_is_found(run_worked: Command) -> None:
    spoil(run_worked.store, "UPDATE tally SET meter = 'strokes' WHERE meter = 'hits'")
    told = run_worked("verify")
    assert "TP-1 strokes: usage is kept of a meter that is not there" in told.err
    assert told.status == 3


def test_of_many_faults_the_first_are_told(run_worked: Command) -> None:
    numbers = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 199)"
    row = "SELECT i, 'x', 'x', '2027-01-05', '{}' FROM n"
    spoil(run_worked.store, f"INSERT INTO plan_job {numbers} {row}")
    lines = run_worked("verify").err.splitlines()
    assert len(lines) == 62
    assert lines[-1].startswith("and ")


@pytest.mark.parametrize("seed", range(25))
def test_no_damage_of_the_disk_ends_in_a_traceback(
    seed: int, worked_once: Path, tmp_path: Path
) -> None:
    """Bits flipped, bytes zeroed or overwritten anywhere in the file: sound or told, never lost."""
    chance = random.Random(seed)
    store = copied(worked_once, tmp_path / "x.db")
    data = bytearray(store.read_bytes())
    for _ in range(chance.choice([1, 4, 40])):
        at, length = chance.randrange(len(data)), chance.choice([1, 1, 16, 700])
        for place in range(at, min(at + length, len(data))):
            data[place] = chance.choice([0, 255, data[place] ^ 1 << chance.randrange(8)])
    store.write_bytes(data)
    told = Command(store)("verify")
    assert told.status in (0, 3)
    assert (told.status == 0) == (told.err == "")
