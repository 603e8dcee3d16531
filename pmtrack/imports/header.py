"""The header of a file: which column stands where."""

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches

from pmtrack.imports.csv_file import Line
from pmtrack.imports.fault import Fault
from pmtrack.imports.forms import AMOUNT
from pmtrack.imports.kinds import Column, Kind
from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import Shop

_COMPARED = 60  # characters of a name that are compared with the known ones


@dataclass(frozen=True)
class Layout:
    """Where each column of the kind stands, and each column that bears a meter's name."""

    columns: tuple[tuple[int, Column], ...]
    meters: tuple[tuple[int, Column], ...]
    left_out: tuple[Column, ...]


def lay_out(header: Line | None, kind: Kind, shop: Shop) -> tuple[Layout, list[Fault]]:
    """The columns that a header names, and what is wrong with it; without one, nothing is."""
    if header is None:
        return Layout((), (), ()), []
    own = {column.name: column for column in kind.columns}
    meters = _meters(shop) if kind.meters else {}
    line, names = header
    first: dict[str, int] = {}
    for index, name in enumerate(names):
        first.setdefault(name, index)
    layout = Layout(
        columns=tuple((first[name], own[name]) for name in own if name in first),
        meters=tuple((first[name], meters[name]) for name in first if name in meters.keys() - own),
        left_out=tuple(column for column in kind.columns if column.name not in first),
    )
    return layout, [
        *(Fault(line, text) for text in _missing(kind, layout)),
        *(Fault(line, text) for text in _wrong_names(names, kind, (*own, *meters))),
    ]


def _meters(shop: Shop) -> dict[str, Column]:
    """A column for each meter of the shop."""
    names = (meter.name for machine in shop.machines for meter in machine.meters)
    return {name: Column(name, AMOUNT, optional=True, may_be_empty=True) for name in names}


def _missing(kind: Kind, layout: Layout) -> Iterator[str]:
    needed = ", ".join(column.name for column in kind.columns if not column.optional)
    for column in layout.left_out:
        if not column.optional:
            yield f"no column {column.name}; {kind.name} need {needed}"


def _wrong_names(names: list[str], kind: Kind, known: tuple[str, ...]) -> Iterator[str]:
    seen = set()
    for number, name in enumerate(names, start=1):
        if not name:
            yield f"column {number} has no name; name it, or delete it"
        elif name in seen:
            yield f"a second column '{shorten(name)}'; delete one of them"
        elif name not in known:
            yield f"{kind.name} have no column '{shorten(name)}'; {_instead(name, known)}"
        seen.add(name)


def _instead(name: str, known: tuple[str, ...]) -> str:
    by_fold = {word.casefold(): word for word in dict.fromkeys(known)}
    close = get_close_matches(name[:_COMPARED].casefold(), by_fold, n=1, cutoff=0.6)
    if close:
        return f"write {by_fold[close[0]]}, or delete it"
    return f"write one of {', '.join(by_fold.values())}, or delete it"
