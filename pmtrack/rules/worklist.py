"""The technician's list: which tasks stand on it, in which order, and which shifts lack a log."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction

from pmtrack.rules.due import STATES, TaskDue
from pmtrack.rules.shop import OneOff, Shop
from pmtrack.rules.shoptime import shift_span
from pmtrack.rules.workdays import Workdays, shifts_on

LISTED = ("overdue", "due", "soon", "deferred", "paused")
LOOK_BACK = 3  # working days in which a missing shift log is named


def worklist(
    dues: Iterable[TaskDue], within: int | None = None, every: bool = False
) -> list[TaskDue]:
    """The tasks to show, worst first; `within` adds those to work by so many days from now."""
    shown = [due for due in dues if every or due.state in LISTED or _near(due, within)]
    return sorted((due for due in shown if not _settled(due)), key=_order)


def _near(due: TaskDue, within: int | None) -> bool:
    by = due.governing.work_by
    if within is None or by is None or due.state != "ok":
        return False
    return by <= due.situation.day + timedelta(days=within)


def _settled(due: TaskDue) -> bool:
    """A one-off job that is done is on no list."""
    return isinstance(due.governing.rule, OneOff) and due.situation.base is not None


def _order(due: TaskDue) -> tuple[int, bool, bool, Fraction, int, str]:
    used = due.governing.used
    return (
        STATES.index(due.state),
        due.task.authority is None,
        used is None,
        -used if used is not None else Fraction(0),
        -due.days_past_due,
        due.task.name,
    )


@dataclass(frozen=True)
class MissingLog:
    """A shift that a machine ran, as its logs tell, and for which it has none."""

    machine: str
    shift: str
    day: date


def missing_logs(
    shop: Shop,
    logged: Mapping[str, tuple[Workdays, set[tuple[str, date]]]],
    day: date,
    now: datetime,
) -> list[MissingLog]:
    """Shifts of the last working days that have ended by `now` and that no log tells of.

    `logged` holds, for each machine logged by shift, its working days and its recent logs: shift
    and date. A shift that none of them names, or one before the first of them, is not expected.
    """
    return [
        MissingLog(code, shift, on)
        for code, (days, known) in logged.items()
        for shift, on in slots_to_log(shop, days, day, now)
        if any(name == shift and first <= on for name, first in known) and (shift, on) not in known
    ]


def slots_to_log(shop: Shop, days: Workdays, day: date, now: datetime) -> list[tuple[str, date]]:
    """Shift and date of what was scheduled on the last working days and has ended by `now`."""
    return [
        (shift.name, on)
        for on in _last_days(days, day)
        for shift in shifts_on(shop, days, on)
        if shift_span(shift, on, shop.zone)[1] <= now
    ]


def _last_days(days: Workdays, day: date) -> list[date]:
    first = days.back_from(day, LOOK_BACK) or day
    return [date.fromordinal(n) for n in range(first.toordinal(), day.toordinal() + 1)]
