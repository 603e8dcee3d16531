"""A store that is moved, replaced or deleted while a command is at work on it."""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from pmtrack.cli import session
from pmtrack.errors import Refused
from pmtrack.store import Store, database, open_store
from tests.command import Command, dump

ENTRY = (
    "INSERT INTO entry (kind, at, day, whole_day, by, recorded_at, note) VALUES"
    " ('job', '2026-11-25T19:00:00Z', '2026-11-25', 0, 'Dana', '2026-11-25T19:00:00Z', '')"
)
COUNT = "SELECT count(*) FROM entry"


def moved(path: Path) -> Path:
    return path.rename(path.with_name("moved.db"))


def replaced(path: Path) -> Path:
    """By an equal copy: another file at the same path."""
    kept = path.with_name("kept.db")
    kept.hardlink_to(path)
    Path(shutil.copy(path, path.with_name("copy.db"))).replace(path)
    return kept


def folder_moved(path: Path) -> Path:
    return path.parent.rename(path.parent.with_name("elsewhere")) / path.name


def folder_deleted(path: Path) -> None:
    shutil.rmtree(path.parent)


HAPPENINGS = [moved, replaced, folder_moved, folder_deleted]


def _write(store: Store, happen: Callable[[], object]) -> None:
    """Add an entry; something happens before it is kept."""
    with store.writing():
        store.change(ENTRY)
        happen()


@pytest.fixture
def path(worked_store: Path) -> Path:
    """A store in a folder of its own."""
    folder = worked_store.with_name("store")
    folder.mkdir()
    return worked_store.rename(folder / "shop.db")


@pytest.mark.parametrize("happen", HAPPENINGS)
def test_nothing_is_told_to_be_kept_where_nobody_finds_it(
    path: Path, happen: Callable[[Path], Path | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    before, now_at = dump(path), list[Path | None]()

    def asked_who() -> str:  # within the transaction
        now_at.append(happen(path))
        return "Dana"

    monkeypatch.setattr(session, "who", asked_who)
    told = Command(path)("job", "TP-1", "replace the hose")
    assert (told.status, told.out) == (3, "")
    assert told.err == (
        f"{path}: the store was moved, replaced or deleted while it was in use; "
        "nothing was kept; run it again\n"
    )
    left = [place for place in (path, *now_at) if place and place.exists()]
    assert [dump(place) for place in left] == [before] * len(left)


def test_a_log_that_is_deleted_in_use_is_told(path: Path) -> None:
    with closing(open_store(path)) as store:
        with pytest.raises(Refused, match="its -wal file was moved or deleted"):
            _write(store, path.with_name("shop.db-wal").unlink)
        assert store.row(COUNT) == (10,)


def test_a_store_moved_while_it_commits_is_not_told_to_be_kept(path: Path) -> None:
    with closing(open_store(path)) as store:
        watched = store.db.conn
        watched.set_trace_callback(lambda sql: sql == "COMMIT" and moved(path))
        with pytest.raises(Refused, match="it may not be kept; look"), store.writing():
            store.change(ENTRY)
        watched.set_trace_callback(None)


def test_a_store_replaced_while_it_is_opened_is_left_alone(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    connect = sqlite3.connect

    def late(*place: object, **how: object) -> sqlite3.Connection:
        connection: sqlite3.Connection = connect(*place, **how)  # type: ignore[call-overload]
        replaced(path)
        return connection

    monkeypatch.setattr(database.sqlite3, "connect", late)  # type: ignore[attr-defined]
    with pytest.raises(Refused, match="nothing was changed; run it again"):
        open_store(path)


def test_a_store_may_be_a_link_and_its_folder_may_be_named_from_here(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    link = path.with_name("link.db")
    link.symlink_to(path)
    assert Command(link)("job", "TP-1", "replace the hose").status == 0
    monkeypatch.chdir(path.parent)
    assert Command(Path(path.name))("job", "TP-1", "replace the hose").status == 0
    assert len(Command(path).json("entries")) == 12


def test_a_link_that_leads_elsewhere_meanwhile_is_noticed(path: Path) -> None:
    link, other = path.with_name("link.db"), path.with_name("other.db")
    link.symlink_to(path)
    shutil.copy(path, other)

    def lead_elsewhere() -> None:
        link.unlink()
        link.symlink_to(other)

    with closing(open_store(link)) as store:
        with pytest.raises(Refused, match="moved, replaced or deleted"):
            _write(store, lead_elsewhere)
        assert store.row(COUNT) == (10,)
