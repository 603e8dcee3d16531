"""Wear of tools: hits weighed by the material, and what they say of sharpening and life."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import floor

from pmtrack.rules.facts import MeterEntry, Moment, ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.first_passage import Passage
from pmtrack.rules.rate import Recent, Standing, rate_day, span_start, standing
from pmtrack.rules.shop import Material, Program, Tool
from pmtrack.rules.usage import ZERO, Tally
from pmtrack.rules.usage_due import SOON_DAYS
from pmtrack.rules.workdays import Workdays

GRACE = Fraction(11, 10)  # 10 % past its interval a tool is overdue (common practice, no source)
LEAD = Fraction(9, 10)

REASONS = ("planned", "burr", "chipped")
EVENTS = ("sharpen", "fit", "takeout", "replace", "scrap")


@dataclass(frozen=True)
class ToolRecord:
    """A tool and what was entered for it up to a day, in time order.

    Counts and logs may be the latest alone: `before` then holds the wear hits earlier than these,
    and `at_base` those up to the last sharpening or replacement, if that was earlier still.
    """

    tool: Tool
    counts: tuple[ToolCount, ...] = ()
    logs: tuple[ShiftLog, ...] = ()  # shifts whose program uses the tool
    events: tuple[ToolEvent, ...] = ()
    before: Fraction = ZERO
    at_base: Fraction | None = None

    @property
    def machines(self) -> set[str]:
        """Its own machine and those it was ever fitted in."""
        return {self.tool.machine, *(e.machine for e in self.events if e.machine)}

    @property
    def base(self) -> Moment | None:
        """When it was last sharpened or replaced."""
        based = [e.moment for e in self.events if e.event in ("sharpen", "replace")]
        return based[-1] if based else None


@dataclass(frozen=True)
class Factors:
    """The shop's programs and materials by code."""

    programs: Mapping[str, Program]
    materials: Mapping[str, Material]

    def of(self, material: str | None) -> Fraction:
        """Wear hits for a hit in a material; 1 for none."""
        found = self.materials.get(material) if material else None
        return found.factor if found else Fraction(1)

    def per_part(self, tool: Tool, program: str, material: str | None) -> Fraction:
        """Wear hits of a tool for one part; a log's material goes before the program's."""
        found = self.programs[program]
        return found.hits.get(tool.code, ZERO) * self.of(material or found.material)


@dataclass(frozen=True)
class ToolWear:
    """How a tool stands on a day; mm and hits as entered, dates as expected."""

    tool: Tool
    as_of: date
    state: str
    wear_hits: Fraction
    used: Fraction
    per_day: Fraction | None
    sharpen_on: date | None
    sharpen_range: tuple[date, date] | None
    mm_left: Fraction | None
    sharpenings_left: int | None
    end_of_life: date | None
    order_by: date | None
    cost_per_1000: Fraction | None
    fitted: tuple[str, str] | None  # machine and station


def wear_entries(record: ToolRecord, factors: Factors) -> list[MeterEntry]:
    """Wear hits as counts, in time order.

    Hits of a program are parts made, good and scrap, times its hits for one part, on a machine
    that has the tool; on a day with rows counted for the tool itself they are not added.
    """
    counted = {count.day for count in record.counts}
    machines = record.machines
    entries = [_counted(count, factors) for count in record.counts]
    for log in record.logs:
        if log.day not in counted and log.machine in machines and log.parts + log.scrap:
            hits = _program_hits(record.tool, log, factors)
            entries.append(MeterEntry(log.entry, log.at, log.day, hits))
    return sorted(entries, key=lambda entry: entry.order)


def _program_hits(tool: Tool, log: ShiftLog, factors: Factors) -> Fraction:
    program = log.program or ""
    return (log.parts + log.scrap) * factors.per_part(tool, program, log.material)


def counted_until(counts: Iterable[ToolCount], moment: Moment, factors: Factors) -> Fraction:
    """Wear hits counted for a tool itself up to a moment."""
    entries = (_counted(count, factors) for count in counts)
    return at(entries, moment)


def _counted(count: ToolCount, factors: Factors) -> MeterEntry:
    return MeterEntry(count.entry, count.at, count.day, count.hits * factors.of(count.material))


def at(entries: Iterable[MeterEntry], moment: Moment) -> Fraction:
    """Wear hits entered up to a moment; a whole day includes its night shift."""
    return sum((e.value for e in entries if _by_then(e, moment)), ZERO)


def _by_then(entry: MeterEntry, moment: Moment) -> bool:
    return entry.day <= moment.day if moment.at is None else entry.at <= moment.at


@dataclass(frozen=True)
class _Life:
    """A tool's wear since it was last sharpened or replaced, and what is left to grind."""

    entries: list[MeterEntry]
    before: Fraction
    start: Fraction
    standing: Standing
    workdays: Workdays
    day: date
    out_of_service: bool

    @property
    def wear(self) -> Fraction:
        return (self.standing.usage or ZERO) - self.start

    def passage(self, hits: Fraction) -> Passage | None:
        """The way to that many wear hits; None when they are made or nothing was entered."""
        if self.standing.last_day is None or self.wear >= hits:
            return None
        return Passage(self.standing.last_day, hits - self.wear, self.standing.rate, self.workdays)

    def day_of(self, hits: Fraction) -> date | None:
        """The day on which so many wear hits were, or are expected to be, made."""
        if self.out_of_service:
            return None
        passage = self.passage(hits)
        return passage.day if passage else self._made_on(hits)

    def _made_on(self, hits: Fraction) -> date | None:
        total = self.before
        for entry in self.entries:
            total += entry.value
            if total >= self.start + hits:
                return entry.day
        return None

    def range_of(self, hits: Fraction) -> tuple[date, date] | None:
        """The 80 % range of that day while it is still to come."""
        passage = None if self.out_of_service else self.passage(hits)
        if passage is None or passage.day is None or passage.day < self.day:
            return None
        return passage.range(self.day)


def tool_wear(
    record: ToolRecord, factors: Factors, day: date, machine_days: tuple[Workdays, bool]
) -> ToolWear:
    """How a tool stands at the end of a day."""
    tool, entries = record.tool, wear_entries(record, factors)
    recent = _recent(entries, record.before, day, machine_days[0])
    life = _Life(
        entries=entries,
        before=record.before,
        start=_at_base(record, entries),
        standing=standing(recent, day, machine_days[0], None),
        workdays=machine_days[0],
        day=day,
        out_of_service=machine_days[1],
    )
    left_to_grind = mm_left(record)
    left = floor(left_to_grind / tool.grind) if left_to_grind is not None and tool.grind else None
    end = None if left is None else life.day_of((left + 1) * tool.sharpen_every)
    sharpen_on = life.day_of(tool.sharpen_every)
    return ToolWear(
        tool=tool,
        as_of=day,
        state=_state(record, life, sharpen_on),
        wear_hits=life.wear,
        used=life.wear / tool.sharpen_every,
        per_day=life.standing.rate.per_day,
        sharpen_on=sharpen_on,
        sharpen_range=life.range_of(tool.sharpen_every),
        mm_left=left_to_grind,
        sharpenings_left=left,
        end_of_life=end,
        order_by=_order_by(tool, end),
        cost_per_1000=_cost(tool),
        fitted=fitted(record.events),
    )


def _at_base(record: ToolRecord, entries: list[MeterEntry]) -> Fraction:
    """Wear hits of all time up to the last sharpening or replacement; 0 without one."""
    if record.at_base is not None or record.base is None:
        return record.at_base or ZERO
    return record.before + at(entries, record.base)


def _recent(entries: list[MeterEntry], before: Fraction, day: date, workdays: Workdays) -> Recent:
    """The entries that the rate looks at, from the last day before its span on."""
    start, opening = 0, before
    if entries:
        first = window_start({entry.day for entry in entries}, day, workdays)
        start = next((i for i, entry in enumerate(entries) if entry.day >= first), 0)
        opening += sum((entry.value for entry in entries[:start]), ZERO)
    return Recent(Tally(usage=opening), tuple(entries[start:]), from_first=start == 0)


def window_start(days: Collection[date], day: date, workdays: Workdays) -> date:
    """The last day with an entry before the span that the rate on `day` looks at, or the first."""
    first = span_start(rate_day(day, max(days), workdays), workdays)
    return max((d for d in days if d < first), default=min(days))


def is_worn(record: ToolRecord, factors: Factors) -> bool:
    """Whether the wear hits entered have come to the interval."""
    entries = wear_entries(record, factors)
    total = sum((entry.value for entry in entries), record.before)
    return total - _at_base(record, entries) >= record.tool.sharpen_every


def mm_left(record: ToolRecord) -> Fraction | None:
    """What can still be ground off, since the last replacement; not below 0."""
    if record.tool.grindable is None:
        return None
    left = record.tool.grindable
    for event in record.events:
        left = record.tool.grindable if event.event == "replace" else left - (event.mm or ZERO)
    return max(left, ZERO)


def _order_by(tool: Tool, end: date | None) -> date | None:
    if end is None or tool.replace_notice is None:
        return None
    return date.fromordinal(max(end.toordinal() - tool.replace_notice, 1))


def _cost(tool: Tool) -> Fraction | None:
    """Price over all wear hits of a life, for 1,000 of them."""
    if tool.price is None or tool.grind is None or tool.grindable is None:
        return None
    runs = floor(tool.grindable / tool.grind) + 1
    return tool.price * 1000 / (runs * tool.sharpen_every)


def fitted(events: Iterable[ToolEvent]) -> tuple[str, str] | None:
    """The machine and station that a tool is fitted in, or None."""
    place: tuple[str, str] | None = None
    for event in events:
        if event.event == "fit":
            place = (event.machine or "", event.station or "")
        elif event.event in ("takeout", "scrap"):
            place = None
    return place


def is_scrapped(events: Iterable[ToolEvent]) -> bool:
    """Whether a tool was scrapped and not replaced since."""
    last = [e.event for e in events if e.event in ("scrap", "replace")]
    return bool(last) and last[-1] == "scrap"


def _state(record: ToolRecord, life: _Life, sharpen_on: date | None) -> str:
    """By hits entered: a tool that lies in the drawer does not wear."""
    if is_scrapped(record.events):
        return "scrapped"
    interval = record.tool.sharpen_every
    if life.wear > interval * GRACE:
        return "overdue"
    if life.wear >= interval:
        return "due"
    near = sharpen_on is not None and (sharpen_on - life.day).days <= SOON_DAYS
    if life.wear >= interval * LEAD or (2 * life.wear >= interval and near):
        return "soon"
    return "ok"
