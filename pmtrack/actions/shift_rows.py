"""Shifts of a file, a block of rows at a time: each is checked as its single command would be."""

from array import array
from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from functools import cache, lru_cache
from itertools import repeat
from operator import itemgetter
from typing import NamedTuple

from pmtrack.actions.count_pace import CountPace
from pmtrack.actions.recorder import Recorder, recorded_by
from pmtrack.actions.shift_checks import Slot, begun, check_tools, slot_of
from pmtrack.errors import PmtrackError, Refused
from pmtrack.imports.fault import Fault
from pmtrack.imports.rows import Block, Key
from pmtrack.rules.shop import Meter
from pmtrack.store.codec import to_text
from pmtrack.store.entries import last_number
from pmtrack.store.history import largest_count
from pmtrack.store.running_tallies import NewCount, RunningTallies

_OWN = 9  # columns of a key before the meters: machine, shift, date, by, parts, scrap, ...

_REMEMBERED = 1024  # answers, so that memory does not grow with the file


class _Taken(NamedTuple):
    """Rows that are taken, each with its entry and its shift."""

    entries: range
    lines: list[int]
    keys: list[Key]
    slots: list[Slot]


class ShiftRows:
    """Takes the rows of a file of shifts, in the order of time."""

    def __init__(self, recorder: Recorder, meters: Sequence[str]) -> None:
        self._recorder = recorder
        self._meters = meters
        self._first = last_number(recorder.store) + 1
        self._lines = array("q")  # of each entry made
        self._pace = CountPace(recorder, self._first)
        self._tallies = RunningTallies(recorder.store, self._wraps_at)
        self._is_there = cache(self._find_machine)  # as many as the shop has
        self._meter = cache(self._find_meter)
        self._slot = lru_cache(_REMEMBERED)(self._find_slot)
        self._check_names = lru_cache(_REMEMBERED)(self._find_names)
        self._check_tools = lru_cache(_REMEMBERED)(self._find_scrapped)

    @property
    def _next(self) -> int:
        """The number of the next entry."""
        return self._first + len(self._lines)

    @property
    def entries(self) -> tuple[int, int] | None:
        """The first and last entry made."""
        return (self._first, self._next - 1) if self._lines else None

    def take(self, block: Block) -> list[Fault]:
        """Add the rows of a block; tells what cannot be."""
        if not block.keys:
            return []
        self._look_up(block)
        faults: list[Fault] = []
        lines: list[int] = []
        keys: list[Key] = []
        slots: list[Slot] = []
        for line, key in zip(block.lines, block.keys, strict=True):
            try:
                slots.append(self._check(key))
            except PmtrackError as error:
                faults.append(Fault(line, str(error)))
            else:
                lines.append(line)
                keys.append(key)
        taken = _Taken(range(self._next, self._next + len(keys)), lines, keys, slots)
        self._lines.extend(lines)
        self._add(taken, self._counts(taken, faults))
        return faults

    def _look_up(self, block: Block) -> None:
        """What is stored for the machines and dates of a block."""
        days = [str(key[2]) for key in block.keys]
        first, last = min(days), max(days)
        self._pace.forget(first)
        machines = sorted({str(key[0]) for key in block.keys})
        self._pace.look_up(machines, (date.fromisoformat(first), date.fromisoformat(last)))

    def _check(self, key: Key) -> Slot:
        """The shift of a row; Refused where something in it cannot be."""
        machine, shift, day, by, parts, scrap, program, material, confirmed, *amounts = key
        if parts is scrap is program is None and amounts.count(None) == len(amounts):
            raise Refused("nothing to log; fill in parts, scrap, a program or a count")
        if not self._is_there(machine):
            self._recorder.machine(machine, date.fromisoformat(day))
        slot = self._slot(shift, day)
        if program and (parts or scrap) and not confirmed:
            self._check_tools(program, slot)
        self._check_names(by, program, material)
        return slot

    def _counts(self, taken: _Taken, faults: list[Fault]) -> list[NewCount]:
        """The counts of some rows; what cannot be is added to `faults`.

        A row is looked at up to a meter that its machine does not have.
        """
        counts: list[NewCount] = []
        broken: set[int] = set()
        for place, name in enumerate(self._meters, _OWN):
            for entry, line, key, slot in zip(*taken, strict=True):
                machine, amount = key[0], key[place]
                if amount is None or line in broken:
                    continue
                try:
                    meter = self._meter(machine, name)
                except Refused as error:
                    faults.append(Fault(line, str(error)))
                    broken.add(line)
                    continue
                if meter.fastest and not key[_OWN - 1]:
                    told = self._pace.fault(machine, meter, slot, amount)
                    if told:
                        faults.append(Fault(line, f"{machine} {told}"))
                counts.append((machine, name, slot.end_text, entry, slot.day_text, amount))
        counts.sort(key=itemgetter(3))  # as they stand in the rows
        return counts

    def _add(self, taken: _Taken, counts: list[NewCount]) -> None:
        """Store checked rows with their counts."""
        if not taken.keys:
            return
        store = self._recorder.store
        machines, shifts, days, bys, *others = list(zip(*taken.keys, strict=True))[:_OWN]
        ends = [slot.end_text for slot in taken.slots]
        now = to_text(self._recorder.now)
        store.add_many(
            "entry",
            "id, kind, at, day, whole_day, by, recorded_at, note",
            zip(
                taken.entries,
                *(repeat("shift"), ends, days, repeat(0), bys, repeat(now), repeat("")),
                strict=False,  # what is repeated has no end
            ),
        )
        store.add_many(
            "shift_log",
            "entry, machine, shift, day, parts, scrap, program, material, confirmed",
            zip(taken.entries, machines, shifts, days, *others, strict=True),
        )
        store.add_many(
            "count",
            "entry, machine, meter, amount",
            ((entry, machine, meter, amount) for machine, meter, _, entry, _, amount in counts),
        )
        self._tallies.add(counts)

    def finish(self) -> list[Fault]:
        """Bring the usage up to date; tells where it is more than can be kept."""
        self._tallies.finish()
        return [self._overflow(*name) for name in sorted(self._tallies.overflown)]

    def _overflow(self, machine: str, meter: str) -> Fault:
        """Told of the largest of the new counts."""
        entry = largest_count(self._recorder.store, machine, meter, self._first)
        text = f"{machine} {meter} would grow past what can be kept; correct it"
        return Fault(self._lines[entry - self._first], text)

    def line_of(self, entry: int) -> int | None:
        """The line that made an entry, if one did."""
        made = 0 <= entry - self._first < len(self._lines)
        return self._lines[entry - self._first] if made else None

    def remarks(self) -> list[str]:
        """What was taken though it looks odd: nothing."""
        return []

    # --- what rows share, looked at once

    def _find_slot(self, shift: str, day: str) -> Slot:
        return begun(slot_of(self._recorder, shift, date.fromisoformat(day)), self._recorder.now)

    def _find_machine(self, code: str) -> bool:
        """Whether a machine is in the shop to this day."""
        try:
            self._recorder.machine(code)
        except Refused:
            return False
        return True

    def _find_names(self, by: str, program: str | None, material: str | None) -> None:
        recorded_by(by)
        self._recorder.program(program)
        self._recorder.material(material)

    def _find_scrapped(self, program: str, slot: Slot) -> None:
        check_tools(self._recorder, program, slot)

    def _find_meter(self, machine: str, name: str) -> Meter:
        found = self._recorder.view.stored.machine(machine) or self._recorder.machine(machine)
        return self._recorder.meter(found, name)

    def _wraps_at(self, machine: str, meter: str) -> Fraction | None:
        return self._meter(machine, meter).wraps_at
