"""Values as the store keeps them: instants and dates as text, amounts as whole millionths."""

from datetime import UTC, date, datetime
from fractions import Fraction

from pmtrack.errors import Refused
from pmtrack.rules.quantity import shorten

_MILLION = 10**6


def to_text(instant: datetime) -> str:
    """A UTC instant as `2026-11-25T19:05:00Z`."""
    return instant.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def to_instant(text: str) -> datetime:
    """The UTC instant that the text tells. Raises Refused for what the store never writes."""
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise damaged(f"'{shorten(text)}' is no instant") from None


def to_date(text: str) -> date:
    """The date that the text tells. Raises Refused for what the store never writes."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise damaged(f"'{shorten(text)}' is no date") from None


def damaged(what: str) -> Refused:
    """What to raise when a stored value cannot be what the store wrote."""
    return Refused(f"the store is damaged: {what}; go back to a backup")


def maybe_instant(text: str | None) -> datetime | None:
    """As `to_instant`; None stays None."""
    return None if text is None else to_instant(text)


def to_millionths(value: Fraction) -> int:
    """An amount as whole millionths."""
    whole, rest = divmod(value.numerator * _MILLION, value.denominator)
    if rest:
        raise ValueError(f"{value} is finer than a millionth")
    return whole


def from_millionths(value: int) -> Fraction:
    """The amount that so many millionths make."""
    whole, rest = divmod(value, _MILLION)
    return Fraction(value, _MILLION) if rest else Fraction(whole)


def maybe_millionths(value: Fraction | None) -> int | None:
    """As `to_millionths`; None stays None."""
    return None if value is None else to_millionths(value)


def maybe_amount(value: int | None) -> Fraction | None:
    """As `from_millionths`; None stays None."""
    return None if value is None else from_millionths(value)
