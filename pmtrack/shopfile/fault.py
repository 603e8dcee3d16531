"""A fault of the shop file: where it stands, what is wrong and what to write instead."""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from pmtrack.rules.quantity import shorten

Loc = tuple[str | int, ...]  # keys and list indexes from the top of the file
Finding = tuple[Loc, str]  # a fault whose line is yet to be looked up

_SHOWN = 8  # known words that a message lists at most
_COMPARED = 60  # characters of a word that are compared with the known ones


@dataclass(frozen=True)
class Fault:
    """One complaint; `loc` is empty when the file as a whole is meant."""

    line: int
    loc: Loc
    text: str

    def render(self, name: str) -> str:
        """The complaint on one printable line: file, line, place, fault and mend."""
        told = f"{self.line}: {place(self.loc)}: {self.text}"
        return f"{name}:" + "".join(c if c.isprintable() else "?" for c in told)


def place(loc: Loc) -> str:
    """A location as people write it: `tasks[3].every`."""
    parts = (f"[{p}]" if isinstance(p, int) else f".{shorten(p)}" for p in loc)
    return "".join(parts).removeprefix(".") or "file"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that `word` was probably meant to be."""
    by_fold = {k.casefold(): k for k in known}
    close = get_close_matches(word[:_COMPARED].casefold(), by_fold, n=1, cutoff=0.7)
    return by_fold[close[0]] if close else None


def listed(known: Iterable[str]) -> str:
    """The first few known words, for a message."""
    words = list(known)
    return ", ".join(words[:_SHOWN]) + (", ..." if len(words) > _SHOWN else "")


def instead(word: str, known: Iterable[str], otherwise: str) -> str:
    """What to write in place of an unknown name: one that is known, or `otherwise`."""
    words = list(known)
    near = nearest(word, words)
    if near is not None:
        return f"write {near} if that is meant, or {otherwise}"
    some = "one of " if len(words) > 1 else ""
    return f"write {some}{listed(words)}, or {otherwise}" if words else otherwise
