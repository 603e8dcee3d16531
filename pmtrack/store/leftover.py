"""What a killed command left beside the store: a log of changes that the next one takes over.

SQLite takes the log over up to its first fault, and drops the rest without a word. A torn end is
what a crash leaves of a command that was never told to be done. A fault before the last command, or
no log where one must be, is damage to what was told; then nothing is touched before somebody knows.
Layout: SQLite, "Database File Format", section 4, "The Write-Ahead Log", 2024.
"""

import os
import struct
import sys
import time
from array import array
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from pmtrack.errors import Refused

_MAGIC = (0x377F0682, 0x377F0683)  # checksums of little-endian words, and of big-endian ones
_HEADER, _FRAME = 32, 24  # bytes of the log's head and of a frame's, which a page follows
_MASK = 2**32 - 1
_QUIET = 2.0  # seconds since it was written: a younger log may be in use
_LOOKS, _BETWEEN = 3, 0.05  # how often to look at what others may just change; seconds between


def check_leftover(path: Path) -> None:
    """Raises Refused where opening the store would drop what its users were told is kept."""
    real = os.path.realpath(path)
    log, index = Path(f"{real}-wal"), Path(f"{real}-shm")
    if _stays(lambda: index.exists() and not log.exists()):
        raise Refused(
            f"{log}: this file is gone, and with it what was entered last; nothing was changed; "
            f"put it back, or delete {index.name} to go on without"
        )
    if _stays(lambda: _is_left(log) and _is_damaged(log)):
        raise Refused(
            f"{log}: damaged, and in it what was entered last; nothing was changed; copy it aside "
            f"and go back to a backup, or delete it and {index.name} to go on without"
        )


def _stays(seen: Callable[[], bool]) -> bool:
    """Whether something is seen again and again."""
    for look in range(_LOOKS):
        time.sleep(_BETWEEN if look else 0)
        if not seen():
            return False
    return True


def _is_left(log: Path) -> bool:
    with suppress(OSError):
        found = log.stat()
        return found.st_size > _HEADER and time.time() - found.st_mtime > _QUIET
    return False


def _is_damaged(log: Path) -> bool:
    with suppress(OSError), log.open("rb") as file:  # SQLite tells why it cannot be read
        head = file.read(_HEADER)
        magic, _, page, _, *salts, first, second = struct.unpack(">8I", head)
        little = magic == _MAGIC[0]
        if magic not in _MAGIC or _summed(head[:24], (0, 0), little) != (first, second):
            return any(head)  # zeros are what a crash leaves of a log that was just begun
        sums = first, second
        for frame, data in _frames(file, page, _told(file, page, salts)):
            _, _, *own, first, second = struct.unpack(">6I", frame)
            sums = _summed(data, _summed(frame[:8], sums, little), little)
            if own != salts or sums != (first, second):
                return True
    return False


def _told(file: BinaryIO, page: int, salts: list[int]) -> int:
    """How many frames belong to commands after which another was begun: those were on the disk."""
    ends = [0]
    last = 0
    for number, (frame, _) in enumerate(_frames(file, page, None), 1):
        _, pages, *own, _, _ = struct.unpack(">6I", frame)
        if own == salts:
            last = number
            ends += [number] * (pages > 0)  # a command's last frame tells the store's size
    return ends[-1] if last > ends[-1] or len(ends) == 1 else ends[-2]


def _frames(file: BinaryIO, page: int, count: int | None) -> Iterator[tuple[bytes, bytes]]:
    """The first frames, each with its page; with None, all of them without pages."""
    number = 0
    while count is None or number < count:
        file.seek(_HEADER + number * (_FRAME + page))
        frame = file.read(_FRAME)
        if len(frame) < _FRAME:
            return
        yield frame, b"" if count is None else file.read(page)
        number += 1


def _summed(data: bytes, sums: tuple[int, int], little: bool) -> tuple[int, int]:
    """The log's checksum, going on from the one before; words are taken in pairs."""
    words = array("I", data)
    if little != (sys.byteorder == "little"):
        words.byteswap()
    first, second = sums
    for one, other in zip(words[::2], words[1::2], strict=True):
        first = (first + one + second) & _MASK
        second = (second + other + first) & _MASK
    return first, second
