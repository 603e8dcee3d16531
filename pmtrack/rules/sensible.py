"""Intervals that people set: a week, six weeks, half a year, or a round figure of a meter."""

from fractions import Fraction
from math import floor, log, log10

from pmtrack.rules.shop import Interval

DAYS = {"day": 1.0, "week": 7.0, "month": 30.436875, "year": 365.2425}  # mean Gregorian
_CHOICES = (
    *((n, "day") for n in (1, 2, 3, 4, 5)),
    *((n, "week") for n in (1, 2, 3)),
    (1, "month"), (5, "week"), (6, "week"), *((n, "month") for n in (2, 3, 4, 5, 6, 8, 9)),
    (1, "year"), (15, "month"), (18, "month"), *((n, "year") for n in (2, 3, 4, 5, 6, 8, 10)),
)  # fmt: skip
_PARTS = 10  # a figure of a meter is at least so many times 1, 2 or 5 with noughts


def sensible(interval: Interval, factor: float) -> Interval | None:
    """An interval as many times as long, rounded: a longer one down, a shorter one to the nearest.

    None where rounding leads back to the present one or past it.
    """
    found = _calendar(interval, factor) if interval.is_calendar else _metered(interval, factor)
    ratio = length(found) / length(interval)
    return found if (ratio > 1) == (factor > 1) and ratio != 1 else None


def length(interval: Interval) -> float:
    """In days, or in units of its meter."""
    return float(interval.amount) * DAYS.get(interval.unit, 1.0)


def _calendar(interval: Interval, factor: float) -> Interval:
    wanted = length(interval) * factor
    made = [_interval(Fraction(amount), unit) for amount, unit in _CHOICES]
    if factor > 1:
        fitting = [one for one in made if length(one) <= wanted * 1.001]
        return max(fitting, key=length)
    return min(made, key=lambda one: abs(log(length(one) / wanted)))


def _metered(interval: Interval, factor: float) -> Interval:
    wanted = float(interval.amount) * factor
    power = Fraction(10) ** floor(log10(wanted / _PARTS))
    step = max(power * n for n in (1, 2, 5) if power * n <= wanted / _PARTS * 1.001)
    times = floor(wanted / float(step) + (1e-6 if factor > 1 else 0.5))
    return _interval(step * times, interval.unit)


def _interval(amount: Fraction, unit: str) -> Interval:
    plural = unit if amount == 1 or unit not in DAYS else f"{unit}s"
    shown = f"{float(amount):g}" if amount.denominator != 1 else str(amount.numerator)
    return Interval(amount, unit, f"{shown} {plural}")
