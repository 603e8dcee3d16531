"""A backup put in the place of the store: what is told, what is refused, who has it open."""

import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from pmtrack.actions.crossing_out import void
from pmtrack.actions.recorder import Recorder
from pmtrack.actions.view import View
from pmtrack.rules.facts import Moment
from pmtrack.store import database, open_store
from tests.command import NOW, PLAIN, Command, copied, dump

OLD = "Quillback Sheet Works, 10 entries, the last at 2026-11-25 14:45"
NEW = "Quillback Sheet Works, 12 entries, the last at 2026-11-25 14:45"
AT = datetime(2026, 11, 25, 19, 45, tzinfo=UTC)


@pytest.fixture
def backup(run_worked: Command) -> Path:
    """A backup of ten entries; the store has two more."""
    copy = run_worked.store.with_name("copy.db")
    run_worked.done("backup", str(copy))
    run_worked("done", "TP-1/monthly")
    run_worked.done("job", "TP-1", "oil leak")
    return copy


def test_what_would_be_lost_is_told_before_and_after(run_worked: Command, backup: Path) -> None:
    told = run_worked.refused(["restore", str(backup)], 3, "a store is here; nothing was changed")
    assert told.err.splitlines()[1:] == [
        f"  here: {NEW}",
        f"  {backup}: {OLD}",
        "  'pmtrack backup FILE' keeps what is here; then repeat with --over",
    ]
    told_then = run_worked.done("restore", str(backup), "--over")
    assert told_then == f"{run_worked.store} is now as {backup}\n  before: {NEW}\n  now: {OLD}\n"
    assert dump(run_worked.store) == dump(backup)
    assert run_worked.done("verify") == f"{run_worked.store}: sound\n"
    assert run_worked("done", "TP-1/monthly").out.startswith("entry 11: ")


def test_a_backup_becomes_a_store_where_none_is(backup: Path, tmp_path: Path) -> None:
    run = Command(tmp_path / "new.db")
    assert run.done("restore", str(backup)) == f"{run.store} is now as {backup}\n  now: {OLD}\n"
    assert dump(run.store) == dump(backup)
    with closing(sqlite3.connect(run.store)) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert {file.name for file in tmp_path.iterdir()} >= {"new.db", "copy.db", "pmtrack.db"}
    assert [file.name for file in tmp_path.iterdir() if file.name.startswith(".")] == []


def test_what_an_old_store_left_beside_is_not_mixed_in(backup: Path, tmp_path: Path) -> None:
    """The -wal of a store that is gone would be taken for the new one's."""
    run = Command(tmp_path / "new.db")
    left = tmp_path / "new.db-wal"
    left.write_bytes(b"left by another")
    run.refused(["restore", str(backup)], 3, "left here by another store; add --over if it may go")
    assert left.read_bytes() == b"left by another"
    run.done("restore", str(backup), "--over")
    assert not left.exists()
    assert dump(run.store) == dump(backup)


def test_an_empty_file_is_no_store_to_lose(backup: Path, tmp_path: Path) -> None:
    run = Command(tmp_path / "new.db")
    run.store.touch()
    run.done("restore", str(backup))
    assert dump(run.store) == dump(backup)


def test_a_store_may_be_named_by_a_link(backup: Path, tmp_path: Path) -> None:
    """Also one that leads to no file yet."""
    link, store = tmp_path / "link.db", tmp_path / "disk" / "new.db"
    store.parent.mkdir()
    link.symlink_to(store)
    Command(link).done("restore", str(backup))
    assert dump(store) == dump(backup)
    Command(link).refused(["restore", str(backup)], 3, "a store is here")
    Command(link).done("restore", str(backup), "--over")
    assert link.is_symlink()
    assert [file.name for file in store.parent.iterdir()] == ["new.db"]


@pytest.mark.parametrize(
    ("spoil", "message"),
    [
        ("DELETE FROM tally", "the usage kept differs from its entries"),
        ("INSERT INTO void VALUES (99, 3, 'x')", "the entry that it names is not there"),
        ("PRAGMA application_id = 7", "this is no pmtrack store"),
        ("DROP TABLE plan_job", "the table plan_job is missing"),
        (
            "INSERT INTO _sqlite_migrations VALUES (9, 'pmtrack', 'm999_later', '')",
            "made by a newer pmtrack (it knows m999_later); update pmtrack",
        ),
    ],
)
def test_a_backup_that_is_not_sound_is_refused(
    spoil: str, message: str, run_worked: Command, backup: Path, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(backup)) as connection, connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute(spoil)
    before = backup.read_bytes()
    told = run_worked.refused(["restore", str(backup), "--over"], 3, message)
    assert told.err.startswith(f"{backup}: ")
    Command(tmp_path / "new.db").refused(["restore", str(backup)], 3, message)
    assert not (tmp_path / "new.db").exists()
    assert backup.read_bytes() == before


def test_what_is_no_backup_and_no_place_for_one(
    run_worked: Command, backup: Path, tmp_path: Path
) -> None:
    text, store = tmp_path / "notes.txt", run_worked.store
    text.write_text("no store " * 20)
    run_worked.refused(["restore", str(text)], 3, "this is no pmtrack store")
    run_worked.refused(["restore", str(tmp_path / "none.db")], 3, "no backup here")
    run_worked.refused(["restore", str(tmp_path)], 3, "no backup here")
    run_worked.refused(["restore", str(store), "--over"], 3, "this is the store")
    Command(text).refused(["restore", str(backup), "--over"], 3, "this is no pmtrack store")
    Command(tmp_path).refused(["restore", str(backup), "--over"], 3, "this is a folder")
    Command(tmp_path / "no" / "x.db").refused(["restore", str(backup)], 3, "no")


@pytest.mark.parametrize("kept", [100, 5000, 60_000])
def test_a_store_cut_short_is_replaced(kept: int, run_worked: Command, backup: Path) -> None:
    run_worked.store.write_bytes(run_worked.store.read_bytes()[:kept])
    run_worked.refused(["restore", str(backup)], 3, "here: too damaged to tell")
    told = run_worked.done("restore", str(backup), "--over").splitlines()
    assert told[1:] == ["  before: too damaged to tell", f"  now: {OLD}"]
    assert dump(run_worked.store) == dump(backup)


def test_a_store_with_damaged_names_is_replaced(run_worked: Command, backup: Path) -> None:
    """SQLite's own message then cannot be read as text."""
    data = run_worked.store.read_bytes()
    assert b"CREATE TABLE export (" in data
    run_worked.store.write_bytes(
        data.replace(b"CREATE TABLE export (", b"CREATE TABL\xff expor\xfe (")
    )
    run_worked.refused(["verify"], 3, "the store is damaged; go back to a backup")
    run_worked.refused(["restore", str(backup)], 3, "here: too damaged to tell")
    run_worked.done("restore", str(backup), "--over")
    assert dump(run_worked.store) == dump(backup)


def test_pages_of_another_size_fit_into_no_store_that_is_there(
    run_worked: Command, backup: Path, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(backup)) as connection:
        connection.execute("PRAGMA page_size = 1024")
        connection.execute("VACUUM")
    message = "restore it to a new file with --store, 'unload' that and 'load' it here"
    run_worked.refused(["restore", str(backup), "--over"], 3, message)
    assert Command(tmp_path / "new.db")("restore", str(backup)).status == 0


def test_who_has_the_store_open_goes_on_in_the_new_one(run_worked: Command, backup: Path) -> None:
    with closing(open_store(run_worked.store)) as other:
        with other.reading():
            assert other.rows("SELECT count(*) FROM entry") == [(12,)]
            run_worked.done("restore", str(backup), "--over")
            assert other.rows("SELECT count(*) FROM entry") == [(12,)]  # what it began to read
        with other.writing():
            recorder = Recorder(View(other, AT.date()), AT, "Dana")
            crossed = void(recorder, 3, "typed twice", Moment(AT.date(), AT))
    assert crossed.entry == 11
    entries = run_worked.json("entries")
    assert [entry["entry"] for entry in entries] == list(range(1, 12))
    assert entries[2]["voided"]
    assert run_worked("verify").status == 0


def test_a_writer_is_waited_for(
    run_worked: Command, backup: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "BUSY_SECONDS", 0.05)
    with closing(sqlite3.connect(run_worked.store, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        run_worked.refused(["restore", str(backup), "--over"], 3, "nothing was kept; run it again")
        other.execute("ROLLBACK")
    assert run_worked("restore", str(backup), "--over").status == 0


# dies once so many pages are copied, or as the finished file is to be named (page 0)
DYING = """
import os, signal, sys
from pmtrack.cli import main
from pmtrack.store import database
page, *arguments = sys.argv[1:]
def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)
copy = database.Store.copy_into
def copy_into(self, target, **how):
    def progress(status, left, pages):
        if pages - left >= int(page):
            die()
    copy(self, target, pages=1, progress=progress)
if page == "0":
    os.link = die
else:
    database.Store.copy_into = copy_into
sys.exit(main(arguments))
"""


def killed(page: int, *arguments: str) -> None:
    """Run a command that is killed while it copies."""
    ended = subprocess.run(
        [sys.executable, "-c", DYING, str(page), *arguments], env=PLAIN, check=False
    )
    assert ended.returncode == -signal.SIGKILL


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal here")
@pytest.mark.parametrize("page", [1, 20])
def test_a_kill_while_a_store_is_replaced_leaves_the_old_one(
    page: int, run_worked: Command, backup: Path
) -> None:
    before = dump(run_worked.store)
    killed(page, "--store", str(run_worked.store), "restore", str(backup), "--over")
    assert dump(run_worked.store) == before
    assert run_worked("verify").status == 0
    assert run_worked("restore", str(backup), "--over").status == 0
    assert dump(run_worked.store) == dump(backup)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal here")
@pytest.mark.parametrize("page", [0, 20])
def test_a_kill_while_a_new_file_is_written_leaves_none(
    page: int, run_worked: Command, backup: Path, tmp_path: Path
) -> None:
    new, copy = tmp_path / "new.db", tmp_path / "again.db"
    killed(page, "--store", str(new), "restore", str(backup))
    killed(page, "--store", str(run_worked.store), "backup", str(copy))
    assert not new.exists()
    assert not copy.exists()
    assert Command(new)("restore", str(backup)).status == 0
    assert run_worked("backup", str(copy)).status == 0


WRITER = """
import sys
from pmtrack.cli import main
store, now, count = sys.argv[1:]
for hits in range(1, int(count) + 1):
    words = ["log", "TP-1", "--shift", "day", "--date", f"2026-10-{hits:02}", "--hits", str(hits)]
    status = main(["--store", store, "--now", now, *words])
    if status:
        sys.exit(status)
"""


def test_backups_and_a_restore_while_others_write(applied_once: Path, tmp_path: Path) -> None:
    """Each backup is sound and holds the first entries; after a restore nobody wrote in vain."""
    run = Command(copied(applied_once, tmp_path / "pmtrack.db"))
    words = [sys.executable, "-c", WRITER, str(run.store), NOW, "20"]
    writers = [subprocess.Popen(words, env=PLAIN | {"PMTRACK_BY": name}, text=True,
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE)
               for name in ("Ada", "Ben")]  # fmt: skip
    copies: list[Path] = []
    while writers[0].poll() is None or not copies:
        copies.append(tmp_path / f"copy{len(copies)}.db")
        assert run("backup", str(copies[-1])).status == 0
    run.done("restore", str(copies[-1]), "--over")
    told = [writer.communicate(timeout=60) for writer in writers]
    assert [writer.returncode for writer in writers] == [0, 0], told
    for store in (run.store, *copies[:3], copies[-1]):
        numbers = [entry["entry"] for entry in Command(store).json("entries")]
        assert numbers == list(range(1, len(numbers) + 1))
        assert Command(store)("verify").status == 0
    assert not [name for name in os.listdir(tmp_path) if name.startswith(".")]
