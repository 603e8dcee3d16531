"""Hits of a machine against those that its punches got: what is left over is shown, not spread."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from pmtrack.rules.facts import ShiftLog
from pmtrack.rules.tool_events import fitted
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear_hits import Factors, ToolRecord


@dataclass(frozen=True)
class Allocation:
    """Hits of a machine's meter over a span of days, and those that reached its punches.

    `hits` holds what dial readings found beyond the counts, and tells that part as `unlogged`.
    """

    machine: str
    first: date
    last: date
    hits: Fraction
    unlogged: Fraction
    allocated: Fraction

    @property
    def unallocated(self) -> Fraction:
        """Hits that no tool got; below 0 where the tools were given more than the meter made."""
        return self.hits - self.allocated

    @property
    def share(self) -> Fraction | None:
        """The unallocated share of the machine's hits; None where it made none."""
        return self.unallocated / self.hits if self.hits > 0 else None


def raw_hits(record: ToolRecord, factors: Factors, machine: str, first: date) -> Fraction:
    """Hits, not weighed, that a punch got on a machine from a day on; none for other wear parts.

    A die's are its punch's. Hits counted for the tool itself are of the machine that it was in.
    """
    tool = record.tool
    if tool.counts or tool.die_of:
        return ZERO
    counted = {count.day for count in record.counts}
    own = sum(
        (
            count.hits
            for count in record.counts
            if count.day >= first and _machine_then(record, count.at) == machine
        ),
        ZERO,
    )
    if machine not in record.machines:
        return own
    return own + sum(
        (
            (log.parts + log.scrap) * factors.hits_per_part(tool, log.program or "")
            for log in _on(record.logs, machine, first)
            if log.day not in counted
        ),
        ZERO,
    )


def _on(logs: Iterable[ShiftLog], machine: str, first: date) -> Iterable[ShiftLog]:
    return (log for log in logs if log.machine == machine and log.day >= first)


def _machine_then(record: ToolRecord, instant: datetime) -> str:
    place = fitted(e for e in record.events if e.at <= instant)
    return place[0] if place and place[0] else record.tool.machine
