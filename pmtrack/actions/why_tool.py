"""Why a tool stands where it does: what its wear is made of, and the entries it rests on."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from pmtrack.actions.tooling import ToolRecords
from pmtrack.actions.view import View
from pmtrack.actions.why import SHOWN
from pmtrack.rules.explain_tool import ToolStory
from pmtrack.rules.facts import MeterEntry, Moment, ToolCount, ToolEvent
from pmtrack.rules.metered import Fitting, fittings
from pmtrack.rules.quantity import plain, show
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_events import last_edge, since_new
from pmtrack.rules.wear import wear_of
from pmtrack.rules.wear_hits import ToolRecord, is_later, wear_entries
from pmtrack.rules.wear_shares import WearShare, counted_shares, program_shares
from pmtrack.store.codec import to_text


@dataclass(frozen=True)
class WhyTool:
    """A tool's story, the latest entries it rests on, and how many there are in all."""

    story: ToolStory
    evidence: list[dict[str, Any]]
    entries_in_all: int


def why_tool(view: View, tool: Tool) -> WhyTool:
    """What a tool's standing rests on, on the view's day."""
    records = ToolRecords(view)
    (bare,) = records.bare(tool)
    record, life = records.of(bare)
    base = bare.base
    recent = records.since(bare, base.day if base else date.min)
    shares = [
        *_program_shares(view, records, bare),
        *_gained_shares(view, records, bare),
        *counted_shares(tool, records.factors, _since(bare.counts, base)),
    ]
    story = ToolStory(wear_of(record, life), bare, life, tuple(shares))
    rows = _rows(records, recent)
    return WhyTool(story, [*_deeds(bare), *rows[-SHOWN:]], len(rows))


def _since(counts: tuple[ToolCount, ...], base: Moment | None) -> list[ToolCount]:
    entries = (MeterEntry(c.entry, c.at, c.day, c.hits) for c in counts)
    return [c for c, e in zip(counts, entries, strict=True) if is_later(e, base)]


def _program_shares(view: View, records: ToolRecords, record: ToolRecord) -> list[WearShare]:
    return program_shares(record.tool, records.factors, records.made(record, view.day))


def _gained_shares(view: View, records: ToolRecords, record: ToolRecord) -> list[WearShare]:
    """What the meter gained in each stay since the edge was new."""
    if not record.tool.counts:
        return []
    shares = [
        WearShare(_stay(span, record.base), records.gained(record, [span], view.day))
        for span in fittings(record.places)
    ]
    return [share for share in shares if share.amount]


def _stay(span: Fitting, base: Moment | None) -> str:
    first = max(span.start.moment.day, base.day) if base else span.start.moment.day
    last = f"to {span.end.moment.day}" if span.end else "on"
    return f"in {span.start.station} of {span.machine} from {first} {last}"


def _deeds(record: ToolRecord) -> list[dict[str, Any]]:
    """The sharpenings since it was new, the replacement before them, and the last fitting."""
    new = since_new(record.events)
    edge = last_edge(record.events)
    deeds = [event for event in new if event.event == "sharpen"][-SHOWN:]
    if edge and edge not in deeds:
        deeds.insert(0, edge)
    fits = [event for event in record.places if event.event == "fit"]
    return [_deed(event) for event in [*deeds, *fits[-1:]]]


def _deed(event: ToolEvent) -> dict[str, Any]:
    told = [str(event.moment.day), event.event]
    told += [f"{show(event.mm, 3)} mm"] if event.mm is not None else []
    told += [f"{show(event.length, 3)} mm long"] if event.length is not None else []
    told += [text for text in (event.why, event.machine, event.station) if text]
    return _row(event.entry, "tool-event", event.at, "  ".join([told[0], ", ".join(told[1:])]))


def _rows(records: ToolRecords, record: ToolRecord) -> list[dict[str, Any]]:
    """The shifts, rows and meter entries since the edge was new, each with its wear."""
    factors, logs = records.factors, {log.entry: log for log in record.logs}
    counts = {count.entry for count in record.counts}
    rows = []
    for entry in wear_entries(record, factors):
        if not (entry.value and is_later(entry, record.base)):
            continue
        log = logs.get(entry.entry)
        what = f"{entry.day}  {show(entry.value)} {record.tool.unit}"
        what += f", {show(log.parts + log.scrap)} parts of {log.program}" if log else ""
        kind = "shift" if log else ("tool-count" if entry.entry in counts else "meter")
        found = _row(entry.entry, kind, entry.at, what)
        rows.append(found | {"day": entry.day.isoformat(), "wear": plain(entry.value)})
    return rows


def _row(entry: int, kind: str, at: datetime, what: str) -> dict[str, Any]:
    return {"entry": entry, "kind": kind, "at": to_text(at), "what": what}
