"""Dates, times, weeks and quarters as people write them: ISO 8601, in shop time."""

import re
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from pmtrack.errors import UnreadableInput
from pmtrack.rules.facts import Moment
from pmtrack.rules.quantity import shorten
from pmtrack.rules.shoptime import local_date, to_instant

FIRST, LAST = date(1950, 1, 1), date(2150, 12, 31)

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_TIME = re.compile(
    r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2})?(?P<offset>Z|[+-]\d{2}:\d{2})?", re.ASCII
)
_WEEK = re.compile(r"(\d{4})-W(\d{2})", re.ASCII)
_QUARTER = re.compile(r"(\d{4})-?Q([1-4])", re.ASCII | re.IGNORECASE)


def parse_date(text: str) -> date:
    """A date like 2026-11-25. Raises UnreadableInput for anything else."""
    stripped = text.strip()
    if _DATE.fullmatch(stripped):
        try:
            found = date.fromisoformat(stripped)
        except ValueError:
            raise UnreadableInput(f"'{stripped}' is no day of the calendar; check it") from None
        if FIRST <= found <= LAST:
            return found
        raise UnreadableInput(f"'{stripped}' lies outside {FIRST} to {LAST}")
    raise UnreadableInput(f"'{shorten(text)}' is no date; write it like 2026-11-25")


def parse_moment(text: str, zone: ZoneInfo) -> Moment:
    """A date, or a time like 2026-11-25T14:05 in shop time (or with Z or an offset).

    Raises UnreadableInput for what is neither, Refused for a time that the clock skips.
    """
    stripped = text.strip()
    if _DATE.fullmatch(stripped):
        return Moment(parse_date(stripped))
    match = _TIME.fullmatch(stripped)
    if not match:
        raise UnreadableInput(
            f"'{shorten(text)}' is no time; write it like 2026-11-25T14:05, or a date 2026-11-25"
        )
    parse_date(stripped[:10])
    try:
        moment = datetime.fromisoformat(stripped)
    except ValueError:
        raise UnreadableInput(f"'{stripped}' is no time of the day; check it") from None
    instant = moment.astimezone(UTC) if match["offset"] else to_instant(moment, zone)
    return Moment(local_date(instant, zone), instant)


def parse_week(text: str) -> date:
    """The Monday of an ISO 8601 week written 2027-W03. Raises UnreadableInput otherwise."""
    match = _WEEK.fullmatch(text.strip())
    try:
        if match:
            return date.fromisocalendar(int(match[1]), int(match[2]), 1)
    except ValueError:  # a year without a week of that number
        pass
    raise UnreadableInput(f"'{shorten(text)}' is no week; write it like 2027-W03")


def parse_quarter(text: str) -> tuple[date, date]:
    """The first and last date of a quarter written 2027-Q1. Raises UnreadableInput otherwise."""
    match = _QUARTER.fullmatch(text.strip())
    if not match:
        raise UnreadableInput(f"'{shorten(text)}' is no quarter; write it like 2027-Q1")
    year, month = int(match[1]), 3 * int(match[2]) - 2
    if not FIRST.year <= year <= LAST.year - 1:
        raise UnreadableInput(f"'{shorten(text)}' lies outside {FIRST.year} to {LAST.year - 1}")
    after = date(year + month // 10, (month + 3) % 12, 1)
    return date(year, month, 1), date.fromordinal(after.toordinal() - 1)


def quarter_name(day: date) -> str:
    """The quarter that a day lies in, as written: 2027-Q1."""
    return f"{day.year}-Q{(day.month + 2) // 3}"


def week_name(day: date) -> str:
    """The ISO 8601 week that a day lies in, as written: 2027-W03."""
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02}"


def monday_of(day: date) -> date:
    """The Monday of the week that a day lies in."""
    return day - timedelta(days=day.weekday())
