"""Texts, codes and numbers of the shop file; each reader raises ValueError with fault and mend."""

import re
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

from pmtrack.errors import UnreadableInput
from pmtrack.rules.quantity import parse_quantity, shorten

LONGEST_TEXT = 400
LONGEST_NOTE = 2000
LONGEST_VALUE = 100  # characters of a number, a date, an interval

_NUMBER_MEND = "write a number like 41200 or 7.5"
_PLAINLY = re.compile(r"[+-]?(?:0|[1-9]\d*)(?:\.\d+)?", re.ASCII)
_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,39}")
# control characters, line and paragraph separators, and the marks that turn the direction of text
_UNPRINTED = re.compile("[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff\ufeff]")
# other ways of writing numbers, which YAML 1.1 or a programming language reads in its own way
_ODD_NUMBERS: tuple[tuple[str, Callable[[str], str]], ...] = (
    (r"0+(?=\d)[\d.,]*", lambda text: text.lstrip("0") or "0"),
    (r"\d+(?:_\d+)+(?:\.\d+)?", lambda text: text.replace("_", "")),
    (r"0[xX][0-9a-fA-F]{1,12}", lambda text: str(int(text, 16))),
    (r"0[oO][0-7]{1,14}", lambda text: str(int(text, 8))),
    (r"\d{1,9}(?:\.\d{1,9})?[eE][+-]?\d{1,2}", lambda text: f"{Decimal(text).normalize():f}"),
)


def scalar(value: object, mend: str) -> str:
    """The trimmed text of a single value as it stands in the file."""
    if isinstance(value, str) and value.strip():
        return value.strip()
    if value is None or isinstance(value, str):
        raise ValueError(f"is empty; {mend}")
    if isinstance(value, bool):
        raise ValueError(f"'{str(value).lower()}' does not belong here; {mend}")
    raise ValueError(f"holds several values where one belongs; {mend}")


def short(value: object, mend: str) -> str:
    """A single value that is too short for slow patterns to matter."""
    text = scalar(value, mend)
    if len(text) > LONGEST_VALUE:
        raise ValueError(f"'{shorten(text)}' is too long; {mend}")
    return text


def read_text(value: object) -> str:
    """One line of text of up to 400 characters."""
    return _text(value, LONGEST_TEXT, "")


def read_note(value: object) -> str:
    """Text of up to 2,000 characters, which may hold line ends."""
    return _text(value, LONGEST_NOTE, "\n")


def _text(value: object, longest: int, allowed: str) -> str:
    mend = "put the word in quotes" if isinstance(value, bool) else "write a text"
    text = scalar(value, mend)
    if len(text) > longest:
        raise ValueError(f"has {len(text)} characters; write at most {longest}")
    if text.isprintable():
        return text
    odd = next((c for c in _UNPRINTED.findall(text) if c not in allowed), None)
    if odd == "\n":
        raise ValueError("runs over several lines; write it on one, or fold it with >")
    if odd is not None:
        raise ValueError(f"holds the control character U+{ord(odd):04X}; delete it")
    return text


def read_code(value: object) -> str:
    """A code of machine, task, supplier, tool, material or program."""
    mend = "put the word in quotes" if isinstance(value, bool) else "write a code like TP-1"
    text = scalar(value, mend)
    if not _CODE.fullmatch(text):
        raise ValueError(
            f"'{shorten(text)}' is no code; write up to 40 letters, digits, - _ . "
            "and begin with a letter or digit"
        )
    return text


def read_number(value: object) -> Fraction:
    """Any number, exact."""
    text = short(value, _NUMBER_MEND)
    if not _PLAINLY.fullmatch(text):
        _refuse_odd(text)
    try:
        return parse_quantity(text)
    except UnreadableInput as error:
        raise ValueError(str(error)) from None


def _refuse_odd(text: str) -> None:
    sign, digits = ("-" if text[0] == "-" else ""), text.lstrip("+-")
    for pattern, plainly in _ODD_NUMBERS:
        if re.fullmatch(pattern, digits, re.ASCII):
            raise ValueError(f"'{text}' is not written plainly; write {sign}{plainly(digits)}")


def read_positive(value: object) -> Fraction:
    """A number above 0."""
    number = read_number(value)
    if number <= 0:
        raise ValueError(f"'{shorten(str(value))}' is not above 0; {_NUMBER_MEND}")
    return number


def read_amount(value: object) -> Fraction:
    """A number of 0 or more."""
    number = read_number(value)
    if number < 0:
        raise ValueError(f"'{shorten(str(value))}' is below 0; {_NUMBER_MEND}")
    return number


def read_hours(value: object) -> Fraction:
    """Technician hours of a day: above 0, at most 1,000."""
    number = read_positive(value)
    if number > 1000:
        raise ValueError(f"'{shorten(str(value))}' is over 1000 hours a day; write fewer")
    return number


def read_minutes(value: object) -> int:
    """Whole minutes, 0 or more."""
    number = read_number(value)
    if number.denominator != 1 or number < 0:
        raise ValueError(f"'{shorten(str(value))}' is no time; write whole minutes like 45")
    return int(number)


def read_flag(value: object) -> bool:
    """True or false, and nothing that only resembles them."""
    if isinstance(value, bool):
        return value
    text = scalar(value, "write true or false")
    raise ValueError(f"'{shorten(text)}' is neither true nor false; write true or false")
