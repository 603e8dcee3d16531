"""Hours of a report, counted minute by minute: scheduled, out of service, in stops; failures.

A minute counts for the date on which its shift starts. The machine is in the shop from `in_service`
on, or from an earlier day of which a shift or a stop of it is known.
"""

from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

from .shop import (
    Plain,
    World,
    as_date,
    day_of,
    end_of_day,
    instant,
    is_working,
    moves_of,
    out_after,
    shift_end,
    weekdays,
    world_on,
)

MINUTE, DAY = timedelta(minutes=1), timedelta(days=1)


def report(
    shop: Plain, facts: list[Plain], dates: tuple[date, date], on: date, now: str
) -> list[Plain]:
    """A line for each machine as known at the end of `on`; stops begin outside night hours."""
    everything = world_on(shop, facts, date.max - DAY)
    world = world_on(shop, facts, on)
    until = min(instant(shop, now), end_of_day(shop, on))
    codes = [machine["code"] for machine in shop["machines"]]
    return [line(world, everything, code, dates, until) for code in codes]


def line(
    world: World, everything: World, code: str, dates: tuple[date, date], until: datetime
) -> Plain:
    """The figures of one machine."""
    came = came_on(everything, code)
    days = [dates[0] + n * DAY for n in range((dates[1] - dates[0]).days + 1)]
    there = [day for day in days if came <= day]
    moves = moves_of(world, code)
    at_work = minutes(world, [d for d in there if not out_after(moves, d)], until)
    away = minutes(world, [d for d in there if out_after(moves, d)], until) - at_work
    stops = [s for s in world.of("stop", machine=code) if instant(world.shop, s["from"]) <= until]
    broken = at_work & held(world, [s for s in stops if s["planned"] == "no"], until)
    planned = (at_work & held(world, stops, until)) - broken
    begun = failures(world, [s for s in stops if s["planned"] == "no"])
    run = len(at_work) - len(planned) - len(broken)
    busy = len(at_work) - len(planned)
    return {
        "machine": code,
        "scheduled_hours": Fraction(len(at_work), 60),
        "out_of_service_hours": Fraction(len(away), 60),
        "planned_hours": Fraction(len(planned), 60),
        "unplanned_hours": Fraction(len(broken), 60),
        "operating_hours": Fraction(run, 60),
        "availability": Fraction(run, busy) if busy else None,
        "unplanned_stops": sum(as_date(stop["from"]) in there for stop in begun),
    }


def came_on(everything: World, code: str) -> date:
    """The first day on which the machine is in the shop; the beginning of time if none is said."""
    [machine] = [m for m in everything.shop["machines"] if m["code"] == code]
    if "in_service" not in machine:
        return date.min
    seen = [*everything.of("shift", machine=code), *everything.of("stop", machine=code)]
    return min([as_date(machine["in_service"]), *(day_of(fact) for fact in seen)])


def minutes(world: World, days: list[date], until: datetime) -> set[datetime]:
    """The minutes of all shifts of the days that are over by then."""
    found = set()
    for day in days:
        for shift in world.shop["shop"]["shifts"] if is_working(world.shop, day) else []:
            if day.weekday() in weekdays(shift["days"]):
                start = instant(world.shop, f"{day}T{shift['start']}")
                found |= each_minute(start, min(shift_end(world.shop, shift, day), until))
    return found


def held(world: World, stops: list[Plain], until: datetime) -> set[datetime]:
    """The minutes in which one of the stops runs."""
    found = set()
    for stop in stops:
        start, end = span(world, stop)
        found |= each_minute(start, min(end, until))
    return found


def each_minute(start: datetime, end: datetime) -> set[datetime]:
    """The begin of each minute from start to end."""
    return {start + n * MINUTE for n in range(max(0, (end - start) // MINUTE))}


def span(world: World, stop: Plain) -> tuple[datetime, datetime]:
    """When a stop begins and ends; one without an end runs for ever."""
    forever = datetime.max.replace(tzinfo=UTC)
    return instant(world.shop, stop["from"]), (
        instant(world.shop, stop["to"]) if stop["to"] else forever
    )


def failures(world: World, stops: list[Plain]) -> list[Plain]:
    """The stops that begin while no other is running."""
    found = []
    for stop in stops:
        start, others = span(world, stop)[0], [span(world, s) for s in stops if s is not stop]
        if not any(begin < start < end for begin, end in others):
            found.append(stop)
    return found
