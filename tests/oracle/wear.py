"""Section 7 again, without the statistics of lives: wear, sharpening days, end of life.

Readings taken where the text leaves room:
- `used` is wear hits as logged over the interval, nothing estimated.
- A tool's working days are its machine's; while that is out of service there is no expected day.
- Hits at the very instant of a sharpening came before it.
- A `tool-counts` row is of its local date; the program's hits of that date's shifts fall away.
"""

from datetime import date, timedelta
from fractions import Fraction
from math import ceil, floor

from . import usage as meters
from .shop import (
    Plain,
    World,
    as_date,
    day_of,
    instant,
    is_out,
    meter_days,
    nth_working_day,
    number,
    shift_end,
    world_on,
)


def factor(shop: Plain, material: str | None) -> Fraction:
    """Wear times thickness of a material, 1 for none."""
    if material is None:
        return Fraction(1)
    said = next(m for m in shop.get("materials", []) if m["code"] == material)
    return number(said.get("wear", 1)) * number(said.get("thickness", 1))


def tool_record(world: World, tool: Plain) -> meters.Record:
    """The wear that reached a tool, as count entries."""
    shop, entries = world.shop, []
    rows = world.of("tool-count", tool=tool["code"])
    for fact in rows:
        wear = number(fact["hits"]) * factor(shop, fact.get("material"))
        entries.append(meters.Entry(instant(shop, fact["at"]), day_of(fact), wear))
    counted_days = {day_of(fact) for fact in rows}
    shifts = {shift["name"]: shift for shift in shop["shop"]["shifts"]}
    for fact in world.of("shift"):
        program = next((p for p in shop["programs"] if p["code"] == fact.get("program")), None)
        if program is None or tool["code"] not in program["hits"]:
            continue
        day = as_date(fact["date"])
        if day in counted_days:
            continue
        parts = number(fact.get("parts") or 0) + number(fact.get("scrap") or 0)
        material = fact.get("material") or program.get("material")
        wear = number(program["hits"][tool["code"]]) * parts * factor(shop, material)
        entries.append(meters.Entry(shift_end(shop, shifts[fact["shift"]], day), day, wear))
    return meters.Record(meters.in_order(entries), meter_days(world, tool["machine"]), None)


def expected_day(world: World, tool: Plain, limit: Fraction) -> date | None:
    """The day on which the tool's wear comes, or came, to a limit."""
    log = tool_record(world, tool)
    if is_out(world, tool["machine"]):
        return None
    crossed, (r, _) = meters.crossing(log, limit), meters.rate(log, world.on)
    if crossed or not r:
        return crossed
    ahead = (limit - meters.total(log, world.on)) / r
    return nth_working_day(log.works, log.entries[-1].day, ceil(ahead))


def tool_row(world: World, tool: Plain) -> Plain:
    """One tool's figures, numbers exact, dates as dates."""
    log, interval = tool_record(world, tool), number(tool["sharpen_every"])
    wear_before = Fraction(0)
    left = number(tool["grindable"])
    for event in sorted(world.of("tool-event", tool=tool["code"]), key=lambda f: str(f["at"])):
        at = instant(world.shop, event["at"])
        if event["event"] in ("sharpen", "replace"):
            wear_before = sum((e.amount for e in log.entries if e.instant <= at), Fraction(0))
        if event["event"] == "sharpen":
            left -= number(event["mm"])
        elif event["event"] == "replace":
            left = number(tool["grindable"])
    fresh = meters.total(log, world.on) - wear_before
    sharpenings = floor(left / number(tool["grind"]))
    end = expected_day(world, tool, wear_before + (sharpenings + 1) * interval)
    notice = timedelta(days=int(tool["replace_notice"].split()[0]))
    return {
        "tool": tool["code"],
        "wear_hits": fresh,
        "interval": interval,
        "used": fresh / interval,
        "sharpen_on": expected_day(world, tool, wear_before + interval),
        "sharpenings_left": sharpenings,
        "mm_left": left,
        "end_of_life": end,
        "order_by": end - notice if end else None,
    }


def tooling(shop: Plain, facts: list[Plain], on: date) -> list[Plain]:
    """What `tooling --json` gives."""
    world = world_on(shop, facts, on)
    return [tool_row(world, tool) for tool in shop.get("tooling", [])]
