"""Values as the store keeps them: instants and dates as text, amounts as whole millionths."""

from datetime import UTC, date, datetime
from fractions import Fraction
from functools import lru_cache
from typing import TypeVar

from pmtrack.errors import Refused
from pmtrack.rules.facts import Moment
from pmtrack.rules.quantity import MILLION, shorten

LARGEST_NUMBER = 2**63 - 1  # that SQLite keeps, and gives to a row
YEARS = range(1900, 3000)  # far beyond all that is taken or planned; no sum of days leaves time

Day = TypeVar("Day", date, datetime)


def to_text(instant: datetime) -> str:
    """A UTC instant as `2026-11-25T19:05:00Z`."""
    return instant.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def to_instant(text: str) -> datetime:
    """The UTC instant that the text tells. Raises Refused for what the store never writes."""
    try:
        instant = within_years(datetime.fromisoformat(text))
    except (ValueError, TypeError):  # where the file is damaged, text may come as another type
        instant = None
    if instant is None or instant.tzinfo is None:
        raise damaged(f"'{shorten(str(text))}' is no instant")
    return instant


def within_years(day: Day) -> Day:
    """The same day or instant. Raises ValueError for one far from all that is ever written."""
    if day.year not in YEARS:
        raise ValueError(day)
    return day


@lru_cache(maxsize=4096)
def to_date(text: str) -> date:
    """The date that the text tells. Raises Refused for what the store never writes."""
    try:
        return within_years(date.fromisoformat(text))
    except (ValueError, TypeError):
        raise damaged(f"'{shorten(str(text))}' is no date") from None


class Damaged(Refused):
    """A stored value cannot be what the store wrote; `what` is told without the mend."""

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(f"the store is damaged: {what}; go back to a backup")


def damaged(what: str) -> Damaged:
    """What to raise when a stored value cannot be what the store wrote."""
    return Damaged(what)


def maybe_instant(text: str | None) -> datetime | None:
    """As `to_instant`; None stays None."""
    return None if text is None else to_instant(text)


def to_moment(day: str, at: str, whole_day: object) -> Moment:
    """When a fact counts, by its entry's columns; one of a whole day, at that day's end."""
    return Moment(to_date(day), None if whole_day else to_instant(at))


def to_millionths(value: Fraction) -> int:
    """An amount as whole millionths."""
    whole, rest = divmod(value.numerator * MILLION, value.denominator)
    if rest:
        raise ValueError(f"{value} is finer than a millionth")
    return whole


@lru_cache(maxsize=4096)
def from_millionths(value: int) -> Fraction:
    """The amount that so many millionths make."""
    whole, rest = divmod(value, MILLION)
    return Fraction(value, MILLION) if rest else Fraction(whole)


def maybe_millionths(value: Fraction | None) -> int | None:
    """As `to_millionths`; None stays None."""
    return None if value is None else to_millionths(value)


def maybe_amount(value: int | None) -> Fraction | None:
    """As `from_millionths`; None stays None."""
    return None if value is None else from_millionths(value)
