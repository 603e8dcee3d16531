"""Hits of the last working days that reached no tool, by machine."""

from pmtrack.actions.tooling import ToolRecords
from pmtrack.actions.view import View
from pmtrack.rules.allocated import Allocation, raw_hits
from pmtrack.rules.rate import span_start
from pmtrack.rules.shop import Machine
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.usage import ZERO, Tally

METER = "hits"


def unallocated(view: View, machine: str | None = None) -> list[Allocation]:
    """For each machine with a meter of hits, or one of them: the last 20 working days."""
    records = ToolRecords(view)
    return [
        _allocation(view, records, m)
        for m in view.shop.machines
        if m.meter(METER) and machine in (None, m.code)
    ]


def _allocation(view: View, records: ToolRecords, machine: Machine) -> Allocation:
    first = span_start(view.day, view.machine_days(machine.code)[0])
    meter = view.meter(machine.code, METER)
    now = meter.at_end_of(view.day) or Tally()
    before = meter.at_end_of(first - ONE_DAY) or Tally()
    tools = (*view.shop.tools, *view.stored.past.tools)
    bare = records.bare(*(tool for tool in tools if not (tool.counts or tool.die_of)))
    return Allocation(
        machine=machine.code,
        first=first,
        last=view.day,
        hits=now.usage - before.usage,
        unlogged=now.unlogged - before.unlogged,
        allocated=sum(
            (
                raw_hits(records.with_logs(record, first), records.factors, machine.code, first)
                for record in bare
            ),
            ZERO,
        ),
    )
