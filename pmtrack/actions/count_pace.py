"""Whether machines can have made what is counted, over all counts of a shift and date."""

from collections.abc import Iterable
from datetime import date, timedelta
from math import floor

from pmtrack.actions.references import References
from pmtrack.actions.shift_checks import Slot
from pmtrack.rules.plausible import count_fault, most_in
from pmtrack.rules.quantity import MILLION
from pmtrack.rules.shop import Meter
from pmtrack.store import history
from pmtrack.store.codec import from_millionths

_SlotKey = tuple[str, str, str, str]  # machine, meter, shift and date


class CountPace:
    """Adds up new counts that nobody confirmed on top of those stored, in millionths.

    What somebody confirmed is never held against anyone, so it need not be added.
    """

    def __init__(self, references: References, before: int) -> None:
        self._references = references
        self._before = before  # entries from this number on are new
        self._totals: dict[_SlotKey, int] = {}
        self._most: dict[tuple[str, str, timedelta], int] = {}

    def look_up(self, machines: Iterable[str], days: tuple[date, date]) -> None:
        """Read what is stored of some machines for some dates, from the first to the last."""
        stored = history.counted(self._references.store, machines, days, self._before)
        self._totals = stored | self._totals

    def forget(self, before: str) -> None:
        """Leave behind the dates before one: no new count of them comes."""
        self._totals = {key: total for key, total in self._totals.items() if key[3] >= before}

    def fault(self, machine: str, meter: Meter, slot: Slot, amount: int) -> str | None:
        """Why a further count cannot be, or None."""
        if meter.fastest is None:
            return None
        key = machine, meter.name, slot.shift, slot.day_text
        earlier = self._totals.get(key, 0)
        self._totals[key] = total = earlier + amount
        known = machine, meter.name, slot.elapsed
        most = self._most.get(known)
        if most is None:
            most = self._most[known] = floor(most_in(meter.fastest, slot.elapsed) * MILLION)
        if total <= most:
            return None
        count, logged = from_millionths(amount), from_millionths(earlier)
        return count_fault(meter, count, slot.elapsed, logged)
