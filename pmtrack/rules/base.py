"""From when the intervals of a task run: its last completion, or that of a task that covers it."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime

from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.shop import Shop, Task
from pmtrack.rules.shoptime import end_of_day


def coverers(tasks: Iterable[Task]) -> dict[str, tuple[str, ...]]:
    """For each task, the tasks of its machine that cover it, directly or through another."""
    listed = list(tasks)
    direct: dict[str, set[str]] = {task.name: set() for task in listed}
    for task in listed:
        for code in task.covers:
            direct.setdefault(f"{task.machine}/{code}", set()).add(task.name)
    return {name: tuple(sorted(_closure(name, direct))) for name in direct}


def covered(tasks: Iterable[Task]) -> dict[str, tuple[str, ...]]:
    """For each task, those that it settles when it is done, directly or through another."""
    found: dict[str, list[str]] = {}
    for name, by in coverers(tasks).items():
        for coverer in by:
            found.setdefault(coverer, []).append(name)
    return {name: tuple(settled) for name, settled in found.items()}


def _closure(name: str, direct: Mapping[str, set[str]]) -> set[str]:
    found: set[str] = set()
    waiting = [name]
    while waiting:
        for coverer in direct.get(waiting.pop(), ()):
            if coverer not in found:
                found.add(coverer)
                waiting.append(coverer)
    return found - {name}


def last_done_base(task: Task, day: date) -> Base | None:
    """The base that the shop file's `last_done` gives, once its date has come."""
    if task.last_done is None or task.last_done.on > day:
        return None
    source = f"last_done of {task.name}"
    return Base(Moment(task.last_done.on), source, dict(task.last_done.readings))


def instant_of(moment: Moment, shop: Shop) -> datetime:
    """The instant of a moment; a whole day counts at its end, after its night shift."""
    return moment.at or end_of_day(moment.day, shop.shifts, shop.zone)


def latest(bases: Iterable[Base | None], shop: Shop) -> Base | None:
    """The latest of some bases; the first named of two at one instant."""
    known = [base for base in bases if base is not None]
    return max(known, key=lambda base: instant_of(base.moment, shop), default=None)
