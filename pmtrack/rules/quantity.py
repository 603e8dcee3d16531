"""Numbers as people write them: exact, finite, at most six decimals."""

import re
from fractions import Fraction

from pmtrack.errors import UnreadableInput

DECIMALS = 6
LARGEST = 10**12

_PLAIN = re.compile(r"[+-]?(?:\d{1,15}|\d{1,3}(?:,\d{3}){1,4})(?:\.\d+)?", re.ASCII)


def parse_quantity(text: str) -> Fraction:
    """The number that `text` writes (`41200`, `41,200`, `7.5`).

    Raises UnreadableInput for anything else, more than six decimals, or over 10^12.
    """
    stripped = text.strip()
    if not _PLAIN.fullmatch(stripped):
        raise UnreadableInput(f"'{shorten(text)}' is not a number; write it like 41200 or 7.5")
    value = Fraction(stripped.replace(",", ""))
    if 10**DECIMALS % value.denominator:
        raise UnreadableInput(f"'{shorten(text)}' has more than {DECIMALS} decimals; round it")
    if abs(value) > LARGEST:
        raise UnreadableInput(f"'{shorten(text)}' is too large; at most 10^12")
    return value


def plain(value: Fraction | int) -> int | float:
    """The number for JSON: whole numbers as int, others as float."""
    number = Fraction(value)
    return number.numerator if number.denominator == 1 else float(number)


def show(value: Fraction | int | float, decimals: int = 1) -> str:
    """The number for people: thousands set apart, no idle decimals."""
    text = f"{float(value):,.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def shorten(text: str, width: int = 40) -> str:
    """Text cut for a message, on one line."""
    flat = " ".join(text.split())
    return flat if len(flat) <= width else flat[: width - 3] + "..."
