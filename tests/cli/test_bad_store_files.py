"""A store's file that is none, is damaged, cannot be written, is held or is too new."""

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from pmtrack.store import database, open_store, opening
from tests.command import SMALL_SHOP, Command

READS = [
    ["today"], ["usage"], ["tooling"], ["entries"], ["why", "TP-1/monthly"], ["verify"],
    ["report", "--from", "2026-11-01", "--to", "2026-11-30"],
]  # fmt: skip
WRITES = [
    ["done", "TP-1/monthly"],
    ["log", "TP-1", "--hits", "5"],
    ["void", "1", "--why", "x"],
    ["backup", "/nowhere/copy.db"],
]


def nothing(path: Path) -> None:
    """No file at all."""


def empty(path: Path) -> None:
    path.touch()


def folder(path: Path) -> None:
    path.mkdir()


def text(path: Path) -> None:
    path.write_text("machine,shift,date,by\n" * 100)


def zeros(path: Path) -> None:
    path.write_bytes(bytes(8192))


def other_database(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE customer (name TEXT)")


def marked_database(path: Path) -> None:
    """Another program's database that bears our mark by chance."""
    other_database(path)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA application_id = {opening.APPLICATION_ID}")


def link_to_nothing(path: Path) -> None:
    path.symlink_to(path.with_name("gone.db"))


def link_to_itself(path: Path) -> None:
    path.symlink_to(path)


MADE = [
    (nothing, "no store here; make one with 'pmtrack apply shop.yaml'"),
    (empty, "no store here; make one with 'pmtrack apply shop.yaml'"),
    (folder, "this is a folder; name a file with --store"),
    (text, "this is no pmtrack store; name another file with --store"),
    (zeros, "this is no pmtrack store; name another file with --store"),
    (other_database, "this is no pmtrack store; name another file with --store"),
    (marked_database, "store"),
    (link_to_nothing, "no store here"),
    (link_to_itself, "store"),
]


@pytest.mark.parametrize(("make", "message"), MADE)
def test_what_is_no_store_is_named_by_every_command(
    make: Callable[[Path], None], message: str, tmp_path: Path
) -> None:
    path = tmp_path / "x.db"
    make(path)
    before = path.read_bytes() if path.is_file() else None
    for arguments in (*READS, *WRITES):
        told = Command(path).refused(arguments, 3, message)
        assert told.err.startswith(f"{path}: ")
    assert (path.read_bytes() if path.is_file() else None) == before


@pytest.mark.parametrize("make", [folder, text, zeros, other_database, marked_database])
def test_apply_makes_no_store_of_another_file(make: Callable[[Path], None], tmp_path: Path) -> None:
    path = tmp_path / "x.db"
    make(path)
    before = path.read_bytes() if path.is_file() else None
    for arguments in (["apply", str(SMALL_SHOP)], ["demo"]):
        Command(path).refused(arguments, 3, "")
    assert (path.read_bytes() if path.is_file() else None) == before


@pytest.mark.parametrize(
    "place", ["{folder}/none/x.db", "/proc/x.db", "{folder}/text/x.db", "/dev/null", "{long}"]
)
@pytest.mark.parametrize("command", ["today", "done TP-1/monthly", "apply {shop}", "demo"])
def test_a_place_where_no_file_can_be_is_refused(place: str, command: str, tmp_path: Path) -> None:
    (tmp_path / "text").write_text("a file, no folder")
    path = Path(place.format(folder=tmp_path, long="x" * 300))
    arguments = [word.format(shop=SMALL_SHOP) for word in command.split()]
    Command(path).refused(arguments, 3, str(path))


def test_a_store_without_a_shop_says_how_to_describe_one(tmp_path: Path) -> None:
    open_store(tmp_path / "x.db", create=True, now=datetime(2026, 11, 2, tzinfo=UTC)).close()
    run = Command(tmp_path / "x.db")
    for arguments in (*READS, *WRITES[:3]):
        run.refused(arguments, 3, "no shop yet; describe it with 'pmtrack apply shop.yaml'")
    assert run("apply", str(SMALL_SHOP)).status == 0


def test_a_store_made_by_a_newer_pmtrack_is_left_alone(run_worked: Command) -> None:
    with closing(sqlite3.connect(run_worked.store)) as connection, connection:
        connection.execute(
            "INSERT INTO _sqlite_migrations (migration_set, name, applied_at)"
            " VALUES ('pmtrack', 'm999_after_us', '2030-01-01')"
        )
    message = "made by a newer pmtrack (it knows m999_after_us); update pmtrack"
    for arguments in (*READS, *WRITES, ["apply", str(SMALL_SHOP)]):
        run_worked.refused(arguments, 3, message)


def test_a_writer_waits_no_longer_than_it_says(
    run_worked: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "BUSY_SECONDS", 0.05)
    with closing(sqlite3.connect(run_worked.store, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        for arguments in (*WRITES[:3], ["apply", str(SMALL_SHOP)]):
            run_worked.refused(arguments, 3, "nothing was kept; run it again")
        assert run_worked("today").status == 0  # who only reads does not wait
        other.execute("ROLLBACK")
    assert run_worked("done", "TP-1/monthly").status == 0


def test_a_store_may_lie_anywhere_and_be_named_anyhow(tmp_path: Path) -> None:
    for name in ("with space.db", "ünïcode.db", "a?b=c#d%20.db", "[bold].db", "'quoted'.db", "-x"):
        run = Command(tmp_path / name)
        assert run("apply", str(SMALL_SHOP)).status == 0
        assert run("verify").out == f"{tmp_path / name}: sound\n"


def spoiled(worked: Path, target: Path, spoil: Callable[[bytearray], None]) -> Command:
    """The command line on a copy of a store whose bytes were spoiled."""
    data = bytearray(worked.read_bytes())
    spoil(data)
    target.write_bytes(data)
    return Command(target)


@pytest.mark.parametrize("kept", [0.02, 0.3, 0.6, 0.95])
def test_a_store_that_was_cut_short_is_damaged(
    kept: float, worked_once: Path, tmp_path: Path
) -> None:
    def cut(data: bytearray) -> None:
        del data[int(len(data) * kept) :]

    run = spoiled(worked_once, tmp_path / "x.db", cut)
    told = run("verify")
    assert (told.status, told.out) == (3, "")
    assert "backup" in told.err or "no pmtrack store" in told.err
    for arguments in (*READS, *WRITES):
        assert run(*arguments).status in (0, 3)


@pytest.mark.parametrize("seed", range(12))
def test_flipped_bits_end_in_a_sentence(seed: int, worked_once: Path, tmp_path: Path) -> None:
    chance = random.Random(seed)

    def flip(data: bytearray) -> None:
        used = [place for place, byte in enumerate(data) if byte]
        for place in chance.sample(used, 3):
            data[place] ^= 1 << chance.randrange(8)

    run = spoiled(worked_once, tmp_path / "x.db", flip)
    for arguments in (*READS, *WRITES):
        told = run(*arguments)
        assert told.status in (0, 3)
        assert (told.status == 0) or told.err


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"title"', b'"tit!e"'),  # a key that is not there
        (b'"amount":"1"', b'"amount":"x"'),  # no number
        (b'{"machine":"TP-1"', b'{"machine":"TP-1!'),  # no JSON
        (b"Turret", b"Turr\xff\xff"),  # no UTF-8
        (b"2026-11-25T15:00:00Z", b"2026-11-45T15:00:00Z"),  # no day of the calendar
        (b"America/New_York", b"America/New_Yonk"),  # no time zone
    ],
)
def test_damage_that_the_file_format_does_not_notice_is_told(
    old: bytes, new: bytes, worked_once: Path, tmp_path: Path
) -> None:
    def replace(data: bytearray) -> None:
        assert old in data
        data[:] = data.replace(old, new)

    run = spoiled(worked_once, tmp_path / "x.db", replace)
    assert run("verify").status == 3
    for arguments in (*READS, *WRITES):
        told = run(*arguments)
        assert told.status == 0 or (told.status == 3 and told.err and not told.out)


def test_usage_that_differs_from_its_entries_is_found(run_worked: Command) -> None:
    with closing(sqlite3.connect(run_worked.store)) as connection, connection:
        connection.execute("UPDATE tally SET usage = usage + 1 WHERE meter = 'hits'")
    run_worked.refused(["verify"], 3, "TP-1 hits: the usage kept differs from its entries")


def test_a_reference_to_nothing_is_found(run_worked: Command) -> None:
    with closing(sqlite3.connect(run_worked.store)) as connection, connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute("DELETE FROM program")
        connection.execute("INSERT INTO tool_count (entry, tool, hits) VALUES (77, 'RD-10', 5)")
    run_worked.refused(["verify"], 3, "tool_count, row 77: the entry that it names is not there")


def test_an_entry_that_lost_what_it_tells_is_named(run_worked: Command) -> None:
    with closing(sqlite3.connect(run_worked.store)) as connection, connection:
        connection.execute(
            "INSERT INTO entry (kind, at, day, whole_day, by, recorded_at, note) VALUES ('job',"
            " '2026-11-25T19:00:00Z', '2026-11-25', 0, 'Dana', '2026-11-25T19:00:00Z', '')"
        )
    run_worked.refused(["verify"], 3, "entry 11: what it says as a job is missing")
    run_worked.refused(["entries"], 3, "entry 11 has lost what it tells; go back to a backup")
