"""Tools: how worn each is."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from pmtrack.actions.view import View
from pmtrack.rules.facts import Moment, ShiftLog
from pmtrack.rules.shop import Tool
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.wear import (
    Factors,
    ToolRecord,
    ToolWear,
    counted_until,
    is_worn,
    tool_wear,
    window_start,
)
from pmtrack.store import tool_history


def factors(view: View) -> Factors:
    """Programs and materials by code, those retired since included."""
    programs = (*view.stored.past.programs, *view.shop.programs)
    materials = (*view.stored.past.materials, *view.shop.materials)
    return Factors({p.code: p for p in programs}, {m.code: m for m in materials})


class ToolRecords:
    """Reads what was entered for tools: the latest of it, unless a tool is worn out.

    The wear before is added up by the store, so that the cost does not grow with history.
    """

    def __init__(self, view: View) -> None:
        self._view = view
        self.factors = factors(view)
        self._days: dict[str, set[tuple[date, str]]] = {}
        self._logs: dict[tuple[str, date], tuple[ShiftLog, ...]] = {}

    def of(self, tool: Tool) -> ToolRecord:
        """A tool with its counts, events and the shifts whose program uses it."""
        store, day = self._view.store, self._view.day
        record = ToolRecord(
            tool=tool,
            counts=tuple(tool_history.tool_counts(store, tool.code, day)),
            events=tuple(tool_history.tool_events(store, tool.code, day)),
        )
        days = {d for code in self._uses(tool) for d, m in self._ran(code) if m in record.machines}
        days |= {count.day for count in record.counts}
        if not days:
            return record
        workdays = self._view.machine_days(tool.machine)[0]
        start = window_start(days, day, workdays)
        latest = self._since(record, start)
        if not is_worn(latest, self.factors):
            return latest
        return self._since(record, min(start, record.base.day) if record.base else date.min)

    def _uses(self, tool: Tool) -> list[str]:
        return [code for code, p in self.factors.programs.items() if tool.code in p.hits]

    def _ran(self, program: str) -> set[tuple[date, str]]:
        """The dates on which a program ran, each with the machine."""
        if program not in self._days:
            found = tool_history.program_days(self._view.store, program, self._view.day)
            self._days[program] = found
        return self._days[program]

    def _since(self, record: ToolRecord, first: date) -> ToolRecord:
        """The record with what was entered from a date on, and the wear hits before it."""
        logs = tuple(
            log
            for code in self._uses(record.tool)
            for log in self._program_logs(code, first)
            if log.machine in record.machines
        )
        if first == date.min:
            return replace(record, logs=logs)
        base = record.base
        earlier = base is not None and base.day < first
        return replace(
            record,
            counts=tuple(count for count in record.counts if count.day >= first),
            logs=logs,
            before=self._until(record, Moment(first - ONE_DAY)),
            at_base=self._until(record, base) if base and earlier else None,
        )

    def _program_logs(self, code: str, first: date) -> tuple[ShiftLog, ...]:
        key = code, first
        if key not in self._logs:
            found = tool_history.program_logs(self._view.store, code, first, self._view.day)
            self._logs[key] = tuple(found)
        return self._logs[key]

    def _until(self, record: ToolRecord, moment: Moment) -> Fraction:
        """Wear hits up to a moment: counted, or by programs on days without a count."""
        store, tool = self._view.store, record.tool
        counted = {count.day for count in record.counts}
        wear = counted_until(record.counts, moment, self.factors)
        for code in self._uses(tool):
            for machine, material, made in tool_history.program_made(store, code, moment, counted):
                if machine in record.machines:
                    wear += made * self.factors.per_part(tool, code, material)
        return wear

    def wear(self, tool: Tool) -> ToolWear:
        """How a tool stands on the view's day."""
        days = self._view.machine_days(tool.machine)
        return tool_wear(self.of(tool), self.factors, self._view.day, days)


def tool_list(view: View, machine: str | None = None) -> list[ToolWear]:
    """All tools of the shop, or of one machine, in the order of the shop file."""
    records = ToolRecords(view)
    tools = [tool for tool in view.shop.tools if machine in (None, tool.machine)]
    return [records.wear(tool) for tool in tools]
