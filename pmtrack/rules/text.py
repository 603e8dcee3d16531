"""Free text that people type: one line, printable, of bounded length."""

import unicodedata
from collections.abc import Sequence

from pmtrack.errors import Refused

LONGEST = 400
# marks that turn the direction of all that follows: Unicode Standard Annex #9, 2.1 to 2.3 (2024)
_TURNING = {*range(0x202A, 0x202F), *range(0x2066, 0x206A)}
_LINE_ENDS = ("Zl", "Zp")  # U+2028 and U+2029, where some programs begin a line


def one_line(text: str, what: str, longest: int = LONGEST) -> str:
    """The text on one line. Raises Refused for control characters or too long a text."""
    flat = " ".join(text.split())
    if shown(flat) != flat:
        raise Refused(f"{what} holds characters that cannot be shown; type it as plain text")
    if len(flat) > longest:
        raise Refused(f"{what} is {len(flat)} characters long; keep it under {longest}")
    return flat


def shown(text: str) -> str:
    """The text without control characters, what is no character, and marks that turn direction."""
    return "".join(
        c
        for c in text
        if unicodedata.category(c) not in ("Cc", "Cs", "Co", "Cn") and ord(c) not in _TURNING
    )


def needed(text: str, what: str, example: str) -> str:
    """As `one_line`, and not empty; Refused with an example otherwise."""
    flat = one_line(text, what)
    if not flat:
        raise Refused(f"say {what}, like {example}")
    return flat


def counted(number: int, what: str) -> str:
    """A number of things in words: `1 job`, `2 jobs`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def first_of(lines: Sequence[str], most: int) -> list[str]:
    """The first lines, and where there are more than `most`, one that tells how many."""
    left = len(lines) - most
    return [*lines[:most], f"and {left} more"] if left > 0 else list(lines)


def printable(text: str) -> str:
    """Text for a terminal: what would steer it or turn a line becomes a question mark.

    Control characters (ECMA-48, 5th edition, 1991, 5.2 and 5.3) other than line ends, halves of
    surrogate pairs, further line ends, and marks that turn the direction.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join("?" if c != "\n" and _steers(c) else c for c in text)


def _steers(character: str) -> bool:
    steering = unicodedata.category(character) in ("Cc", "Cs", *_LINE_ENDS)
    return steering or ord(character) in _TURNING
