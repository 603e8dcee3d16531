"""Intervals, grace and lead: how often, how far past due, how far ahead."""

import re
from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import floor

from dateutil.relativedelta import relativedelta

from pmtrack.errors import UnreadableInput
from pmtrack.rules.quantity import parse_quantity, shorten
from pmtrack.rules.shop import CALENDAR_UNITS, Allowance, Interval, PerTime, Task

LONGEST = {"day": 36525, "week": 5200, "month": 1200, "year": 100}
PER_UNITS = ("minute", "hour", "shift", "day", "week")

_AMOUNT_UNIT = re.compile(r"\s*(?P<amount>[-+\d.,]+)\s*(?P<unit>[^\s\d%][^\s]*)\s*")
_PERCENT = re.compile(r"\s*(?P<amount>[-+\d.,]+)\s*%\s*")
_PER = re.compile(r"\s*(?P<amount>[-+\d.,]+)\s+per\s+(?P<unit>\w+)\s*")


def parse_interval(text: str) -> Interval:
    """`1 month` or `500 hours` as an interval.

    Raises UnreadableInput when it is neither, not above 0, or a broken number of calendar units.
    """
    match = _AMOUNT_UNIT.fullmatch(text)
    if not match:
        raise UnreadableInput(
            f"'{shorten(text)}' is no interval; write amount and unit, like 1 month or 500 hours"
        )
    amount, unit = parse_quantity(match["amount"]), _singular(match["unit"])
    if amount <= 0:
        raise UnreadableInput(f"'{shorten(text)}' must be more than 0")
    if unit in LONGEST:
        if amount.denominator != 1:
            raise UnreadableInput(f"'{shorten(text)}': write whole {unit}s, or a smaller unit")
        if amount > LONGEST[unit]:
            raise UnreadableInput(f"'{shorten(text)}' is over 100 years; write a shorter interval")
    return Interval(amount, unit, " ".join(text.split()))


def parse_allowance(text: str) -> Allowance:
    """Grace or lead: `5 days`, `10%` or `50 hours`.

    Raises UnreadableInput when it is none of these, below 0, or over 100 %.
    """
    percent, amount_unit = _PERCENT.fullmatch(text), _AMOUNT_UNIT.fullmatch(text)
    match = percent or amount_unit
    if not match:
        raise UnreadableInput(
            f"'{shorten(text)}' is no allowance; write it like 5 days, 10% or 50 hours"
        )
    amount = parse_quantity(match["amount"])
    unit = "%" if percent else _singular(match["unit"])
    if amount < 0 or (unit == "%" and amount > 100):
        raise UnreadableInput(f"'{shorten(text)}' must lie between 0 and 100%")
    if unit in ("month", "year"):
        raise UnreadableInput(f"'{shorten(text)}': write the allowance in days")
    if unit == "week":
        amount, unit = amount * 7, "day"
    if unit == "day" and (amount.denominator != 1 or amount > LONGEST["day"]):
        raise UnreadableInput(f"'{shorten(text)}': write whole days, at most {LONGEST['day']}")
    return Allowance(amount, unit)


def parse_per_time(text: str) -> PerTime:
    """`120 per minute` as an amount for each unit of time; UnreadableInput otherwise."""
    match = _PER.fullmatch(text)
    if not match or match["unit"] not in PER_UNITS:
        raise UnreadableInput(
            f"'{shorten(text)}' is no rate; write a number per {', '.join(PER_UNITS)}"
        )
    amount = parse_quantity(match["amount"])
    if amount <= 0:
        raise UnreadableInput(f"'{shorten(text)}' must be more than 0")
    return PerTime(amount, match["unit"])


def _singular(unit: str) -> str:
    singular = unit.lower().removesuffix("s")
    return singular if singular in CALENDAR_UNITS else unit


@lru_cache(maxsize=4096)
def add_interval(day: date, interval: Interval) -> date:
    """`day` plus a calendar interval, clamped at the month's end (RFC 7529, 4.1: backward).

    Past the last date there is, the last date.
    """
    step = relativedelta(**{f"{interval.unit}s": int(interval.amount)})  # type: ignore[arg-type]
    try:
        return day + step
    except (OverflowError, ValueError):
        return date.max


def default_grace_days(length: int) -> int:
    """10 % of an interval in days, at least 1 from 7 days on, at most 14 (common practice)."""
    return min(max(length // 10, 1 if length >= 7 else 0), 14)


def default_lead_days(length: int) -> int:
    """10 % of an interval in days, at least 1 and at most 7; 0 for intervals under 7 days."""
    return min(max(length // 10, 1), 7) if length >= 7 else 0


def grace_days(task: Task, length: int) -> int:
    """Grace in days of an interval of that many days; 0 with an authority."""
    if task.authority:
        return 0
    return _days(task.grace, length, default_grace_days(length))


def lead_days(task: Task, length: int) -> int:
    """Lead in days of an interval of that many days."""
    return _days(task.lead, length, default_lead_days(length))


def grace_units(task: Task, interval: Interval) -> Fraction:
    """Grace in units of the interval's meter; 0 with an authority."""
    return Fraction(0) if task.authority else _units(task.grace, interval)


def lead_units(task: Task, interval: Interval) -> Fraction:
    """Lead in units of the interval's meter."""
    return _units(task.lead, interval)


def explicit_days(allowances: tuple[Allowance, ...]) -> int | None:
    """The allowance written in days, if there is one."""
    return next((int(a.amount) for a in allowances if a.unit == "day"), None)


def _percent(allowances: tuple[Allowance, ...]) -> Fraction | None:
    return next((a.amount / 100 for a in allowances if a.unit == "%"), None)


def _days(allowances: tuple[Allowance, ...], length: int, default: int) -> int:
    days, percent = explicit_days(allowances), _percent(allowances)
    if days is not None:
        return days
    return default if percent is None else floor(percent * length)


def _units(allowances: tuple[Allowance, ...], interval: Interval) -> Fraction:
    own = next((a.amount for a in allowances if a.unit == interval.unit), None)
    if own is not None:
        return own
    percent = _percent(allowances)
    return interval.amount * (Fraction(1, 10) if percent is None else percent)
