"""Frozen records as JSON text and back, by their fields' types.

A library that does this is imported in about the time that a daily command takes as a whole, so
this small reader stands in its place; it reads only what `encode` wrote.
"""

import json
import re
from collections.abc import Callable
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime, time
from fractions import Fraction
from functools import cache
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

from pmtrack.rules.quantity import shorten
from pmtrack.store.codec import damaged, within_years

_EXACT = re.compile(r"-?\d{1,25}(?:/\d{1,25})?", re.ASCII)


def _fraction(text: str) -> Fraction:
    if not _EXACT.fullmatch(text):  # a power of ten, as in 1e999999, would take all memory
        raise ValueError(text)
    return Fraction(text)


_FROM_TEXT: dict[Any, Callable[[str], Any]] = {
    Fraction: _fraction,
    date: lambda text: within_years(date.fromisoformat(text)),
    datetime: lambda text: within_years(datetime.fromisoformat(text)),
    time: time.fromisoformat,
}

Reader = Callable[[Any], Any]


def encode(record: Any) -> str:
    """A record as JSON text, the same for equal records."""
    return _ENCODER.encode(record)


def _as_json(value: object) -> object:
    """A record as its fields by name, anything else as text."""
    if is_dataclass(value):
        kind: Any = type(value)
        return {name: getattr(value, name) for name in _names(kind)}
    return value.isoformat() if isinstance(value, date | time) else str(value)


@cache
def _names(record: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(record))


_ENCODER = json.JSONEncoder(default=_as_json, separators=(",", ":"))


def decode(record: Any, text: str) -> Any:
    """The record that the JSON text tells. Raises Refused for what `encode` never wrote."""
    try:
        return _reader(record)(json.loads(text))
    except (ValueError, KeyError, TypeError, AttributeError, ArithmeticError, RecursionError):
        raise damaged(f"'{shorten(str(text))}' cannot be read") from None


@cache
def _reader(kind: Any) -> Reader:
    """What turns the JSON value of a field of that type into the field's value."""
    if is_dataclass(kind):
        return _record_reader(kind)
    origin, inner = get_origin(kind), get_args(kind)
    if origin is UnionType:
        read = _reader(inner[0])
        return lambda value: None if value is None else read(value)
    if origin is tuple:
        read = _reader(inner[0])
        return lambda value: tuple(map(read, _as_it_is(list)(value)))
    if origin is dict:
        read = _reader(inner[1])
        return lambda value: {key: read(item) for key, item in value.items()}
    return _FROM_TEXT.get(kind) or _as_it_is(kind)


def _as_it_is(kind: Any) -> Reader:
    """A value that JSON holds as such; of another type, it is not what was written."""

    def read(value: Any) -> Any:
        if type(value) is not kind:
            raise TypeError(value)
        return value

    return read


def _record_reader(record: Any) -> Reader:
    """A field that has a default may be absent: it came later than the text was written."""
    hints = get_type_hints(record)
    readers = {field.name: _reader(hints[field.name]) for field in fields(record)}
    newer = {field.name for field in fields(record) if field.default is not MISSING}
    return lambda value: record(
        **{
            name: read(value[name])
            for name, read in readers.items()
            if name in value or name not in newer
        }
    )
