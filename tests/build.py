"""Short makers for tests: a shop, a task, how a meter and a task stand.

June 2026 begins on a Monday; the made shop works Monday to Friday, 06:00 to 14:30.
"""

import csv
from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from pathlib import Path
from typing import TypeVar
from zoneinfo import ZoneInfo

from pmtrack.errors import UnreadableInput
from pmtrack.rules.dates import parse_moment
from pmtrack.rules.due import TaskDue, task_due
from pmtrack.rules.facts import Base, MeterEntry
from pmtrack.rules.intervals import parse_allowance, parse_interval
from pmtrack.rules.rate import Rate, Recent, Standing, standing
from pmtrack.rules.shop import (
    Closure,
    FixedSchedule,
    Interval,
    Shift,
    Shop,
    Task,
)
from pmtrack.rules.shoptime import to_instant
from pmtrack.rules.situation import Calendars, MeterView, Situation, UsageBase
from pmtrack.rules.usage import Tally
from pmtrack.rules.workdays import Workdays

REFERENCE = Path(__file__).parent / "data" / "reference"
ZONE = ZoneInfo("America/New_York")
WEEKDAYS = (0, 1, 2, 3, 4)
DAY = Shift("day", WEEKDAYS, time(6), time(14, 30))
NIGHT = Shift("night", WEEKDAYS, time(22), time(6))
ONE_DAY = timedelta(days=1)

Value = TypeVar("Value")


def reference(name: str) -> list[dict[str, str]]:
    """The rows of a table of published values; its first line names the source."""
    lines = (REFERENCE / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def parsed(parse: Callable[[str], Value], text: str) -> Value | None:
    """What a text is read as, or None where it is refused as unreadable; all else is an error."""
    try:
        return parse(text)
    except UnreadableInput:
        return None


def day(text: str) -> date:
    """A date; `06-15` is of 2026."""
    return date.fromisoformat(text if len(text) > 5 else f"2026-{text}")


def days_from(first: str, count: int) -> list[date]:
    """So many dates in a row."""
    return [day(first) + n * ONE_DAY for n in range(count)]


def at(text: str) -> datetime:
    """The instant of a shop time like `06-15T14:30`."""
    on, clock = text.split("T")
    return to_instant(datetime.combine(day(on), time.fromisoformat(clock)), ZONE)


def shop(*closed: str, shifts: tuple[Shift, ...] = (DAY,)) -> Shop:
    """A shop closed on dates (`07-03`) or from one to another (`12-24..12-31`)."""
    spans = [text.split("..") for text in closed]
    return Shop(
        name="Quillback Sheet Works",
        timezone=ZONE.key,
        shifts=shifts,
        closed=tuple(Closure(day(span[0]), day(span[-1])) for span in spans),
    )


def calendars(where: Shop | None = None) -> Calendars:
    """The working days of a shop whose machines are never out of service."""
    workdays = Workdays.of(where or shop())
    return Calendars(workdays, workdays, ZONE)


def task(every: str = "", **fields: object) -> Task:
    """`TP-1/service` with its intervals (`6 months, 500 hours`), or with `on`, or another code.

    Grace and lead are texts, several set apart by commas.
    """
    fields = {"machine": "TP-1", "code": "service", "title": "Service"} | fields
    if "on" in fields:
        fields["on"] = FixedSchedule(str(fields["on"]))
    for key in ("grace", "lead"):
        fields[key] = tuple(map(parse_allowance, _listed(str(fields.get(key, "")))))
    return Task(every=tuple(map(parse_interval, _listed(every))), **fields)  # type: ignore[arg-type]


def _listed(text: str) -> list[str]:
    return [item.strip() for item in text.split(",") if item.strip()]


def base(text: str, **readings: int) -> Base:
    """A base on a date, or at a shop time, with the counters read then."""
    moment = parse_moment(text if text[4:5] == "-" else f"2026-{text}", ZONE)
    return Base(moment, "entry 1", {name: Fraction(n) for name, n in readings.items()})


def count(on: str, value: float, ended: str = "14:30", entry: int = 0) -> MeterEntry:
    """A shift's count; the shift ended at that time, the next day if it says `+`."""
    ends = day(on) + ONE_DAY if ended.startswith("+") else day(on)
    moment = at(f"{ends}T{ended.removeprefix('+')}")
    return MeterEntry(entry, moment, day(on), Fraction(value))


def dial(when: str, value: float, mark: str = "", entry: int = 0) -> MeterEntry:
    """A reading at a shop time, perhaps `wrapped` or `exchanged`."""
    on = day(when.split("T")[0])
    return MeterEntry(
        entry, at(when), on, Fraction(value), True, mark == "wrapped", mark == "exchanged"
    )


def weekday_counts(first: str, *values: float) -> list[MeterEntry]:
    """One count on each weekday in a row, from that date on; None of it on Saturday and Sunday."""
    on, entries = day(first), []
    for number, value in enumerate(values, start=1):
        entries.append(count(str(on), value, entry=number))
        on += ONE_DAY * (3 if on.weekday() == 4 else 1)
    return entries


def recent(entries: Iterable[MeterEntry], wraps_at: int | None = None) -> Recent:
    """All entries of a meter, in time order, from the first on."""
    ordered = tuple(sorted(entries, key=lambda entry: entry.order))
    return Recent(Tally(), ordered, True, None if wraps_at is None else Fraction(wraps_at))


def meter_at(entries: Iterable[MeterEntry], on: str, expected: float | None = None) -> Standing:
    """How a meter with these entries stands in the made shop."""
    usual = None if expected is None else Fraction(expected)
    return standing(recent(entries), day(on), calendars().machine, usual)


def read(
    usage: float, last: str, rate: float | None, began: float = 0, spread: float | None = None
) -> MeterView:
    """A meter last read on a day, at a known rate, with its usage when the interval began."""
    known = Rate(None if rate is None else Fraction(rate), spread)
    view = Standing(Fraction(usage), None, known, False, last_day=day(last))
    return MeterView(view, UsageBase(Fraction(began)))


def views(job: Task, meters: Mapping[str, MeterView]) -> dict[Interval, MeterView]:
    """For each usage interval of a task the view of its meter, given by the meter's name."""
    return {every: meters[every.unit] for every in job.every if every.unit in meters}


def stand(
    job: Task, on: str | date, since: str = "", where: Shop | None = None, **known: object
) -> TaskDue:
    """How a task stands on a day; `since` is its base, `known` the rest of its situation."""
    today = on if isinstance(on, date) else day(on)
    meters = known.pop("meters", {})
    situation = Situation(
        day=today,
        first_applied=known.pop("first_applied", day("01-02")),  # type: ignore[arg-type]
        base=base(since) if since else None,
        meters=views(job, meters),  # type: ignore[arg-type]
        **known,  # type: ignore[arg-type]
    )
    return task_due(job, situation, calendars(where))


def dates(due: TaskDue) -> list[str]:
    """Due date and work-by day of the governing interval, as month and day."""
    return [str(found)[5:] for found in (due.governing.due_on, due.governing.work_by)]
