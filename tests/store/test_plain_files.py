"""The whole store as plain files and back: equal in every fact, whatever happened in it."""

import csv
import errno
import hashlib
import json
import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.store.plain_form import Column, from_cell, to_cell
from tests.command import PLAIN, Command, copied, dump

ANSWERS = (["today", "--all"], ["usage"], ["entries"], ["tooling"])


def facts(store: Path) -> list[str]:
    """All that a store holds, but when its tables were made."""
    return [line for line in dump(store) if "_sqlite_migrations" not in line]


def assert_comes_back(run: Command, folder: Path) -> None:
    """Unloaded and loaded again, the store holds the same and answers the same."""
    run.done("unload", str(folder))
    again = Command(folder.with_name(f"{folder.name}.db"))
    again.done("load", str(folder))
    assert facts(again.store) == facts(run.store)
    assert again.done("verify") == f"{again.store}: sound\n"
    for view in ANSWERS:
        assert again.json(*view) == run.json(*view)


def test_a_store_comes_back_equal(run_worked: Command, tmp_path: Path) -> None:
    for line in (
        "done TP-1/monthly --measure pump-pressure=-0.000001 --note \\N",
        "job TP-1 leak",
        "sharpen RD-10 --mm 0.2 --why planned",
        "pin TP-1/monthly 2027-01-04",
        "plan 2027-Q1 --save",
        f"calendar 2027-Q1 --out {tmp_path / 'q1.ics'}",
    ):
        assert run_worked(*line.split()).status == 0, line
    assert_comes_back(run_worked, tmp_path / "plain")
    folder = tmp_path / "plain"
    with (folder / "measurement.csv").open(newline="") as file:
        assert list(csv.reader(file))[1][1:3] == ["pump-pressure", "-0.000001"]
    with (folder / "count.csv").open(newline="") as file:
        assert next(csv.DictReader(file))["amount"] == "41200"
    with (folder / "entry.csv").open(newline="") as file:
        notes = [row["note"] for row in csv.DictReader(file)]
    assert (notes[0], notes[10]) == ("", "\\\\N")
    machines = json.loads((folder / "description.json").read_text())["machine"]
    assert machines[0]["definition"]["name"] == "Turret punch press"
    assert machines[0]["retired_on"] is None
    index = json.loads((folder / "index.json").read_text())
    for table in index["tables"]:
        with (folder / table["file"]).open(newline="") as file:
            header, *rows = csv.reader(file)
        assert header == [column["name"] for column in table["columns"]]
        assert len(rows) == table["rows"]


WORDS = st.text(
    st.sampled_from("a \"'\\,;=\u20ac\u0142\U0001f527N\x85\u2028-") | st.characters(codec="utf-8"),
    max_size=12,
)
DAYS = st.integers(1, 24).map(lambda day: f"2026-11-{day:02}")
AMOUNTS = st.integers(0, 60_000_000_000).map(lambda n: f"{n // 10**6}.{n % 10**6:06}")
LINES = st.one_of(
    st.builds(lambda d, n: ["log", "TP-1", "--shift", "day", "--date", d, "--hits", n],
              DAYS, AMOUNTS),
    st.builds(lambda d, n: ["log", "FE-1", "--shift", "day", "--date", d, "--dial", f"hours={n}"],
              DAYS, AMOUNTS),
    st.builds(lambda d, n: ["done", "TP-1/weekly", "--at", d, "--note", n], DAYS, WORDS),
    st.builds(lambda n: ["job", "TP-1", n], WORDS),
    st.builds(lambda d, n: ["stop", "PB-1", "--cause", n, "--from", f"{d}T08:00"], DAYS, WORDS),
    st.builds(lambda d, s: ["fit", "RD-10", "--station", s, "--at", d], DAYS, WORDS),
    st.builds(lambda d, n: ["defer", "PB-1/weekly", "--until", "2026-12-04", "--why", n,
                            "--at", d], DAYS, WORDS),
    st.builds(lambda n, w: ["void", str(n), "--why", w], st.integers(1, 8), WORDS),
    st.builds(lambda d, w: ["idle", "FE-1", "--why", w, "--at", d], DAYS, WORDS),
    st.just(["back", "FE-1"]),
)  # fmt: skip


@settings(max_examples=6, deadline=None)
@given(lines=st.lists(LINES, min_size=5, max_size=14))
def test_any_history_comes_back_equal(applied_once: Path, lines: list[list[str]]) -> None:
    """Commands with odd text and amounts; what is refused leaves nothing."""
    with TemporaryDirectory() as folder:
        run = Command(copied(applied_once, Path(folder) / "pmtrack.db"))
        assert {run(*line).status for line in lines} <= {0, 2, 3}
        assert_comes_back(run, Path(folder) / "plain")


@settings(deadline=None)
@given(text=st.text() | st.none())
def test_text_and_no_value_are_told_apart(text: str | None) -> None:
    column = Column("note", "text", optional=True)
    assert from_cell(to_cell(text, column), column) == text


@settings(deadline=None)
@given(value=st.integers(-(2**63) + 1, 2**63 - 1))
def test_amounts_and_whole_numbers_are_exact(value: int) -> None:
    for form in ("amount", "whole"):
        column = Column("n", form, optional=False)
        assert from_cell(to_cell(value, column), column) == value


def test_amounts_read_as_a_person_writes_them() -> None:
    told = [to_cell(n, Column("n", "amount", False)) for n in (0, 1, -250_000, 41_200_000_000)]
    assert told == ["0", "0.000001", "-0.25", "41200"]


def cut(folder: Path, file: str, keep: float) -> None:
    """A file of the folder cut short."""
    data = (folder / file).read_bytes()
    (folder / file).write_bytes(data[: int(len(data) * keep)])


def change(folder: Path, file: str, old: str, new: str) -> None:
    """A file of the folder with one place changed."""
    text = (folder / file).read_bytes().decode()
    assert old in text
    (folder / file).write_bytes(text.replace(old, new, 1).encode())


DAMAGE: list[tuple[Callable[[Path], object], str]] = [
    (lambda f: (f / "dial.csv").unlink(), "dial.csv: no such file or directory; unload anew"),
    (lambda f: (f / "index.json").unlink(), "index.json: no such file or directory"),
    (lambda f: (f / "description.json").unlink(), "description.json: no such file"),
    (lambda f: change(f, "dial.csv", "reading", "read"),
     "dial.csv:1: the header must be entry,machine,meter,at,day,reading,wrapped,exchanged"),
    (lambda f: change(f, "count.csv", "41200", "41,200"),
     "count.csv:2: 5 cells where the header has 4"),
    (lambda f: change(f, "count.csv", "41200", "many"),
     "count.csv:2: amount: 'many' is no amount; write it like 41200 or 0.2"),
    (lambda f: change(f, "count.csv", "41200", "-5"),
     "count.csv:2: cannot be taken: CHECK constraint failed: amount >= 0"),
    (lambda f: change(f, "count.csv", "41200", "41201"),
     "count.csv: changed since it was unloaded"),
    (lambda f: change(f, "entry.csv", "2026-11-25", "2026-11-2"),
     "entry.csv:2: cannot be taken: CHECK constraint failed"),
    (lambda f: change(f, "entry.csv", "\r\n3,", "\r\nthree,"),
     "entry.csv:4: id: 'three' is no whole number"),
    (lambda f: change(f, "entry.csv", "\r\n3,", "\r\n2,"),
     "entry.csv:4: cannot be taken: UNIQUE constraint failed: entry.id"),
    (lambda f: change(f, "entry.csv", "Dana", "\\N"), "entry.csv:2: by: '\\N' holds no value"),
    (lambda f: change(f, "entry.csv", "Dana", "\\D"), "entry.csv:2: by: '\\D' begins with one"),
    (lambda f: change(f, "entry.csv", "Dana", '"Dana'), "entry.csv:2: cannot be read as CSV"),
    (lambda f: (f / "entry.csv").write_bytes(b"id\n\xff"), "entry.csv:2: this is not UTF-8"),
    (lambda f: (f / "entry.csv").write_bytes(b""), "entry.csv:1: the header must be id,kind"),
    (lambda f: cut(f, "entry.csv", 0.9), "rows, and index.json tells of 10"),
    (lambda f: cut(f, "completion.csv", 0.99), "completion.csv:3: cut short"),
    (lambda f: cut(f, "description.json", 0.5), "description.json:"),
    (lambda f: cut(f, "index.json", 0.5), "index.json:"),
    (lambda f: change(f, "description.json", '"supplier"', '"suppliers"'),
     "description.json:1: must have lists of store, applied, supplier"),
    (lambda f: change(f, "description.json", '"code": "TP-1"', '"cod": "TP-1"'),
     "description.json: machine[0]: must have code, position, definition, retired_on"),
    (lambda f: change(f, "description.json", '"demo": 0', '"demo": 7'),
     "description.json: store[0]: cannot be taken: CHECK constraint failed"),
    (lambda f: change(f, "index.json", '"table": "dial"', '"table": "dials"'),
     "index.json: names no file for the table dial"),
    (lambda f: change(f, "index.json", '"format": 1', '"format": 2'), "written by a newer pmtrack"),
    (lambda f: change(f, "index.json", "m006_lengths", "m007_more"), "by a newer pmtrack"),
    (lambda f: change(f, "index.json", '"steps"', '"stairs"'), "index.json: lacks 'steps'"),
    (lambda f: (f / "index.json").write_text("[" * 100_000), "index.json:1: no JSON"),
    (lambda f: (f / "index.json").write_text("[]"), "index.json:1: tells no format"),
]  # fmt: skip


@pytest.fixture(scope="module")
def plain_once(worked_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a store with ten entries, to be copied."""
    folder = tmp_path_factory.mktemp("plain")
    Command(copied(worked_once, folder / "x.db")).done("unload", str(folder / "plain"))
    return folder / "plain"


@pytest.fixture
def plain(plain_once: Path, tmp_path: Path) -> Path:
    """The folder of a store with ten entries."""
    folder = tmp_path / "plain"
    folder.mkdir()
    for file in plain_once.iterdir():
        (folder / file.name).write_bytes(file.read_bytes())
    return folder


@pytest.mark.parametrize(("damage", "message"), DAMAGE)
def test_a_damaged_file_is_told_with_its_place(
    damage: Callable[[Path], object], message: str, plain: Path, tmp_path: Path
) -> None:
    damage(plain)
    run = Command(tmp_path / "new.db")
    told = run("load", str(plain))
    assert (told.status, told.out) == (3, "")
    assert [line for line in told.err.splitlines() if message in line], told.err
    assert all(line.startswith((str(plain), "and ")) for line in told.err.splitlines())
    assert not run.store.exists()


def test_files_that_do_not_fit_together_make_no_store(plain: Path, tmp_path: Path) -> None:
    """Each file reads well, but what was done is no task of the shop."""
    change(plain, "completion.csv", "TP-1/weekly", "TP-1/weakly")
    data = (plain / "completion.csv").read_bytes()
    index = json.loads((plain / "index.json").read_text())
    listed = next(table for table in index["tables"] if table["table"] == "completion")
    listed["sha256"] = hashlib.sha256(data).hexdigest()
    (plain / "index.json").write_text(json.dumps(index))
    run = Command(tmp_path / "new.db")
    run.refused(["load", str(plain)], 3, "completion, row 3: the task that it names is not there")
    assert not run.store.exists()


def test_usage_that_was_kept_wrong_is_worked_out_anew(run_worked: Command, tmp_path: Path) -> None:
    """As verify advises."""
    before = facts(run_worked.store)
    with closing(sqlite3.connect(run_worked.store)) as connection, connection:
        connection.execute("UPDATE tally SET usage = usage + 1")
    run_worked.done("unload", str(tmp_path / "plain"))
    run_worked.done("load", str(tmp_path / "plain"), "--over")
    assert facts(run_worked.store) == before
    assert run_worked("verify").status == 0


def test_nothing_is_written_over_without_a_word(
    run_worked: Command, plain: Path, tmp_path: Path
) -> None:
    before = {file.name: file.read_bytes() for file in plain.iterdir()}
    run_worked.refused(["unload", str(plain)], 3, "there are files in this folder; name a new one")
    assert {file.name: file.read_bytes() for file in plain.iterdir()} == before
    run_worked.refused(["unload", str(run_worked.store)], 3, "a file is here already")
    run_worked.refused(["unload", str(tmp_path / "no" / "x")], 3, "no such folder; make it first")
    run_worked("done", "TP-1/monthly")
    told = run_worked.refused(["load", str(plain)], 3, "a store is here; nothing was changed")
    assert "11 entries" in told.err
    told_then = run_worked.done("load", str(plain), "--over")
    assert "before: Quillback Sheet Works, 11 entries" in told_then
    assert "now: Quillback Sheet Works, 10 entries" in told_then
    (tmp_path / "empty").mkdir()
    run_worked.done("unload", str(tmp_path / "empty"))
    assert {file.name for file in (tmp_path / "empty").iterdir()} == set(before)
    run_worked.refused(["load", str(tmp_path / "none")], 3, "no folder here")


def test_a_disk_that_is_full_gets_no_folder(
    run_worked: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    run_worked.refused(["unload", str(tmp_path / "plain")], 3, "no space left on device; nothing")
    assert {file.name[:10] for file in tmp_path.iterdir()} <= {"pmtrack.db"}


DYING = """
import os, signal, sys
from pmtrack.cli import main
from pmtrack.store import unloading
when, *arguments = sys.argv[1:]
write, rename = unloading._write, unloading.Path.rename
def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)
def write_and_die(path, pieces):
    found = write(path, pieces)
    if path.name == when:
        die()
    return found
unloading._write = write_and_die
if when == "name":
    unloading.Path.rename = die
sys.exit(main(arguments))
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal here")
@pytest.mark.parametrize("when", ["description.json", "entry.csv", "name"])
def test_a_kill_while_unloading_leaves_nothing_that_looks_whole(
    when: str, worked_store: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "plain"
    words = [sys.executable, "-c", DYING, when, "--store", str(worked_store), "unload", str(folder)]
    assert subprocess.run(words, env=PLAIN, check=False).returncode == -signal.SIGKILL
    assert not folder.exists()
    seen = [name for name in os.listdir(tmp_path) if not name.startswith(".")]
    assert sorted(name for name in seen if not name.endswith(("-wal", "-shm"))) == ["pmtrack.db"]
    Command(worked_store).done("unload", str(folder))
    Command(tmp_path / "new.db").done("load", str(folder))
