"""How worn a tool is, and what its wear says of sharpening and life."""

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import floor

from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_events import fitted, is_scrapped, left_to_grind
from pmtrack.rules.tool_life import Life, life_of
from pmtrack.rules.usage_due import SOON_DAYS
from pmtrack.rules.wear_hits import Factors, ToolRecord
from pmtrack.rules.workdays import Workdays

GRACE = Fraction(11, 10)  # 10 % past its interval a tool is overdue (common practice, no source)
LEAD = Fraction(9, 10)
WEEK_DAYS = 7


@dataclass(frozen=True)
class ToolWear:
    """How a tool stands on a day; mm and hits as entered, dates as expected."""

    tool: Tool
    as_of: date
    state: str
    wear_hits: Fraction
    used: Fraction
    per_day: Fraction | None
    sharpen_on: date | None
    sharpen_range: tuple[date, date] | None
    mm_left: Fraction | None
    sharpenings_left: int | None
    end_of_life: date | None
    order_by: date | None
    cost_per_1000: Fraction | None
    fitted: tuple[str, str] | None  # machine and station

    @property
    def to_order(self) -> bool:
        """Whether the last day to order a new one has come, and not only by a rate of a day."""
        if self.order_by is None or self.order_by > self.as_of:
            return False
        far = is_far_from_order(self.tool, self.sharpenings_left)
        return not (far and is_fresh(self.tool, self.wear_hits))


def tool_wear(
    record: ToolRecord, factors: Factors, day: date, machine_days: tuple[Workdays, bool]
) -> ToolWear:
    """How a tool stands at the end of a day."""
    return wear_of(record, life_of(record, factors, day, machine_days))


def wear_of(record: ToolRecord, life: Life) -> ToolWear:
    """How a tool stands, by its life; one that is scrapped has no day to come."""
    tool, every = record.tool, record.tool.sharpen_every
    left, scrapped = sharpenings_left(record), is_scrapped(record.events)
    end = None if left is None or scrapped else life.day_of((left + 1) * every)
    sharpen_on = None if scrapped else life.day_of(every)
    return ToolWear(
        tool=tool,
        as_of=life.day,
        state=_state(record, life, sharpen_on),
        wear_hits=life.wear,
        used=life.wear / every,
        per_day=life.standing.rate.per_day,
        sharpen_on=sharpen_on,
        sharpen_range=None if scrapped else life.range_of(every),
        mm_left=mm_left(record),
        sharpenings_left=left,
        end_of_life=end,
        order_by=order_by(tool, end),
        cost_per_1000=_cost(tool),
        fitted=fitted(record.places),
    )


def is_fresh(tool: Tool, wear: Fraction) -> bool:
    """Whether so little is gone that the tool is on no list, whatever its rate."""
    return 2 * wear < tool.sharpen_every


def is_far_from_order(tool: Tool, left: int | None) -> bool:
    """Whether a fresh tool with so many sharpenings left is not to be ordered, whatever its rate.

    At an interval a week, half an interval and the sharpenings left would outlast the notice. A
    faster rate may rest on a single day; if it holds, the tool is fresh no longer in days.
    """
    notice = tool.replace_notice
    return left is None or notice is None or (2 * left + 1) * WEEK_DAYS > 2 * notice


def mm_left(record: ToolRecord) -> Fraction | None:
    """What can still be ground off, since the last replacement; not below 0."""
    return left_to_grind(record.tool, record.events)


def sharpenings_left(record: ToolRecord) -> int | None:
    """How often it can still be ground; 0 for a part that cannot be."""
    left = mm_left(record)
    return None if left is None else _runs(record.tool, left)


def runs_in_life(tool: Tool) -> int | None:
    """Runs from new to worn out: the first needs no sharpening."""
    often = None if tool.grindable is None else _runs(tool, tool.grindable)
    return None if often is None else often + 1


def _runs(tool: Tool, left: Fraction) -> int | None:
    if not tool.is_ground:
        return 0
    return floor(left / tool.grind) if tool.grind else None


def order_by(tool: Tool, end: date | None) -> date | None:
    """The last day on which to order a new one; None where end or notice is not known."""
    if end is None or tool.replace_notice is None:
        return None
    return date.fromordinal(max(end.toordinal() - tool.replace_notice, 1))


def _cost(tool: Tool) -> Fraction | None:
    """Price over all wear of a life, for 1,000 of it."""
    runs = runs_in_life(tool)
    if tool.price is None or runs is None:
        return None
    return tool.price * 1000 / (runs * tool.sharpen_every)


def _state(record: ToolRecord, life: Life, sharpen_on: date | None) -> str:
    """By hits entered: a tool that lies in the drawer does not wear."""
    if is_scrapped(record.events):
        return "scrapped"
    return nearness(record.tool, life.wear, sharpen_on - life.day if sharpen_on else None)


def nearness(tool: Tool, wear: Fraction, left: timedelta | None = None) -> str:
    """How near to the end of its interval a tool is that has worn so much: a state.

    With the time that is left until then it is near, too, when that is short and half is gone.
    """
    if wear > tool.sharpen_every * GRACE:
        return "overdue"
    if wear >= tool.sharpen_every:
        return "due"
    near = left is not None and left.days <= SOON_DAYS and not is_fresh(tool, wear)
    return "soon" if near or wear >= tool.sharpen_every * LEAD else "ok"
