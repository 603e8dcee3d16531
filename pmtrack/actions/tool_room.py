"""What was done to a tool, and the hits counted for it: each checked before it is added."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.base import instant_of
from pmtrack.rules.facts import Moment, ToolCount, ToolEvent
from pmtrack.rules.shop import Tool
from pmtrack.rules.text import one_line
from pmtrack.rules.tool_events import EVENTS, STATION, fitted
from pmtrack.rules.tool_places import Stay, fault, scrapped_at, shared, stays
from pmtrack.store import tool_history
from pmtrack.store.codec import maybe_millionths, to_millionths


def record_event(recorder: Recorder, event: ToolEvent, note: str = "") -> int:
    """Add what was done to a tool; Refused when it cannot have been."""
    if event.event not in EVENTS:
        raise Refused(f"'{event.event}' is no tool event; write one of {', '.join(EVENTS)}")
    if event.station == STATION:
        raise Refused(f"{STATION} stands for a station; name yours, like --station T12")
    recorder.happened(event.moment)
    recorder.tool(event.tool)
    check_tool(recorder, event.tool, event)
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
        length=maybe_millionths(event.length),
    )
    return number


def same_event(recorder: Recorder, new: ToolEvent, entry: int) -> int | None:
    """Another entry that says the same of a tool on the same day: perhaps the same deed.

    A tool cannot be fitted or taken out twice in a row, so that is no slip of the fingers.
    """
    if new.event in ("fit", "takeout"):
        return None
    events = tool_history.tool_events(recorder.store, [new.tool], new.moment.day)
    said = _said(new)
    return next((old.entry for old in events if old.entry != entry and _said(old) == said), None)


def _said(event: ToolEvent) -> tuple[object, ...]:
    return event.moment.day, event.event, event.mm, event.why, event.length


def check_tool(recorder: Recorder, tool: str, new: ToolEvent | None = None) -> None:
    """Refused unless all that was done to a tool can have been, the new event included.

    Without a new one, an event has just been crossed out.

    One tool sits in one station at a time, one station holds one tool, no more is ground off than
    there is, and a scrapped tool is replaced first.
    """
    record = next((t for t in recorder.view.stored.tools if t.code == tool), None)
    if record is None:  # retired since: there is nothing to hold it against
        return
    events = tool_history.tool_events(recorder.store, [tool], date.max)
    if new:
        events = sorted([*events, new], key=lambda e: (e.at, e is new, e.entry))
    found = fault(record, events)
    if found:
        event, told = found
        raise Refused(told if event is new else _comes_after(event))
    _check_meter(recorder, record, new)
    _check_station(recorder, tool, stays(events), is_new=new is not None)
    for count in tool_history.tool_counts(recorder.store, [record.die_of or tool], date.max):
        check_scrapped(tool, events, count)


def check_scrapped(tool: str, events: Iterable[ToolEvent], count: ToolCount) -> None:
    """Refused when hits were counted for a tool that was scrapped and not replaced."""
    scrap = scrapped_at(events, count.at)
    if scrap and count.hits:
        which = f"entry {count.entry} counts hits of {tool}" if count.entry else tool
        raise Refused(
            f"{which} after it was scrapped on {scrap.moment.day}; "
            f"record its replacement first: replace {tool} --at T"
        )


def _check_meter(recorder: Recorder, tool: Tool, new: ToolEvent | None) -> None:
    """Refused when a part is fitted where nothing counts its wear."""
    if tool.counts and new and new.machine and new.event == "fit":
        recorder.meter(recorder.machine(new.machine), tool.counts)


def _comes_after(event: ToolEvent) -> str:
    return (
        f"entry {event.entry}, {event.event} of {event.moment.day}, comes after it and could not "
        f"have been; cross out entry {event.entry} first"
    )


def _check_station(recorder: Recorder, tool: str, own: list[Stay], is_new: bool) -> None:
    places = {(stay.machine, stay.station) for stay in own}
    for other in tool_history.ever_fitted(recorder.store, places) if own else ():
        if other == tool:
            continue
        events = tool_history.tool_events(recorder.store, [other], date.max)
        found = shared(own, stays(events))
        if found and not is_new:
            raise Refused(_comes_after(next(e for e in events if _takes(found, e))))
        if found:
            raise Refused(
                f"station {found.station} of {found.machine} holds {other}; "
                f"take it out first: takeout {other}"
            )


def _takes(held: Stay, event: ToolEvent) -> bool:
    """Whether another tool was fitted where one sat and, it seems now, was not taken out."""
    place = (event.machine, event.station) == (held.machine, held.station)
    return place and event.event == "fit" and event.at >= held.start


def record_count(
    recorder: Recorder, tool: str, moment: Moment, counted: tuple[Fraction, str | None]
) -> int:
    """Add hits counted for a tool since the row before, and in which material they were made."""
    hits, material = counted
    record = recorder.tool(tool)
    if hits < 0:
        raise Refused("hits cannot be below 0")
    recorder.happened(moment)
    _check_count(recorder, record, moment, counted)
    number = recorder.entry("tool-count", moment)
    recorder.store.add(
        "tool_count",
        entry=number,
        tool=tool,
        hits=to_millionths(hits),
        material=recorder.material(material),
    )
    return number


def _check_count(
    recorder: Recorder, tool: Tool, moment: Moment, counted: tuple[Fraction, str | None]
) -> None:
    code = tool.code
    if tool.die_of:
        raise Refused(f"{code} takes the hits of its punch; enter them for {tool.die_of}")
    if tool.counts and counted[1]:
        raise Refused(f"{code} wears by {tool.counts}, whatever the material; leave that out")
    at = instant_of(moment, recorder.bare)
    for part in recorder.view.stored.tools:
        if code in (part.code, part.die_of):
            events = tool_history.tool_events(recorder.store, [part.code], date.max)
            check_scrapped(part.code, events, ToolCount(0, code, moment.day, at, counted[0]))


def not_fitted(view: View, days: Mapping[str, Collection[date]]) -> list[str]:
    """A remark when tools were given hits, on some days each, while they were in no station."""
    return said_loose(
        [tool for tool in sorted(days) if any(_is_loose(view, tool, d) for d in days[tool])]
    )


def said_loose(loose: Sequence[str]) -> list[str]:
    """The remark on tools that were given hits while they were in no station; none without any."""
    if not loose:
        return []
    cure = f"'pmtrack fit TOOL --station {STATION}'"
    return [f"hits taken for tools in no station: {', '.join(loose)}; {cure}"]


def _is_loose(view: View, tool: str, day: date) -> bool:
    return fitted(tool_history.tool_events(view.store, [tool], day)) is None


@dataclass(frozen=True)
class ToolDeed:
    """What was done to a tool: mm and why of a sharpening, machine and station of a fit."""

    event: str
    mm: Fraction | None = None
    why: str | None = None
    machine: str | None = None
    station: str | None = None
    length: Fraction | None = None


def new_event(recorder: Recorder, tool: str, deed: ToolDeed, moment: Moment) -> ToolEvent:
    """A tool event as told; a tool is fitted in its own machine unless another is named."""
    record = recorder.tool(tool)
    machine = deed.machine
    if deed.event == "fit" and machine is None:
        machine = record.machine
    return ToolEvent(
        entry=0,
        tool=record.code,
        moment=moment,
        at=instant_of(moment, recorder.bare),
        event=deed.event,
        mm=deed.mm,
        why=deed.why,
        machine=recorder.machine(machine).code if machine else None,
        station=deed.station,
        length=deed.length,
    )
