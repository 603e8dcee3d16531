"""A disk that is full, and a store or folder that may only be read: told, and nothing is lost."""

import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from pmtrack.store import database
from tests.command import NOW, PLAIN, SMALL_SHOP, Command, copied, dump

ROWS = 400
WRITES = [
    ["done", "TP-1/monthly", "--measure", "pump-pressure=160"],
    ["log", "TP-1", "--hits", "5"],
    ["void", "3", "--why", "twice"],
    ["import", "shifts", "{rows}"],
]


def _typed(words: list[str], folder: Path) -> list[str]:
    """The words; a file of shifts to import is made where they name it."""
    rows = folder / "rows.csv"
    lines = [f"TP-1,day,{1990 + n // 300}-{n // 25 % 12 + 1:02}-{n % 25 + 1:02},Dana,{n}"
             for n in range(ROWS)]  # fmt: skip
    rows.write_text("\n".join(["machine,shift,date,by,hits", *lines]) + "\n")
    return [word.format(rows=rows) for word in words]


# --- no room


def test_a_store_that_may_not_grow_tells_so(
    run_worked: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite itself says that there is no room for a further page."""
    connect = sqlite3.connect

    def full(*place: object, **how: object) -> sqlite3.Connection:
        connection: sqlite3.Connection = connect(*place, **how)  # type: ignore[call-overload]
        connection.execute("PRAGMA max_page_count = 1")  # as many as there are
        return connection

    typed = _typed(WRITES[-1], tmp_path)
    with monkeypatch.context() as patched:
        patched.setattr(database.sqlite3, "connect", full)  # type: ignore[attr-defined]
        run_worked.refused(typed, 3, "the disk is full; nothing was changed; make room and repeat")
    assert run_worked(*typed).status == 0  # with room it goes on
    assert run_worked("verify").status == 0


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of one megabyte."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(folder)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("a small disk can be mounted by root alone; the page limit stands for it")
    yield folder
    subprocess.run(["umount", str(folder)], check=True)


def _fill(disk: Path, but: int) -> Path:
    """A file that takes all room but so many bytes."""
    filler = disk / "filler"
    found = os.statvfs(disk)
    filler.write_bytes(bytes(max(found.f_bavail * found.f_frsize - but, 0)))
    return filler


@pytest.mark.parametrize("room", [0, 8192, 20480, 40960])
def test_a_full_disk_costs_nothing(worked_once: Path, small_disk: Path, room: int) -> None:
    run = Command(copied(worked_once, small_disk / "shop.db"))
    before, kept = dump(run.store), 10
    rows = _typed(WRITES[-1], small_disk.parent)
    filler = _fill(small_disk, room)
    for words in (rows, *WRITES[:3]):
        told = run(*words)
        assert told.status in (0, 3)
        if told.status:
            assert told.out == ""
            assert "full; nothing was changed" in told.err
            assert told.err.startswith(f"{run.store}: ")
        kept += told.status == 0
    filler.unlink()
    assert len(run.json("entries")) == kept
    assert room or dump(run.store) == before
    assert run("verify").status == 0
    assert run(*rows).status == 0


def test_a_first_store_on_a_full_disk_is_made_when_there_is_room(small_disk: Path) -> None:
    run = Command(small_disk / "shop.db")
    filler = _fill(small_disk, 16384)
    told = run("apply", str(SMALL_SHOP))
    assert (told.status, told.out) == (3, "")
    assert "full; nothing was changed" in told.err
    filler.unlink()
    assert run("today").status == 3
    assert run("apply", str(SMALL_SHOP)).out.endswith("19 added, 0 changed, 0 retired\n")
    assert run("verify").status == 0


# --- what may only be read


@pytest.fixture
def unchangeable(worked_store: Path) -> Iterator[list[Path]]:
    """Paths put in here may only be read, by root, too, until the test is over."""
    given: list[Path] = []

    class Given(list[Path]):
        """What is put in is made so at once."""

        def append(self, path: Path) -> None:
            """Make it so."""
            _lock(path, True)
            given.append(path)

    yield Given()
    for path in given:
        _lock(path, False)


def _lock(path: Path, locked: bool) -> None:
    if os.geteuid():
        path.chmod(path.stat().st_mode & ~0o222 if locked else path.stat().st_mode | 0o200)
        return
    change = ["chattr", "+i" if locked else "-i", str(path)]
    if subprocess.run(change, capture_output=True, check=False).returncode:
        pytest.skip("this file system keeps nothing from root")


def test_a_store_that_may_only_be_read_is_read(
    run_worked: Command, unchangeable: list[Path]
) -> None:
    unchangeable.append(run_worked.store)
    for words in WRITES[:3]:
        message = "the store cannot be written; check permissions of file and folder"
        assert message in run_worked.refused(words, 3, message).err
    for words in (["today"], ["usage"], ["verify"]):
        assert run_worked(*words).status == 0


def test_a_folder_that_may_only_be_read_is_told(
    run_worked: Command, unchangeable: list[Path]
) -> None:
    before = run_worked.store.read_bytes()
    unchangeable.append(run_worked.store.parent)
    for words in (*WRITES[:3], ["today"], ["verify"]):
        told = run_worked(*words)
        assert (told.status, told.out) == (3, "")
        assert told.err == (
            f"{run_worked.store}: the store cannot be opened; "
            "you must be able to write its folder\n"
        )
    new = Command(run_worked.store.with_name("new.db"))
    assert new("apply", str(SMALL_SHOP)).status == 3
    assert not new.store.exists()
    assert run_worked.store.read_bytes() == before


# the process dies as the copy is checked
KILLED = """
import os, signal, sqlite3, sys
from pmtrack.cli import main
connect = sqlite3.connect
def watched(*place, **how):
    connection = connect(*place, **how)
    dies = lambda sql: "integrity_check" in sql and os.kill(os.getpid(), signal.SIGKILL)
    connection.set_trace_callback(dies)
    return connection
sqlite3.connect = watched
main(sys.argv[1:])
"""


def test_what_a_killed_backup_leaves_is_no_backup(run_worked: Command) -> None:
    target = run_worked.store.with_name("copy.db")
    words = ["--store", str(run_worked.store), "--now", NOW, "backup", str(target)]
    killed = subprocess.run([sys.executable, "-c", KILLED, *words], check=False, env=PLAIN)
    assert killed.returncode == -signal.SIGKILL
    assert not target.exists()
    run_worked.done("backup", str(target))
    assert dump(target) == dump(run_worked.store)


def test_a_store_that_was_a_backup_is_written_as_safely(run_worked: Command) -> None:
    """A backup is one file, without a log beside it; once written, the store has its log again."""
    run = Command(run_worked.store.with_name("copy.db"))
    run_worked.done("backup", str(run.store))
    assert _journal(run.store) == "delete"
    assert run.json("usage") == run_worked.json("usage")
    assert _journal(run.store) == "delete"  # who only reads changes nothing
    assert run.done("job", "TP-1", "replace the hose").startswith("entry 11: ")
    assert _journal(run.store) == "wal"
    assert run("verify", now=NOW).status == 0


def _journal(store: Path) -> str:
    connection = sqlite3.connect(store)
    try:
        return str(connection.execute("PRAGMA journal_mode").fetchone()[0])
    finally:
        connection.close()
