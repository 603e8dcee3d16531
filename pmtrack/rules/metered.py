"""What a meter gained while a wear part was fitted: bends of a brake tool, hours of a nozzle.

What was entered for a shift belongs to the part that was fitted at its end.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction

from pmtrack.rules.facts import MeterEntry, ToolEvent
from pmtrack.rules.usage import Tally
from pmtrack.rules.wear_hits import by_then


@dataclass(frozen=True)
class Fitting:
    """From the event that fitted a part in a machine to the one that ended it, if any did."""

    start: ToolEvent
    end: ToolEvent | None = None

    @property
    def machine(self) -> str:
        """The machine that it sat in."""
        return self.start.machine or ""

    def holds(self, entry: MeterEntry) -> bool:
        """Whether an entry was made after it was fitted and up to its end."""
        if by_then(entry, self.start.moment):
            return False
        return self.end is None or by_then(entry, self.end.moment)

    def until(self, instant: datetime) -> "Fitting | None":
        """What of it lies before an instant; None where it began later."""
        if self.start.at >= instant:
            return None
        return self if self.end and self.end.at <= instant else replace(self, end=None)


def fittings(events: Iterable[ToolEvent]) -> list[Fitting]:
    """When a part was fitted, from the events that tell where it was, in order of time."""
    found: list[Fitting] = []
    for event in events:
        if event.event in ("fit", "takeout", "scrap") and found and found[-1].end is None:
            found[-1] = replace(found[-1], end=event)
        if event.event == "fit":
            found.append(Fitting(event))
    return found


def gains(
    opening: Tally, entries: Sequence[MeterEntry], wraps_at: Fraction | None
) -> list[MeterEntry]:
    """What each entry of a meter added to its usage, as counts; entries come in time order."""
    found, tally = [], opening
    for entry in entries:
        after = tally.then(entry, wraps_at)
        gained = after.usage - tally.usage
        found.append(MeterEntry(entry.entry, entry.at, entry.day, gained))
        tally = after
    return found
