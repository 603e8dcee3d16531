"""Adding facts: each gets an entry, is checked against the rules, and none is ever changed."""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, datetime
from fractions import Fraction

from pmtrack.actions.view import View
from pmtrack.errors import FaultyFile, Refused
from pmtrack.rules.base import instant_of
from pmtrack.rules.facts import MeterEntry, Moment
from pmtrack.rules.plausible import count_fault, dial_fault, too_early
from pmtrack.rules.shop import Machine, Meter, Shift, Task
from pmtrack.rules.shoptime import shift_span
from pmtrack.rules.text import needed, one_line
from pmtrack.store.codec import maybe_millionths, to_millionths, to_text
from pmtrack.store.tallies import MeterTallies


@dataclass(frozen=True)
class Dial:
    """A reading of a counter, and whether it started over or is a new one."""

    reading: Fraction
    wrapped: bool = False
    exchanged: bool = False


@dataclass(frozen=True)
class NewShift:
    """One shift of one machine, as its operator tells it."""

    machine: str
    shift: str
    day: date
    counts: dict[str, Fraction] = field(default_factory=dict)
    dials: dict[str, Dial] = field(default_factory=dict)
    parts: Fraction | None = None
    scrap: Fraction | None = None
    program: str | None = None
    material: str | None = None
    dial_at: Moment | None = None
    confirmed: bool = False


@dataclass(frozen=True)
class _Checked:
    """A new count or dial, with the place to name when it cannot be."""

    entry: MeterEntry
    where: str
    slot: tuple[str, date] | None = None  # of a count: its shift and date
    confirmed: bool = False


class Recorder:
    """Adds facts within one transaction; `finish` checks them together and must come last."""

    def __init__(self, view: View, now: datetime, by: str) -> None:
        self.view = view
        self.store = view.store
        self.shop = view.shop
        self.now = now
        self.by = by
        self.where = ""
        self._faults: list[str] = []
        self._meters: dict[tuple[str, str], list[_Checked]] = defaultdict(list)

    # --- references and moments

    def machine(self, code: str) -> Machine:
        """The machine in the shop file of that code; Refused if there is none."""
        found = next((m for m in self.shop.machines if m.code == code), None)
        if found:
            return found
        if any(m.code == code for m in self.view.stored.past.machines):
            raise Refused(f"machine {code} is retired: it is no longer in the shop file")
        known = ", ".join(m.code for m in self.shop.machines)
        raise Refused(f"no machine '{code}'; the shop has {known}")

    def meter(self, machine: Machine, name: str) -> Meter:
        """The meter of a machine; Refused if it has none of that name."""
        found = machine.meter(name)
        if found is None:
            known = ", ".join(m.name for m in machine.meters) or "no meters"
            raise Refused(f"{machine.code} has no meter '{name}'; it has {known}")
        return found

    def task(self, name: str) -> Task:
        """The task of that name; Refused if there is none or it is retired."""
        task = self.view.task(name)
        retired = self.view.stored.retired_on.get(name)
        if retired:
            raise Refused(f"{name} is retired since {retired}: it is no longer in the shop file")
        return task

    def tool(self, code: str) -> str:
        """The code of a tool in the shop file; Refused if there is none."""
        if any(tool.code == code for tool in self.shop.tools):
            return code
        raise Refused(f"no tool '{code}'; see 'pmtrack tooling' for the tools of the shop")

    def material(self, code: str | None) -> str | None:
        """A material's code; Refused if it is not in the shop file."""
        if code is None or any(m.code == code for m in self.shop.materials):
            return code
        known = ", ".join(m.code for m in self.shop.materials) or "none"
        raise Refused(f"no material '{code}'; the shop file has {known}")

    def program(self, code: str | None) -> str | None:
        """A program's code; Refused if it is not in the shop file."""
        if code is None or any(p.code == code for p in self.shop.programs):
            return code
        known = ", ".join(p.code for p in self.shop.programs) or "none"
        raise Refused(f"no program '{code}'; the shop file has {known}")

    def happened(self, moment: Moment) -> Moment:
        """The moment, if it is not still to come; Refused otherwise."""
        fault = too_early(moment, self.now, self.shop.zone)
        if fault:
            raise Refused(fault)
        return moment

    # --- entries

    def entry(self, kind: str, moment: Moment, note: str = "") -> int:
        """Add an entry and tell its number."""
        return self.store.add(
            "entry",
            kind=kind,
            at=to_text(instant_of(moment, self.shop)),
            day=moment.day.isoformat(),
            whole_day=int(moment.at is None),
            by=needed(self.by, "who records it", "--by Dana"),
            recorded_at=to_text(self.now),
            note=one_line(note, "the note", 2000),
        )

    def shift(self, log: NewShift, note: str = "") -> int:
        """Add what was logged for one shift."""
        machine = self.machine(log.machine)
        shift = self._shift_named(log.shift)
        start, end = shift_span(shift, log.day, self.shop.zone)
        if start > self.now:
            raise Refused(f"the {shift.name} shift of {log.day} has not begun yet")
        number = self.entry("shift", Moment(log.day, end), note)
        self.store.add(
            "shift_log",
            entry=number,
            machine=machine.code,
            shift=shift.name,
            day=log.day.isoformat(),
            parts=maybe_millionths(_not_negative("parts", log.parts)),
            scrap=maybe_millionths(_not_negative("scrap", log.scrap)),
            program=self.program(log.program),
            material=self.material(log.material),
            confirmed=int(log.confirmed),
        )
        for name, amount in log.counts.items():
            self._count(number, (machine, name, amount), (log, end))
        read = self._read_at(log, (start, end))
        for name, dial in log.dials.items():
            self._dial(number, (machine, name, dial), read)
        return number

    def _shift_named(self, name: str) -> Shift:
        found = self.shop.shift(name)
        if found is None:
            known = ", ".join(s.name for s in self.shop.shifts)
            raise Refused(f"no shift '{name}'; the shop has {known}")
        return found

    def _read_at(self, log: NewShift, span: tuple[datetime, datetime]) -> Moment:
        """When a dial of a shift was read; within the shift it belongs to the shift's date."""
        if log.dial_at is None:
            return Moment(log.day, span[1])
        moment = self.happened(log.dial_at)
        at = instant_of(moment, self.shop)
        inside = span[0] <= at <= span[1]
        return Moment(log.day if inside else moment.day, at)

    def _count(
        self, number: int, what: tuple[Machine, str, Fraction], of: tuple[NewShift, datetime]
    ) -> None:
        (machine, name, amount), (log, end) = what, of
        self.meter(machine, name)
        _not_negative(name, amount)
        self.store.add(
            "count",
            entry=number,
            machine=machine.code,
            meter=name,
            amount=to_millionths(amount),
        )
        entry = MeterEntry(number, end, log.day, amount)
        slot = (log.shift, log.day)
        self._meters[machine.code, name].append(_Checked(entry, self.where, slot, log.confirmed))

    def dials(self, machine: str, readings: dict[str, Dial], moment: Moment) -> int:
        """Add readings of a machine's counters."""
        number = self.entry("dial", self.happened(moment))
        self.dials_of(number, self.machine(machine), readings, moment)
        return number

    def dials_of(
        self, number: int, machine: Machine, readings: dict[str, Dial], moment: Moment
    ) -> None:
        """Add readings that belong to an entry."""
        for name, dial in readings.items():
            self._dial(number, (machine, name, dial), moment)

    def _dial(self, number: int, what: tuple[Machine, str, Dial], moment: Moment) -> None:
        machine, name, dial = what
        meter = self.meter(machine, name)
        _not_negative(name, dial.reading)
        if dial.wrapped and meter.wraps_at is None:
            raise Refused(
                f"{machine.code} {name} has no wraps_at in the shop file: add it there, "
                f"or say --exchanged {name} if a new counter was fitted"
            )
        at = instant_of(moment, self.shop)
        self.store.add(
            "dial",
            entry=number,
            machine=machine.code,
            meter=name,
            at=to_text(at),
            day=moment.day.isoformat(),
            reading=to_millionths(dial.reading),
            wrapped=int(dial.wrapped),
            exchanged=int(dial.exchanged),
        )
        entry = MeterEntry(number, at, moment.day, dial.reading, True, dial.wrapped, dial.exchanged)
        self._meters[machine.code, name].append(_Checked(entry, self.where))

    # --- checks that need all new facts together

    def fault(self, sentence: str) -> None:
        """Note that the fact at hand cannot be; `finish` will refuse all."""
        self._faults.append(f"{self.where}{sentence}")

    def finish(self) -> None:
        """Check counts and dials against what is stored, and bring the usage up to date.

        Raises FaultyFile (several faults) or Refused (one) when anything cannot be.
        """
        for (code, name), checked in self._meters.items():
            meter = self.meter(self.machine(code), name)
            self._check_counts(code, meter, checked)
            if self._fold(code, meter, checked):
                self._check_dials(code, name, [c for c in checked if c.entry.is_dial])
        if self._faults and self.where:
            raise FaultyFile(self._faults)
        if self._faults:
            raise Refused("; ".join(self._faults))

    def _fold(self, code: str, meter: Meter, checked: list[_Checked]) -> bool:
        """Bring the usage up to date; False when it is more than the store can keep."""
        tallies = MeterTallies(self.store, code, meter.name)
        try:
            tallies.insert([c.entry for c in checked], meter.wraps_at)
        except OverflowError:
            largest = max(checked, key=lambda c: c.entry.value)
            self._faults.append(
                f"{largest.where}{code} {meter.name} would grow past what can be kept; correct it"
            )
            return False
        return True

    def _check_counts(self, code: str, meter: Meter, checked: list[_Checked]) -> None:
        """Over all counts of that machine, meter, shift and date; confirmed ones come last."""
        if meter.fastest is None:
            return
        totals: dict[tuple[str, date], Fraction] = {}
        first = min(item.entry.entry for item in checked)
        for item in sorted(checked, key=lambda item: item.confirmed):
            if item.slot is None:
                continue
            if item.slot not in totals:
                totals[item.slot] = self._stored_count(code, meter.name, item, first)
            totals[item.slot] += item.entry.value
            start, end = shift_span(self._shift_named(item.slot[0]), item.slot[1], self.shop.zone)
            fault = count_fault(meter, totals[item.slot], end - start)
            if fault and not item.confirmed:
                self._faults.append(f"{item.where}{code} {fault}")

    def _stored_count(self, code: str, meter: str, item: _Checked, first: int) -> Fraction:
        """Counts of entries before `first` for the machine, meter, shift and date of `item`."""
        assert item.slot is not None  # noqa: S101
        shift, day = item.slot
        row = self.store.row(
            "SELECT COALESCE(sum(count.amount), 0) FROM shift_log"
            " JOIN count ON count.entry = shift_log.entry"
            " WHERE shift_log.machine = ? AND shift_log.day = ? AND shift_log.shift = ?"
            " AND count.meter = ? AND shift_log.entry < ?"
            " AND NOT EXISTS (SELECT 1 FROM void WHERE void.target = shift_log.entry)",
            code,
            day.isoformat(),
            shift,
            meter,
            first,
        )
        assert row is not None  # noqa: S101
        return Fraction(row[0], 10**6)

    def _check_dials(self, code: str, meter: str, dials: list[_Checked]) -> None:
        tallies = MeterTallies(self.store, code, meter)
        new = {item.entry.entry for item in dials}
        for item in dials:
            before, after = tallies.around(item.entry)
            for earlier, later in ((before, item.entry), (item.entry, after)):
                if earlier is None or later is None or (later is after and later.entry in new):
                    continue  # two new ones are judged once, as a fault of the later one
                fault = dial_fault(meter, earlier, later)
                if fault:
                    self._faults.append(f"{item.where}{code} {fault}")


def _not_negative(what: str, value: Fraction | None) -> Fraction | None:
    if value is not None and value < 0:
        raise Refused(f"{what} cannot be below 0")
    return value
