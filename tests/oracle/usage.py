"""Section 4 again: usage, unlogged usage, rate, spread and estimate of one meter.

Readings taken where the text leaves room:
- "end of day" of usage goes by the entries' dates: a night shift's count is in its own date.
- A dial at the very instant of a count already holds that count.
- The span of a rate runs from the 20th working day back to t with the free days in between.
- Two days "taken as one" have the later day's usage, so of a first dial and a count of the same
  day the day's end is u_0, and a first count on a free day adds nothing to S.
- "before t" leaves t itself out.
- A meter without entries has unlogged usage 0.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from itertools import pairwise
from math import sqrt

from .shop import (
    Plain,
    World,
    as_date,
    day_of,
    expected_per_day,
    instant,
    last_working_day,
    meter_days,
    number,
    shift_end,
    working_days,
    world_on,
)

SPAN = 20  # working days
WEIGHT = 5  # working days that `expected` is worth


@dataclass(frozen=True)
class Entry:
    """A count or a dial reading."""

    instant: datetime
    day: date
    amount: Fraction
    dial: bool = False
    adds: Fraction = Fraction(0)  # `wraps_at` where the counter wrapped
    exchanged: bool = False


@dataclass(frozen=True)
class Record:
    """All entries of one meter in order, with what its rate needs."""

    entries: list[Entry]
    works: Callable[[date], bool]
    expected: Fraction | None


def in_order(entries: list[Entry]) -> list[Entry]:
    """By instant; at the same instant the counts first."""
    return sorted(entries, key=lambda entry: (entry.instant, entry.dial))


def record(world: World, machine: str, meter: str) -> Record:
    """The entries of a meter up to `on`: shift counts, dials, dials read at completions."""
    said = next(m for m in world.shop["machines"] if m["code"] == machine)["meters"][meter]
    shifts = {shift["name"]: shift for shift in world.shop["shop"]["shifts"]}
    entries = []
    for fact in world.of("shift", machine=machine):
        if meter in fact["counts"]:
            end = shift_end(world.shop, shifts[fact["shift"]], as_date(fact["date"]))
            entries.append(Entry(end, day_of(fact), number(fact["counts"][meter])))
    done = [f for f in world.of("completion") if f["task"].startswith(machine + "/")]
    for fact in world.of("dial", machine=machine) + done:
        if meter in fact.get("readings", {}):
            adds = number(said["wraps_at"]) if fact.get("wrapped") else Fraction(0)
            at, reading = instant(world.shop, fact["at"]), number(fact["readings"][meter])
            is_new = bool(fact.get("exchanged"))
            entries.append(Entry(at, day_of(fact), reading, True, adds, is_new))
    expected = expected_per_day(world.shop, said.get("expected"))
    return Record(in_order(entries), meter_days(world, machine), expected)


def dial_levels(entries: list[Entry]) -> tuple[list[Fraction], Fraction]:
    """Usage right after each entry, and the unlogged part of the last."""
    levels: list[Fraction] = []
    before: Entry | None = None
    level = start_level(entries)
    since, unlogged = 0, Fraction(0)
    at_dial = Fraction(0)
    for entry in entries:
        if not entry.dial:
            level, since = level + entry.amount, since + 1
        elif before is None or entry.exchanged:
            before, since, at_dial = entry, 0, level
        else:
            shown = at_dial + entry.amount + entry.adds - before.amount
            unlogged += shown - level if since else 0
            before, since, at_dial, level = entry, 0, shown, shown
        levels.append(level)
    return levels, unlogged


def start_level(entries: list[Entry]) -> Fraction:
    """The level just before the first entry."""
    counted = Fraction(0)
    for entry in entries:
        if entry.dial:
            return entry.amount - counted
        counted += entry.amount
    return Fraction(0)


def usage_where(entries: list[Entry], counts: Callable[[Entry], bool]) -> Fraction:
    """Usage by the entries that count: the latest dial of them, and their counts after it."""
    levels, _ = dial_levels(entries)
    usage = start_level(entries)
    for entry, level in zip(entries, levels, strict=True):
        if counts(entry):
            usage = level if entry.dial else usage + entry.amount
    return usage


def crossing(log: Record, limit: Fraction) -> date | None:
    """The day of the last entry that took usage from below a limit to it; null when below now."""
    levels, _ = dial_levels(log.entries)
    below, found = True, None
    for entry, level in zip(log.entries, levels, strict=True):
        if level < limit:
            below, found = True, None
        elif below:
            below, found = False, entry.day
    return found


def day_totals(log: Record, t: date) -> list[tuple[date, Fraction]]:
    """u_0 to u_m with their days; u_0 alone or nothing where there is no increment."""
    days = sorted({entry.day for entry in log.entries if entry.day <= t})
    if not days:
        return []
    span = t
    for _ in range(SPAN):
        span = last_working_day(log.works, span, date.min) or date.min
        span = date.fromordinal(span.toordinal() - 1)
    inside = [day for day in days if day > span]
    if not inside:
        return day_totals(log, days[-1])
    outside, first = [day for day in days if day <= span], log.entries[0]
    if outside:
        points = [(outside[-1], total(log, outside[-1]))]
    elif first.dial:
        points = [(first.day, first.amount)]
    else:
        eve = last_working_day(log.works, date.fromordinal(first.day.toordinal() - 1), date.min)
        points = [(eve or date.min, start_level(log.entries))]
    for day in inside:
        if working_days(log.works, points[-1][0], day) == 0:
            points.pop()
        points.append((day, total(log, day)))
    return points


def total(log: Record, day: date) -> Fraction:
    """Usage at the end of a day."""
    return usage_where(log.entries, lambda entry: entry.day <= day)


def rate(log: Record, t: date) -> tuple[Fraction | None, float | None]:
    """r and s per working day, null where the record is too short."""
    points = day_totals(log, t)
    steps = []
    for (day, used), (next_day, next_used) in pairwise(points):
        steps.append((next_used - used, working_days(log.works, day, next_day)))
    gained, days = sum((d for d, _ in steps), Fraction(0)), sum(w for _, w in steps)
    if log.expected is not None:
        r = (WEIGHT * log.expected + gained) / (WEIGHT + days)
    elif days:
        r = gained / days
    else:
        return None, None
    r = max(r, Fraction(0))
    if len(steps) < 5:
        return r, None
    squares = sum((d - r * w) ** 2 / w for d, w in steps)
    return r, sqrt(squares / (len(steps) - 1))


def days_added(log: Record, after: date, t: date) -> int:
    """Working days after one day and before t."""
    return working_days(log.works, after, date.fromordinal(t.toordinal() - 1))


def usage(shop: Plain, facts: list[Plain], on: date) -> list[Plain]:
    """What `usage --json` gives."""
    world = world_on(shop, facts, on)
    rows = []
    for machine in shop["machines"]:
        for meter in machine.get("meters", {}):
            row = meter_row(record(world, machine["code"], meter), on)
            rows.append({"machine": machine["code"], "meter": meter, **row})
    return rows


def meter_row(log: Record, on: date) -> Plain:
    """One meter's figures, numbers exact."""
    r, _ = rate(log, on)
    row: Plain = {"usage": None, "last_entry": None, "estimate": None}
    row |= {"rate": r, "stale": True, "unlogged": Fraction(0)}
    if not log.entries:
        return row
    levels, unlogged = dial_levels(log.entries)
    last, now = log.entries[-1], total(log, on)
    added = days_added(log, last.day, on)
    row |= {"usage": now, "last_entry": last.instant.strftime("%Y-%m-%dT%H:%M:%SZ")}
    row |= {"stale": added > 3, "unlogged": unlogged}
    if added and r is not None:
        row["estimate"] = now + r * added
    assert levels[-1] == now
    return row
