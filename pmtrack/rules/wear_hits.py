"""The wear that reached a tool, as counts in order of time: one reading for every wear part.

Hits come from rows counted for the tool itself, from the programs that ran, or from a meter of the
machine while the tool is fitted. On a day with rows of its own nothing else is added.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.rules.facts import MeterEntry, Moment, ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.shop import Material, Program, Tool
from pmtrack.rules.tool_events import last_edge
from pmtrack.rules.usage import ZERO


@dataclass(frozen=True)
class ToolRecord:
    """A tool and what was entered for it up to a day, in time order.

    Counts, logs and gains may be the latest alone: `before` then holds the wear that came between
    the last sharpening or replacement and these. A die has the counts and logs of its punch, and in
    `moved` the punch's events.
    """

    tool: Tool
    counts: tuple[ToolCount, ...] = ()
    logs: tuple[ShiftLog, ...] = ()  # shifts whose program uses the tool
    events: tuple[ToolEvent, ...] = ()
    before: Fraction = ZERO
    gains: tuple[MeterEntry, ...] = ()  # of the meter that it counts, while it was fitted
    moved: tuple[ToolEvent, ...] | None = None

    @property
    def places(self) -> tuple[ToolEvent, ...]:
        """The events that tell where it is: those of its punch for a die."""
        return self.events if self.moved is None else self.moved

    @property
    def machines(self) -> set[str]:
        """Its own machine and those it was ever fitted in."""
        return {self.tool.machine, *(e.machine for e in self.places if e.machine)}

    @property
    def base(self) -> Moment | None:
        """When it was last sharpened or replaced."""
        edge = last_edge(self.events)
        return edge.moment if edge else None


@dataclass(frozen=True)
class Factors:
    """The shop's programs and materials by code."""

    programs: Mapping[str, Program]
    materials: Mapping[str, Material]

    def of(self, material: str | None) -> Fraction:
        """Wear hits for a hit in a material; 1 for none."""
        found = self.materials.get(material) if material else None
        return found.factor if found else Fraction(1)

    def material_of(self, program: str, logged: str | None) -> str | None:
        """The material of a log, which goes before its program's."""
        return logged or self.programs[program].material

    def hits_per_part(self, tool: Tool, program: str) -> Fraction:
        """Hits of a tool for one part; a die takes those of its punch, a metered part none."""
        hits = self.programs[program].hits.get(tool.die_of or tool.code, ZERO)
        return ZERO if tool.counts else hits

    def per_part(self, tool: Tool, program: str, material: str | None) -> Fraction:
        """Wear hits of a tool for one part; a log's material goes before the program's."""
        return self.hits_per_part(tool, program) * self.of(self.material_of(program, material))

    def of_count(self, tool: Tool, count: ToolCount) -> Fraction:
        """Wear of one row counted; the material does not bear on what wears by a meter."""
        return count.hits * (Fraction(1) if tool.counts else self.of(count.material))


def wear_entries(record: ToolRecord, factors: Factors) -> list[MeterEntry]:
    """Wear as counts, in time order.

    Hits of a program are parts made, good and scrap, times its hits for one part, on a machine
    that has the tool; on a day with rows counted for the tool itself they are not added, nor is
    what the meter gained.
    """
    counted = {count.day for count in record.counts}
    machines, tool = record.machines, record.tool
    entries = [_counted(tool, count, factors) for count in record.counts]
    entries += [gain for gain in record.gains if gain.day not in counted]
    for log in record.logs:
        if log.day not in counted and log.machine in machines and log.parts + log.scrap:
            each = factors.per_part(tool, log.program or "", log.material)
            entries.append(MeterEntry(log.entry, log.at, log.day, (log.parts + log.scrap) * each))
    return sorted(entries, key=lambda entry: entry.order)


def counted_between(
    record: ToolRecord, since: Moment | None, last: date, factors: Factors
) -> Fraction:
    """Wear counted for a tool itself on days up to `last`, later than a moment."""
    entries = (_counted(record.tool, count, factors) for count in record.counts)
    return sum((e.value for e in entries if e.day <= last and is_later(e, since)), ZERO)


def _counted(tool: Tool, count: ToolCount, factors: Factors) -> MeterEntry:
    return MeterEntry(count.entry, count.at, count.day, factors.of_count(tool, count))


def by_then(entry: MeterEntry, moment: Moment) -> bool:
    """Whether an entry came up to a moment: at its very instant, or within its whole day."""
    return entry.day <= moment.day if moment.at is None else entry.at <= moment.at


def is_later(entry: MeterEntry, moment: Moment | None) -> bool:
    """Whether an entry came after a moment; all do where there is none."""
    return moment is None or not by_then(entry, moment)


def wear_at_base(record: ToolRecord, entries: Iterable[MeterEntry]) -> Fraction:
    """Wear in the entries that is older than the last sharpening or replacement."""
    return sum((e.value for e in entries if record.base and by_then(e, record.base)), ZERO)
