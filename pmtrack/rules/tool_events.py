"""What was done to a tool, read in order of time: where it is, what is left of it, its base."""

from collections.abc import Iterable, Sequence
from fractions import Fraction

from pmtrack.rules.facts import ToolEvent
from pmtrack.rules.shop import Tool
from pmtrack.rules.usage import ZERO

REASONS = ("planned", "burr", "chipped")
EVENTS = ("sharpen", "fit", "takeout", "replace", "scrap")
NEW_EDGE = ("sharpen", "replace")
STATION = "STATION"  # stands for a station in a command that is proposed


def fitted(events: Iterable[ToolEvent]) -> tuple[str, str] | None:
    """The machine and station that a tool is fitted in, or None."""
    place: tuple[str, str] | None = None
    for event in events:
        if event.event == "fit":
            place = (event.machine or "", event.station or "")
        elif event.event in ("takeout", "scrap"):
            place = None
    return place


def last_station(events: Iterable[ToolEvent], machine: str) -> str | None:
    """The station of a machine that a tool was fitted in last, or None."""
    fits = [e.station for e in events if e.event == "fit" and e.machine == machine]
    return fits[-1] if fits else None


def is_scrapped(events: Iterable[ToolEvent]) -> bool:
    """Whether a tool was scrapped and not replaced since."""
    last = [e.event for e in events if e.event in ("scrap", "replace")]
    return bool(last) and last[-1] == "scrap"


def last_edge(events: Iterable[ToolEvent]) -> ToolEvent | None:
    """The last sharpening or replacement, from which wear runs."""
    based = [event for event in events if event.event in NEW_EDGE]
    return based[-1] if based else None


def since_new(events: Sequence[ToolEvent]) -> list[ToolEvent]:
    """The events after the last replacement; all without one."""
    new = max((n for n, event in enumerate(events, 1) if event.event == "replace"), default=0)
    return list(events[new:])


def ground(events: Sequence[ToolEvent]) -> Fraction:
    """What was ground off since the tool was new, in mm."""
    return sum((event.mm or ZERO for event in since_new(events)), ZERO)


def left_to_grind(tool: Tool, events: Sequence[ToolEvent]) -> Fraction | None:
    """What can still be ground off, in mm, not below 0; None where the file does not say."""
    return None if tool.grindable is None else max(tool.grindable - ground(events), ZERO)
