"""Tools: how worn each is."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import TypeVar

from pmtrack.actions.metered import MeterGains
from pmtrack.actions.view import View
from pmtrack.rules.facts import ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.metered import Fitting, fittings
from pmtrack.rules.rate import rate_day, span_start
from pmtrack.rules.shop import Tool
from pmtrack.rules.shoptime import LONGEST_SHIFT, ONE_DAY
from pmtrack.rules.tool_life import Life, life_of, window_start
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear import ToolWear, is_far_from_order, is_fresh, sharpenings_left, wear_of
from pmtrack.rules.wear_hits import Factors, ToolRecord, counted_between
from pmtrack.rules.workdays import Workdays
from pmtrack.store import tool_history

IN_NEED = ("overdue", "due", "soon")
_Fact = TypeVar("_Fact", ToolCount, ToolEvent)


def factors(view: View) -> Factors:
    """Programs and materials by code, those retired since included."""
    programs = (*view.stored.past_programs, *view.stored.programs)
    materials = (*view.stored.past_materials, *view.stored.materials)
    return Factors({p.code: p for p in programs}, {m.code: m for m in materials})


class ToolRecords:
    """Reads what was entered for tools: the latest of it, unless a tool is worn out.

    The wear between the last sharpening and that is added up by the store.
    """

    def __init__(self, view: View) -> None:
        self._view = view
        self.factors = factors(view)
        self._meters: dict[str, MeterGains] = {}
        self._days: dict[str, set[tuple[date, str]]] = {}
        self._logs: dict[tuple[str, date], tuple[ShiftLog, ...]] = {}

    def of(self, bare: ToolRecord) -> tuple[ToolRecord, Life]:
        """A tool with its counts and the shifts whose program uses it, and its life by them."""
        start = self._start(bare)
        if start is None:
            return bare, self._life(bare)
        record = self.since(bare, start)
        life = self._life(record)
        if life.wear < bare.tool.sharpen_every:
            return record, life
        # the day on which it was worn may be earlier than what the rate looks at
        record = self.since(bare, min(start, bare.base.day) if bare.base else date.min)
        return record, self._life(record)

    def bare(self, *tools: Tool) -> list[ToolRecord]:
        """Tools with the rows counted for them and their events; a die has its punch's counts."""
        store, day = self._view.store, self._view.day
        codes = {code for tool in tools for code in (tool.code, tool.die_of) if code}
        counts = _by_tool(tool_history.tool_counts(store, codes, day))
        events = _by_tool(tool_history.tool_events(store, codes, day))
        return [
            ToolRecord(
                tool=tool,
                counts=tuple(counts[tool.die_of or tool.code]),
                events=tuple(events[tool.code]),
                moved=tuple(events[tool.die_of]) if tool.die_of else None,
            )
            for tool in tools
        ]

    def _start(self, record: ToolRecord) -> date | None:
        """The day from which the rate needs entries; None without any."""
        tool, day = record.tool, self._view.day
        workdays = self._view.machine_days(tool.machine)[0]
        days = {count.day for count in record.counts}
        days |= self._gained_days(record, workdays, days) if tool.counts else self._run_days(record)
        return window_start(days, day, workdays) if days else None

    def _run_days(self, record: ToolRecord) -> set[date]:
        codes, machines = self.uses(record.tool), record.machines
        return {day for code in codes for day, machine in self._ran(code) if machine in machines}

    def _gained_days(self, record: ToolRecord, workdays: Workdays, counted: set[date]) -> set[date]:
        """The last day on which a meter gained, and the last before the span of the rate."""
        meter, spans = self.meter(record.tool), fittings(record.places)
        last = meter.last_day(spans)
        if last is None:
            return set()
        end = max(last, *counted) if counted else last
        first = span_start(rate_day(self._view.day, end, workdays), workdays)
        earlier = meter.last_day(spans, self._view.start(first))
        return {last, earlier or spans[0].start.moment.day}

    def meter(self, tool: Tool) -> MeterGains:
        """The gains of the meter by which a part wears."""
        name = tool.counts or ""
        if name not in self._meters:
            self._meters[name] = MeterGains(self._view, name)
        return self._meters[name]

    def uses(self, tool: Tool) -> list[str]:
        """The programs that hit with a tool."""
        programs = self.factors.programs
        return [code for code in programs if self.factors.hits_per_part(tool, code)]

    def _ran(self, program: str) -> set[tuple[date, str]]:
        """The dates on which a program ran, each with the machine."""
        if program not in self._days:
            found = tool_history.program_days(self._view.store, program, self._view.day)
            self._days[program] = found
        return self._days[program]

    def since(self, record: ToolRecord, first: date) -> ToolRecord:
        """The record with what was entered from a date on, and the wear of its life before it."""
        logs = self.with_logs(record, first).logs
        spans = fittings(record.places) if record.tool.counts else []
        gains = tuple(self.meter(record.tool).since(spans, first))
        base = record.base
        is_whole = first == date.min or (base is not None and base.day >= first)
        return replace(
            record,
            counts=tuple(count for count in record.counts if count.day >= first),
            logs=logs,
            gains=gains,
            before=ZERO if is_whole else self.worn(record, first - ONE_DAY),
        )

    def with_logs(self, record: ToolRecord, first: date) -> ToolRecord:
        """The record with the shifts from a date on whose program wore the tool."""
        logs = (log for code in self.uses(record.tool) for log in self._program_logs(code, first))
        return replace(record, logs=tuple(log for log in logs if log.machine in record.machines))

    def _program_logs(self, code: str, first: date) -> tuple[ShiftLog, ...]:
        key = code, first
        if key not in self._logs:
            found = tool_history.program_logs(self._view.store, code, first, self._view.day)
            self._logs[key] = tuple(found)
        return self._logs[key]

    def worn(self, record: ToolRecord, last: date) -> Fraction:
        """Wear since the edge was new, on days up to `last`.

        Counted for the tool, or by programs or a meter on days without such a count.
        """
        tool = record.tool
        wear = counted_between(record, record.base, last, self.factors)
        if tool.counts:
            return wear + self.gained(record, fittings(record.places), last)
        return wear + sum(
            (
                made * self.factors.per_part(tool, code, material)
                for code, material, made in self.made(record, last)
            ),
            ZERO,
        )

    def made(self, record: ToolRecord, last: date) -> list[tuple[str, str | None, Fraction]]:
        """Parts that wore an edge since it was new, by program and the material logged."""
        span, counted = (record.base, last), {count.day for count in record.counts}
        rows = tool_history.program_made(self._view.store, self.uses(record.tool), span, counted)
        return [
            (program, material, made)
            for machine, program, material, made in rows
            if machine in record.machines
        ]

    def gained(self, record: ToolRecord, spans: Sequence[Fitting], last: date) -> Fraction:
        """What the meter gained in some stays of a part since it was new, on days up to `last`."""
        meter, base = self.meter(record.tool), record.base
        first = base.day - LONGEST_SHIFT if base else date.min
        counted = {count.day for count in record.counts if first <= count.day <= last}
        return meter.between(spans, base, last) - meter.on_days(spans, counted, base)

    def _life(self, record: ToolRecord) -> Life:
        days = self._view.machine_days(record.tool.machine)
        return life_of(record, self.factors, self._view.day, days)

    def wears(self, *tools: Tool) -> list[ToolWear]:
        """How tools stand on the view's day."""
        return [wear_of(*self.of(record)) for record in self.bare(*tools)]


def _by_tool(facts: Iterable[_Fact]) -> defaultdict[str, list[_Fact]]:
    found: defaultdict[str, list[_Fact]] = defaultdict(list)
    for fact in facts:
        found[fact.tool].append(fact)
    return found


def worn_tools(view: View) -> list[ToolWear]:
    """Tools to sharpen or to replace, now or soon, or to order now, as in the shop file."""
    records = ToolRecords(view)
    wears = [
        wear_of(*records.of(record))
        for record in records.bare(*view.stored.tools)
        if not (
            is_far_from_order(record.tool, sharpenings_left(record))
            and is_fresh(record.tool, records.worn(record, view.day))
        )
    ]
    return [wear for wear in wears if wear.state in IN_NEED or wear.to_order]


def tool_list(view: View, machine: str | None = None, station: str | None = None) -> list[ToolWear]:
    """All tools of the shop, or of one machine or station, in the order of the shop file."""
    records = ToolRecords(view)
    wears = records.wears(*(t for t in view.stored.tools if machine in (None, t.machine)))
    return [w for w in wears if station is None or (w.fitted and w.fitted[1] == station)]
