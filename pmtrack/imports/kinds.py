"""The kinds of files, each with its columns."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from pmtrack.errors import UnreadableInput
from pmtrack.imports.forms import (
    AMOUNT,
    DAY,
    MOMENT,
    PIECES,
    TEXT,
    WHOLE,
    WORDS,
    YES_NO,
    Form,
    one_of,
)
from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import Shop
from pmtrack.rules.tool_events import EVENTS, REASONS

Values = dict[str, Any]  # what the cells of a row say, by column


@dataclass(frozen=True)
class Column:
    """A column; an optional one may be left out, and its cells may be empty.

    Two rows that differ only in columns that are not compared are the same row.
    """

    name: str
    form: Form = TEXT
    optional: bool = False
    may_be_empty: bool = False
    compared: bool = True


@dataclass(frozen=True)
class Kind:
    """A kind of file; `when` is the column that orders its rows in time.

    With `meters`, a further column may bear the name of any meter of the shop.
    """

    name: str
    columns: tuple[Column, ...]
    when: str = "at"
    meters: bool = False
    fill: Callable[[Values, Shop], None] | None = None  # says what empty texts mean

    @cached_property
    def compared(self) -> tuple[Column, ...]:
        """The columns in which two rows must differ."""
        return tuple(column for column in self.columns if column.compared)

    @cached_property
    def position(self) -> int:
        """Where the column that orders rows stands among the compared ones."""
        return [column.name for column in self.compared].index(self.when)


def _needed(name: str, form: Form = TEXT) -> Column:
    return Column(name, form)


def _optional(name: str, form: Form = TEXT) -> Column:
    return Column(name, form, optional=True, may_be_empty=True)


def _own_machine(values: Values, shop: Shop) -> None:
    """A tool is fitted in its own machine unless the row names another."""
    if values.get("event") == "fit" and values.get("machine") is None:
        own = (tool.machine for tool in shop.tools if tool.code == values.get("tool"))
        values["machine"] = next(own, None)


_BY = _needed("by", WORDS)
_NOTE = replace(_optional("note"), compared=False)
_SURE = replace(_optional("confirmed", YES_NO), compared=False)  # of a dial it is not kept

_SHIFTS = Kind(
    "shifts",
    (
        _needed("machine"),
        _needed("shift"),
        _needed("date", DAY),
        _BY,
        _optional("parts", PIECES),
        _optional("scrap", PIECES),
        _optional("program"),
        _optional("material"),
        _optional("confirmed", YES_NO),
    ),
    when="date",
    meters=True,
)
_DIALS = Kind(
    "dials",
    (
        _needed("machine"),
        _needed("at", MOMENT),
        _BY,
        _optional("wrapped", YES_NO),
        _optional("exchanged", YES_NO),
        _SURE,
    ),
    meters=True,
)
_STOPS = Kind(
    "stops",
    (
        _needed("machine"),
        _needed("from", MOMENT),
        Column("to", MOMENT, may_be_empty=True),
        _needed("cause", WORDS),
        Column("planned", YES_NO, may_be_empty=True),
        _BY,
    ),
    when="from",
)
_COMPLETIONS = Kind(
    "completions",
    (_needed("task"), _needed("at", MOMENT), _BY, _optional("minutes", WHOLE), _NOTE, _SURE),
    meters=True,
)
_TOOL_COUNTS = Kind(
    "tool-counts",
    (
        _needed("tool"),
        _needed("at", MOMENT),
        _needed("hits", AMOUNT),
        _BY,
        _optional("material"),
    ),
)
_TOOL_EVENTS = Kind(
    "tool-events",
    (
        _needed("tool"),
        _needed("at", MOMENT),
        _needed("event", one_of(EVENTS)),
        _BY,
        _optional("mm", AMOUNT),
        _optional("why", one_of(REASONS)),
        _optional("machine"),
        _optional("station", WORDS),
        _optional("length", AMOUNT),
    ),
    fill=_own_machine,
)

KINDS = {
    kind.name: kind for kind in (_SHIFTS, _DIALS, _STOPS, _COMPLETIONS, _TOOL_COUNTS, _TOOL_EVENTS)
}


def kind_named(name: str) -> Kind:
    """The kind of that name. Raises UnreadableInput if there is none."""
    if name not in KINDS:
        raise UnreadableInput(f"no kind '{shorten(name)}' of file; write one of {', '.join(KINDS)}")
    return KINDS[name]
