"""The sections of the shop file, with all keys that each may hold."""

from datetime import date, time
from fractions import Fraction
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationInfo,
    field_validator,
    model_validator,
)

from pmtrack.rules.shop import Allowance, FixedSchedule, Interval, PerTime
from pmtrack.shopfile import calendar_values, scalars, schedule_values

TEXT = PlainValidator(scalars.read_text)
NOTE = PlainValidator(scalars.read_note)
CODE = PlainValidator(scalars.read_code)
NUMBER = PlainValidator(scalars.read_number)
POSITIVE = PlainValidator(scalars.read_positive)
AMOUNT = PlainValidator(scalars.read_amount)
HOURS = PlainValidator(scalars.read_hours)
MINUTES = PlainValidator(scalars.read_minutes)
FLAG = PlainValidator(scalars.read_flag)
DAY = PlainValidator(calendar_values.read_day)
TIME = PlainValidator(calendar_values.read_time)
WEEKDAYS = PlainValidator(calendar_values.read_weekdays)
ZONE = PlainValidator(calendar_values.read_zone)
INTERVAL = PlainValidator(schedule_values.read_interval)
ALLOWANCE = PlainValidator(schedule_values.read_allowance)
RATE = PlainValidator(schedule_values.read_rate)
NOTICE = PlainValidator(schedule_values.read_notice)
RULE = PlainValidator(schedule_values.read_rule)
METER_NAME = PlainValidator(schedule_values.read_meter_name)


def _as_list(value: object) -> object:
    return [value] if isinstance(value, str | bool) else value


def _filled(value: list[Any]) -> list[Any]:
    if not value:
        raise ValueError("is empty; write at least one entry")
    return value


def _given(value: object) -> object:
    if value is None:
        raise ValueError("is empty; write its keys, or leave it out")
    return value


def _none_as_empty(value: object) -> object:
    return [] if value is None else value


ONE_OR_MORE = BeforeValidator(_as_list)
FILLED = AfterValidator(_filled)
GIVEN = BeforeValidator(_given)
SECTION = BeforeValidator(_none_as_empty)


class Section(BaseModel):
    """Keys and values of one kind of entry; others are faults."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class ShiftEntry(Section):
    """A shift; `days` is a list of spans of weekdays."""

    name: Annotated[str, TEXT]
    days: Annotated[list[Annotated[tuple[int, ...], WEEKDAYS]], ONE_OR_MORE, FILLED]
    start: Annotated[time, TIME]
    end: Annotated[time, TIME]


class ClosureEntry(Section):
    """One day, or the days from the first to the last."""

    on: Annotated[date | None, DAY] = None
    first: Annotated[date | None, DAY] = Field(default=None, alias="from")
    last: Annotated[date | None, DAY] = Field(default=None, alias="to")
    why: Annotated[str, TEXT] = ""

    @field_validator("last")
    @classmethod
    def not_before_first(cls, last: date | None, info: ValidationInfo) -> date | None:
        """Refuse a span that ends before it begins."""
        first = info.data.get("first")
        if first and last and last < first:
            raise ValueError(f"{last} is before {first}; write the earlier day under from")
        return last


class ShopEntry(Section):
    """The shop as a whole."""

    name: Annotated[str, TEXT]
    timezone: Annotated[str, ZONE]
    shifts: Annotated[list[ShiftEntry], FILLED]
    closed: Annotated[list[ClosureEntry], SECTION] = []
    crew_hours: Annotated[Fraction | None, HOURS] = None
    crew_rate: Annotated[Fraction | None, AMOUNT] = None
    starts: Annotated[date | None, DAY] = None


class SupplierEntry(Section):
    """An outside firm."""

    code: Annotated[str, CODE]
    name: Annotated[str, TEXT]
    notice: Annotated[int, NOTICE] = 0
    callout_cost: Annotated[Fraction | None, AMOUNT] = None


class MeterEntry(Section):
    """What a meter can and should gain."""

    fastest: Annotated[PerTime | None, RATE] = None
    expected: Annotated[PerTime | None, RATE] = None
    wraps_at: Annotated[Fraction | None, POSITIVE] = None


class MachineEntry(Section):
    """A machine with its meters by name; a meter of which nothing is known is None."""

    code: Annotated[str, CODE]
    name: Annotated[str, TEXT]
    kind: Annotated[str | None, TEXT] = None
    in_service: Annotated[date | None, DAY] = None
    hourly_rate: Annotated[Fraction | None, AMOUNT] = None
    meters: dict[Annotated[str, METER_NAME], MeterEntry | None] = {}
    cautions: list[Annotated[str, TEXT]] = []
    note: Annotated[str, NOTE] = ""


class LastDoneEntry(Section):
    """A day, and under any other key the reading of that meter."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[str, Annotated[Fraction, AMOUNT]]

    on: Annotated[date, DAY]


class StepEntry(Section):
    """A step given as text, or a reading to take."""

    measure: Annotated[str | None, TEXT] = None
    text: Annotated[str | None, TEXT] = None
    unit: Annotated[str, TEXT] = ""
    low: Annotated[Fraction | None, NUMBER] = Field(default=None, alias="min")
    high: Annotated[Fraction | None, NUMBER] = Field(default=None, alias="max")

    @model_validator(mode="before")
    @classmethod
    def from_text(cls, value: object) -> object:
        """A bare text is the step's text."""
        return {"text": value} if isinstance(value, str | bool) else value

    @field_validator("high")
    @classmethod
    def not_below_low(cls, high: Fraction | None, info: ValidationInfo) -> Fraction | None:
        """Refuse limits that nothing can lie between."""
        low = info.data.get("low")
        if low is not None and high is not None and high < low:
            raise ValueError("is below min; write the smaller limit under min")
        return high


class PartEntry(Section):
    """A part to bring, given as text or with its quantity."""

    part: Annotated[str, TEXT]
    quantity: Annotated[Fraction, POSITIVE] = Fraction(1)
    unit: Annotated[str, TEXT] = ""

    @model_validator(mode="before")
    @classmethod
    def from_text(cls, value: object) -> object:
        """A bare text is the part's name."""
        return {"part": value} if isinstance(value, str | bool) else value


class TaskEntry(Section):
    """A routine, on each of its machines a task of its own."""

    code: Annotated[str, CODE]
    machines: Annotated[list[Annotated[str, CODE]], FILLED]
    title: Annotated[str, TEXT]
    every: Annotated[list[Annotated[Interval, INTERVAL]], ONE_OR_MORE, FILLED] = []
    on: Annotated[FixedSchedule | None, RULE] = None
    starts: Annotated[date | None, DAY] = None
    last_done: Annotated[LastDoneEntry | None, GIVEN] = None
    grace: Annotated[list[Annotated[Allowance, ALLOWANCE]], ONE_OR_MORE, FILLED] = []
    lead: Annotated[list[Annotated[Allowance, ALLOWANCE]], ONE_OR_MORE, FILLED] = []
    minutes: Annotated[int | None, MINUTES] = None
    crew: Annotated[str | None, CODE] = None
    covers: list[Annotated[str, CODE]] = []
    authority: Annotated[str | None, TEXT] = None
    machine_down: Annotated[bool, FLAG] = False
    steps: list[StepEntry] = []
    parts: list[PartEntry] = []
    cautions: list[Annotated[str, TEXT]] = []
    note: Annotated[str, NOTE] = ""


class MaterialEntry(Section):
    """Factors on wear."""

    code: Annotated[str, CODE]
    wear: Annotated[Fraction, POSITIVE] = Fraction(1)
    thickness: Annotated[Fraction, POSITIVE] = Fraction(1)


class DieEntry(Section):
    """The die of a set, where it wears apart from its punch."""

    sharpen_every: Annotated[Fraction, POSITIVE]
    grind: Annotated[Fraction | None, POSITIVE] = None
    grindable: Annotated[Fraction | None, AMOUNT] = None
    replace_notice: Annotated[int | None, NOTICE] = None
    price: Annotated[Fraction | None, AMOUNT] = None


class ToolEntry(Section):
    """A punch with its die, a brake tool, or another wear part."""

    code: Annotated[str, CODE]
    machine: Annotated[str, CODE]
    kind: Annotated[str, TEXT] = ""
    size: Annotated[str, TEXT] = ""
    sharpen_every: Annotated[Fraction, POSITIVE]
    grind: Annotated[Fraction | None, POSITIVE] = None
    grindable: Annotated[Fraction | None, AMOUNT] = None
    replace_notice: Annotated[int | None, NOTICE] = None
    price: Annotated[Fraction | None, AMOUNT] = None
    counts: Annotated[str | None, METER_NAME] = None
    regrind_cost: Annotated[Fraction | None, AMOUNT] = None
    failure_cost: Annotated[Fraction | None, AMOUNT] = None
    die: Annotated[DieEntry | None, GIVEN] = None


class ProgramEntry(Section):
    """Hits of each tool for one part."""

    code: Annotated[str, CODE]
    material: Annotated[str | None, CODE] = None
    hits: dict[Annotated[str, CODE], Annotated[Fraction, AMOUNT]]


class ShopFile(Section):
    """The whole file."""

    shop: ShopEntry
    suppliers: Annotated[list[SupplierEntry], SECTION] = []
    machines: Annotated[list[MachineEntry], SECTION] = []
    tasks: Annotated[list[TaskEntry], SECTION] = []
    materials: Annotated[list[MaterialEntry], SECTION] = []
    tooling: Annotated[list[ToolEntry], SECTION] = []
    programs: Annotated[list[ProgramEntry], SECTION] = []
