"""Why a tool stands where it does: the arithmetic of its wear, its life and its cost in words."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.rules.facts import ToolEvent
from pmtrack.rules.measured import length_remark, lengths
from pmtrack.rules.quantity import show
from pmtrack.rules.tool_events import ground, last_edge, since_new
from pmtrack.rules.tool_life import Life
from pmtrack.rules.usage import ZERO
from pmtrack.rules.usage_due import SOON_DAYS
from pmtrack.rules.wear import GRACE, LEAD, ToolWear, runs_in_life
from pmtrack.rules.wear_hits import ToolRecord
from pmtrack.rules.wear_shares import WearShare, share_line


@dataclass(frozen=True)
class ToolStory:
    """A tool as it stands, what was entered for it, and what its wear is made of."""

    wear: ToolWear
    record: ToolRecord
    life: Life
    shares: tuple[WearShare, ...]


def rule_of(wear: ToolWear) -> str:
    """The tool's rule in words: sharpen every 60,000 wear hits."""
    deed = "sharpen" if wear.tool.is_ground else "replace"
    return f"{deed} every {show(wear.tool.sharpen_every)} {wear.tool.unit}"


def explain_tool(story: ToolStory) -> list[str]:
    """Line by line: wear and the day it comes to the interval, what is left, and what it costs."""
    lines = [f"{rule_of(story.wear)}: {story.wear.state}"]
    for line in (*_wear_lines(story), *_day_lines(story, story.wear.tool.sharpen_every, True)):
        lines.append(f"  {line}")
    return [*lines, *_life_lines(story), *_cost_lines(story.wear)]


def _wear_lines(story: ToolStory) -> list[str]:
    wear, tool, shares = story.wear, story.wear.tool, story.shares
    lines = [f"takes the hits of its punch, {tool.die_of}"] if tool.die_of else []
    if tool.counts:
        lines.append(f"counts {tool.counts} of its machine while it is fitted")
    lines.append(f"since {_since(last_edge(story.record.events))}")
    lines += [share_line(share, tool.unit) for share in shares]
    total = f"{show(wear.wear_hits)} {tool.unit}"
    if len(shares) > 1:
        total = " + ".join(show(share.wear) for share in shares) + f" = {total}"
    lines.append(total if shares else f"nothing entered since: 0 {tool.unit}")
    every = tool.sharpen_every
    return [
        *lines,
        f"{show(wear.wear_hits)} / {show(every)} = {show(100 * wear.used, 1)} % of the interval",
        f"soon from {show(every * LEAD)}, or half gone and {SOON_DAYS} days before the day; "
        f"due at {show(every)}, overdue above {show(every * GRACE)}",
    ]


def _since(edge: ToolEvent | None) -> str:
    if edge is None:
        return "the first entry: it was never sharpened or replaced"
    deed = "replaced" if edge.event == "replace" else f"sharpened by {show(edge.mm or 0, 3)} mm"
    why = f", {edge.why}" if edge.why else ""
    return f"{edge.moment.day:%a %Y-%m-%d} (entry {edge.entry}, {deed}{why})"


def _day_lines(story: ToolStory, hits: Fraction, with_rate: bool) -> list[str]:
    """How the day is found on which the wear comes to so many hits."""
    life, tool = story.life, story.wear.tool
    if story.wear.state == "scrapped":
        return ["scrapped: no day is expected"]
    if life.out_of_service:
        return [f"{tool.machine} is out of service: no day is expected"]
    passage = life.passage(hits)
    if passage is None:
        reached = life.day_of(hits)
        return [f"reached on {_day(reached)}"] if reached else ["no entry yet, so no day"]
    rate, unit = passage.rate, tool.unit
    if rate.per_day is None:
        return ["no rate is known, so no day"]
    lines = []
    if with_rate:
        lines.append(
            f"rate {show(rate.per_day)} {unit} a working day "
            f"({show(rate.gained)} in the last {rate.days} with entries)"
        )
    days = passage.working_days
    if days is None:
        return [*lines, "at that rate no day is expected"]
    lines.append(
        f"({show(hits)} - {show(life.wear)}) / {show(rate.per_day)} = {show(days, 2)}, so working "
        f"day {-(-days.numerator // days.denominator)} after {passage.since}: {_day(passage.day)}"
    )
    found = story.wear.sharpen_range if with_rate else None
    return [*lines, f"80 % range {found[0]} to {found[1]}"] if found else lines


def _life_lines(story: ToolStory) -> list[str]:
    wear, tool = story.wear, story.wear.tool
    left, often = wear.mm_left, wear.sharpenings_left
    if tool.grindable is None or left is None:
        return []
    lines = ["nothing to grind: it is replaced"]
    if tool.is_ground:
        lines = ["what is left of it", *_ground_lines(story)]
    if often is None:
        return lines
    end = (often + 1) * tool.sharpen_every
    if tool.is_ground:
        lines.append(
            f"  end of life at ({often} + 1) x {show(tool.sharpen_every)} = {show(end)} "
            f"{tool.unit} from its last edge"
        )
        lines += [f"  {line}" for line in _day_lines(story, end, False)]
    if wear.order_by:
        lines.append(f"  less {tool.replace_notice} days of notice: order by {_day(wear.order_by)}")
    return lines


def _ground_lines(story: ToolStory) -> list[str]:
    """Mm left, sharpenings left, and the lengths that were measured."""
    wear, tool, events = story.wear, story.wear.tool, story.record.events
    times = sum(event.event == "sharpen" for event in since_new(events))
    off = ground(events)
    told = (
        f"{show(tool.grindable or 0, 3)} - {show(off, 3)} mm ground in {times} sharpening(s) "
        f"since new = {show(wear.mm_left or 0, 3)} mm"
    )
    if tool.grind and wear.sharpenings_left is not None:
        told += f"; / {show(tool.grind, 3)} = {wear.sharpenings_left} sharpenings left"
    return [f"  {told}", *(f"  {line}" for line in length_lines(events))]


def length_lines(events: Sequence[ToolEvent]) -> list[str]:
    """The lengths measured since the tool was new."""
    return [
        f"measured {show(event.length or ZERO, 3)} mm on {event.moment.day} (entry {event.entry})"
        for event in lengths(events)
    ]


def _cost_lines(wear: ToolWear) -> list[str]:
    runs, tool = runs_in_life(wear.tool), wear.tool
    if wear.cost_per_1000 is None or runs is None or tool.price is None:
        return []
    return [
        f"cost of 1,000 {tool.unit}: {show(wear.cost_per_1000, 3)}",
        f"  {show(tool.price, 2)} / ({runs} run(s) x {show(tool.sharpen_every)}) x 1,000",
    ]


def remarks(story: ToolStory) -> list[str]:
    """What to check: no station, lengths that contradict the mm."""
    tool, found = story.wear.tool, length_remark(story.wear.tool, story.record.events)
    told = [found] if found else []
    if story.wear.fitted is None and story.wear.state != "scrapped":
        told.append(f"{tool.die_of or tool.code} is in no station")
    return told


def _day(day: date | None) -> str:
    return f"{day:%a %Y-%m-%d}" if day else "beyond the calendar"
