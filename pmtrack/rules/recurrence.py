"""Fixed schedules: the dates of an RFC 5545 recurrence rule."""

import re
from bisect import bisect_right
from collections.abc import Collection, Iterator
from datetime import UTC, date, datetime, time
from functools import lru_cache
from itertools import islice
from zoneinfo import ZoneInfo

from dateutil.rrule import rrule, rrulestr

from pmtrack.errors import UnreadableInput
from pmtrack.rules.quantity import shorten

_FREQUENCIES = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
_WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
_DAY = r"(?:MO|TU|WE|TH|FR|SA|SU)"
_ORDINAL = r"[+-]?0*(?:[1-9]|[1-4]\d|5[0-3])"
_MONTH_DAY = r"[+-]?0*(?:[1-9]|[12]\d|3[01])"
_YEAR_DAY = r"[+-]?0*(?:[1-9]\d?|[12]\d\d|3[0-5]\d|36[0-6])"


def _listed(item: str) -> str:
    return rf"{item}(?:,{item})*"


_PARTS = {
    "FREQ": "|".join(_FREQUENCIES),
    "INTERVAL": r"0*[1-9]\d{0,3}",
    "COUNT": r"0*[1-9]\d{0,4}",
    "UNTIL": r"\d{8}(?:T\d{6}Z?)?",
    "BYDAY": _listed(rf"(?:{_ORDINAL})?{_DAY}"),
    "BYMONTHDAY": _listed(_MONTH_DAY),
    "BYYEARDAY": _listed(_YEAR_DAY),
    "BYWEEKNO": _listed(_ORDINAL),
    "BYMONTH": _listed(r"0*(?:[1-9]|1[0-2])"),
    "BYSETPOS": _listed(_YEAR_DAY),
    "WKST": _DAY,
}
_LAST_YEAR = 2200  # rules are walked no further, so that one without dates cannot run for ever


def rule_parts(rule: str) -> dict[str, str]:
    """The parts of a recurrence rule, each checked against RFC 5545, 3.3.10.

    Raises UnreadableInput for what the standard forbids, and for parts finer than a day.
    """
    parts: dict[str, str] = {}
    for piece in rule.strip().rstrip(";").split(";"):
        name, _, value = piece.strip().partition("=")
        name, value = name.upper(), value.upper()
        if name not in _PARTS:
            raise UnreadableInput(
                f"'{shorten(piece)}' is no part of a schedule in days; use {', '.join(_PARTS)}"
            )
        if name in parts:
            raise UnreadableInput(f"{name} stands twice; keep one")
        if not re.fullmatch(_PARTS[name], value, re.ASCII):
            raise UnreadableInput(f"{name}={shorten(value)} is not allowed (RFC 5545, 3.3.10)")
        parts[name] = value
    _check_together(parts)
    return parts


def is_daily(rule: str, weekdays: Collection[int]) -> bool:
    """Whether a rule has a date on each of the weekdays (0 is Monday) of every week."""
    parts = rule_parts(rule)
    if parts.get("INTERVAL", "1") != "1" or parts.keys() - {"FREQ", "INTERVAL", "BYDAY", "WKST"}:
        return False
    if "BYDAY" not in parts:
        return parts["FREQ"] == "DAILY"
    if parts["FREQ"] not in ("DAILY", "WEEKLY"):
        return False
    return {_WEEKDAYS.index(day) for day in parts["BYDAY"].split(",")} >= set(weekdays)


def _check_together(parts: dict[str, str]) -> None:
    frequency = parts.get("FREQ")
    if frequency is None:
        raise UnreadableInput("FREQ is missing; start with FREQ=WEEKLY or the like")
    if "COUNT" in parts and "UNTIL" in parts:
        raise UnreadableInput("COUNT and UNTIL exclude one another; keep one")
    if re.search(r"\d", parts.get("BYDAY", "")) and frequency not in ("MONTHLY", "YEARLY"):
        raise UnreadableInput("BYDAY takes a number only with FREQ=MONTHLY or YEARLY")
    if re.search(r"\d", parts.get("BYDAY", "")) and "BYWEEKNO" in parts:
        raise UnreadableInput("BYDAY takes no number beside BYWEEKNO")
    if "BYMONTHDAY" in parts and frequency == "WEEKLY":
        raise UnreadableInput("BYMONTHDAY does not go with FREQ=WEEKLY")
    if "BYWEEKNO" in parts and frequency != "YEARLY":
        raise UnreadableInput("BYWEEKNO goes only with FREQ=YEARLY")
    if "BYYEARDAY" in parts and frequency != "YEARLY":
        raise UnreadableInput("BYYEARDAY goes only with FREQ=YEARLY")
    _check_possible(parts, frequency)
    if "BYSETPOS" in parts and not any(n.startswith("BY") for n in parts if n != "BYSETPOS"):
        raise UnreadableInput("BYSETPOS needs another BY... part to choose from")


_LONGEST_MONTH = {2: 29, 4: 30, 6: 30, 9: 30, 11: 30}


def _check_possible(parts: dict[str, str], frequency: str) -> None:
    """Refuse rules that can never have a date, which would be walked to the end of time."""
    places = [abs(int(place)) for place in parts.get("BYSETPOS", "1").split(",")]
    if frequency == "DAILY" and min(places) > 1:
        raise UnreadableInput("BYSETPOS: a day has one date, so only 1 or -1 can be chosen")
    if frequency == "WEEKLY" and min(places) > len(parts.get("BYDAY", "MO").split(",")):
        raise UnreadableInput("BYSETPOS: the week has fewer days in BYDAY; choose one of them")
    if "BYMONTH" in parts and "BYMONTHDAY" in parts:
        months = [int(month) for month in parts["BYMONTH"].split(",")]
        days = [abs(int(day)) for day in parts["BYMONTHDAY"].split(",")]
        if min(days) > max(_LONGEST_MONTH.get(month, 31) for month in months):
            raise UnreadableInput("BYMONTHDAY: no month in BYMONTH has that day; correct one")


def _until(text: str, zone: ZoneInfo) -> date:
    """The last date of UNTIL; a UTC instant is read in shop time."""
    try:
        if not text.endswith("Z"):
            return datetime.strptime(text[:8], "%Y%m%d").replace(tzinfo=zone).date()
        instant = datetime.strptime(text, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
        return instant.astimezone(zone).date()
    except (ValueError, OverflowError):
        raise UnreadableInput(f"UNTIL={text} is no date; write it like 20271231") from None


class Occurrences:
    """The dates of a rule from `starts` on, worked out as far as asked and kept."""

    def __init__(self, rule: str, starts: date, zone: ZoneInfo) -> None:
        self._dates: list[date] = []
        self._more = _walk(rule_parts(rule), starts, zone)

    def __getitem__(self, index: int) -> date | None:
        """The occurrence of that index, counted from 0; None after the last."""
        while len(self._dates) <= index:
            following = next(self._more, None)
            if following is None:
                return None
            self._dates.append(following)
        return self._dates[index]

    def count_through(self, day: date) -> int:
        """How many occurrences fall on or before `day`."""
        while not self._dates or self._dates[-1] <= day:
            if self[len(self._dates)] is None:
                break
        return bisect_right(self._dates, day)

    def gap(self, index: int) -> int | None:
        """Days from the occurrence before (of the first: to the next); None if it stands alone."""
        first, second = self[max(index - 1, 0)], self[max(index, 1)]
        return (second - first).days if first and second else None


@lru_cache(maxsize=4096)
def occurrences(rule: str, starts: date, zone: ZoneInfo) -> Occurrences:
    """The dates of a rule; tasks that share rule and start share the work."""
    return Occurrences(rule, starts, zone)


def _walk(parts: dict[str, str], starts: date, zone: ZoneInfo) -> Iterator[date]:
    """Dates of the rule in order. COUNT is applied here, so that the walk always has an end."""
    count = int(parts["COUNT"]) if "COUNT" in parts else None
    until = date(_LAST_YEAR, 12, 31)
    if "UNTIL" in parts:
        until = min(until, _until(parts["UNTIL"], zone))
    text = ";".join(f"{k}={v}" for k, v in parts.items() if k not in ("COUNT", "UNTIL"))
    rule = rrulestr(text, dtstart=datetime.combine(starts, time(0)))
    assert isinstance(rule, rrule)  # noqa: S101 - a single rule, never a set
    ended = rule.replace(until=datetime.combine(until, time(0)))
    return (moment.date() for moment in islice(ended, count))
