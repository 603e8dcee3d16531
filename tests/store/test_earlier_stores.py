"""Stores of every earlier version: brought up to date without loss, also after a kill."""

import hashlib
import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from pmtrack.store.opening import KNOWN_STEPS
from tests.command import NOW, PLAIN, Command, dump
from tests.earlier_stores import columns, earlier, facts, steps_taken

FACTS = ["two_steps", "three_steps", "four_steps", "five_steps", "seven_steps"]
USAGE = [  # by hand: the dial of the 25th; 310 cycles were crossed out; no hour was ever entered
    ("TP-1", "hits", 1_204_350, "2026-11-25T19:30:00Z"),
    ("TP-1", "hours", None, None),
    ("PB-1", "cycles", None, None),
]


def assert_answers(run: Command) -> None:
    """What the shop's history says on the day it ends."""
    told = run.json("usage")
    assert [(m["machine"], m["meter"], m["usage"], m["last_entry"]) for m in told] == USAGE
    states = run.states()
    assert states["TP-1/weekly"] == "ok"
    assert states["PB-1/weekly"] in ("ok", "deferred")
    assert "TP-1/job-9" not in states or states["TP-1/job-9"] == "ok"
    done = next(entry for entry in run.json("entries") if entry["entry"] == 3)
    assert done["note"] == 'hose ½" chafed'


@pytest.mark.parametrize("name", ["one_step", *FACTS])
def test_an_earlier_store_is_brought_up_to_date(name: str, tmp_path: Path) -> None:
    store = earlier(name, tmp_path / "x.db")
    known = columns(store)
    before = facts(store, known)
    assert 0 < steps_taken(store) < len(KNOWN_STEPS)
    run = Command(store)
    assert run("today").status == 0
    assert steps_taken(store) == len(KNOWN_STEPS)
    assert facts(store, known) == before
    assert run.done("verify") == f"{store}: sound\n"
    if name in FACTS:
        assert_answers(run)
    assert run("done", "TP-1/weekly", "--at", "2026-11-25T12:00").status == 0
    assert run.done("verify") == f"{store}: sound\n"


def test_saved_plans_and_pins_of_an_earlier_store_hold(tmp_path: Path) -> None:
    run = Command(earlier("five_steps", tmp_path / "x.db"))
    told = json.loads(run("plan", "2027-Q1", "--json").out)
    on_the_day = [job["task"] for job in told["jobs"] if job["day"] == "2027-01-18"]
    assert "TP-1/monthly" in on_the_day
    assert (told["broken_pins"], told["changes"]) == ([], [])


def test_usage_kept_in_another_form_is_worked_out_anew(tmp_path: Path) -> None:
    """On its first day pmtrack named a column otherwise; verify tells the way."""
    store = earlier("four_steps_first_day", tmp_path / "x.db")
    known = columns(store)
    before = facts(store, known)
    run = Command(store)
    told = run("verify")
    assert told.status == 3
    assert "the entries are sound" in told.err
    assert "the table tally is not as pmtrack makes it" in told.err
    run.done("unload", str(tmp_path / "plain"))
    run.done("load", str(tmp_path / "plain"), "--over")
    assert facts(store, known) == before
    assert run("verify").status == 0
    assert_answers(run)


@pytest.mark.parametrize("name", ["two_steps", "four_steps", "five_steps"])
def test_an_earlier_backup_is_restored(name: str, run_worked: Command, tmp_path: Path) -> None:
    backup = earlier(name, tmp_path / "old.db")
    known, before = columns(backup), dump(backup)
    expected = facts(backup, known)
    run_worked.done("restore", str(backup), "--over")
    assert dump(backup) == before
    assert facts(run_worked.store, known) == expected
    assert run_worked("verify").status == 0
    assert_answers(run_worked)


def test_plain_files_of_an_earlier_store_are_loaded(run_worked: Command, tmp_path: Path) -> None:
    """As if unloaded before lengths were kept: three steps and a column less."""
    folder, run = tmp_path / "plain", Command(tmp_path / "new.db")
    run_worked.done("unload", str(folder))
    index = json.loads((folder / "index.json").read_text())
    assert index["steps"][5:] == ["m006_lengths", "m007_rhythm", "m008_open_stops"]
    del index["steps"][5:]
    file = folder / "tool-event.csv"
    text = file.read_bytes().decode().replace(",length\r\n", "\r\n").replace(",\\N\r\n", "\r\n")
    file.write_bytes(text.encode())
    listed = next(table for table in index["tables"] if table["table"] == "tool_event")
    listed["sha256"] = hashlib.sha256(text.encode()).hexdigest()
    (folder / "index.json").write_text(json.dumps(index))
    run.done("load", str(folder))
    assert run("verify").status == 0
    assert run.json("entries") == run_worked.json("entries")
    index["steps"] = ["m001_description"]
    (folder / "index.json").write_text(json.dumps(index))
    told = Command(tmp_path / "other.db")("load", str(folder))
    assert told.status == 3
    assert f"{folder}/index.json: a store of these steps has no table void" in told.err


# dies after so many hundreds of steps of SQLite's machine, or as the transaction is to end; without
# a number it tells how many hundreds there were
DYING = """
import os, signal, sys
from pathlib import Path
from pmtrack.store import open_store, opening
when, store = sys.argv[1:]
seen = 0
def die():
    os.kill(os.getpid(), signal.SIGKILL)
def count():
    global seen
    seen += 1
    if when.isdigit() and seen > int(when):
        die()
def watched(store, bring=opening._bring_up_to_date):
    store._connection.set_progress_handler(count, 100)
    store._connection.set_trace_callback(lambda sql: when == sql == "COMMIT" and die())
    bring(store)
    store._connection.set_progress_handler(None, 100)
opening._bring_up_to_date = watched
open_store(Path(store)).close()
print(seen)
"""


def opened(store: Path, when: str) -> subprocess.CompletedProcess[str]:
    """Open a store in a process of its own that may be killed meanwhile."""
    words = [sys.executable, "-c", DYING, when, str(store)]
    return subprocess.run(words, env=PLAIN, check=False, capture_output=True, text=True)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal here")
@pytest.mark.parametrize("name", ["two_steps", "four_steps"])
def test_a_kill_while_a_store_is_brought_up_to_date_loses_nothing(
    name: str, tmp_path: Path
) -> None:
    steps = int(opened(earlier(name, tmp_path / "whole.db"), "never").stdout)
    assert steps > 10
    store = earlier(name, tmp_path / "x.db")
    known, before, taken = columns(store), dump(store), steps_taken(store)
    for when in (str(steps // 3), str(steps * 9 // 10), "COMMIT"):
        assert opened(store, when).returncode == -signal.SIGKILL, when
        assert (dump(store), steps_taken(store)) == (before, taken)
    expected = facts(store, known)
    run = Command(store)
    assert run("today", now=NOW).status == 0
    assert steps_taken(store) == len(KNOWN_STEPS)
    assert facts(store, known) == expected
    assert run("verify").status == 0
    assert_answers(run)
