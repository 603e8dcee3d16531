"""Several processes at the very same time: they make one store, and bring it up to date once."""

import json
import sqlite3
import subprocess
import sys
import threading
import time
from contextlib import closing
from pathlib import Path

import pytest

from pmtrack.errors import Refused
from pmtrack.store import database, open_store
from pmtrack.store.opening import KNOWN_STEPS
from pmtrack.store.trouble import clear_words
from tests.bench import crowd
from tests.command import PLAIN, SMALL_SHOP, Command
from tests.store import at_once

PROCESSES = 6
ROOT = Path(at_once.__file__).parents[2]


def together(store: Path, *words: str) -> list[tuple[int, str, str]]:
    """Status, answer and remarks of the same command in each process."""
    command = [sys.executable, at_once.__file__, str(store), str(PROCESSES), *words]
    ended = subprocess.run(
        command, capture_output=True, text=True, timeout=60, check=False, env=PLAIN, cwd=ROOT
    )
    assert (ended.returncode, ended.stderr) == (0, "")
    return [(status, out, err) for status, out, err in json.loads(ended.stdout)]


def test_all_who_apply_the_first_shop_make_one_store(tmp_path: Path) -> None:
    told = together(tmp_path / "new.db", "apply", str(SMALL_SHOP))
    assert [(status, err) for status, _, err in told] == [(0, "")] * PROCESSES
    assert sorted(out.splitlines()[-1] for _, out, _ in told) == [
        "19 added, 0 changed, 0 retired",
        *["nothing to change: the store is as the file says"] * (PROCESSES - 1),
    ]
    assert Command(tmp_path / "new.db")("verify").status == 0


def test_an_older_store_is_brought_up_to_date_once(worked_store: Path) -> None:
    """As if the step of exports were new."""
    with closing(sqlite3.connect(worked_store)) as connection, connection:
        connection.execute("DROP TABLE export_event")
        connection.execute("DROP TABLE export")
        connection.execute("DELETE FROM _sqlite_migrations WHERE name = 'm004_exports'")
    told = together(
        worked_store, "defer", "TP-1/monthly", "--until", "2026-12-04", "--why", "rush order"
    )
    assert [(status, err) for status, _, err in told] == [(0, "")] * PROCESSES
    numbers = sorted(int(out.split(":")[0].removeprefix("entry ")) for _, out, _ in told)
    assert numbers == list(range(11, 11 + PROCESSES))
    with closing(sqlite3.connect(worked_store)) as connection:
        steps = connection.execute("SELECT name FROM _sqlite_migrations").fetchall()
    assert sorted(name for (name,) in steps) == sorted(KNOWN_STEPS)
    assert Command(worked_store)("verify").status == 0


def test_a_crowd_loses_nothing_and_its_readers_see_whole_commands() -> None:
    """The bench of crowds in its short form."""
    ended = subprocess.run(
        [sys.executable, crowd.__file__, "--short"], capture_output=True, text=True, timeout=120,
        check=False, env=PLAIN, cwd=ROOT,
    )  # fmt: skip
    assert (ended.returncode, ended.stderr) == (0, ""), ended.stdout
    assert "30 shifts of 6 writers" in ended.stdout
    assert "none lost, none twice, none half" in ended.stdout


def test_who_waits_gets_the_turn_as_it_comes_free(worked_store: Path) -> None:
    with closing(sqlite3.connect(worked_store, isolation_level=None, check_same_thread=False)) as o:
        o.execute("BEGIN IMMEDIATE")
        leave = threading.Timer(0.3, o.execute, ("ROLLBACK",))
        with closing(open_store(worked_store)) as store:
            patience = store.row("PRAGMA busy_timeout")
            leave.start()
            start = time.monotonic()
            with store.writing():
                waited = time.monotonic() - start
            assert 0.25 < waited < 10  # far less than the 30 s of patience, on any machine
            assert store.row("PRAGMA busy_timeout") == patience
        leave.join()


@pytest.mark.parametrize("code", [sqlite3.SQLITE_BUSY, sqlite3.SQLITE_PROTOCOL])
def test_too_many_at_once_is_told_in_the_users_words(
    code: int, worked_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    trouble = sqlite3.OperationalError("locking protocol")
    trouble.sqlite_errorcode = code

    def fail() -> None:
        with clear_words(worked_store):
            raise trouble

    with pytest.raises(Refused) as told:
        fail()
    message = "many use the store at once; nothing was kept; run it again"
    assert str(told.value) == f"{worked_store}: {message}"
    monkeypatch.setattr(database, "BUSY_SECONDS", 0.05)
    with closing(sqlite3.connect(worked_store, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        Command(worked_store).refused(["job", "TP-1", "hose"], 3, message)
