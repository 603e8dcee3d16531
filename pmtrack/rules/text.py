"""Free text that people type: one line, printable, of bounded length."""

import unicodedata

from pmtrack.errors import Refused

LONGEST = 400
_TURNING = {*range(0x202A, 0x202F), *range(0x2066, 0x206A)}  # marks that turn a line's direction


def one_line(text: str, what: str, longest: int = LONGEST) -> str:
    """The text on one line. Raises Refused for control characters or too long a text."""
    flat = " ".join(text.split())
    if any(not _shows(character) for character in flat):
        raise Refused(f"{what} holds characters that cannot be shown; type it as plain text")
    if len(flat) > longest:
        raise Refused(f"{what} is {len(flat)} characters long; keep it under {longest}")
    return flat


def _shows(character: str) -> bool:
    hidden = unicodedata.category(character) in ("Cc", "Cs", "Co", "Cn")
    return not hidden and ord(character) not in _TURNING


def needed(text: str, what: str, example: str) -> str:
    """As `one_line`, and not empty; Refused with an example otherwise."""
    flat = one_line(text, what)
    if not flat:
        raise Refused(f"say {what}, like {example}")
    return flat


def counted(number: int, what: str) -> str:
    """A number of things in words: `1 job`, `2 jobs`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def printable(text: str) -> str:
    """Text for a terminal: control characters other than line ends become question marks."""
    return "".join(
        c if c == "\n" or unicodedata.category(c) not in ("Cc", "Cs") else "?" for c in text
    )
