"""The store's place: whether its path still leads to the files that were opened there.

A file that was moved away, replaced or deleted can still be written by who has it open, and what
is written is then gone or out of sight.
"""

import os
from pathlib import Path

from pmtrack.errors import Refused

_IN_MEMORY = ":memory:"  # SQLite's own name for a store without a file

Identity = tuple[int, int] | None  # device and inode; None where nothing is


class Place:
    """A path, the file that was opened there, and the log of changes beside it."""

    def __init__(self, path: Path) -> None:
        self._told = path
        self._path = Path(path if str(path) == _IN_MEMORY else os.path.abspath(path))
        self._file = _identity(self._path)
        self._log: Identity = None

    def opened(self) -> None:
        """Take note of the file, just opened. Raises Refused if it was replaced meanwhile."""
        before, self._file = self._file, _identity(self._path)
        in_memory = str(self._path) == _IN_MEMORY
        if (before and before != self._file) or (self._file is None and not in_memory):
            self._refuse("nothing was changed; run it again")

    def begun(self) -> None:
        """Take note of the log beside the file, which stays as long as a transaction lasts."""
        self._log = self._log_now()

    def check(self, outcome: str) -> None:
        """Raises Refused, with what became of the command, if the files are not the same."""
        if _identity(self._path) != self._file:
            self._refuse(outcome)
        if self._log_now() != self._log:
            raise Refused(
                f"{self._told}: its -wal file was moved or deleted while it was in use; {outcome}; "
                "put it back, or check with 'pmtrack verify'"
            )

    def _refuse(self, outcome: str) -> None:
        raise Refused(
            f"{self._told}: the store was moved, replaced or deleted while it was in use; {outcome}"
        )

    def _log_now(self) -> Identity:
        return _identity(Path(f"{os.path.realpath(self._path)}-wal"))


def _identity(path: Path) -> Identity:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
