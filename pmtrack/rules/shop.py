"""The shop as its file describes it: frozen records, with units named beside each field."""

from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction
from functools import cached_property
from zoneinfo import ZoneInfo

CALENDAR_UNITS = ("day", "week", "month", "year")


@dataclass(frozen=True)
class Shift:
    """A working span on weekdays (0 is Monday); it ends the next day if not later than start."""

    name: str
    weekdays: tuple[int, ...]
    start: time
    end: time


@dataclass(frozen=True)
class Closure:
    """Dates, both included, on which no shift is scheduled."""

    first: date
    last: date
    why: str = ""


@dataclass(frozen=True)
class Supplier:
    """An outside firm: notice in days before a visit, cost of one call-out."""

    code: str
    name: str
    notice: int = 0
    callout_cost: Fraction | None = None


@dataclass(frozen=True)
class PerTime:
    """An amount for each `per`: minute, hour, shift, day or week."""

    amount: Fraction
    per: str


@dataclass(frozen=True)
class Meter:
    """A running count on a machine; `wraps_at` is added once when the counter starts over."""

    name: str
    fastest: PerTime | None = None
    expected: PerTime | None = None
    wraps_at: Fraction | None = None


@dataclass(frozen=True)
class Machine:
    """One piece of shop equipment.

    `kind` groups machines, like `punching`; `hourly_rate` is the money that an hour of operating
    time is worth, in the shop's currency.
    """

    code: str
    name: str
    in_service: date | None = None
    meters: tuple[Meter, ...] = ()
    cautions: tuple[str, ...] = ()
    note: str = ""
    kind: str | None = None
    hourly_rate: Fraction | None = None

    def meter(self, name: str) -> Meter | None:
        """The meter of that name, or None."""
        return next((m for m in self.meters if m.name == name), None)


@dataclass(frozen=True)
class Interval:
    """`amount` of `unit`: a calendar unit (singular) or the name of a meter; `text` as written."""

    amount: Fraction
    unit: str
    text: str

    @property
    def is_calendar(self) -> bool:
        """Whether the interval is counted in days, weeks, months or years."""
        return self.unit in CALENDAR_UNITS


@dataclass(frozen=True)
class FixedSchedule:
    """An RFC 5545 recurrence rule."""

    rule: str

    @property
    def text(self) -> str:
        """The rule as written in the shop file."""
        return self.rule


@dataclass(frozen=True)
class OneOff:
    """A single job, raised by a finding, wanted by a date."""

    due_on: date

    @property
    def text(self) -> str:
        """How often: once."""
        return "once"


Rule = Interval | FixedSchedule | OneOff


@dataclass(frozen=True)
class Allowance:
    """Grace or lead as written: `amount` of `unit`: `day`, `%` or the name of a meter."""

    amount: Fraction
    unit: str


@dataclass(frozen=True)
class LastDone:
    """When a task was last done before pmtrack knew of it, with the counters read then."""

    on: date
    readings: dict[str, Fraction] = field(default_factory=dict)


@dataclass(frozen=True)
class Step:
    """One step of a job; with `measure` it asks for a reading in `unit` between the limits."""

    text: str
    measure: str | None = None
    unit: str = ""
    low: Fraction | None = None
    high: Fraction | None = None


@dataclass(frozen=True)
class Part:
    """A part or consumable to bring."""

    name: str
    quantity: Fraction = Fraction(1)
    unit: str = ""


@dataclass(frozen=True)
class Task:
    """One PM routine on one machine, with `every` or `on`; or a one-off job, with `once`."""

    machine: str
    code: str
    title: str
    every: tuple[Interval, ...] = ()
    on: FixedSchedule | None = None
    once: OneOff | None = None
    starts: date | None = None
    last_done: LastDone | None = None
    grace: tuple[Allowance, ...] = ()
    lead: tuple[Allowance, ...] = ()
    minutes: int | None = None
    crew: str | None = None
    covers: tuple[str, ...] = ()
    authority: str | None = None
    machine_down: bool = False
    steps: tuple[Step, ...] = ()
    parts: tuple[Part, ...] = ()
    cautions: tuple[str, ...] = ()
    note: str = ""

    @property
    def name(self) -> str:
        """How the task is written: machine/code."""
        return f"{self.machine}/{self.code}"

    @property
    def rules(self) -> tuple[Rule, ...]:
        """All that makes the task due, in the order of the file."""
        single = self.on or self.once
        return (single,) if single else self.every


@dataclass(frozen=True)
class Material:
    """Factors by which a sheet wears a tool, against 1 for the shop's usual sheet."""

    code: str
    wear: Fraction = Fraction(1)
    thickness: Fraction = Fraction(1)

    @property
    def factor(self) -> Fraction:
        """Wear hits for each hit."""
        return self.wear * self.thickness


@dataclass(frozen=True)
class Tool:
    """A punch, a die or another wear part; grind and grindable in mm.

    `sharpen_every` is in wear hits, or in units of the machine's meter that `counts` names. A die
    takes the hits of its punch, `die_of`, and is fitted and taken out with it.
    """

    code: str
    machine: str
    sharpen_every: Fraction
    kind: str = ""
    size: str = ""
    grind: Fraction | None = None
    grindable: Fraction | None = None
    replace_notice: int | None = None
    price: Fraction | None = None
    counts: str | None = None
    die_of: str | None = None
    regrind_cost: Fraction | None = None
    failure_cost: Fraction | None = None

    @property
    def unit(self) -> str:
        """What its wear is counted in."""
        return self.counts or "wear hits"

    @property
    def is_ground(self) -> bool:
        """Whether it can be sharpened; a part with nothing to grind is replaced."""
        return self.grindable != 0


@dataclass(frozen=True)
class Program:
    """A job's program: hits of each tool for one part."""

    code: str
    material: str | None = None
    hits: dict[str, Fraction] = field(default_factory=dict)


@dataclass(frozen=True)
class Shop:
    """Everything that the shop file says; `crew_rate` is what an hour of a technician costs."""

    name: str
    timezone: str
    shifts: tuple[Shift, ...]
    closed: tuple[Closure, ...] = ()
    crew_hours: Fraction | None = None
    suppliers: tuple[Supplier, ...] = ()
    machines: tuple[Machine, ...] = ()
    tasks: tuple[Task, ...] = ()
    materials: tuple[Material, ...] = ()
    tools: tuple[Tool, ...] = ()
    programs: tuple[Program, ...] = ()
    crew_rate: Fraction | None = None

    @cached_property
    def zone(self) -> ZoneInfo:
        """The shop's time zone."""
        return ZoneInfo(self.timezone)

    def shift(self, name: str) -> Shift | None:
        """The shift of that name, or None."""
        return next((s for s in self.shifts if s.name == name), None)

    def firm_of(self, task: Task) -> Supplier | None:
        """The outside firm that does a task; None for in-house work, or a firm not described."""
        return next((s for s in self.suppliers if s.code == task.crew), None)
