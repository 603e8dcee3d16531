"""Forms of cells: how each is read, and how the store keeps what it says.

An amount is whole millionths in both.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

from pmtrack.errors import UnreadableInput
from pmtrack.rules.base import instant_of
from pmtrack.rules.dates import parse_date, parse_moment
from pmtrack.rules.facts import Moment
from pmtrack.rules.quantity import MILLION, parse_millionths, shorten
from pmtrack.rules.shop import Shop
from pmtrack.store.codec import to_text

_YES_NO = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}


@dataclass(frozen=True)
class Form:
    """What a cell may hold. `kept` is the value in the store's form, for comparing rows."""

    read: Callable[[str, Shop], Any]
    kept: Callable[[Any, Shop], str | int] = lambda value, _: value
    blank: Any = None  # what an empty cell means


def _words(text: str, _: Shop) -> str:
    return " ".join(text.split())


def _amount(text: str, _: Shop) -> int:
    value = parse_millionths(text)
    if value < 0:
        raise UnreadableInput(f"'{shorten(text)}' is below 0; write 0 or more")
    return value


def _whole(text: str, shop: Shop) -> int:
    value, rest = divmod(_amount(text, shop), MILLION)
    if rest:
        raise UnreadableInput(f"'{shorten(text)}' is no whole number; round it")
    return value


def _pieces(text: str, shop: Shop) -> int:
    return _whole(text, shop) * MILLION


def _yes_no(text: str, _: Shop) -> bool:
    found = _YES_NO.get(text.casefold())
    if found is None:
        raise UnreadableInput(f"'{shorten(text)}' is neither yes nor no; write yes or no")
    return found


def _moment_kept(value: Moment, shop: Shop) -> str:
    """The instant, and 1 for a whole day."""
    return f"{to_text(instant_of(value, shop))}{int(value.at is None)}"


def one_of(words: tuple[str, ...]) -> Form:
    """A cell that holds one of a few words."""

    def read(text: str, _: Shop) -> str:
        if text not in words:
            raise UnreadableInput(f"'{shorten(text)}' is not known; write {_either(words)}")
        return text

    return Form(read)


def _either(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"


def _date_kept(value: date, _: Shop) -> str:
    return value.isoformat()


TEXT = Form(lambda text, _: text)
WORDS = Form(_words)
AMOUNT = Form(_amount)
WHOLE = Form(_whole)
PIECES = Form(_pieces)  # a whole number, kept as an amount
YES_NO = Form(_yes_no, lambda value, _: int(value), blank=False)
DAY = Form(lambda text, _: parse_date(text), _date_kept)
MOMENT = Form(lambda text, shop: parse_moment(text, shop.zone), _moment_kept)
