"""Saved plans, what they cost to ask, and the step that brought them into older stores."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from pmtrack.errors import Refused
from pmtrack.rules.plan import PlacedJob, Plan, UnfitJob
from pmtrack.rules.shop import Task
from pmtrack.store import Store, open_store
from pmtrack.store.database import Row
from pmtrack.store.opening import KNOWN_STEPS
from pmtrack.store.planned import planned_on
from pmtrack.store.plans import (
    last_plan,
    last_saving,
    rules_when_saved,
    save_plan,
    standing_pins,
)
from pmtrack.store.upkeep import verify
from tests.build import day, task
from tests.old_store import five_steps, four_steps, reads

NOW = datetime(2026, 12, 10, 20, 45, tzinfo=UTC)
ALL_OF = "SELECT * FROM {}"
MONTHLY = task("1 month", code="monthly", title="Monthly service", minutes=90)
YEARLY = task("12 months, 4000 hours", code="yearly", title="Outside service", crew="press")
EXIT_LAMPS = task(on="FREQ=MONTHLY;BYDAY=1MO", code="lamps", title="Exit lamps")
TASKS = {job.name: job for job in (MONTHLY, YEARLY, EXIT_LAMPS)}
FULL = Plan(
    jobs=(
        PlacedJob(
            key="TP-1/monthly#5", task=MONTHLY, due_on=day("2027-01-15"), day=day("2027-01-14"),
            window=(day("2027-01-12"), day("2027-01-18")), lead=3, pinned=True,
            why=("Due Fri 2027-01-15: every 1 month.",), remarks=("the range is wide", "sooner"),
        ),
        PlacedJob(
            key="TP-1/yearly#2", task=YEARLY, due_on=day("2027-02-01"), day=day("2027-02-03"),
            window=(day("2027-01-18"), day("2027-02-15")), lead=7,
            due_range=(day("2027-01-20"), day("2027-02-20")), visit="press 2027-Q1 visit 1",
        ),
    ),
    unfit=(
        UnfitJob(
            key="TP-1/lamps@2027-01-04", task=EXIT_LAMPS, kind="closed", reason="shutdown",
            cure="open a day", due_on=day("2027-01-04"),
            window=(day("2027-01-01"), day("2027-01-04")), earliest=day("2027-01-05"),
        ),
        UnfitJob(key="TP-1/monthly#6", task=MONTHLY, kind="unknown", reason="?", cure="read it"),
    ),
    gap=0.0125,
)  # fmt: skip


@pytest.fixture
def store() -> Iterator[Store]:
    """An empty store in memory."""
    with closing(open_store(Path(":memory:"), create=True, now=NOW)) as opened:
        yield opened


def save(store: Store, period: str, plan: Plan) -> int:
    """Save a plan in a transaction of its own."""
    with store.writing():
        return save_plan(store, period, NOW, "Dana", plan)


def placed(key: str, on: str, visit: str | None = None) -> PlacedJob:
    """A job of the monthly or another task on a day."""
    when = day(on)
    name = key.split("#")[0]
    machine, code = name.split("/")
    job = TASKS.get(name) or Task(machine, code, "Other")
    return PlacedJob(key, job, when, when, (when, when), 1, visit=visit)


# --- saved and read back


def test_a_plan_reads_back_as_it_was_saved(tmp_path: Path) -> None:
    path = tmp_path / "plans.db"
    with closing(open_store(path, create=True, now=NOW)) as store:
        save(store, "2027-Q1", FULL)
    with closing(open_store(path)) as store:
        assert last_plan(store, "2027-Q1", TASKS) == FULL
        # the shop of these tasks was never applied; nothing else is wrong
        assert {fault.split(": ")[1][:16] for fault in verify(store)} == {"there is no task"}


def test_a_period_without_a_plan_has_none(store: Store) -> None:
    save(store, "2027-Q1", FULL)
    assert last_plan(store, "2027-Q2", TASKS) is None
    assert last_saving(store, "2027-Q2") is None
    assert rules_when_saved(store, "2027-Q2") == {}


def test_an_empty_plan_is_a_plan(store: Store) -> None:
    save(store, "2027-Q1", Plan())
    assert last_plan(store, "2027-Q1", TASKS) == Plan()


def test_the_plan_saved_last_counts_and_the_one_before_is_kept(store: Store) -> None:
    later = replace(FULL, jobs=FULL.jobs[:1], unfit=(), gap=0.0)
    numbers = [save(store, "2027-Q1", FULL), save(store, "2027-Q1", later)]
    assert numbers == [1, 2]
    assert last_plan(store, "2027-Q1", TASKS) == later
    assert store.rows("SELECT plan, count(*) FROM plan_job GROUP BY plan") == [(1, 4), (2, 1)]
    saving = last_saving(store, "2027-Q1")
    assert saving is not None
    assert (saving.number, saving.at, saving.by) == (2, NOW, "Dana")


def test_a_task_that_is_gone_is_known_by_its_title_alone(store: Store) -> None:
    save(store, "2027-Q1", FULL)
    found = last_plan(store, "2027-Q1", {"TP-1/yearly": YEARLY})
    assert found is not None
    assert [job.task for job in found.jobs] == [Task("TP-1", "monthly", "Monthly service"), YEARLY]
    assert found.unfit[0].task == Task("TP-1", "lamps", "Exit lamps")
    assert found.jobs[0].window == FULL.jobs[0].window


def test_the_tasks_are_those_of_today(store: Store) -> None:
    """A saved plan does not bring back what the shop file said of a task then."""
    save(store, "2027-Q1", FULL)
    quicker = replace(MONTHLY, minutes=45)
    found = last_plan(store, "2027-Q1", {**TASKS, MONTHLY.name: quicker})
    assert found is not None
    assert found.jobs[0].task.minutes == 45


def test_what_made_a_task_due_is_kept_in_words(store: Store) -> None:
    save(store, "2027-Q1", FULL)
    assert rules_when_saved(store, "2027-Q1") == {
        "TP-1/monthly": "1 month",
        "TP-1/yearly": "12 months or 4000 hours",
        "TP-1/lamps": "every month on the first Monday",
    }


@pytest.mark.parametrize("table", ["plan", "plan_job"])
@pytest.mark.parametrize("statement", ["DELETE FROM {0}", "UPDATE {0} SET {1} = {1}"])
def test_no_saved_plan_can_be_changed(store: Store, table: str, statement: str) -> None:
    save(store, "2027-Q1", FULL)
    column = {"plan": "period", "plan_job": "day"}[table]
    before = store.rows(ALL_OF.format(table))
    with pytest.raises(Refused, match="saved plans are kept; save a new one"), store.writing():
        store.change(statement.format(table, column))
    assert store.rows(ALL_OF.format(table)) == before


# --- the day's jobs


def test_a_day_has_the_jobs_of_the_last_plan_of_each_period(store: Store) -> None:
    """Friday 1 January: the earlier plan of Q1 is replaced, the plan of Q4 reaches into it."""
    save(store, "2027-Q1", Plan(jobs=(placed("TP-1/monthly#5", "2027-01-01"),)))
    now = (placed("TP-1/yearly#2", "2027-01-01", "press 2027-Q1 visit 1"),
           placed("TP-1/monthly#5", "2027-01-04"))  # fmt: skip
    save(store, "2027-Q1", Plan(jobs=now))
    save(store, "2026-Q4", Plan(jobs=(placed("PB-1/daily#9", "2027-01-01"),)))
    assert planned_on(store, day("2027-01-01")) == [
        ("PB-1/daily#9", "PB-1/daily", None),
        ("TP-1/yearly#2", "TP-1/yearly", "press 2027-Q1 visit 1"),
    ]
    assert planned_on(store, day("2027-01-04")) == [("TP-1/monthly#5", "TP-1/monthly", None)]
    assert planned_on(store, day("2027-01-05")) == []


def test_a_job_in_two_periods_is_where_the_plan_saved_later_has_it(store: Store) -> None:
    save(store, "2027-Q1", Plan(jobs=(placed("TP-1/monthly#5", "2027-03-31"),)))
    save(store, "2027-Q2", Plan(jobs=(placed("TP-1/monthly#5", "2027-04-02"),)))
    assert planned_on(store, day("2027-03-31")) == []
    assert planned_on(store, day("2027-04-02")) == [("TP-1/monthly#5", "TP-1/monthly", None)]
    save(store, "2027-Q1", Plan(jobs=(placed("TP-1/monthly#5", "2027-03-30"),)))
    assert planned_on(store, day("2027-03-30")) == [("TP-1/monthly#5", "TP-1/monthly", None)]
    assert planned_on(store, day("2027-04-02")) == []


def test_no_plan_plans_nothing(store: Store) -> None:
    assert planned_on(store, day("2027-01-04")) == []


class Explaining(Store):
    """A store that notes how SQLite goes about each question."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        super().__init__(path, connection)
        self.ways: list[str] = []

    def rows(self, sql: str, *values: object) -> list[Row]:
        """The rows, with the way noted."""
        self.ways += [row[3] for row in super().rows(f"EXPLAIN QUERY PLAN {sql}", *values)]
        return super().rows(sql, *values)

    def row(self, sql: str, *values: object) -> Row | None:
        """The first row, with the way noted."""
        self.rows(sql, *values)
        return super().row(sql, *values)


@pytest.mark.parametrize(
    "question",
    [
        lambda store: last_plan(store, "2027-Q1", TASKS),
        lambda store: last_saving(store, "2027-Q1"),
        lambda store: rules_when_saved(store, "2027-Q1"),
        lambda store: planned_on(store, day("2027-01-14")),
        lambda store: standing_pins(store, day("2027-01-14")),
    ],
    ids=["last plan", "last saving", "rules", "planned on", "pins"],
)
def test_no_question_reads_all_the_plans_ever_saved(tmp_path: Path, question: Any) -> None:
    path = tmp_path / "plans.db"
    with closing(open_store(path, create=True, now=NOW)) as store:
        save(store, "2027-Q1", FULL)
    with closing(sqlite3.connect(path)) as connection:
        store = Explaining(path, connection)
        question(store)
        assert store.ways, "the question was asked"
        for table in ("plan", "plan_job", "job", "other", "pin", "entry"):
            assert not [way for way in store.ways if way.split(" USING")[0] == f"SCAN {table}"]


def test_the_day_is_found_as_quickly_after_many_savings(store: Store) -> None:
    """Counted in steps of SQLite's machine: 300 savings more of one period cost nothing."""

    def steps() -> int:
        counted = 0

        def count() -> int:
            nonlocal counted
            counted += 1
            return 0

        store.db.conn.set_progress_handler(count, 1)
        assert len(planned_on(store, day("2027-01-14"))) == 1
        store.db.conn.set_progress_handler(None, 1)
        return counted

    save(store, "2027-Q1", FULL)
    few = steps()
    with store.writing():
        for _ in range(300):
            save_plan(store, "2027-Q1", NOW, "Dana", FULL)
    assert steps() < few + 20


# --- the step


@pytest.mark.parametrize(("older", "plans"), [(four_steps, False), (five_steps, True)])
def test_an_old_store_is_brought_up_to_date(
    worked_store: Path, tmp_path: Path, older: Callable[[Path, Path], Path], plans: bool
) -> None:
    """Every row is as it was, every reference holds, and the tables are those of a new store."""
    old = older(worked_store, tmp_path / "old.db")
    queries = reads(old)
    with closing(sqlite3.connect(old)) as connection:
        before = {table: connection.execute(sql).fetchall() for table, sql in queries.items()}
        assert len(before["entry"]) == 10
        assert before["void"]
        assert before["tool_event"]
        assert "length" not in queries["tool_event"]
        tables = "SELECT count(*) FROM sqlite_master WHERE name = 'plan'"
        assert connection.execute(tables).fetchone() == (int(plans),)
    with closing(open_store(old)) as store, closing(open_store(worked_store)) as new:
        assert {table: store.rows(sql) for table, sql in queries.items()} == before
        assert store.rows("SELECT DISTINCT length FROM tool_event") == [(None,)]
        assert verify(store) == []
        assert store.row("PRAGMA foreign_keys") == (1,)
        schema = "SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name"
        assert store.rows(schema) == new.rows(schema)
        done = store.rows("SELECT name FROM _sqlite_migrations ORDER BY name")
        assert [name for (name,) in done] == sorted(KNOWN_STEPS)


def test_a_store_brought_up_to_date_goes_on_as_before(worked_store: Path, tmp_path: Path) -> None:
    """It counts on from the last entry, guards the facts, and takes pins but no unknown kinds."""
    old = four_steps(worked_store, tmp_path / "old.db")
    with closing(open_store(old)) as store:
        entry = {"at": "2026-12-10T20:00:00Z", "day": "2026-12-10", "whole_day": 0, "by": "Dana",
                 "recorded_at": "2026-12-10T20:00:00Z", "note": ""}  # fmt: skip
        with store.writing():
            number = store.add("entry", kind="pin", **entry)
            store.add("pin", entry=number, task="TP-1/weekly", key="TP-1/weekly#2",
                      pinned_to="2026-12-14", why="")  # fmt: skip
        assert number == 11
        with pytest.raises(Refused), store.writing():
            store.add("entry", kind="party", **entry)
        with pytest.raises(Refused, match="facts are only added"), store.writing():
            store.change("UPDATE entry SET note = 'x'")
        with pytest.raises(Refused), store.writing():  # 99 is no entry
            store.add("void", entry=99, target=1, why="x")


def test_a_step_that_fails_leaves_the_old_store_as_it_was(
    worked_store: Path, tmp_path: Path
) -> None:
    """A table of that name is in the way of the last statements, after the entries were copied."""
    old = four_steps(worked_store, tmp_path / "old.db")
    with closing(sqlite3.connect(old)) as connection:
        connection.execute("CREATE TABLE plan_job (x)")
        connection.commit()
        before = list(connection.iterdump())
    with pytest.raises(Refused):
        open_store(old)
    with closing(sqlite3.connect(old)) as connection:
        assert list(connection.iterdump()) == before


# --- rows that cannot be


@pytest.mark.parametrize(
    ("table", "row"),
    [
        ("plan", {"period": "", "at": "2026-12-10T20:00:00Z", "by": "Dana", "gap": 0.0}),
        ("plan", {"period": "2027-Q1", "at": "today", "by": "Dana", "gap": 0.0}),
        ("plan", {"period": "2027-Q1", "at": "2026-12-10T20:00:00Z", "by": "", "gap": 0.0}),
        ("plan", {"period": "2027-Q1", "at": "2026-12-10T20:00:00Z", "by": "D", "gap": -0.1}),
        ("plan_job", {"plan": 9, "key": "k", "task": "t", "day": None, "definition": "{}"}),
        ("plan_job", {"plan": 1, "key": "", "task": "t", "day": None, "definition": "{}"}),
        ("plan_job", {"plan": 1, "key": "k", "task": "t", "day": "soon", "definition": "{}"}),
        ("plan_job", {"plan": 1, "key": "k", "task": "t", "day": None, "definition": "none"}),
        ("plan_job", {"plan": 1, "key": "TP-1/monthly#5", "task": "TP-1/monthly", "day": None,
                      "definition": "{}"}),
        ("pin", {"entry": 1, "task": "TP-1/none", "key": "k", "pinned_to": "2027-01-04",
                 "why": ""}),
        ("release", {"entry": 1, "target": 1}),
    ],
)  # fmt: skip
def test_the_file_itself_refuses(store: Store, table: str, row: dict[str, Any]) -> None:
    save(store, "2027-Q1", FULL)
    with pytest.raises(Refused), store.writing():
        store.add(table, **row)


def test_a_damaged_plan_is_told_as_such(store: Store) -> None:
    with store.writing():
        number = store.add("plan", period="2027-Q1", at="2026-12-10T20:00:00Z", by="D", gap=0.0)
        store.add("plan_job", plan=number, key="k", task="t", day="2027-01-04", definition="{}")
    with pytest.raises(Refused, match="the store is damaged"):
        last_plan(store, "2027-Q1", {})


def test_a_plan_of_twenty_thousand_jobs_is_kept_whole(store: Store) -> None:
    """As many jobs as a shop of 2,000 machines has in a quarter."""
    first = date(2027, 1, 4)
    days = [first + timedelta(days=n % 88) for n in range(20_000)]
    jobs = tuple(placed(f"M-{n}/check#1", str(on)) for n, on in enumerate(days))
    save(store, "2027-Q1", Plan(jobs=jobs))
    found = last_plan(store, "2027-Q1", {job.task.name: job.task for job in jobs})
    assert found is not None
    assert found.jobs == jobs
    # 20,000 over 88 days: 227 each, and one more on each of the first 24
    assert [len(planned_on(store, first + timedelta(days=n))) for n in (0, 23, 24)] == [
        228, 228, 227,
    ]  # fmt: skip
