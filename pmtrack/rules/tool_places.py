"""What was done to a tool, in order of time: whether each deed can have been, and where it sat."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction

from pmtrack.rules.facts import ToolEvent
from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_events import REASONS
from pmtrack.rules.usage import ZERO


@dataclass(frozen=True)
class Stay:
    """A tool in a station of a machine, until it was taken out or scrapped."""

    machine: str | None
    station: str | None
    start: datetime
    end: datetime | None = None

    def meets(self, other: "Stay") -> bool:
        """Whether two tools were in one station at one time."""
        place = (self.machine, self.station) == (other.machine, other.station)
        return place and self.lasts_into(other.start, other.end)

    def lasts_into(self, start: datetime, end: datetime | None) -> bool:
        """Whether it sat there at some time of a span, which may have no end."""
        return (end is None or self.start < end) and (self.end is None or start < self.end)


@dataclass(frozen=True)
class _Condition:
    """A tool between two events."""

    place: tuple[str | None, str | None] | None = None
    scrapped: bool = False
    left: Fraction | None = None  # mm to grind

    def then(self, tool: Tool, event: ToolEvent) -> "_Condition":
        """The tool after one more event."""
        if event.event == "fit":
            return replace(self, place=(event.machine, event.station))
        if event.event == "takeout":
            return replace(self, place=None)
        if event.event == "scrap":
            return replace(self, place=None, scrapped=True)
        if event.event == "replace":
            return replace(self, scrapped=False, left=tool.grindable)
        left = None if self.left is None else self.left - (event.mm or ZERO)
        return replace(self, left=left)


def fault(tool: Tool, events: Iterable[ToolEvent]) -> tuple[ToolEvent, str] | None:
    """The first event that cannot have been, with the reason; events come in order of time."""
    condition = _Condition(left=tool.grindable)
    for event in events:
        told = _fault(tool, condition, event)
        if told:
            return event, told
        condition = condition.then(tool, event)
    return None


def _fault(tool: Tool, condition: _Condition, event: ToolEvent) -> str | None:
    code = tool.code
    if condition.scrapped and event.event != "replace":
        return f"{code} is scrapped; record its replacement first: replace {code}"
    if tool.die_of and event.event in ("fit", "takeout"):
        return f"{code} goes with its punch; say '{event.event} {tool.die_of}'"
    if event.event == "sharpen":
        return _sharpening_fault(tool, condition, event)
    if event.event == "fit":
        return _fit_fault(tool, condition, event)
    if event.event in ("replace", "scrap") and event.why not in (None, *REASONS):
        return f"say what ended it: --why {', '.join(REASONS)}, or leave it out"
    if event.event == "takeout" and condition.place is None:
        return f"{code} is not fitted in any station, so it cannot be taken out; fit it first"
    return None


def _sharpening_fault(tool: Tool, condition: _Condition, event: ToolEvent) -> str | None:
    if event.mm is None or event.mm <= 0:
        return "say how much was ground off, in mm, like --mm 0.2"
    if event.why not in REASONS:
        return f"say why it was sharpened: --why {', '.join(REASONS)}"
    if event.length is not None and event.length <= 0:
        return "say the length that was measured, in mm, like --length 204.8"
    if condition.left is None or event.mm <= condition.left:
        return None
    return (
        f"{tool.code} has {show(condition.left, 3)} mm left to grind, not {show(event.mm, 3)}; "
        f"correct --mm, or record 'replace {tool.code}' if it is a new one"
    )


def _fit_fault(tool: Tool, condition: _Condition, event: ToolEvent) -> str | None:
    if not (event.station or "").strip():
        return "say the station, like --station T12"
    if condition.place is None:
        return None
    machine, station = condition.place
    return (
        f"{tool.code} is already in station {station} of {machine}; "
        f"take it out first: takeout {tool.code}"
    )


def stays(events: Iterable[ToolEvent]) -> list[Stay]:
    """Where a tool sat, from its events in order of time."""
    found: list[Stay] = []
    for event in events:
        if event.event in ("fit", "takeout", "scrap") and found and found[-1].end is None:
            found[-1] = replace(found[-1], end=event.at)
        if event.event == "fit":
            found.append(Stay(event.machine, event.station, event.at))
    return found


def scrapped_at(events: Iterable[ToolEvent], instant: datetime) -> ToolEvent | None:
    """The event that scrapped a tool which was not replaced up to an instant."""
    found = None
    for event in events:
        if event.at < instant and event.event in ("scrap", "replace"):
            found = event if event.event == "scrap" else None
    return found


def shared(own: Sequence[Stay], others: Sequence[Stay]) -> Stay | None:
    """The first stay of one tool in a station that another held at the same time."""
    return next((mine for mine in own for other in others if mine.meets(other)), None)
