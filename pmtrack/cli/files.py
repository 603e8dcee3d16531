"""Files that a command reads and writes, and progress for long work."""

import contextlib
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from pmtrack.errors import Refused


def contents(path: Path) -> bytes:
    """The bytes of a file. Raises Refused when it cannot be read."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise _unreadable(path, error) from None


@contextmanager
def opened(path: Path) -> Iterator[BinaryIO]:
    """A file to be read more than once; what comes by a pipe is set down on the disk first.

    Raises Refused when it cannot be read.
    """
    with contextlib.ExitStack() as open_files:
        try:
            file: BinaryIO = open_files.enter_context(path.open("rb"))
            if not file.seekable():
                kept = open_files.enter_context(tempfile.TemporaryFile())
                shutil.copyfileobj(file, kept)
                file = kept
        except OSError as error:
            raise _unreadable(path, error) from None
        yield file


def _unreadable(path: Path, error: OSError) -> Refused:
    reason = (error.strerror or "it cannot be read").lower()
    return Refused(f"{path}: {reason}; name a file that exists")


def write_whole(path: Path, data: bytes) -> None:
    """Write a file in one go: the old one stays until the new one is complete and on disk."""
    try:
        with tempfile.NamedTemporaryFile(dir=path.parent, prefix=".", delete=False) as file:
            try:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
                os.chmod(file.name, 0o644)
                os.replace(file.name, path)
            except BaseException:
                os.unlink(file.name)
                raise
    except OSError as error:
        reason = (error.strerror or "it cannot be written").lower()
        raise Refused(f"{path}: {reason}; name a file that can be written") from None


def keep_apart(path: Path, store: Path) -> None:
    """Refused when a file to write is the store, or lies beside it as a part of it."""
    parts = [store.with_name(store.name + ending) for ending in ("", "-wal", "-shm")]
    if path.resolve() in [part.resolve() for part in parts]:
        raise Refused(f"{path}: this is the store; name another file")


def write_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet. Raises Refused when it is, or cannot be written."""
    if path.exists():
        raise Refused(f"{path}: a file is here already; name a new one")
    write_whole(path, data)


@contextmanager
def progress(title: str) -> Iterator[Callable[[int, int], None]]:
    """A progress bar on standard error; nothing there when it is no terminal."""
    from rich.console import Console
    from rich.progress import Progress

    console = Console(stderr=True, markup=False, highlight=False)
    if not console.is_terminal:
        yield lambda done, total: None
        return
    with Progress(console=console, transient=True) as shown:
        job = shown.add_task(title.replace("[", "("), total=None)
        yield lambda done, total: shown.update(job, completed=done, total=total)
