"""Tools: how worn each is."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from pmtrack.actions.metered import MeterGains
from pmtrack.actions.view import View
from pmtrack.rules.facts import Moment, ShiftLog
from pmtrack.rules.metered import fittings
from pmtrack.rules.rate import rate_day, span_start
from pmtrack.rules.shop import Tool
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.tool_life import Life, life_of, window_start
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear import ToolWear, is_worn, wear_of
from pmtrack.rules.wear_hits import Factors, ToolRecord, counted_until
from pmtrack.rules.workdays import Workdays
from pmtrack.store import tool_history
from pmtrack.store.codec import to_text


def factors(view: View) -> Factors:
    """Programs and materials by code, those retired since included."""
    programs = (*view.stored.past_programs, *view.stored.programs)
    materials = (*view.stored.past_materials, *view.stored.materials)
    return Factors({p.code: p for p in programs}, {m.code: m for m in materials})


class ToolRecords:
    """Reads what was entered for tools: the latest of it, unless a tool is worn out.

    The wear before is added up by the store, so that the cost does not grow with history.
    """

    def __init__(self, view: View) -> None:
        self._view = view
        self.factors = factors(view)
        self._meters: dict[str, MeterGains] = {}
        self._days: dict[str, set[tuple[date, str]]] = {}
        self._logs: dict[tuple[str, date], tuple[ShiftLog, ...]] = {}

    def of(self, tool: Tool) -> ToolRecord:
        """A tool with its counts, events and the shifts whose program uses it."""
        record = self.bare(tool)
        start = self._start(record)
        if start is None:
            return record
        latest = self.since(record, start)
        if not is_worn(latest, self.factors):
            return latest
        return self.since(record, min(start, record.base.day) if record.base else date.min)

    def bare(self, tool: Tool) -> ToolRecord:
        """A tool with the rows counted for it and its events; a die has its punch's counts."""
        store, day = self._view.store, self._view.day
        moved = tool_history.tool_events(store, tool.die_of, day) if tool.die_of else None
        return ToolRecord(
            tool=tool,
            counts=tuple(tool_history.tool_counts(store, tool.die_of or tool.code, day)),
            events=tuple(tool_history.tool_events(store, tool.code, day)),
            moved=None if moved is None else tuple(moved),
        )

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
        earlier = meter.last_day(spans, to_text(self._view.midnight(first)))
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
        """The record with what was entered from a date on, and the wear before it."""
        logs = self.with_logs(record, first).logs
        spans = fittings(record.places) if record.tool.counts else []
        gains = tuple(self.meter(record.tool).since(spans, first))
        if first == date.min:
            return replace(record, logs=logs, gains=gains)
        base = record.base
        earlier = base is not None and base.day < first
        return replace(
            record,
            counts=tuple(count for count in record.counts if count.day >= first),
            logs=logs,
            gains=gains,
            before=self._until(record, Moment(first - ONE_DAY)),
            at_base=self._until(record, base) if base and earlier else None,
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

    def _until(self, record: ToolRecord, moment: Moment) -> Fraction:
        """Wear up to a moment: counted, or by programs or a meter on days without a count."""
        tool = record.tool
        counted = {count.day for count in record.counts}
        wear = counted_until(record, moment, self.factors)
        if tool.counts:
            meter, spans = self.meter(tool), fittings(record.places)
            return wear + meter.until(spans, moment) - meter.on_days(spans, counted, moment)
        return wear + sum(
            (
                made * self.factors.per_part(tool, code, material)
                for code, material, made in self.made(record, moment)
            ),
            ZERO,
        )

    def made(self, record: ToolRecord, moment: Moment) -> list[tuple[str, str | None, Fraction]]:
        """Parts that wore a tool up to a moment, by program and the material that was logged."""
        counted = {count.day for count in record.counts}
        return [
            (code, material, made)
            for code in self.uses(record.tool)
            for machine, material, made in tool_history.program_made(
                self._view.store, code, moment, counted
            )
            if machine in record.machines
        ]

    def life(self, record: ToolRecord) -> Life:
        """A tool's life up to the view's day."""
        days = self._view.machine_days(record.tool.machine)
        return life_of(record, self.factors, self._view.day, days)

    def wear(self, tool: Tool) -> ToolWear:
        """How a tool stands on the view's day."""
        record = self.of(tool)
        return wear_of(record, self.life(record))


def tool_list(view: View, machine: str | None = None, station: str | None = None) -> list[ToolWear]:
    """All tools of the shop, or of one machine or station, in the order of the shop file."""
    records = ToolRecords(view)
    wears = [records.wear(tool) for tool in view.stored.tools if machine in (None, tool.machine)]
    return [w for w in wears if station is None or (w.fitted and w.fitted[1] == station)]
