"""New counts and dial readings, checked together against what is stored."""

from collections import defaultdict
from dataclasses import dataclass

from pmtrack.actions.count_pace import CountPace
from pmtrack.actions.references import References
from pmtrack.actions.shift_checks import Slot
from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.plausible import dial_fault, dial_gain_fault
from pmtrack.rules.shop import Meter
from pmtrack.store.codec import to_millionths
from pmtrack.store.tallies import MeterTallies


@dataclass(frozen=True)
class NewEntry:
    """A new count or dial, with the line of the file that it comes from."""

    entry: MeterEntry
    line: int | None
    slot: Slot | None = None  # of a count
    confirmed: bool = False


@dataclass(frozen=True)
class UsageFault:
    """What cannot be, from which line of a file; what is only hard to believe may be confirmed."""

    line: int | None
    text: str
    may_be_confirmed: bool = False


class NewUsage:
    """Collects new entries by meter; `faults` then brings the usage up to date."""

    def __init__(self, references: References) -> None:
        self._references = references
        self._meters: dict[tuple[str, str], list[NewEntry]] = defaultdict(list)
        self._faults: list[UsageFault] = []

    def add(self, machine: str, meter: str, entry: NewEntry) -> None:
        """Take an entry, to be checked with the others."""
        self._meters[machine, meter].append(entry)

    def faults(self) -> list[UsageFault]:
        """What cannot be; the usage is brought up to date."""
        for (code, name), checked in self._meters.items():
            known = self._references.view.stored.machine(code) or self._references.machine(code)
            meter = self._references.meter(known, name)
            self._check_counts(code, meter, checked)
            if self._fold(code, meter, checked):
                self._check_dials(code, meter, [c for c in checked if c.entry.is_dial])
        return self._faults

    def _fold(self, code: str, meter: Meter, checked: list[NewEntry]) -> bool:
        """Bring the usage up to date; False when it is more than the store can keep."""
        tallies = MeterTallies(self._references.store, code, meter.name)
        try:
            tallies.insert([c.entry for c in checked], meter.wraps_at)
        except OverflowError:
            largest = max(checked, key=lambda c: c.entry.value)
            told = f"{code} {meter.name} would grow past what can be kept; correct it"
            self._faults.append(UsageFault(largest.line, told))
            return False
        return True

    def _check_counts(self, code: str, meter: Meter, checked: list[NewEntry]) -> None:
        """Over all counts of that machine, meter, shift and date."""
        pace = CountPace(self._references, min(item.entry.entry for item in checked))
        for item in checked:
            if item.slot is None or item.confirmed or meter.fastest is None:
                continue
            pace.look_up([code], (item.slot.day, item.slot.day))
            fault = pace.fault(code, meter, item.slot, to_millionths(item.entry.value))
            if fault:
                self._faults.append(UsageFault(item.line, f"{code} {fault}", True))

    def _check_dials(self, code: str, meter: Meter, dials: list[NewEntry]) -> None:
        """Each new reading beside its neighbours; what is stored was judged when it was entered."""
        tallies = MeterTallies(self._references.store, code, meter.name)
        new = {item.entry.entry: item for item in dials}
        for item in dials:
            before, after = tallies.around(item.entry)
            for earlier, later in ((before, item.entry), (item.entry, after)):
                if earlier is None or later is None or (later is after and later.entry in new):
                    continue  # two new ones are judged once, as a fault of the later one
                fault = dial_fault(meter, earlier, later, new)
                unsure = None
                if not (fault or item.confirmed):
                    unsure = dial_gain_fault(meter, earlier, later, new)
                if told := fault or unsure:
                    self._faults.append(UsageFault(item.line, f"{code} {told}", bool(unsure)))
