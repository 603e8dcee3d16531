"""What a killed command left: taken over where it is there, told where it is gone."""

import os
import shutil
from contextlib import closing
from pathlib import Path

import pytest

from pmtrack.store import open_store
from tests.command import Command

WORDS = ("defer", "TP-1/monthly", "--until", "2026-12-04", "--why", "rush order")
HEAD, FRAME = 32, 24 + 4096


@pytest.fixture
def run(worked_store: Path, tmp_path: Path) -> Command:
    """A store of ten entries in its file, and of two more in the log that a crash left."""
    left = tmp_path / "left" / "shop.db"
    left.parent.mkdir()
    with closing(open_store(worked_store)) as store:
        store.row("SELECT 1 FROM store")  # while this one reads, the log stays
        for _ in range(2):
            Command(worked_store).done(*WORDS)
        for end in ("", "-wal", "-shm"):
            shutil.copy(f"{worked_store}{end}", f"{left}{end}")
    return Command(left)


def _log(run: Command) -> Path:
    return run.store.with_name("shop.db-wal")


def _bytes(run: Command) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in run.store.parent.iterdir()}


def _entries(run: Command) -> int:
    return len(run.json("entries"))


def test_what_was_kept_before_a_crash_is_there(run: Command) -> None:
    assert _log(run).stat().st_size > HEAD + 2 * FRAME
    assert _entries(run) == 12
    assert run("verify").status == 0


@pytest.mark.parametrize("lost", [1, 100, FRAME])
def test_a_torn_end_costs_the_command_that_was_not_done(run: Command, lost: int) -> None:
    os.truncate(_log(run), _log(run).stat().st_size - lost)
    assert _entries(run) == 11
    assert run.done(*WORDS).startswith("entry 12: ")


def test_a_log_that_is_gone_is_missed(run: Command) -> None:
    aside = _log(run).rename(run.store.parent / "aside")
    before = _bytes(run)
    for words in (WORDS, ("today",)):
        told = run(*words)
        assert (told.status, told.out) == (3, "")
        assert told.err == (
            f"{_log(run)}: this file is gone, and with it what was entered last; nothing was "
            "changed; put it back, or delete shop.db-shm to go on without\n"
        )
        assert _bytes(run) == before
    aside.rename(_log(run))
    assert _entries(run) == 12


@pytest.mark.parametrize("content", [b"", bytes(HEAD), bytes(HEAD + FRAME)])
def test_a_log_that_was_only_begun_is_no_damage(run: Command, content: bytes) -> None:
    _log(run).write_bytes(content)
    assert _entries(run) == 10
    assert run.done(*WORDS).startswith("entry 11: ")


def test_a_folder_in_the_place_of_the_log_is_told(run: Command) -> None:
    _log(run).unlink()
    _log(run).mkdir()
    for words in (WORDS, ("today",)):
        told = run(*words)
        assert (told.status, told.out) == (3, "")
        assert str(run.store) in told.err
        assert "Traceback" not in told.err
