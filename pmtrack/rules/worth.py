"""What to change first: the law before money, then what saves the most in a year."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

THREE = 3


class Matter(StrEnum):
    """What a thing to change is about."""

    LAW = "late by law"
    CALL = "call overdue"
    INTERVAL = "interval"
    CAUSE = "stop cause"
    TREND = "getting worse"


@dataclass(frozen=True)
class Thing:
    """Something to change: about what, on which machine, in words, and the command that shows why.

    `saved` is what it may save in a year, in money or (`money` is False) in hours; None where it
    is not weighed against money. `days` is how long it is late already.
    """

    matter: Matter
    machine: str
    what: str
    evidence: str
    saved: float | None = None
    money: bool = True
    days: int = 0


def first_things(things: Iterable[Thing], count: int = THREE) -> list[Thing]:
    """The first few: what is late by law, then one thing a machine by what it saves, then calls.

    Hours are not weighed against money: those come after it.
    """
    ordered = sorted(things, key=_rank)
    chosen: list[Thing] = []
    for thing in ordered:
        taken = {one.machine for one in chosen}
        if thing.matter is Matter.LAW or thing.machine not in taken:
            chosen.append(thing)
    return chosen[:count]


def _rank(thing: Thing) -> tuple[int, float, str]:
    """By law, by money, by hours, calls."""
    if thing.matter is Matter.LAW:
        return 0, -thing.days, thing.what
    if thing.saved is None:
        return 3, -thing.days, thing.what
    return 1 if thing.money else 2, -thing.saved, thing.what
