"""The store as plain files: which tables there are, and how a value is written in a cell.

Text stands as it is, except that a leading backslash is doubled; `\\N` is no value, which an empty
cell is not. Amounts are decimals, exact to a millionth; instants are UTC; yes is 1 and no is 0.
"""

import json
import re
from dataclasses import dataclass

from pmtrack.store.codec import LARGEST_NUMBER
from pmtrack.store.database import Store
from pmtrack.store.tables import AMOUNTS, DESCRIBED, WORKED_OUT

FORMAT = 1
INDEX = "index.json"
DESCRIPTION = "description.json"
NOTES = (
    "A whole store of pmtrack. 'pmtrack load' makes a store of it again, equal in every fact.",
    "Tables are CSV files (RFC 4180, UTF-8) with a header. The description of the shop is JSON.",
    "A cell \\N holds no value; an empty cell holds empty text; text that begins with a backslash"
    " has one more in front.",
    "Amounts are decimals, exact to a millionth. Instants are UTC. Yes is 1, no is 0.",
    "What is worked out from the entries is left out: it is worked out anew.",
)
# what the shop file says, with all it ever said; kept as JSON because it is nested
KEPT_AS_JSON = ("store", "applied", *(described.table for described in DESCRIBED))
_NULL = "\\N"
_WHOLE = re.compile(r"-?[0-9]{1,19}")
_AMOUNT = re.compile(r"(-?)([0-9]{1,13})(?:\.([0-9]{1,6}))?")

Value = str | int | float | None


@dataclass(frozen=True)
class Column:
    """A column and its form: text, whole, amount or share; whether it may hold no value."""

    name: str
    form: str
    optional: bool


_FORMS = {"TEXT": "text", "INTEGER": "whole", "REAL": "share"}


def tables_of(store: Store) -> dict[str, list[Column]]:
    """All tables of facts, of the description and of plans with their columns, in their order."""
    names = store.rows(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE"
        " '\\' AND name NOT LIKE '\\_sqlite%' ESCAPE '\\' ORDER BY rowid"
    )
    return {name: _columns(store, name) for (name,) in names if name != WORKED_OUT}


def _columns(store: Store, table: str) -> list[Column]:
    rows = store.rows('SELECT name, type, "notnull", pk FROM pragma_table_info(?)', table)
    return [
        Column(
            name,
            "amount" if (table, name) in AMOUNTS else _FORMS[kind],
            optional=not (needed or key),
        )
        for name, kind, needed, key in rows
    ]


def to_cell(value: Value, column: Column) -> str:
    """A value as its cell shows it."""
    if value is None:
        return _NULL
    if column.form == "amount":
        whole, rest = divmod(abs(int(value)), 10**6)
        sign = "-" if int(value) < 0 else ""
        return f"{sign}{whole}" + (f".{rest:06}".rstrip("0") if rest else "")
    if isinstance(value, str):
        return f"\\{value}" if value.startswith("\\") else value
    return repr(value)


def from_cell(text: str, column: Column) -> Value:
    """The value that a cell shows. Raises ValueError with what is wrong and the mend."""
    if text == _NULL:
        if not column.optional:
            raise ValueError("holds no value, and must")
        return None
    if column.form == "text":
        if text.startswith("\\") and not text.startswith("\\\\"):
            raise ValueError(f"begins with one backslash; write two, or {_NULL} for no value")
        return text.removeprefix("\\")
    return _number(text, column.form)


def _number(text: str, form: str) -> int | float:
    if form == "share":
        try:
            return float(text)
        except ValueError:
            raise ValueError("is no number; write it like 0.25") from None
    if form == "amount":
        match = _AMOUNT.fullmatch(text)
        if not match:
            raise ValueError("is no amount; write it like 41200 or 0.2")
        sign, whole, rest = match.groups()
        number = int(f"{sign}{whole}{(rest or '').ljust(6, '0')}")
    else:
        if not _WHOLE.fullmatch(text):
            raise ValueError("is no whole number")
        number = int(text)
    if abs(number) > LARGEST_NUMBER:
        raise ValueError("is too large to be kept")
    return number


def opened_up(definition: str) -> object:
    """A record's JSON as what it says; as its text, where that could not be made the same again."""
    try:
        told: object = json.loads(definition)
        json.dumps(told, ensure_ascii=False).encode()
    except (ValueError, RecursionError):
        return definition
    return told if closed_up(told) == definition else definition


def closed_up(told: object) -> str:
    """What was opened up as the store keeps it."""
    return told if isinstance(told, str) else json.dumps(told, separators=(",", ":"))
