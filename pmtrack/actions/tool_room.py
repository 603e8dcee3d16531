"""What was done to a tool, and the hits counted for it: each checked before it is added."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.base import instant_of
from pmtrack.rules.facts import Moment, ToolEvent
from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Tool
from pmtrack.rules.text import one_line
from pmtrack.rules.wear import EVENTS, REASONS, ToolRecord, fitted, is_scrapped, mm_left
from pmtrack.store import tool_history
from pmtrack.store.codec import maybe_millionths, to_millionths


def record_event(recorder: Recorder, event: ToolEvent, note: str = "") -> int:
    """Add what was done to a tool; Refused when it cannot have been."""
    if event.event not in EVENTS:
        raise Refused(f"'{event.event}' is no tool event; write one of {', '.join(EVENTS)}")
    recorder.happened(event.moment)
    recorder.tool(event.tool)
    _check(recorder, event)
    number = recorder.entry("tool-event", event.moment, note)
    recorder.store.add(
        "tool_event",
        entry=number,
        tool=event.tool,
        event=event.event,
        mm=maybe_millionths(event.mm),
        why=event.why,
        machine=event.machine,
        station=one_line(event.station, "the station", 40) if event.station else None,
    )
    return number


def _check(recorder: Recorder, event: ToolEvent) -> None:
    view = View(recorder.store, event.moment.day, recorder.view.stored)
    tool = next(t for t in view.shop.tools if t.code == event.tool)
    earlier = [
        e for e in tool_history.tool_events(view.store, tool.code, view.day) if e.at <= event.at
    ]
    if is_scrapped(earlier) and event.event != "replace":
        raise Refused(f"{tool.code} is scrapped; record its replacement first: replace {tool.code}")
    if event.event == "sharpen":
        _check_sharpening(tool, event, earlier)
    elif event.event == "fit":
        _check_fit(view, event, earlier)
    elif event.event == "takeout" and fitted(earlier) is None:
        raise Refused(f"{tool.code} is not fitted in any station, so it cannot be taken out")


def _check_sharpening(tool: Tool, event: ToolEvent, earlier: list[ToolEvent]) -> None:
    if event.mm is None or event.mm <= 0:
        raise Refused("say how much was ground off, in mm, like --mm 0.2")
    if event.why not in REASONS:
        raise Refused(f"say why it was sharpened: --why {', '.join(REASONS)}")
    left = mm_left(ToolRecord(tool, events=tuple(earlier)))
    if left is not None and event.mm > left:
        raise Refused(
            f"{tool.code} has {show(left, 3)} mm left to grind, not {show(event.mm, 3)}; correct "
            f"--mm, or record 'replace {tool.code}' if it is a new one"
        )


def _check_fit(view: View, event: ToolEvent, earlier: list[ToolEvent]) -> None:
    """One tool in one station at a time."""
    if not (event.station or "").strip():
        raise Refused("say the station, like --station T12")
    place = fitted(earlier)
    if place:
        raise Refused(
            f"{event.tool} is already in station {place[1]} of {place[0]}; "
            f"take it out first: takeout {event.tool}"
        )
    for other in view.shop.tools:
        events = tool_history.tool_events(view.store, other.code, view.day)
        there = fitted([e for e in events if e.at <= event.at])
        if there == (event.machine, event.station):
            raise Refused(
                f"station {event.station} of {event.machine} holds {other.code}; "
                f"take it out first: takeout {other.code}"
            )


def record_count(
    recorder: Recorder, tool: str, moment: Moment, counted: tuple[Fraction, str | None]
) -> int:
    """Add hits counted for a tool since the row before, and in which material they were made."""
    hits, material = counted
    recorder.tool(tool)
    if hits < 0:
        raise Refused("hits cannot be below 0")
    number = recorder.entry("tool-count", recorder.happened(moment))
    recorder.store.add(
        "tool_count",
        entry=number,
        tool=tool,
        hits=to_millionths(hits),
        material=recorder.material(material),
    )
    return number


def not_fitted(view: View, hits: Iterable[tuple[str, Moment]]) -> list[str]:
    """A remark when tools were given hits while they were in no station."""
    days: dict[str, set[date]] = {}
    for tool, moment in hits:
        days.setdefault(tool, set()).add(moment.day)
    loose = [tool for tool in sorted(days) if any(_is_loose(view, tool, d) for d in days[tool])]
    if not loose:
        return []
    return [
        f"hits taken for tools in no station: {', '.join(loose)}; 'pmtrack fit TOOL --station S'"
    ]


def _is_loose(view: View, tool: str, day: date) -> bool:
    return fitted(tool_history.tool_events(view.store, tool, day)) is None


@dataclass(frozen=True)
class ToolDeed:
    """What was done to a tool: mm and why of a sharpening, machine and station of a fit."""

    event: str
    mm: Fraction | None = None
    why: str | None = None
    machine: str | None = None
    station: str | None = None


def new_event(recorder: Recorder, tool: str, deed: ToolDeed, moment: Moment) -> ToolEvent:
    """A tool event as told; a tool is fitted in its own machine unless another is named."""
    code = recorder.tool(tool)
    machine = deed.machine
    if deed.event == "fit" and machine is None:
        machine = next(t.machine for t in recorder.shop.tools if t.code == code)
    return ToolEvent(
        entry=0,
        tool=code,
        moment=moment,
        at=instant_of(moment, recorder.shop),
        event=deed.event,
        mm=deed.mm,
        why=deed.why,
        machine=recorder.machine(machine).code if machine else None,
        station=deed.station,
    )
