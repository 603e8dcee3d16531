"""Lengths of a tool measured after its sharpenings, against the mm that were entered."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from pmtrack.rules.facts import ToolEvent
from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_events import since_new
from pmtrack.rules.usage import ZERO


def lengths(events: Sequence[ToolEvent]) -> list[ToolEvent]:
    """The sharpenings since the tool was new at which its length was measured."""
    return [event for event in since_new(events) if event.length is not None]


def length_remark(tool: Tool, events: Sequence[ToolEvent]) -> str | None:
    """What to check when the last two lengths and the mm between them are a grind apart.

    The tolerance is the tool's `grind`, or without one what was ground off last.
    """
    measured = lengths(events)
    for before, after in pairwise(measured[-2:]):
        entered = _ground_between(events, before, after)
        lost = (before.length or ZERO) - (after.length or ZERO)
        if abs(lost - entered) > (tool.grind or after.mm or ZERO):
            return (
                f"{tool.code} measured {show(before.length or 0, 3)} mm in entry {before.entry} "
                f"and {show(after.length or 0, 3)} mm in entry {after.entry}, {show(lost, 3)} mm "
                f"less, but {show(entered, 3)} mm were entered as ground off; measure again, or "
                "cross out the wrong entry"
            )
    return None


def _ground_between(events: Sequence[ToolEvent], before: ToolEvent, after: ToolEvent) -> Fraction:
    """The mm entered after one sharpening, up to and including another."""
    ordered = list(events)
    between = ordered[ordered.index(before) + 1 : ordered.index(after) + 1]
    return sum((event.mm or ZERO for event in between), ZERO)
