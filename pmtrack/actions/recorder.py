"""Adding facts: each gets an entry, is checked against the rules, and none is ever changed."""

from dataclasses import dataclass, field, replace
from datetime import date, datetime
from fractions import Fraction

from pmtrack.actions.new_usage import NewEntry, NewUsage, UsageFault
from pmtrack.actions.references import References
from pmtrack.actions.shift_checks import Slot, begun, check_tools, slot_of
from pmtrack.actions.view import View
from pmtrack.errors import MayBeConfirmed, Refused
from pmtrack.rules.base import instant_of
from pmtrack.rules.facts import MeterEntry, Moment
from pmtrack.rules.plausible import too_early
from pmtrack.rules.shop import Machine
from pmtrack.rules.text import needed, one_line
from pmtrack.store.codec import maybe_millionths, to_millionths, to_text


@dataclass(frozen=True)
class Dial:
    """A reading of a counter, and whether it started over or is a new one.

    A confirmed one may have gained more than the machine can make.
    """

    reading: Fraction
    wrapped: bool = False
    exchanged: bool = False
    confirmed: bool = False


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


class Recorder(References):
    """Adds facts within one transaction; `finish` (or `faults`) comes last and checks them."""

    def __init__(self, view: View, now: datetime, by: str) -> None:
        super().__init__(view)
        self.now = now
        self.by = by
        self.line: int | None = None  # of the file that is taken in
        self._usage = NewUsage(self)

    def happened(self, moment: Moment) -> Moment:
        """The moment, if it is not still to come; Refused otherwise."""
        fault = too_early(moment, self.now, self.bare.zone)
        if fault:
            raise Refused(fault)
        return moment

    # --- entries

    def entry(self, kind: str, moment: Moment, note: str = "") -> int:
        """Add an entry and tell its number."""
        return self.store.add(
            "entry",
            kind=kind,
            at=to_text(instant_of(moment, self.bare)),
            day=moment.day.isoformat(),
            whole_day=int(moment.at is None),
            by=recorded_by(self.by),
            recorded_at=to_text(self.now),
            note=one_line(note, "the note", 2000),
        )

    def shift(self, log: NewShift, note: str = "") -> int:
        """Add what was logged for one shift."""
        machine = self.machine(log.machine, log.day)
        slot = begun(slot_of(self, log.shift, log.day), self.now)
        if (log.parts or log.scrap) and not log.confirmed:
            check_tools(self, log.program, slot)
        number = self.entry("shift", Moment(log.day, slot.end), note)
        self.store.add(
            "shift_log",
            entry=number,
            machine=machine.code,
            shift=slot.shift,
            day=log.day.isoformat(),
            parts=maybe_millionths(_not_negative("parts", log.parts)),
            scrap=maybe_millionths(_not_negative("scrap", log.scrap)),
            program=self.program(log.program),
            material=self.material(log.material),
            confirmed=int(log.confirmed),
        )
        for name, amount in log.counts.items():
            self._count(number, (machine, name, amount), (slot, log.confirmed))
        read = self._read_at(log, slot)
        for name, dial in log.dials.items():
            told = replace(dial, confirmed=log.confirmed)
            self._dial(number, (machine, name, told), read)
        return number

    def _read_at(self, log: NewShift, slot: Slot) -> Moment:
        """When a dial of a shift was read: at its end, or now while it runs, unless told.

        Within the shift it belongs to the shift's date.
        """
        if log.dial_at is None:
            return Moment(log.day, min(slot.end, self.now))
        moment = self.happened(log.dial_at)
        at = instant_of(moment, self.bare)
        inside = slot.start <= at <= slot.end
        return Moment(log.day if inside else moment.day, at)

    def _count(
        self, number: int, what: tuple[Machine, str, Fraction], of: tuple[Slot, bool]
    ) -> None:
        (machine, name, amount), (slot, confirmed) = what, of
        self.meter(machine, name)
        _not_negative(name, amount)
        self.store.add(
            "count",
            entry=number,
            machine=machine.code,
            meter=name,
            amount=to_millionths(amount),
        )
        entry = MeterEntry(number, slot.end, slot.day, amount)
        new = NewEntry(entry, self.line, slot, confirmed)
        self._usage.add(machine.code, name, new)

    def dials(self, machine: str, readings: dict[str, Dial], moment: Moment) -> int:
        """Add readings of a machine's counters."""
        number = self.entry("dial", self.happened(moment))
        self.dials_of(number, self.machine(machine, moment.day), readings, moment)
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
        at = instant_of(moment, self.bare)
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
        new = NewEntry(entry, self.line, confirmed=dial.confirmed)
        self._usage.add(machine.code, name, new)

    def finish(self) -> None:
        """Check counts and dials together; Refused when anything cannot be."""
        faults = self.faults()
        if faults:
            refusal = MayBeConfirmed if all(f.may_be_confirmed for f in faults) else Refused
            raise refusal("; ".join(fault.text for fault in faults))

    def faults(self) -> list[UsageFault]:
        """What of the counts and dials cannot be; the usage is brought up to date."""
        return self._usage.faults()


def recorded_by(who: str) -> str:
    """Who records a fact; Refused when nobody is named."""
    return needed(who, "who records it", "--by Dana")


def _not_negative(what: str, value: Fraction | None) -> Fraction | None:
    if value is not None and value < 0:
        raise Refused(f"{what} cannot be below 0")
    return value
