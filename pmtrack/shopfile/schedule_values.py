"""Intervals, allowances, rates, notices and rules: the parsers of the rules, with a mend each."""

import re
from collections.abc import Callable
from typing import TypeVar

from pmtrack.errors import UnreadableInput
from pmtrack.rules.intervals import parse_allowance, parse_interval, parse_per_time
from pmtrack.rules.quantity import shorten
from pmtrack.rules.recurrence import rule_parts
from pmtrack.rules.shop import CALENDAR_UNITS, Allowance, FixedSchedule, Interval, PerTime
from pmtrack.shopfile.scalars import scalar, short

T = TypeVar("T")

# What a meter cannot be called: columns of CSV files, and `on` of last_done.
RESERVED = (
    frozenset({"machine", "shift", "date", "by", "parts", "scrap", "program", "material"})
    | {"confirmed", "at", "wrapped", "exchanged", "task", "minutes", "note", "from", "to"}
    | {"cause", "planned", "tool", "event", "mm", "why", "station", "on"}
)

_INTERVAL_MEND = "write amount and unit, like 1 month or 500 hours"
_ALLOWANCE_MEND = "write it like 5 days, 10% or 50 hours"
_RATE_MEND = "write it like 120 per minute"
_NOTICE_MEND = "write it in days, like 21 days"
_RULE_MEND = "write it like FREQ=MONTHLY;BYDAY=1MO"
_LONGEST_RULE = 400
_MENDED = re.compile(r"[;:] ?(?:write|use|keep|start|round|at most)\b")
_QUOTED = re.compile(r"^'.*'(?= |:)")
_METER = re.compile(r"[A-Za-z][A-Za-z0-9_]{0,39}")


def read_interval(value: object) -> Interval:
    """How often: `1 month`, `500 hours`."""
    return _parse(parse_interval, short(value, _INTERVAL_MEND), _INTERVAL_MEND)


def read_allowance(value: object) -> Allowance:
    """Grace or lead: `5 days`, `10%`, `50 hours`."""
    return _parse(parse_allowance, short(value, _ALLOWANCE_MEND), _ALLOWANCE_MEND)


def read_rate(value: object) -> PerTime:
    """An amount for each unit of time: `120 per minute`."""
    return _parse(parse_per_time, short(value, _RATE_MEND), _RATE_MEND)


def read_notice(value: object) -> int:
    """Days between a call and the visit or delivery."""
    text = short(value, _NOTICE_MEND)
    try:
        allowance = parse_allowance(text)
    except UnreadableInput:
        allowance = None
    if allowance is None or allowance.unit != "day":
        raise ValueError(f"'{shorten(text)}' is no notice; {_NOTICE_MEND}")
    return int(allowance.amount)


def read_rule(value: object) -> FixedSchedule:
    """A recurrence rule of RFC 5545."""
    text = scalar(value, _RULE_MEND)
    if len(text) > _LONGEST_RULE:
        raise ValueError(f"has {len(text)} characters; write at most {_LONGEST_RULE}")
    _refuse_beyond_month(_parse(rule_parts, text, _RULE_MEND))
    return FixedSchedule(text)


def _refuse_beyond_month(parts: dict[str, str]) -> None:
    """A weekday counted past the fifth of its month never comes, and dateutil fails on some."""
    counts = [abs(int(number)) for number in re.findall(r"[+-]?\d+", parts.get("BYDAY", ""))]
    if max(counts, default=0) > 5 and (parts["FREQ"] == "MONTHLY" or "BYMONTH" in parts):
        raise ValueError(f"BYDAY={parts['BYDAY']} counts past the month; write 1 to 5, or -1 to -5")


def read_meter_name(value: object) -> str:
    """The name of a meter, which scripts and CSV files use as a column."""
    text = scalar(value, "write a name like hits")
    if not _METER.fullmatch(text):
        raise ValueError(
            f"'{shorten(text)}' is no name for a meter; write up to 40 letters, digits and _ "
            "and begin with a letter"
        )
    if text.lower().removesuffix("s") in CALENDAR_UNITS:
        raise ValueError(f"'{text}' is a calendar unit; write another name, like hours")
    if text.lower() in RESERVED:
        raise ValueError(f"'{text}' is a word of the import files; write another name, like hits")
    return text


def _parse(parse: Callable[[str], T], text: str, mend: str) -> T:
    try:
        return parse(text)
    except UnreadableInput as error:
        told = str(error)
        mended = _MENDED.search(_QUOTED.sub("", told))
        raise ValueError(told if mended else f"{told}; {mend}") from None
