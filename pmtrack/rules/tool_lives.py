"""The lives of a tool, each from one sharpening or replacement to the next, in wear hits.

Ended by a burr or a chipped edge, a life failed; a planned end, or none yet, cuts it short: until
then it had not failed. What was worn before the first known beginning is left out.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from pmtrack.rules.facts import MeterEntry, ToolEvent
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_events import NEW_EDGE
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear_hits import Factors, ToolRecord, by_then, wear_entries

FAILURES = ("burr", "chipped")  # the reasons that end a life before its time


@dataclass(frozen=True)
class ToolLife:
    """One life: its wear in the tool's unit, what began it, and what ended it (None: running).

    The material is that of more than half of its wear, or None.
    """

    tool: Tool
    wear: Fraction
    began: ToolEvent
    ended: ToolEvent | None = None
    material: str | None = None

    @property
    def failed(self) -> bool:
        """Whether it ended by a burr or a chipped edge."""
        return self.ended is not None and self.ended.why in FAILURES

    @property
    def end(self) -> str:
        """How it ended: burr, chipped or planned; `running` while it lasts."""
        return "running" if self.ended is None else self.ended.why or "planned"

    @property
    def share(self) -> Fraction:
        """Its wear as a share of the tool's interval."""
        return self.wear / self.tool.sharpen_every


def lives_of(record: ToolRecord, factors: Factors) -> list[ToolLife]:
    """The known lives of a tool in which it wore, the running one last.

    The record has all that was entered for the tool.
    """
    entries, materials = wear_entries(record, factors), _materials(record, factors)
    found = []
    for began, ended in _spans(record.events):
        within = [e for e in entries if _holds(began, ended, e)]
        wear = sum((entry.value for entry in within), ZERO)
        if wear > 0:
            material = _most(within, materials, wear)
            found.append(ToolLife(record.tool, wear, began, ended, material))
    return found


def _spans(events: Iterable[ToolEvent]) -> list[tuple[ToolEvent, ToolEvent | None]]:
    """What began each life and what ended it; a scrapped tool has none until it is replaced."""
    spans: list[tuple[ToolEvent, ToolEvent | None]] = []
    began: ToolEvent | None = None
    for event in events:
        if event.event in NEW_EDGE or event.event == "scrap":
            if began:
                spans.append((began, event))
            began = event if event.event in NEW_EDGE else None
    return [*spans, (began, None)] if began else spans


def _holds(began: ToolEvent, ended: ToolEvent | None, entry: MeterEntry) -> bool:
    if by_then(entry, began.moment):
        return False
    return ended is None or by_then(entry, ended.moment)


def _materials(record: ToolRecord, factors: Factors) -> dict[int, str | None]:
    """The material in which the hits of each entry were made; none for what wears by a meter."""
    if record.tool.counts:
        return {}
    counted = {count.entry: count.material for count in record.counts}
    return counted | {
        log.entry: factors.material_of(log.program or "", log.material) for log in record.logs
    }


def _most(
    entries: Iterable[MeterEntry], materials: dict[int, str | None], wear: Fraction
) -> str | None:
    """The material of more than half of the wear."""
    sums: dict[str | None, Fraction] = defaultdict(Fraction)
    for entry in entries:
        sums[materials.get(entry.entry)] += entry.value
    return next((material for material, made in sums.items() if 2 * made > wear), None)
