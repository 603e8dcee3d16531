"""Fixed schedules in words: the usual ones; others stay as written."""

from pmtrack.errors import UnreadableInput
from pmtrack.rules.recurrence import rule_parts

_DAYS = {
    "MO": "Monday", "TU": "Tuesday", "WE": "Wednesday", "TH": "Thursday", "FR": "Friday",
    "SA": "Saturday", "SU": "Sunday",
}  # fmt: skip
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_PLACES = {1: "first", 2: "second", 3: "third", 4: "fourth", 5: "fifth", -1: "last"}
_FROM_END = {-1: "the last day", -2: "the last day but one", -3: "the last day but two"}
_UNITS = {"DAILY": "day", "WEEKLY": "week", "MONTHLY": "month", "YEARLY": "year"}
_TOLD = {"FREQ", "INTERVAL", "BYDAY", "BYMONTHDAY", "BYMONTH", "WKST"}


def schedule_words(rule: str) -> str:
    """A recurrence rule in words, like `every month on the first Monday`, or as it is written."""
    try:
        parts = rule_parts(rule)
        if parts.keys() <= _TOLD:
            return _words(parts)
    except (UnreadableInput, KeyError):
        pass
    return rule


def _words(parts: dict[str, str]) -> str:
    number = int(parts.get("INTERVAL", "1"))
    unit = _UNITS[parts["FREQ"]]
    if parts.keys() <= {"FREQ", "BYDAY", "WKST"} and unit == "week" and "BYDAY" in parts:
        return f"every {_weekdays(parts['BYDAY'])}"
    told = [f"every {unit}" if number == 1 else f"every {number} {unit}s"]
    if "BYMONTH" in parts:
        told.append("in " + ", ".join(_MONTHS[int(m) - 1] for m in parts["BYMONTH"].split(",")))
    if "BYMONTHDAY" in parts:
        told.append("on " + _month_days(parts["BYMONTHDAY"]))
    if "BYDAY" in parts:
        told.append("on " + _weekdays(parts["BYDAY"]))
    return " ".join(told)


def _month_days(text: str) -> str:
    """Days counted from the month's start, and from its end: `day 1, 15, the last day`."""
    numbers = [int(item) for item in text.split(",")]
    told = [f"{number}" for number in numbers if number > 0]
    if told:
        told[0] = f"day {told[0]}"
    return ", ".join([*told, *(_FROM_END[n] for n in numbers if n <= 0)])


def _weekdays(text: str) -> str:
    if text == "MO,TU,WE,TH,FR":
        return "Monday to Friday"
    return ", ".join(_weekday(item) for item in text.split(","))


def _weekday(item: str) -> str:
    place, day = item[:-2], _DAYS[item[-2:]]
    return f"the {_PLACES[int(place)]} {day}" if place else day
