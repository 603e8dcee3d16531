"""Dates, times of day, weekdays and the time zone as the shop file writes them."""

import re
from calendar import month_name, monthrange
from datetime import date, time
from zoneinfo import ZoneInfo, available_timezones

from pmtrack.rules.quantity import shorten
from pmtrack.shopfile.fault import nearest
from pmtrack.shopfile.scalars import short

FIRST_DAY = date(1950, 1, 1)
LAST_DAY = date(2150, 12, 31)

_DATE_MEND = "write a date like 2026-01-05"
_TIME_MEND = 'write a time of day like "06:00"'
_DAYS_MEND = "write mon-fri, sat or [mon, wed]"
_ZONE_MEND = "write an IANA name like America/New_York"
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DATE = re.compile(r"(\d{4})-(\d{2})-(\d{2})", re.ASCII)
_TIME = re.compile(r"([01]\d|2[0-3]):([0-5]\d)", re.ASCII)
_NO_PLACES = ("posix/", "right/", "localtime", "posixrules", "Factory")  # in the system's folder


def read_day(value: object) -> date:
    """A date of ISO 8601 from 1950 to 2150."""
    text = short(value, _DATE_MEND)
    match = _DATE.fullmatch(text)
    if not match:
        raise ValueError(f"'{shorten(text)}' is no date; {_DATE_MEND}")
    year, month, day = map(int, match.groups())
    if not FIRST_DAY.year <= year <= LAST_DAY.year:
        raise ValueError(f"'{text}' lies outside 1950 to 2150; check the year and write it anew")
    if not 1 <= month <= 12:
        raise ValueError(f"'{text}' has no month {month}; write year-month-day")
    days = monthrange(year, month)[1]
    if not 1 <= day <= days:
        raise ValueError(
            f"'{text}' does not exist, {month_name[month]} {year} has {days} days; "
            "write one of them"
        )
    return date(year, month, day)


def read_time(value: object) -> time:
    """A time of day, HH:MM."""
    text = short(value, _TIME_MEND)
    match = _TIME.fullmatch(text)
    if not match:
        midnight = text == "24:00"
        mend = 'write "00:00" for midnight' if midnight else _TIME_MEND
        raise ValueError(f"'{shorten(text)}' is no time of day; {mend}")
    return time(int(match[1]), int(match[2]))


def read_weekdays(value: object) -> tuple[int, ...]:
    """A weekday or a range of them, which may run over the weekend; 0 is Monday."""
    text = short(value, _DAYS_MEND)
    first, _, last = (part.strip() for part in text.lower().partition("-"))
    last = last or (first if "-" not in text else "")
    if first not in _WEEKDAYS or last not in _WEEKDAYS:
        raise ValueError(f"'{shorten(text)}' is no weekday or range of them; {_DAYS_MEND}")
    begin, end = _WEEKDAYS.index(first), _WEEKDAYS.index(last)
    return tuple((begin + n) % 7 for n in range((end - begin) % 7 + 1))


def read_zone(value: object) -> str:
    """The name of a time zone that the zone rules know."""
    text = short(value, _ZONE_MEND)
    try:
        if not text.startswith(_NO_PLACES):
            ZoneInfo(text)
            return text
    except (OSError, ValueError, LookupError):  # a folder, a path or no such zone
        pass
    near = _near_zone(text)
    mend = f"write {near} if that is meant, or another IANA name" if near else _ZONE_MEND
    raise ValueError(f"'{shorten(text)}' is no time zone; {mend}")


def _near_zone(text: str) -> str | None:
    zones = sorted(available_timezones())
    city = text.replace(" ", "_").rpartition("/")[2].casefold()
    same_city = (z for z in zones if z.rpartition("/")[2].casefold() == city and "/" in z)
    return nearest(text, zones) or next(same_city, None)
