"""What a machine cannot have done, and facts that cannot have happened yet."""

from collections.abc import Container
from datetime import date, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from pmtrack.rules.facts import MeterEntry, Moment
from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Meter, PerTime
from pmtrack.rules.shoptime import ONE_DAY, local_date
from pmtrack.rules.usage import ZERO

_SECONDS = {"minute": 60, "hour": 3600, "day": 86400, "week": 604800}


def most_in(fastest: PerTime, elapsed: timedelta) -> Fraction:
    """The most that a meter can gain in a span of time."""
    if fastest.per == "shift":
        return fastest.amount
    return fastest.amount * Fraction(elapsed.total_seconds()) / _SECONDS[fastest.per]


def count_fault(
    meter: Meter, amount: Fraction, elapsed: timedelta, earlier: Fraction = ZERO
) -> str | None:
    """Why a count of a shift cannot be, or None: more than the machine makes in that time.

    `earlier` is what was logged for that shift already.
    """
    if meter.fastest is None:
        return None
    most = most_in(meter.fastest, elapsed)
    if earlier + amount <= most:
        return None
    before = f"and the {show(earlier)} already logged for that shift are" if earlier else "is"
    return (
        f"{show(amount)} {meter.name} {before} more than the machine can make in a shift of "
        f"{_hours(elapsed)} h: at most {show(most)} at {_pace(meter.fastest)}; "
        "correct it, or add --confirm if it is right"
    )


def dial_fault(
    meter: Meter, before: MeterEntry, after: MeterEntry, new: Container[int]
) -> str | None:
    """Why two dial readings that follow one another cannot be, or None.

    `new` are the entries being made, one of the two at least; an entry to cross out stands already.
    """
    if after.wrapped or after.exchanged or after.value >= before.value:
        return None
    told = f"{meter.name} would run backwards, {_from_to(before, after, new)}; correct it, or "
    if after.entry not in new:
        return f"{told}{_cross_out(after)}"
    cure = "" if before.entry in new else f"{_cross_out(before)}, or "
    return (
        f"{told}{cure}say --wrapped {meter.name} if the counter started over,"
        f" --exchanged {meter.name} if a new one was fitted"
    )


def dial_gain_fault(
    meter: Meter, before: MeterEntry, after: MeterEntry, new: Container[int]
) -> str | None:
    """Why a dial cannot have gained what it did by the clock, or None; it may be confirmed.

    There is a day to spare, for the time of a reading is often taken for granted: the end of a
    shift or of a date. A pace per shift says nothing of the clock: a machine may run when no shift
    is scheduled.
    """
    if meter.fastest is None or meter.fastest.per == "shift" or after.exchanged:
        return None
    over = (meter.wraps_at or 0) if after.wrapped else 0
    gain, elapsed = after.value + over - before.value, after.at - before.at
    most = most_in(meter.fastest, elapsed + ONE_DAY)
    if gain <= most:
        return None
    old = next((entry for entry in (before, after) if entry.entry not in new), None)
    return (
        f"{meter.name} would gain {show(gain)} in {_hours(elapsed)} h, "
        f"{_from_to(before, after, new)}: more than the machine can make, at most "
        f"{show(most)} at {_pace(meter.fastest)} and a day to spare; correct it, or "
        f"{f'{_cross_out(old)}, or ' if old else ''}add --confirm if it is right"
    )


def _from_to(before: MeterEntry, after: MeterEntry, new: Container[int]) -> str:
    """Both readings, with the entry of the one that was there first."""
    start, end = show(before.value, 6), show(after.value, 6)
    if after.entry not in new:
        return f"from {start} to {end} (entry {after.entry})"
    return f"from {start} (entry {before.entry}) to {end}"


def _cross_out(stored: MeterEntry) -> str:
    return f"cross out entry {stored.entry} if that is wrong"


def _hours(elapsed: timedelta) -> str:
    return show(Fraction(elapsed.total_seconds()) / 3600, 2)


def _pace(fastest: PerTime) -> str:
    return f"{show(fastest.amount)} per {fastest.per}"


def too_early(moment: Moment, now: datetime, zone: ZoneInfo) -> str | None:
    """Why a fact cannot have happened yet, or None: a date may be today's, an instant is past."""
    today = local_date(now, zone)
    if moment.at is None:
        return _future(moment.day, today) if moment.day > today else None
    if moment.at <= now:
        return None
    shown = moment.at.astimezone(zone)
    return f"{shown:%Y-%m-%dT%H:%M} is still to come (it is {now.astimezone(zone):%Y-%m-%dT%H:%M})"


def _future(day: date, today: date) -> str:
    return f"{day} is still to come (today is {today})"
