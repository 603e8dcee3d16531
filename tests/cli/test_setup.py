"""Setting up: check, apply, apply again, retire and bring back, and a changed counter."""

import re
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from pmtrack import demo
from pmtrack.actions.setup import apply_shop
from pmtrack.rules.shop import Shop
from pmtrack.store import Store, open_store
from tests.command import APPLIED, SMALL_SHOP, Command, assert_fits, dump, trimmed

TEXT = SMALL_SHOP.read_text()
BELT = TEXT[TEXT.index("  - code: belt") : TEXT.index("  - code: look")]

ADDED = """\
added    shop      Quillback Sheet Works
added    supplier  press-service
added    machine   TP-1
added    machine   PB-1
added    machine   FE-1
added    meter     TP-1/hits
added    meter     TP-1/hours
added    meter     PB-1/cycles
added    task      TP-1/weekly
added    task      PB-1/weekly
added    task      TP-1/monthly
added    task      TP-1/half-year
added    task      PB-1/belt
added    task      FE-1/look
added    material  mild
added    material  stainless
added    tool      RD-10
added    tool      SQ-5
added    program   KIOSK-DOOR
19 added, 0 changed, 0 retired"""


def changed(run: Command, old: str, new: str) -> str:
    """The path of the shop file with one piece replaced."""
    assert TEXT.count(old) == 1, old
    path = run.store.with_name("changed.yaml")
    path.write_text(TEXT.replace(old, new))
    return str(path)


def test_the_first_apply_makes_the_store_and_tells_what_it_adds(run: Command) -> None:
    fresh = Command(run.store.with_name("new.db"))
    assert trimmed(fresh.done("apply", str(SMALL_SHOP))) == ADDED.split("\n")
    assert fresh.done("verify").endswith("sound\n")


def test_check_changes_nothing_and_needs_no_store(run: Command) -> None:
    nowhere = Command(run.store.with_name("none.db"))
    told = nowhere.done("check", str(SMALL_SHOP))
    assert told == f"{SMALL_SHOP}: no faults; 3 machines, 6 tasks, 2 tools, 1 programs\n"
    assert not nowhere.store.exists()


WEEKLY = "    minutes: 20\n    last_done: {on: 2026-11-20}"  # a Friday


@pytest.mark.parametrize("command", ["check", "apply"])
@pytest.mark.parametrize(
    ("on", "now", "today"),
    [
        ("2026-11-26", "2026-11-25T14:45", "2026-11-25"),
        ("2062-11-20", "2026-11-25T14:45", "2026-11-25"),
        ("2026-11-25", "2026-11-24T23:59", "2026-11-24"),  # in UTC the next day has begun
    ],
)
def test_what_is_told_as_done_later_than_today_is_refused(
    run: Command, command: str, on: str, now: str, today: str
) -> None:
    path = changed(run, WEEKLY, WEEKLY.replace("2026-11-20", on))
    line = TEXT[: TEXT.index(WEEKLY)].count("\n") + 2
    told = run.refused([command, path], 3, f"{path}:{line}: tasks[0].last_done.on: ", now=now)
    assert told.err.endswith(
        f"{on} lies after today, {today}; write the day it was last done, "
        "or take last_done out and write starts\n"
    )


@pytest.mark.parametrize("command", ["check", "apply"])
def test_what_is_told_as_done_today_is_taken(run: Command, command: str) -> None:
    path = changed(run, WEEKLY, WEEKLY.replace("2026-11-20", "2026-11-25"))
    assert run(command, path, now="2026-11-25T00:00").status == 0


def test_applying_twice_changes_nothing(run: Command) -> None:
    before = dump(run.store)
    told = run.done("apply", str(SMALL_SHOP), now="2026-12-09T09:00", env={"PMTRACK_BY": "Mia"})
    assert told == "nothing to change: the store is as the file says\n"
    assert dump(run.store) == before


def test_every_fault_is_told_at_once_and_nothing_is_applied(run: Command) -> None:
    path = run.store.with_name("faulty.yaml")
    path.write_text(
        TEXT.replace("every: 1 week", "every: 1 fortnight").replace("crew: press-service",
                                                                    "crew: nobody")
        .replace("name: Press brake", "nmae: Press brake")
    )  # fmt: skip
    for command in ("check", "apply"):
        told = run.refused([command, str(path)], 3, "fortnight")
        lines = told.err.splitlines()
        assert len(lines) >= 3
        assert all(re.match(rf"{re.escape(str(path))}:\d+: ", line) for line in lines)
        assert "nobody" in told.err
        assert "nmae" in told.err


def test_a_change_names_its_fields(run: Command) -> None:
    told = run.done("apply", changed(run, "every: 1 month\n", "every: 2 months\n"))
    assert trimmed(told) == [
        "changed  task      TP-1/monthly (every)",
        "0 added, 1 changed, 0 retired",
    ]
    # 25 October + 2 months
    due = {i["task"]: i["due_on"] for i in run.json("today", "--all")["items"]}
    assert due["TP-1/monthly"] == "2026-12-25"


def test_what_disappears_is_retired_with_its_history_and_can_come_back(run: Command) -> None:
    run.done("log", "PB-1", "--count", "cycles=1200", "--shift", "day", "--date", "2026-11-24")
    run.done("done", "PB-1/belt", "--at", "2026-11-25T08:00")
    before = run.json("why", "PB-1/belt")
    told = run.done("apply", changed(run, BELT, ""))
    assert trimmed(told) == ["retired  task      PB-1/belt", "0 added, 0 changed, 1 retired"]
    assert run.states()["PB-1/belt"] == "retired"
    assert run.states(now="2029-01-02T08:00")["PB-1/belt"] == "retired"
    assert "PB-1/belt" not in {item["task"] for item in run.json("today")["items"]}
    run.refused(["done", "PB-1/belt"], 3, "PB-1/belt is retired since 2026-11-25")
    # retired from the day of that apply on
    day_before = {i["task"]: i["state"] for i in
                  run.json("today", "--all", "--on", "2026-11-24")["items"]}  # fmt: skip
    assert day_before["PB-1/belt"] == "ok"
    told = run.done("apply", str(SMALL_SHOP), now="2026-11-25T15:00")
    assert trimmed(told) == [
        "added    task      PB-1/belt (again)",
        "1 added, 0 changed, 0 retired",
    ]
    assert run.json("why", "PB-1/belt") == before


def test_a_machine_that_disappears_takes_its_tasks_along(run: Command) -> None:
    run.done("log", "PB-1", "--count", "cycles=1200", "--shift", "day", "--date", "2026-11-24")
    path = run.store.with_name("changed.yaml")
    machine = TEXT[TEXT.index("  - code: PB-1") : TEXT.index("  - {code: FE-1")]
    path.write_text(TEXT.replace(machine, "").replace(BELT, "").replace("[TP-1, PB-1]", "[TP-1]"))
    assert trimmed(run.done("apply", str(path))) == [
        "retired  machine   PB-1",
        "retired  meter     PB-1/cycles",
        "retired  task      PB-1/weekly",
        "retired  task      PB-1/belt",
        "0 added, 0 changed, 4 retired",
    ]
    run.refused(["log", "PB-1", "--count", "cycles=5"], 3, "machine PB-1 is retired")
    assert {row["machine"] for row in run.json("usage")} == {"TP-1"}
    assert "cycles 1,200" in run.done("entries")
    run.done("apply", str(SMALL_SHOP))
    assert run.json("usage")[2]["usage"] == 1200


def test_a_changed_wrap_of_a_counter_corrects_the_usage(run: Command) -> None:
    for dial in (["hits=9999000", "--at", "2026-11-25T07:00"],
                 ["hits=500", "--at", "2026-11-25T08:00", "--wrapped", "hits"]):  # fmt: skip
        assert run("log", "TP-1", "--dial", *dial).status == 0
    assert run.json("usage")[0]["usage"] == 10_000_500
    run.done("apply", changed(run, "wraps_at: 10000000", "wraps_at: 100000000"))
    assert run.json("usage")[0]["usage"] == 100_000_500
    assert run("verify").status == 0
    run.done("apply", str(SMALL_SHOP))
    assert run.json("usage")[0]["usage"] == 10_000_500
    assert run("verify").status == 0


def test_the_person_who_applied_is_kept(run: Command) -> None:
    path = changed(run, "crew_hours: 6", "crew_hours: 7")
    run.done("apply", path, "--by", "Mia")
    assert any("'Mia'" in line for line in dump(run.store) if '"applied"' in line)
    run.refused(["apply", path, "--by", " "], 3, "say who records it, like --by Dana")


@pytest.mark.parametrize(
    ("option", "env", "who"),
    [
        (["--by", "Mia"], {"PMTRACK_BY": "Dana"}, "Mia"),
        ([], {"PMTRACK_BY": "Dana"}, "Dana"),
        ([], {"PMTRACK_BY": "", "LOGNAME": "rosa", "USER": "rosa"}, "rosa"),
    ],
)
def test_who_records_is_told_or_known(
    run: Command, option: list[str], env: dict[str, str], who: str
) -> None:
    run.done("done", "PB-1/weekly", *option, env=env)
    assert run.json("entries")[0]["by"] == who


def test_store_and_now_may_stand_in_the_environment(run: Command) -> None:
    told = run.done("today", now=None, env={"PMTRACK_NOW": APPLIED})
    assert told.startswith("Monday 2026-11-23: ")


def test_a_demo_leaves_a_shop_alone(run: Command) -> None:
    run.refused(["demo"], 3, "a store is here already, and it is no demo; name another file")


def test_a_day_in_another_zone_is_the_shops_day(run: Command) -> None:
    # half past midnight in New York is still the evening before in Los Angeles
    told = run.done("today", now="2026-11-24T21:30-08:00")
    assert told.startswith("Wednesday 2026-11-25: ")
    assert_fits(told)


def test_a_demo_whose_making_was_killed_is_built_the_next_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed after the store was made, or before: a file with nothing in it. No year, for speed."""

    def apply(store: Store, shop: Shop, now: datetime) -> None:
        apply_shop(store, shop, now, "Dana")

    monkeypatch.setattr(demo, "build_demo", apply)
    run = Command(tmp_path / "demo.db")
    with closing(sqlite3.connect(run.store)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
    assert run.store.stat().st_size
    run.refused(["today"], 3, "no store here; make one with 'pmtrack apply shop.yaml'")
    open_store(run.store, create=True, demo=True, now=datetime(2026, 11, 2, tzinfo=UTC)).close()
    run.refused(["today"], 3, "no shop yet")
    assert "Try next:" in run("demo").out
    assert run("verify").status == 0
    before = run.store.read_bytes()
    assert "Try next:" in run("demo").out  # one that is there is left alone
    assert run.store.read_bytes() == before
