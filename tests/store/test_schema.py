"""The store's file: its steps, what it refuses by itself, and how it is opened."""

import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from pmtrack.actions.pinning import NewPin, pin, release
from pmtrack.actions.recorder import Recorder
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.facts import Moment
from pmtrack.store import Store, open_store
from pmtrack.store.opening import APPLICATION_ID, KNOWN_STEPS
from tests.command import Command

NOW = datetime(2026, 11, 25, 19, 45, tzinfo=UTC)
HEAD = "INSERT INTO entry (kind, at, day, whole_day, by, recorded_at, note) VALUES "
GOOD = (
    f"{HEAD} ('job', '2026-11-25T19:00:00Z', '2026-11-25', 0, 'Dana', '2026-11-25T19:00:00Z', '')"
)
ALL_OF = "SELECT * FROM {}"

FACT_TABLES = [
    "entry", "void", "shift_log", "count", "dial", "completion", "measurement", "deferral", "job",
    "stop", "restart", "service_change", "tool_count", "tool_event", "pin", "release",
]  # fmt: skip
PLAN_TABLES = ["plan", "plan_job"]


@pytest.fixture
def store(worked_store: Path) -> Iterator[Store]:
    """A store of the small shop with ten entries, with a row in every table of facts."""
    run = Command(worked_store)
    for line in ("done TP-1/monthly --measure pump-pressure=160",
                 "defer PB-1/weekly --until 2026-12-04 --why rush", "restart PB-1"):  # fmt: skip
        run.done(*line.split())
    counts = worked_store.with_name("counts.csv")
    counts.write_text("tool,at,hits,by\nRD-10,2026-11-25T12:00,9000,Dana\n")
    run.done("import", "tool-counts", str(counts))
    opened = open_store(worked_store)
    with opened.writing():
        recorder = Recorder(View(opened, NOW.date()), NOW, "Dana")
        moment = Moment(NOW.date(), NOW)
        pin(recorder, NewPin("TP-1/weekly", "TP-1/weekly#2", None, date(2026, 12, 1), moment))
        release(recorder, "TP-1/weekly", None, moment)
    yield opened
    opened.close()


def test_every_known_step_was_applied_once(store: Store) -> None:
    done = store.rows("SELECT migration_set, name FROM _sqlite_migrations ORDER BY name")
    assert done == [("pmtrack", name) for name in sorted(KNOWN_STEPS)]


def test_the_known_steps_are_those_of_the_schema() -> None:
    from pmtrack.store.schema import steps

    with closing(open_store(Path(":memory:"), create=True, now=NOW)) as made:
        assert tuple(step.name for step in steps.applied(made.db)) == KNOWN_STEPS
        assert steps.pending(made.db) == []


def test_an_older_store_is_brought_up_to_date(worked_store: Path) -> None:
    """As if the last step were new: its table is missing, and all else is there."""
    with closing(sqlite3.connect(worked_store)) as connection, connection:
        connection.execute("DROP TABLE export_event")
        connection.execute("DROP TABLE export")
        connection.execute("DELETE FROM _sqlite_migrations WHERE name = 'm004_exports'")
    run = Command(worked_store)
    assert run("today").status == 0
    with closing(sqlite3.connect(worked_store)) as connection:
        found = connection.execute("SELECT name FROM _sqlite_migrations").fetchall()
        assert {name for (name,) in found} == set(KNOWN_STEPS)
        assert connection.execute("SELECT count(*) FROM export").fetchone() == (0,)
    assert run("verify").status == 0


@pytest.mark.parametrize(
    ("pragma", "value"),
    [
        ("foreign_keys", 1),
        ("journal_mode", "wal"),
        ("synchronous", 3),  # EXTRA: a fact that was told is on the disk, without a -wal file, too
        ("application_id", APPLICATION_ID),
    ],
)
def test_a_store_is_opened_safely(store: Store, pragma: str, value: object) -> None:
    assert store.row(f"PRAGMA {pragma}") == (value,)


def test_every_table_is_strict(store: Store) -> None:
    loose = store.rows(
        "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table'"
        " AND NOT strict AND name NOT LIKE 'sqlite%' AND name <> '_sqlite_migrations'"
    )
    assert loose == []


@pytest.mark.parametrize("table", FACT_TABLES)
@pytest.mark.parametrize("statement", ["DELETE FROM {0}", "UPDATE {0} SET {1} = {1}"])
def test_no_fact_can_be_changed_or_taken_away(store: Store, table: str, statement: str) -> None:
    (column,) = store.row("SELECT name FROM pragma_table_info(?)", table) or ("",)
    before = store.rows(ALL_OF.format(table))
    assert before, "a trigger is tried on a row"
    with pytest.raises(Refused, match="facts are only added; void the entry"), store.writing():
        store.change(statement.format(table, column))
    assert store.rows(ALL_OF.format(table)) == before


def test_every_table_of_facts_is_guarded(store: Store) -> None:
    """A table with a reference to an entry holds facts, but for the job's task."""
    referring = store.rows(
        "SELECT DISTINCT t.name FROM sqlite_master t, pragma_foreign_key_list(t.name) f"
        " WHERE t.type = 'table' AND f.\"table\" IN ('entry', 'shift_log', 'completion')"
        " AND t.name <> 'task'"
    )
    assert {name for (name,) in referring} | {"entry"} == set(FACT_TABLES)
    guarded = store.rows("SELECT tbl_name FROM sqlite_master WHERE type = 'trigger'")
    assert sorted(name for (name,) in guarded) == sorted(2 * (FACT_TABLES + PLAN_TABLES))


BAD_ROWS = [
    GOOD.replace("'job'", "'party'"),
    GOOD.replace("'Dana'", "''"),
    GOOD.replace("'Dana'", "NULL"),
    GOOD.replace("'2026-11-25T19:00:00Z', '2026-11-25'", "'2026-11-25 19:00', '2026-11-25'"),
    GOOD.replace("'2026-11-25', 0", "'25 November', 0"),
    GOOD.replace("'2026-11-25', 0", "'2026-11-25', 2"),
    GOOD.replace("'2026-11-25', 0", "'2026-11-25', 'no'"),
    "INSERT INTO void (entry, target, why) VALUES (9, 1, '')",
    "INSERT INTO void (entry, target, why) VALUES (9, 7, 'twice')",  # crossed out already
    "INSERT INTO void (entry, target, why) VALUES (2, 9, 'before it was made')",
    "INSERT INTO void (entry, target, why) VALUES (9, 999, 'nothing there')",
    "INSERT INTO count (entry, machine, meter, amount) VALUES (1, 'TP-1', 'hours', -1)",
    "INSERT INTO count (entry, machine, meter, amount) VALUES (1, 'TP-1', 'hours', 1.5)",
    "INSERT INTO count (entry, machine, meter, amount) VALUES (1, 'TP-1', 'bends', 1)",
    "INSERT INTO count (entry, machine, meter, amount) VALUES (3, 'TP-1', 'hours', 1)",
    "INSERT INTO count (entry, machine, meter, amount) VALUES (1, 'TP-1', 'hits', 1)",
    "INSERT INTO dial VALUES (4, 'TP-1', 'hits', '2026-11-25T19:00:00Z', '2026-11-25', -1, 0, 0)",
    "INSERT INTO dial VALUES (4, 'TP-1', 'hits', '2026-11-25T19:00:00Z', '2026-11-25', 1, 1, 1)",
    "INSERT INTO completion (entry, task, at) VALUES (4, 'TP-1/none', '2026-11-25T19:00:00Z')",
    "INSERT INTO completion (entry, task, at, minutes) VALUES (4, 'TP-1/weekly', 'x', -1)",
    "INSERT INTO stop VALUES (5, 'TP-1', '2026-11-25T19:00:00Z', '2026-11-25T19:00:00Z', 0, 'x')",
    "INSERT INTO stop VALUES (5, 'TP-1', '2026-11-25T19:00:00Z', NULL, 0, '')",
    "INSERT INTO tool_event VALUES (5, 'RD-10', 'polish', NULL, NULL, NULL, NULL, NULL)",
    "INSERT INTO tool_event VALUES (5, 'RD-10', 'sharpen', NULL, 'burr', NULL, NULL, NULL)",
    "INSERT INTO tool_event VALUES (5, 'RD-10', 'fit', NULL, NULL, 'TP-1', NULL, NULL)",
    "INSERT INTO tool_event VALUES (5, 'RD-10', 'sharpen', 200000, 'burr', NULL, NULL, 0)",
    "INSERT INTO tool_event VALUES (5, 'RD-10', 'replace', NULL, NULL, NULL, NULL, 9000000)",
    "INSERT INTO tool_count VALUES (5, 'XX-1', 5, NULL)",
    "INSERT INTO tool_count VALUES (5, 'RD-10', -5, NULL)",
    "INSERT INTO pin VALUES (5, 'TP-1/none', 'TP-1/none#1', '2026-12-01', '')",
    "INSERT INTO pin VALUES (5, 'TP-1/weekly', '', '2026-12-01', '')",
    "INSERT INTO pin VALUES (5, 'TP-1/weekly', 'TP-1/weekly#2', 'soon', '')",
    "INSERT INTO release VALUES (5, 4)",  # no pin
    "INSERT INTO machine (code, position, definition) VALUES ('X', 1, 'no json')",
    "INSERT INTO machine (code, position, definition) VALUES ('TP-1', 1, '{}')",
    "INSERT INTO task (name, machine, position, definition, first_applied)"
    " VALUES ('X/a', 'X', 1, '{}', '2026-11-25')",
]


def test_a_good_row_is_taken(store: Store) -> None:
    with store.writing():
        store.change(GOOD)


@pytest.mark.parametrize("statement", BAD_ROWS)
def test_the_file_itself_refuses_rows_that_cannot_be(store: Store, statement: str) -> None:
    with pytest.raises(Refused), store.writing():
        store.change(statement)


def _stumble() -> str:
    raise KeyError


def _change(store: Store, *statements: str | Callable[[], str]) -> None:
    for statement in statements:
        store.change(statement if isinstance(statement, str) else statement())


def test_what_fails_half_way_leaves_nothing(store: Store) -> None:
    before = store.row("SELECT count(*) FROM entry")
    with pytest.raises(KeyError), store.writing():
        _change(store, GOOD, _stumble)
    with pytest.raises(Refused), store.writing():
        _change(store, GOOD, BAD_ROWS[0])
    assert store.row("SELECT count(*) FROM entry") == before
    with store.writing():  # and the store can go on
        store.change(GOOD)


def test_a_reader_sees_one_moment(worked_store: Path) -> None:
    with closing(open_store(worked_store)) as reader, closing(open_store(worked_store)) as writer:
        with reader.reading():
            before = reader.row("SELECT count(*) FROM entry")
            with writer.writing():
                writer.change(GOOD)
            assert reader.row("SELECT count(*) FROM entry") == before
        assert reader.row("SELECT count(*) FROM entry") != before


def test_two_who_make_a_store_at_once_make_one(tmp_path: Path) -> None:
    path, troubles = tmp_path / "new.db", []
    start = threading.Barrier(4)

    def make() -> None:
        start.wait()
        try:
            open_store(path, create=True, now=NOW).close()
        except Exception as trouble:
            troubles.append(trouble)

    makers = [threading.Thread(target=make) for _ in range(4)]
    for maker in makers:
        maker.start()
    for maker in makers:
        maker.join()
    assert troubles == []
    with closing(open_store(path)) as store:
        assert store.row("SELECT count(*) FROM store") == (1,)
        done = store.rows("SELECT name FROM _sqlite_migrations ORDER BY name")
        assert [name for (name,) in done] == sorted(KNOWN_STEPS)
