"""What happened in the shop: frozen records of facts, each with the number of its entry."""

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from fractions import Fraction


@dataclass(frozen=True)
class Moment:
    """When a fact counts: its shop date, and its UTC instant; no instant means the day's end."""

    day: date
    at: datetime | None = None


@dataclass(frozen=True)
class MeterEntry:
    """A count (usage since the entry before) or a dial reading; `day` is the date it belongs to."""

    entry: int
    at: datetime
    day: date
    value: Fraction
    is_dial: bool = False
    wrapped: bool = False
    exchanged: bool = False

    @property
    def order(self) -> tuple[datetime, bool, int]:
        """Order in time; a dial read at the instant of a count includes that count."""
        return self.at, self.is_dial, self.entry


@dataclass(frozen=True)
class Base:
    """From when an interval runs, what says so, counters read then, and its entry if it has one."""

    moment: Moment
    source: str
    readings: dict[str, Fraction] = field(default_factory=dict)
    entry: int | None = None


def done_base(moment: Moment, entry: int, task: str) -> Base:
    """The base that a completion gives."""
    return Base(moment, f"entry {entry}, {task} done", entry=entry)


@dataclass(frozen=True)
class Deferral:
    """A job put off through `until`, with the reason."""

    entry: int
    at: datetime
    until: date
    why: str


@dataclass(frozen=True)
class Pin:
    """The job `key` of a task fixed to a day by a person, with the reason."""

    entry: int
    task: str
    key: str
    day: date
    why: str = ""


@dataclass(frozen=True)
class Span:
    """From one instant to another; no end means that it still runs."""

    start: datetime
    end: datetime | None


@dataclass(frozen=True)
class Stop:
    """A span in which a machine was down, with its cause."""

    entry: int
    machine: str
    span: Span
    planned: bool
    cause: str


@dataclass(frozen=True)
class DaysOut:
    """Days at whose end a machine is out of service: from `first` to the day before `back`.

    `back` is None while it still is; `entry` is that by which it was taken out.
    """

    entry: int
    first: date
    back: date | None

    def holds(self, day: date) -> bool:
        """Whether the machine is out at the end of that day."""
        return self.first <= day and (self.back is None or day < self.back)

    @property
    def last(self) -> date | None:
        """The last of the days; None while the machine still is out."""
        return None if self.back is None else self.back - timedelta(days=1)


@dataclass(frozen=True)
class ShiftLog:
    """What an operator logged for one shift on one machine."""

    entry: int
    machine: str
    shift: str
    day: date
    at: datetime
    parts: Fraction = Fraction(0)
    scrap: Fraction = Fraction(0)
    program: str | None = None
    material: str | None = None


@dataclass(frozen=True)
class ToolCount:
    """Hits of one tool since the row before."""

    entry: int
    tool: str
    day: date
    at: datetime
    hits: Fraction
    material: str | None = None


@dataclass(frozen=True)
class ToolEvent:
    """`sharpen`, `fit`, `takeout`, `replace` or `scrap` of a tool."""

    entry: int
    tool: str
    moment: Moment
    at: datetime
    event: str
    mm: Fraction | None = None
    why: str | None = None
    machine: str | None = None
    station: str | None = None
    length: Fraction | None = None  # mm, measured after a sharpening
