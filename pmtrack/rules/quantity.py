"""Numbers as people write them: exact, finite, at most six decimals."""

import re
from fractions import Fraction

from pmtrack.errors import UnreadableInput

DECIMALS = 6
LARGEST = 10**12
MILLION: int = 10**DECIMALS

_PLAIN = re.compile(r"([+-]?)(\d{1,15}|\d{1,3}(?:,\d{3}){1,4})(?:\.(\d+))?", re.ASCII)


def parse_millionths(text: str) -> int:
    """The number that `text` writes (`41200`, `41,200`, `7.5`), in whole millionths.

    Raises UnreadableInput for anything else, more than six decimals, or over 10^12.
    """
    match = _PLAIN.fullmatch(text.strip())
    if not match:
        raise UnreadableInput(f"'{shorten(text)}' is not a number; write it like 41200 or 7.5")
    sign, whole, decimals = match.groups("")
    decimals = decimals.rstrip("0")
    if len(decimals) > DECIMALS:
        raise UnreadableInput(f"'{shorten(text)}' has more than {DECIMALS} decimals; round it")
    value = int(whole.replace(",", "") + decimals.ljust(DECIMALS, "0"))
    if value > LARGEST * MILLION:
        raise UnreadableInput(f"'{shorten(text)}' is too large; at most 10^12")
    return -value if sign == "-" else value


def parse_quantity(text: str) -> Fraction:
    """The number that `text` writes, as `parse_millionths` reads it."""
    return Fraction(parse_millionths(text), MILLION)


def parse_whole(what: str, text: str) -> Fraction:
    """A whole number, as `parse_millionths` reads it; `what` names it in the refusal."""
    number = parse_quantity(text)
    if number.denominator != 1:
        raise UnreadableInput(f"{what} are whole: '{shorten(text)}' is none; correct it")
    return number


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
