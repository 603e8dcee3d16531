"""pmtrack as a process: pipes, a full disk, Ctrl-C, a killed import, and odd surroundings."""

import os
import resource
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.command import NOW, PLAIN, Command, dump

BASH = "/bin/bash"


def words(store: Path, *arguments: str) -> list[str]:
    """The command as a process."""
    return [sys.executable, "-m", "pmtrack", "--store", str(store), "--now", NOW, *arguments]


def started(store: Path, *arguments: str, **how: Any) -> subprocess.Popen[str]:
    """The command, running, with its standard streams as pipes."""
    streams = dict.fromkeys(("stdin", "stdout", "stderr"), subprocess.PIPE) | how
    return subprocess.Popen(
        words(store, *arguments), text=True, env=PLAIN | {"PMTRACK_BY": "Dana"}, **streams
    )


def heeding() -> None:
    """Ctrl-C counts in a process, as at a terminal; one behind a shell's `&` is deaf to it."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def ended(store: Path, *arguments: str, **how: Any) -> tuple[int, str, str]:
    """Status, standard output and standard error of the command, with nothing typed."""
    with started(store, *arguments, **({"stdin": subprocess.DEVNULL} | how)) as process:
        out, err = process.communicate(timeout=30)
        return process.returncode, out or "", err or ""


def in_shell(store: Path, line: str) -> subprocess.CompletedProcess[str]:
    """A line of the shell in which `pmtrack` is the command."""
    command = " ".join(words(store))
    return subprocess.run(
        [BASH, "-c", f'pmtrack() {{ {command} "$@"; }}\n{line}'],
        capture_output=True,
        text=True,
        timeout=30,
        check=False,
        env=PLAIN,
    )


@pytest.mark.parametrize("reader", ["head -1", "true", "head -c 5"])
@pytest.mark.parametrize("view", ["today --all", "today --all --json", "why TP-1/monthly"])
def test_a_reader_that_has_seen_enough_is_no_trouble(
    worked_store: Path, view: str, reader: str
) -> None:
    told = in_shell(worked_store, f'pmtrack {view} | {reader}; echo "[${{PIPESTATUS[0]}}]"')
    assert told.stderr == ""
    assert told.stdout.endswith(("[0]\n", "[141]\n"))  # 128 + SIGPIPE, as other programs end


@pytest.mark.parametrize("view", ["today", "today --json", "verify", "--help"])
def test_an_answer_that_cannot_be_written_is_refused(worked_store: Path, view: str) -> None:
    told = in_shell(worked_store, f"pmtrack {view} >/dev/full")
    assert "Traceback" not in told.stderr
    assert told.returncode == 3


def test_a_fact_is_kept_though_its_number_cannot_be_written(worked_store: Path) -> None:
    told = in_shell(worked_store, "pmtrack done TP-1/monthly --by Dana >/dev/full")
    assert "Traceback" not in told.stderr
    assert Command(worked_store).states()["TP-1/monthly"] == "ok"


@pytest.mark.parametrize(
    "line", ["pmtrack today >&-", "pmtrack verify 2>&-", "pmtrack log TP-1 --by Dana <&-"]
)
def test_a_closed_stream_is_no_defect(worked_store: Path, line: str) -> None:
    told = in_shell(worked_store, line)
    assert "Traceback" not in told.stderr
    assert told.returncode in (0, 3)


def _no_room() -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (8192, 8192))


@pytest.mark.parametrize(
    "arguments",
    [["done", "TP-1/monthly"], ["backup", "{folder}/copy.db"], ["calendar", "2027-Q1"]],
)
def test_a_full_disk_leaves_everything_as_it_was(worked_store: Path, arguments: list[str]) -> None:
    typed = [word.format(folder=worked_store.parent) for word in arguments]
    if "calendar" in typed:
        typed += ["--out", str(worked_store.with_name("q1.ics"))]
    before = dump(worked_store)
    status, out, err = ended(worked_store, *typed, preexec_fn=_no_room)
    assert (status, out) == (3, "")
    assert "Traceback" not in err
    assert "full" in err or "large" in err
    left = {path.name for path in worked_store.parent.iterdir()}
    assert left <= {"pmtrack.db", "pmtrack.db-wal", "pmtrack.db-shm"}
    assert dump(worked_store) == before
    assert Command(worked_store)("verify").status == 0


def test_ctrl_c_at_a_question_logs_nothing(worked_store: Path) -> None:
    before = dump(worked_store)
    with started(worked_store, "log", "TP-1", preexec_fn=heeding) as process:
        assert process.stderr is not None
        process.stderr.readline()
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=30)
    assert process.returncode == 130  # 128 + SIGINT, as a shell tells it
    assert out == ""
    assert "Traceback" not in err
    assert dump(worked_store) == before


def test_ctrl_c_while_another_writes_records_nothing(worked_store: Path) -> None:
    before = dump(worked_store)
    with closing(sqlite3.connect(worked_store, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with started(worked_store, "done", "TP-1/monthly", preexec_fn=heeding) as process:
            time.sleep(1.0)
            process.send_signal(signal.SIGINT)
            time.sleep(0.2)
            other.execute("ROLLBACK")
            out, err = process.communicate(timeout=30)
    assert process.returncode == 130
    assert out == ""
    assert "Traceback" not in err
    assert dump(worked_store) == before


def _many_shifts(folder: Path, rows: int = 50_000, last: str = "") -> Path:
    """A file of so many shifts that can have been, and one more row."""
    days = [date(2020, 1, 1) + timedelta(n // 50) for n in range(rows)]
    lines = [f"TP-1,day,{day},Dana,{n},{n % 100}" for n, day in enumerate(days)]
    path = folder / "rows.csv"
    path.write_text("\n".join(["machine,shift,date,by,parts,hits", *lines, last]) + "\n")
    return path


def test_a_killed_import_leaves_all_rows_or_none(worked_store: Path, tmp_path: Path) -> None:
    before, log = dump(worked_store), Path(f"{worked_store}-wal")
    with started(worked_store, "import", "shifts", str(_many_shifts(tmp_path))) as process:
        while process.poll() is None and not (log.exists() and log.stat().st_size > 10**6):
            time.sleep(0.01)
        process.kill()
        process.communicate(timeout=30)
    assert process.returncode == -signal.SIGKILL, "the import was over before it was killed"
    run = Command(worked_store)
    assert run("verify").status == 0
    assert dump(worked_store) == before


def test_a_disk_that_fills_up_during_an_import_leaves_the_store_as_it_was(
    worked_store: Path, tmp_path: Path
) -> None:
    before = dump(worked_store)

    def little_room() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (2 * 10**6, 2 * 10**6))

    file = str(_many_shifts(tmp_path))
    status, out, err = ended(worked_store, "import", "shifts", file, preexec_fn=little_room)
    assert (status, out) == (3, "")
    assert "the disk failed or is full; nothing was changed" in err
    assert dump(worked_store) == before
    assert Command(worked_store)("verify").status == 0


def test_a_fault_in_the_last_of_many_rows_leaves_the_store_as_it_was(
    worked_store: Path, tmp_path: Path
) -> None:
    before = dump(worked_store)
    file = _many_shifts(tmp_path, 10_000, "TP-2,day,2026-11-24,Dana,1,1")
    told = ended(worked_store, "import", "shifts", str(file))
    assert told == (3, "", f"{file}:10002: no machine 'TP-2'; the shop has TP-1, PB-1, FE-1\n")
    assert dump(worked_store) == before


def test_a_file_can_come_through_a_pipe(worked_store: Path) -> None:
    told = in_shell(
        worked_store,
        "printf 'machine,shift,date,hits\\nTP-1,day,2026-11-24,5\\n'"
        " | pmtrack import shifts /dev/stdin --by Dana",
    )
    assert (told.returncode, told.stderr) == (0, "")
    assert "1 shifts rows taken from /dev/stdin" in told.stdout


@pytest.mark.parametrize("typed", [b"caf\xe9", b"\xff\xfe", b"\xed\xa0\x80"])
def test_bytes_that_are_no_text_are_refused(worked_store: Path, typed: bytes) -> None:
    before = dump(worked_store)
    for arguments in ([b"job", b"TP-1", typed], [b"done", b"TP-1/monthly", b"--by", typed]):
        command = [os.fsencode(word) for word in words(worked_store)] + arguments
        told = subprocess.run(command, capture_output=True, check=False, timeout=30, env=PLAIN)
        assert told.returncode == 3
        assert b"holds characters that cannot be shown" in told.stderr
    assert dump(worked_store) == before


def test_a_terminal_without_unicode_gets_an_answer(worked_store: Path) -> None:
    Command(worked_store).done("job", "TP-1", "Schlauch prüfen ✓", "--by", "Łucja")
    plain = PLAIN | {"PYTHONIOENCODING": "ascii", "LC_ALL": "C", "PYTHONUTF8": "0"}
    for view in (["today"], ["entries"], ["why", "TP-1/job-11"]):
        told = subprocess.run(
            words(worked_store, *view), capture_output=True, check=False, timeout=30, env=plain
        )
        assert told.returncode == 0
        assert b"Traceback" not in told.stderr


HEAVY = {"rich", "sqlite_utils", "icalendar", "scipy", "yaml", "pydantic", "dateutil", "numpy"}
LOADED = "import sys; {code}; print(*sorted({{m.split('.')[0] for m in sys.modules}}))"


def loaded_by(code: str) -> set[str]:
    """The packages that are loaded after some code ran."""
    told = subprocess.run(
        [sys.executable, "-c", LOADED.format(code=code)],
        capture_output=True, text=True, check=True, env=PLAIN,
    )  # fmt: skip
    return set(told.stdout.splitlines()[-1].split())


def test_the_command_line_loads_no_library_that_it_may_not_need() -> None:
    assert loaded_by("import pmtrack.cli") & HEAVY == set()


@pytest.mark.parametrize(
    ("arguments", "not_needed"),
    [
        (["today"], {"icalendar", "scipy", "yaml", "sqlite_utils", "numpy"}),
        (["why", "TP-1/monthly"], {"icalendar", "scipy", "yaml", "sqlite_utils", "numpy"}),
        (["done", "PB-1/weekly"], {"icalendar", "scipy", "yaml", "sqlite_utils"}),
        (["log", "PB-1", "--count", "cycles=5"], {"icalendar", "scipy", "yaml", "sqlite_utils"}),
        (["calendar", "2027-Q1", "--out", "{folder}/q1.ics"], {"scipy", "yaml"}),
    ],
)
def test_a_command_loads_only_what_it_needs(
    worked_store: Path, arguments: list[str], not_needed: set[str]
) -> None:
    typed = [word.format(folder=worked_store.parent) for word in arguments]
    line = ["--store", str(worked_store), "--now", NOW, *typed]
    loaded = loaded_by(f"from pmtrack.cli import main; assert main({line!r}) == 0")
    assert loaded & not_needed == set()
