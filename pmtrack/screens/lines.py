"""Single lines and JSON: answers on standard output, remarks on standard error."""

import json
import sys
from datetime import date, datetime
from fractions import Fraction
from typing import Any

from pmtrack.rules.quantity import plain
from pmtrack.rules.text import printable


def tell(line: str) -> None:
    """A line of the answer, on standard output."""
    print(printable(line))


def say(line: str) -> None:
    """A remark, on standard error: standard output holds answers alone."""
    sys.stdout.flush()  # so that a terminal shows answer and remark in the order they were told
    print(printable(line), file=sys.stderr)


def say_if_twice(entry: int | None) -> None:
    """The remark that an earlier entry says the same, where one does."""
    if entry is not None:
        told = f"if it was typed twice: pmtrack void {entry} --why 'typed twice'"
        say(f"entry {entry} says the same; {told}")


def print_json(value: Any) -> None:
    """One JSON value on standard output."""
    print(json.dumps(value, ensure_ascii=True, default=_json_value))


def _json_value(value: object) -> object:
    if isinstance(value, Fraction):
        return plain(value)
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%dT%H:%M:%SZ")
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"no JSON for {type(value)}")
