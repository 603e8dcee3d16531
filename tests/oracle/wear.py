"""Section 7 again, without the statistics of lives: wear, sharpening days, end of life.

Readings taken where the text leaves room:
- `used` is wear hits as logged over the interval, nothing estimated.
- A tool's working days are its machine's; while that is out of service there is no expected day.
- Hits at the very instant of a sharpening came before it.
- A `tool-counts` row is of its local date; the program's hits of that date's shifts fall away,
  and so does what a meter gained on it.
- A meter's gain goes to the part that was fitted at the instant of the entry; at the very instant
  of a fit it came before it.
- A part with nothing to grind has no sharpening left and ends with its interval.
"""

from datetime import date, datetime, timedelta
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


def all_tools(shop: Plain) -> list[Plain]:
    """The tools of the file, each die as one of its own after its punch."""
    found = []
    for tool in shop.get("tooling", []):
        found.append(tool)
        if "die" in tool:
            own = {"code": tool["code"] + ".die", "machine": tool["machine"], "punch": tool}
            found.append({**tool["die"], **own})
    return found


def place_at(moves: list[tuple[datetime, str | None]], when: datetime) -> str | None:
    """The machine that a tool was in before an instant: what ends or begins at it comes after."""
    earlier = [place for at, place in moves if at < when]
    return earlier[-1] if earlier else None


def moves_of(world: World, tool: Plain) -> list[tuple[datetime, str | None]]:
    """When a tool came into a machine, or out of it."""
    return [
        (
            instant(world.shop, event["at"]),
            event.get("machine") or tool["machine"] if event["event"] == "fit" else None,
        )
        for event in in_time(world, tool)
        if event["event"] in ("fit", "takeout", "scrap")
    ]


def in_time(world: World, tool: Plain) -> list[Plain]:
    """What was done to a tool, as it happened."""
    return sorted(world.of("tool-event", tool=tool["code"]), key=lambda fact: str(fact["at"]))


def gained(world: World, tool: Plain) -> list[meters.Entry]:
    """What the meter that a part counts gained, entry by entry, while the part was in."""
    found, moves = [], moves_of(world, tool)
    for machine in {place for _, place in moves if place}:
        log = meters.record(world, machine, tool["counts"])
        levels, _ = meters.dial_levels(log.entries)
        before = meters.start_level(log.entries)
        for entry, level in zip(log.entries, levels, strict=True):
            if place_at(moves, entry.instant) == machine:
                found.append(meters.Entry(entry.instant, entry.day, level - before))
            before = level
    return found


def punched(world: World, tool: Plain) -> list[meters.Entry]:
    """Hits of the programs that ran, weighed by the material."""
    shop, entries = world.shop, []
    shifts = {shift["name"]: shift for shift in shop["shop"]["shifts"]}
    for fact in world.of("shift"):
        program = next((p for p in shop["programs"] if p["code"] == fact.get("program")), None)
        if program is None or tool["code"] not in program["hits"]:
            continue
        day = as_date(fact["date"])
        parts = number(fact.get("parts") or 0) + number(fact.get("scrap") or 0)
        material = fact.get("material") or program.get("material")
        wear = number(program["hits"][tool["code"]]) * parts * factor(shop, material)
        if parts:
            entries.append(meters.Entry(shift_end(shop, shifts[fact["shift"]], day), day, wear))
    return entries


def tool_record(world: World, tool: Plain) -> meters.Record:
    """The wear that reached a tool, as count entries; a die's is its punch's."""
    tool, entries = tool.get("punch", tool), []
    rows = world.of("tool-count", tool=tool["code"])
    for fact in rows:
        weight = Fraction(1) if "counts" in tool else factor(world.shop, fact.get("material"))
        wear = number(fact["hits"]) * weight
        entries.append(meters.Entry(instant(world.shop, fact["at"]), day_of(fact), wear))
    counted_days = {day_of(fact) for fact in rows}
    made = gained(world, tool) if "counts" in tool else punched(world, tool)
    entries += [entry for entry in made if entry.day not in counted_days]
    return meters.Record(meters.in_order(entries), meter_days(world, tool["machine"]), None)


def expected_day(world: World, tool: Plain, limit: Fraction) -> date | None:
    """The day on which the tool's wear comes, or came, to a limit."""
    log = tool_record(world, tool)
    if is_out(world, tool["machine"]):
        return None
    if not log.entries:
        return None
    crossed, (r, _) = meters.crossing(log, limit), meters.rate(log, world.on)
    if crossed or not r:
        return crossed
    ahead = (limit - meters.total(log, world.on)) / r
    return nth_working_day(log.works, log.entries[-1].day, ceil(ahead))


def tool_row(world: World, tool: Plain, dates: bool = True) -> Plain:
    """One tool's figures, numbers exact, dates as dates; days far ahead take long to count."""
    log, interval = tool_record(world, tool), number(tool["sharpen_every"])
    wear_before = Fraction(0)
    new = None if "grindable" not in tool else number(tool["grindable"])
    left = new
    for event in in_time(world, tool):
        at = instant(world.shop, event["at"])
        if event["event"] in ("sharpen", "replace"):
            wear_before = sum((e.amount for e in log.entries if e.instant <= at), Fraction(0))
        if event["event"] == "sharpen" and left is not None:
            left -= number(event["mm"])
        elif event["event"] == "replace":
            left = new
    fresh = meters.total(log, world.on) - wear_before
    sharpenings = 0 if new == 0 else None
    if left and "grind" in tool:
        sharpenings = floor(left / number(tool["grind"]))
    elif left == 0:
        sharpenings = 0
    row = {
        "tool": tool["code"],
        "wear_hits": fresh,
        "interval": interval,
        "used": fresh / interval,
        "sharpenings_left": sharpenings,
        "mm_left": left,
    }
    if not dates:
        return row
    last = None if sharpenings is None else wear_before + (sharpenings + 1) * interval
    end = None if last is None else expected_day(world, tool, last)
    notice = tool.get("replace_notice")
    return row | {
        "sharpen_on": expected_day(world, tool, wear_before + interval),
        "end_of_life": end,
        "order_by": end - timedelta(days=int(notice.split()[0])) if end and notice else None,
    }


def tooling(shop: Plain, facts: list[Plain], on: date) -> list[Plain]:
    """What `tooling --json` gives."""
    world = world_on(shop, facts, on)
    return [tool_row(world, tool) for tool in all_tools(shop)]


def unallocated(shop: Plain, facts: list[Plain], on: date) -> list[Plain]:
    """What `tooling --unallocated --json` gives: no tool but punches, nothing weighed."""
    world = world_on(shop, facts, on)
    bare = {**shop, "materials": [{"code": m["code"]} for m in shop.get("materials", [])]}
    plain, rows = World(bare, world.facts, on, world.first_applied), []
    for machine in shop["machines"]:
        if "hits" not in machine.get("meters", {}):
            continue
        log, first = meters.record(world, machine["code"], "hits"), on
        for _ in range(meters.SPAN - 1):
            while not log.works(first):
                first -= timedelta(days=1)
            first -= timedelta(days=1)
        while not log.works(first):
            first -= timedelta(days=1)
        eve = first - timedelta(days=1)
        punches = [t for t in shop["tooling"] if "counts" not in t]
        got = sum(
            (
                entry.amount
                for tool in punches
                if tool["machine"] == machine["code"]
                for entry in tool_record(plain, tool).entries
                if entry.day >= first
            ),
            Fraction(0),
        )
        start = meters.start_level(log.entries)
        begun = meters.total(log, eve) if any(e.day <= eve for e in log.entries) else start
        hits = (meters.total(log, on) if log.entries else Fraction(0)) - begun
        rows.append({"machine": machine["code"], "from": first, "hits": hits, "allocated": got})
        rows[-1]["unallocated"] = hits - got
    return rows
