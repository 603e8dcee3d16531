"""The shop file, the facts and the answers as plain dicts; working days; forms in the file."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from functools import cache
from itertools import islice
from math import floor, isclose
from typing import Any
from zoneinfo import ZoneInfo

from dateutil.relativedelta import relativedelta
from dateutil.rrule import rrulestr

Plain = dict[str, Any]
WEEK = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
CALENDAR = ("day", "week", "month", "year")
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class World:
    """What is known at the end of the day `on`."""

    shop: Plain
    facts: list[Plain]
    on: date
    first_applied: date

    def of(self, kind: str, **same: str) -> list[Plain]:
        """The facts of one kind that agree in the named columns."""
        wanted = {"kind": kind, **same}
        return [f for f in self.facts if all(f.get(key) == wanted[key] for key in wanted)]


def world_on(shop: Plain, facts: list[Plain], on: date) -> World:
    """Voided facts are gone for every `on`; the others count by the day they happened."""
    voided = {fact["of"] for fact in facts if fact["kind"] == "void"}
    kept = [f for f in facts if f["kind"] != "void" and f.get("id") not in voided]
    applied = min(day_of(f) for f in facts if f["kind"] == "applied")
    return World(shop, [fact for fact in kept if day_of(fact) <= on], on, applied)


def as_date(value: str | date) -> date:
    """The date at the head of an ISO text; a date stays itself."""
    return value if isinstance(value, date) else date.fromisoformat(value[:10])


def day_of(fact: Plain) -> date:
    """A shift belongs to the date on which it starts, anything else to its local date."""
    return as_date(next(fact[key] for key in ("date", "from", "at") if key in fact))


def number(value: object) -> Fraction:
    """The decimal number as written, exactly."""
    return Fraction(str(value))


def instant(shop: Plain, local: str) -> datetime:
    """UTC of a shop time; of a time that comes twice the first."""
    zone = ZoneInfo(shop["shop"]["timezone"])
    return datetime.fromisoformat(local).replace(tzinfo=zone).astimezone(UTC)


def weekdays(days: str | list[str]) -> list[int]:
    """`mon-fri`, `fri-mon`, `sat` or a list, Monday being 0."""
    if isinstance(days, list):
        return [WEEK.index(day) for day in days]
    first, _, last = days.partition("-")
    found = [WEEK.index(first)]
    while last and WEEK[found[-1]] != last:
        found.append((found[-1] + 1) % 7)
    return found


def shift_end(shop: Plain, shift: Plain, day: date) -> datetime:
    """An end not after the start is on the next day, `00:00` being the midnight after."""
    start, end = time.fromisoformat(shift["start"]), time.fromisoformat(shift["end"])
    return instant(shop, f"{day if end > start else day + ONE_DAY}T{shift['end']}")


def end_of_day(shop: Plain, day: date) -> datetime:
    """Midnight, or the end of that date's night shift."""
    shifts = [s for s in shop["shop"]["shifts"] if day.weekday() in weekdays(s["days"])]
    midnight = instant(shop, f"{day + ONE_DAY}T00:00")
    return max([midnight, *(shift_end(shop, shift, day) for shift in shifts)])


def is_working(shop: Plain, day: date) -> bool:
    """A shift is scheduled and the day is not closed."""
    for span in shop["shop"].get("closed", []):
        first, last = span.get("from", span.get("on")), span.get("to", span.get("on"))
        if as_date(first) <= day <= as_date(last):
            return False
    return any(day.weekday() in weekdays(s["days"]) for s in shop["shop"]["shifts"])


def out_after(moves: list[Plain], day: date) -> bool:
    """Whether the last of the `idle` and `back` up to that day's end is an `idle`."""
    moves = sorted((m for m in moves if day_of(m) <= day), key=lambda m: str(m["at"]))
    return bool(moves) and moves[-1]["kind"] == "idle"


def moves_of(world: World, machine: str) -> list[Plain]:
    """When a machine went out of service and came back."""
    return world.of("idle", machine=machine) + world.of("back", machine=machine)


def is_out(world: World, machine: str) -> bool:
    """Whether the machine is out of service at the end of `on`."""
    return out_after(moves_of(world, machine), world.on)


def meter_days(world: World, machine: str) -> Callable[[date], bool]:
    """Which days are working days of this machine's meters."""
    moves = moves_of(world, machine)
    return cache(lambda day: is_working(world.shop, day) and not out_after(moves, day))


def working_days(works: Callable[[date], bool], after: date, upto: date) -> int:
    """Working days after the one day, up to and with the other."""
    found, day = 0, after
    while day < upto:
        day += ONE_DAY
        found += works(day)
    return found


def nth_working_day(works: Callable[[date], bool], after: date, n: int) -> date:
    """The n-th working day after a day; none of them is the day itself."""
    day = after
    while n > 0:
        day += ONE_DAY
        n -= works(day)
    return day


def last_working_day(works: Callable[[date], bool], upto: date, after: date) -> date | None:
    """The last working day up to one day and after the other."""
    day = upto
    while day > after:
        if works(day):
            return day
        day -= ONE_DAY
    return None


def expected_per_day(shop: Plain, text: str | None) -> Fraction | None:
    """`expected` on a mean working day of the weekly schedule, closed days left aside."""
    if text is None:
        return None
    amount, _, unit = text.split()
    shifts, hours, open_days = Fraction(0), Fraction(0), set()
    for shift in shop["shop"]["shifts"]:
        start, end = (time.fromisoformat(shift[key]) for key in ("start", "end"))
        minutes = (end.hour - start.hour) * 60 + end.minute - start.minute
        for weekday in weekdays(shift["days"]):
            shifts += 1
            hours += Fraction(minutes if minutes > 0 else minutes + 24 * 60, 60)
            open_days.add(weekday)
    per_day, one = Fraction(len(open_days)), Fraction(1)
    a_week = {"day": per_day, "shift": shifts, "week": one, "hour": hours}
    return number(amount) * a_week[unit] / per_day


@dataclass(frozen=True)
class Job:
    """One task on one machine."""

    machine: str
    task: Plain

    @property
    def name(self) -> str:
        return f"{self.machine}/{self.task['code']}"


def as_list(value: Any) -> list[str]:
    """One form or several."""
    return value if isinstance(value, list) else [] if value is None else [value]


def split(interval: str) -> tuple[Fraction, str]:
    """`2000 hours` as amount and unit, calendar units in the singular."""
    amount, unit = interval.split()
    single = unit.removesuffix("s")
    return number(amount), single if single in CALENDAR else unit


def later(day: date, interval: str) -> date:
    """The day a calendar interval after another, clamped at the month's end."""
    amount, unit = split(interval)
    return day + relativedelta(**{unit + "s": int(amount)})  # type: ignore[arg-type]


def form(task: Plain, key: str, unit: str) -> Fraction | None:
    """What `grace` or `lead` says in a unit: `day`, `%` or a meter's name."""
    for text in as_list(task.get(key)):
        if text.endswith("%") and unit == "%":
            return number(text[:-1]) / 100
        if not text.endswith("%") and split(text)[1] == unit:
            return split(text)[0]
    return None


def slack_days(task: Plain, key: str, interval: int) -> int:
    """Grace or lead in days of a calendar interval of so many days."""
    if key == "grace" and "authority" in task:
        return 0
    days, share = form(task, key, "day"), form(task, key, "%")
    if days is not None:
        return int(days)
    if share is not None:
        return floor(share * interval)
    least, most = (1 if interval >= 7 else 0), (14 if key == "grace" else 7)
    if key == "lead" and interval < 7:
        return 0
    return min(max(interval // 10, least), most)


def slack_units(task: Plain, key: str, interval: str) -> Fraction:
    """Grace or lead in a usage interval's own unit."""
    amount, unit = split(interval)
    if key == "grace" and "authority" in task:
        return Fraction(0)
    units, share = form(task, key, unit), form(task, key, "%")
    if units is not None:
        return units
    return amount * (share if share is not None else Fraction(1, 10))


def covering(shop: Plain, code: str) -> set[str]:
    """The codes of the tasks that cover this one, directly or through another."""
    found = {code}
    while True:
        more = {t["code"] for t in shop["tasks"] if found & set(t.get("covers", []))}
        if more <= found:
            return found - {code}
        found |= more


def starts_of(world: World, task: Plain) -> date:
    """`starts` of the task or the shop, or else the day first applied."""
    said = task.get("starts", world.shop["shop"].get("starts"))
    return world.first_applied if said is None else as_date(said)


def occurrences(task: Plain, starts: date) -> Iterator[tuple[date, int]]:
    """The rule's days, each with the gap before it (the first: after it)."""
    rule = rrulestr(task["on"], dtstart=datetime.combine(starts, time.min))
    days = [moment.date() for moment in islice(rule, 400)]
    for place, day in enumerate(days):
        earlier, following = days[max(place - 1, 0)], days[max(place, 1)]
        yield day, (following - earlier).days


def work_by_of(world: World, due: date, after: date | None) -> date:
    """The last working day up to D and after b; failing that the first one after D."""

    def works(day: date) -> bool:
        return is_working(world.shop, day)

    found = last_working_day(works, due, after or date.min)
    return found or nth_working_day(works, due, 1)


def as_json(value: Any) -> Any:
    """Dates as text and fractions as floats, as the command prints them."""
    if isinstance(value, list):
        return [as_json(part) for part in value]
    if isinstance(value, date):
        return value.isoformat()
    return float(value) if isinstance(value, Fraction) else value


def same(told: Any, expected: Any) -> bool:
    """Numbers to a billionth, anything else exactly."""
    if isinstance(expected, float) and isinstance(told, int | float):
        return isclose(told, expected, rel_tol=1e-9, abs_tol=1e-9)
    return bool(told == expected)


def differences(told: list[Plain], expected: list[Plain], *key: str) -> list[str]:
    """Where two lists of rows disagree, field by field; of a retired task only the state counts."""
    found, rows = [], {tuple(row[part] for part in key): row for row in told}
    if len(rows) != len(expected):
        found.append(f"rows {sorted(rows)}")
    for row in expected:
        name = tuple(row[part] for part in key)
        fields = [*key, "state"] if row.get("state") == "retired" else list(row)
        for column in fields:
            answer, wanted = rows.get(name, {}).get(column, "missing"), as_json(row[column])
            if not same(answer, wanted):
                found.append(f"{name} {column}: {answer!r}, by the oracle {wanted!r}")
    return found
