"""Commands that look after the store: copies, checks, and the whole store as plain files."""

from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.session import Session
from pmtrack.screens.lines import tell

if TYPE_CHECKING:
    from pmtrack.store.restoring import Placed

Over = Annotated[
    bool, typer.Option("--over", help="Put it in the place of the store that is here.")
]
_MOST = 60  # faults that are told at once


def backup(
    context: typer.Context,
    file: Annotated[Path, typer.Argument(help="The new file to copy the store to.")],
) -> None:
    """Copy the store to a new file, while others write, and check it.

    Example: pmtrack backup /media/stick/pmtrack-2026-11-25.db
    """
    from pmtrack.store import open_store
    from pmtrack.store.upkeep import back_up

    session: Session = context.obj
    with closing(open_store(session.store)) as store:
        back_up(store, file)
    tell(f"{session.store} is copied to {file} and reads back well")


def restore(
    context: typer.Context,
    backup: Annotated[Path, typer.Argument(help="A file that 'pmtrack backup' wrote.")],
    over: Over = False,
) -> None:
    """Put a backup in the place of the store: all of it or nothing.

    The backup is checked first, and one of an older pmtrack is brought up to date. Where
    a store is, --over must say that it may go; what is lost is told before.

    Example: pmtrack restore /media/stick/pmtrack-2026-11-25.db --over
    """
    from pmtrack.cli.files import keep_apart
    from pmtrack.store.restoring import opened_backup, put_in_place

    session: Session = context.obj
    keep_apart(backup, session.store)
    with opened_backup(backup) as copy:
        placed = put_in_place(copy, session.store, over)
    _tell_placed(session.store, backup, placed)


def _tell_placed(store: Path, source: Path, placed: "Placed") -> None:
    tell(f"{store} is now as {source}")
    if placed.was_there:
        tell(f"  before: {placed.before.words if placed.before else 'too damaged to tell'}")
    tell(f"  now: {placed.now.words}")


def verify(context: typer.Context) -> None:
    """Check the whole store, and tell every fault with its place.

    The file, the entries, the shop's description, saved plans and calendars are read,
    and the usage worked out from the entries is worked out anew and compared.

    Example: pmtrack verify
    """
    from pmtrack.errors import Refused
    from pmtrack.rules.text import first_of
    from pmtrack.store import open_store
    from pmtrack.store.stored_shop import needs_shop
    from pmtrack.store.upkeep import faults_of_facts, faults_of_usage

    session: Session = context.obj
    with closing(open_store(session.store)) as store, store.reading():
        needs_shop(store)
        faults = faults_of_facts(store)
        head = "damaged; go back to a backup with 'pmtrack restore BACKUP --over'"
        if not faults:
            faults = faults_of_usage(store)
            head = (
                "the entries are sound, what is worked out from them is not; "
                "'pmtrack unload FOLDER', then 'pmtrack load FOLDER --over' works it out anew"
            )
    if faults:
        raise Refused("\n".join([f"{session.store}: {head}", *first_of(faults, _MOST)]))
    tell(f"{session.store}: sound")


def unload(
    context: typer.Context,
    folder: Annotated[Path, typer.Argument(help="A new or empty folder.")],
) -> None:
    """Write the whole store as plain files: CSV, JSON and an index.

    Any program can read them, and 'pmtrack load' makes an equal store of them.

    Example: pmtrack unload pmtrack-2026-11-25
    """
    from pmtrack.store import open_store
    from pmtrack.store.damage import told_as_damage
    from pmtrack.store.unloading import unload as write_files

    session: Session = context.obj
    with closing(open_store(session.store)) as store, told_as_damage(store):
        files = write_files(store, folder)
    tell(f"{session.store} is written to {folder} as {files} files")


def load(
    context: typer.Context,
    folder: Annotated[Path, typer.Argument(help="A folder that 'pmtrack unload' wrote.")],
    over: Over = False,
) -> None:
    """Make a store of the files of a folder: all of it or nothing.

    Everything is checked first; faults are told with file and line. Where a store is,
    --over must say that it may go.

    Example: pmtrack load pmtrack-2026-11-25
    """
    from pmtrack.store.loading import loaded
    from pmtrack.store.restoring import put_in_place

    session: Session = context.obj
    with loaded(folder) as new:
        placed = put_in_place(new, session.store, over)
    _tell_placed(session.store, folder, placed)
