"""A backup put in the place of the store."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from pmtrack.errors import Refused
from pmtrack.rules.text import first_of
from pmtrack.store.contents import Contents, contents_of
from pmtrack.store.database import Store
from pmtrack.store.opening import make_current, staged
from pmtrack.store.placing import look_at, replace_inside, what_is_there, write_new
from pmtrack.store.trouble import clear_words
from pmtrack.store.upkeep import faults_of_facts, faults_of_usage

_SHOWN = 8  # faults that are told; 'pmtrack --store BACKUP verify' tells all
_PAGE = (4096,)  # bytes, as SQLite makes them; a file takes in no pages of another size


@dataclass(frozen=True)
class Placed:
    """What is in place now, and what was there: nothing, or a store too damaged to tell of."""

    now: Contents
    was_there: bool
    before: Contents | None


@contextmanager
def opened_backup(path: Path) -> Iterator[Store]:
    """A private copy of a backup: checked, brought up to date, and gone afterwards.

    Raises Refused if it is no store of pmtrack, not sound, or made by a newer pmtrack.
    """
    if not path.is_file():
        raise Refused(f"{path}: no backup here; name a file that 'pmtrack backup' wrote")
    with closing(staged(path)) as copy:
        with clear_words(path):
            uri = f"{path.absolute().as_uri()}?mode=ro"
            with closing(sqlite3.connect(uri, uri=True)) as source:
                copy.copy_from(source)
            make_current(copy)
        check(copy)
        yield copy


def check(copy: Store) -> None:
    """Refused with what is wrong with a store that is to be put in place."""
    faults, mend = faults_of_facts(copy), "take another"
    if not faults:
        faults = faults_of_usage(copy)
        mend = f"'pmtrack --store {copy.path} unload FOLDER', then load that: it is worked out anew"
    if faults:
        head = f"{copy.path}: not sound; nothing was changed; {mend}"
        raise Refused("\n".join([head, *first_of(faults, _SHOWN)]))


def put_in_place(new: Store, path: Path, over: bool) -> Placed:
    """Make the store at `path` hold what `new` holds: all of it or nothing.

    Raises Refused when something is there, and `over` does not say that it may go; it tells both.
    """
    now = contents_of(new)
    if path.is_symlink():
        path = Path(os.path.realpath(path))
    there = what_is_there(path)
    empty = path.is_file() and path.stat().st_size == 0 and there == [path]
    if not over and there and not empty:
        raise Refused(_refusal(path, there, now, new.path))
    if empty or path not in there:
        for leftover in there:  # without its store, what SQLite kept beside it tells nothing
            leftover.unlink()
        write_new(new, path, wal=True)
        return Placed(now, was_there=False, before=None)
    if new.row("PRAGMA page_size") != _PAGE:
        raise Refused(
            f"{new.path}: another program changed the size of its pages; restore it to a new file "
            "with --store, 'unload' that and 'load' it here"
        )
    return Placed(now, was_there=True, before=replace_inside(new, path))


def _refusal(path: Path, there: list[Path], now: Contents, source: Path) -> str:
    if path not in there:
        return f"{there[0]}: left here by another store; add --over if it may go"
    with clear_words(path):
        here = look_at(path)
    keep = "'pmtrack backup FILE' keeps what is here; then repeat with --over"
    return "\n".join(
        [
            f"{path}: a store is here; nothing was changed",
            f"  here: {here.words if here else 'too damaged to tell'}",
            f"  {source}: {now.words}",
            f"  {keep if here else 'repeat with --over to replace it'}",
        ]
    )
