"""What a machine cannot have done, and facts that cannot have happened yet."""

from datetime import date, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from pmtrack.rules.facts import MeterEntry, Moment
from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Meter, PerTime
from pmtrack.rules.shoptime import local_date

_SECONDS = {"minute": 60, "hour": 3600, "day": 86400, "week": 604800}


def most_in(fastest: PerTime, elapsed: timedelta) -> Fraction:
    """The most that a meter can gain in a span of time."""
    if fastest.per == "shift":
        return fastest.amount
    return fastest.amount * Fraction(elapsed.total_seconds()) / _SECONDS[fastest.per]


def count_fault(meter: Meter, total: Fraction, elapsed: timedelta) -> str | None:
    """Why the counts of one shift cannot be, or None: more than the machine makes in that time."""
    if meter.fastest is None:
        return None
    most = most_in(meter.fastest, elapsed)
    if total <= most:
        return None
    hours = show(Fraction(elapsed.total_seconds()) / 3600, 2)
    pace = f"{show(meter.fastest.amount)} per {meter.fastest.per}"
    return (
        f"{show(total)} {meter.name} is more than the machine can make in a shift of {hours} h: "
        f"at most {show(most)} at {pace}; correct it, or add --confirm if it is right"
    )


def dial_fault(meter: str, before: MeterEntry, after: MeterEntry) -> str | None:
    """Why two dial readings that follow one another cannot be, or None."""
    if after.wrapped or after.exchanged or after.value >= before.value:
        return None
    return (
        f"{meter} would run backwards, from {show(before.value, 6)} (entry {before.entry}) to "
        f"{show(after.value, 6)}; correct it, or say --wrapped {meter} if the counter started over,"
        f" --exchanged {meter} if a new one was fitted"
    )


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
