"""Cases that fuzzing found: each was a traceback, or a change by a refused command."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.command import Command, copied

# what is changed behind the store's back, the command that then broke, and what it tells now
DAMAGED = [
    ("UPDATE task SET name = 'FE-1/gone' WHERE name = 'FE-1/look'", "today --all",
     "'FE-1/gone' holds what describes something else"),
    ("UPDATE machine SET code = '-1' WHERE code = 'FE-1'", "trend",
     "'-1' holds what describes something else"),
    ("UPDATE material SET definition = replace(definition, '\"mild\"', '[]')", "tooling",
     "cannot be read"),
    ("UPDATE task SET definition = replace(definition, '\"Clean', '7,\"x\":\"')", "today --all",
     "cannot be read"),
    ("UPDATE applied SET definition = replace(definition, '\"Quillback Sheet Works\"', '7')",
     "calendar 2027-Q1 --out {folder}/c.ics", "cannot be read"),
    ("UPDATE task SET definition = replace(definition, ':\"1\"', ':\"1e9999\"')",
     "today", "cannot be read"),
    ("UPDATE task SET definition = replace(definition, '2026-10-25', '9999-12-31')", "today",
     "cannot be read"),
    ("UPDATE task SET first_applied = '0001-01-01'", "today", "'0001-01-01' is no date"),
    ("UPDATE entry SET at = '9999-12-31T23:59:59Z', whole_day = 0", "why TP-1/weekly",
     "'9999-12-31T23:59:59Z' is no instant"),
    ("UPDATE entry SET at = '2026-11-25T15:00:00', whole_day = 0", "why TP-1/weekly",
     "'2026-11-25T15:00:00' is no instant"),
    ("UPDATE stop SET started = '2026-11-45T15:00:00Z'", "report --from 2026-11-01 --to 2026-11-25",
     "'2026-11-45T15:00:00Z' is no instant"),
    ("UPDATE tally SET is_dial = 2", "void 1 --why x", "is out of order"),
]  # fmt: skip


def spoil(store: Path, statement: str) -> None:
    """Run one statement on the store as no command of pmtrack would."""
    with closing(sqlite3.connect(store)) as connection, connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        kept = guards.fetchall()
        for name, _ in kept:
            connection.execute(f"DROP TRIGGER {name}")
        assert connection.execute(statement).rowcount > 0
        for _, guard in kept:
            connection.execute(guard)


@pytest.mark.parametrize(("statement", "command", "told"), DAMAGED)
def test_damage_to_a_value_is_told_as_damage(
    run_worked: Command, statement: str, command: str, told: str
) -> None:
    spoil(run_worked.store, statement)
    words = command.format(folder=run_worked.store.parent).split()
    found = run_worked.refused(words, 3, told)
    assert "the store is damaged" in found.err
    assert "go back to a backup" in found.err
    assert run_worked("verify").status == 3


def test_damage_that_only_shows_in_what_is_missing_is_told(run_worked: Command) -> None:
    """A reference to nothing fits its column; only `verify` reads such things beforehand."""
    with closing(sqlite3.connect(run_worked.store)) as connection, connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute("UPDATE task SET definition = '{}', retired_on = '2026-11-24'")
    run_worked.refused(["today", "--all"], 3, "the store is damaged")


def test_a_description_nested_without_end_is_told_as_damage(run_worked: Command) -> None:
    """985 is deeper than Python reads and not yet deeper than SQLite does, for `today` asks it."""
    statement = "UPDATE task SET definition = json_set(definition, '$.every', json('[]'))"
    spoil(run_worked.store, statement.replace("[]", "[" * 985 + "]" * 985))
    run_worked.refused(["today"], 3, "the store is damaged")


@pytest.mark.parametrize("command", ["today --all", "why TP-1/monthly", "cards 2027-Q1 --out {}"])
def test_a_stored_text_never_steers_the_terminal(run_worked: Command, command: str) -> None:
    """ECMA-48 (1991), 5.2 and 5.3: ESC and C1; UAX #9 (2024): overrides. Typed, it is refused."""
    assert run_worked("plan", "2027-Q1", "--save").status == 0
    spoil(
        run_worked.store,
        "UPDATE task SET definition = replace(definition, 'Monthly', '\\u001b[2J\\u009bm\\u202ey')",
    )
    out = run_worked.store.with_name("cards.html")
    told = run_worked(*command.format(out).split())
    assert told.status == 0
    assert not {"\x1b", "\x9b", "\u202e"} & set(told.out + told.err)
    assert not {"\x1b", "\x9b", "\u202e"} & set(out.read_text("utf-8") if out.exists() else "")


def test_a_message_repeats_no_mark_that_turns_the_line(run_worked: Command) -> None:
    told = run_worked.refused(["today", "--on", "\u202e2026"], 2, "'?2026' is no date")
    assert "\u202e" not in told.err


@pytest.mark.parametrize("place", ["s.db", "s.db-wal", "none/plan.csv", "s.db/plan.csv"])
def test_a_plan_whose_table_cannot_be_written_is_not_kept(
    worked_store: Path, tmp_path: Path, place: str
) -> None:
    run = Command(copied(worked_store, tmp_path / "s.db"))
    run.refused(["plan", "2027-Q1", "--save", "--csv", str(tmp_path / place)], 3, place)


def test_who_saves_a_plan_is_a_text_that_can_be_shown(run_worked: Command) -> None:
    message = "who records it holds characters that cannot be shown"
    run_worked.refused(["plan", "2027-Q1", "--save", "--by", "\x1b[31mred"], 3, message)
