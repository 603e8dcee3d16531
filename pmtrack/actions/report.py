"""Downtime against throughput: figures per machine and for the shop, causes and weeks."""

from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction

from pmtrack.actions.on_time import outcomes
from pmtrack.actions.references import References
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.downtime import (
    CauseHours,
    Week,
    downtime,
    pareto,
    weekly,
)
from pmtrack.rules.facts import Span, Stop
from pmtrack.rules.on_time import OnTime, tally_outcomes
from pmtrack.rules.shop import Machine
from pmtrack.rules.shoptime import ONE_DAY, end_of_day
from pmtrack.rules.spans import Period, period_of
from pmtrack.rules.throughput import ShopThroughput, Throughput
from pmtrack.rules.usage import ZERO
from pmtrack.store import history

HITS = "hits"


@dataclass(frozen=True)
class MachineReport:
    """The figures of one machine (or, without a machine, of the shop) in a period."""

    machine: str
    throughput: Throughput | ShopThroughput
    unlogged: Fraction
    on_time: OnTime
    causes: list[CauseHours]
    weeks: list[tuple[Week, Fraction | None]]  # each with the hits gained in it


@dataclass(frozen=True)
class Report:
    """All machines and the shop together."""

    first: date
    last: date
    machines: list[MachineReport]
    shop: MachineReport


def report(view: View, now: datetime, dates: tuple[date, date], only: str | None = None) -> Report:
    """The figures of the dates from first to last, as known at `now` on the view's day."""
    first, last = dates
    if last < first:
        raise Refused(f"the period ends on {last}, before it begins on {first}")
    there = view.stored.machines_on(first)
    machines = there if only is None else [References(view).machine(only, first)]
    periods = {m.code: _period(view, now, (first, last), m.code) for m in machines}
    stops = {m.code: _stops(view, m.code) for m in machines}
    reports = [_machine(view, m, periods[m.code], stops[m.code]) for m in machines]
    every = [stop for some in stops.values() for stop in some]
    period = period_of(view.shop, view.workdays, first, last, now)
    return Report(first, last, reports, _shop(reports, pareto(every, period)))


def _period(view: View, now: datetime, dates: tuple[date, date], machine: str) -> Period:
    """The dates on which the machine is in the shop: up to the day before it was retired."""
    gone = view.stored.gone_on.get(machine)
    last = dates[1] if gone is None else min(dates[1], gone - ONE_DAY)
    return period_of(view.shop, view.workdays, dates[0], last, now)


def _stops(view: View, machine: str) -> list[Stop]:
    """The stops of a machine; one that runs when the machine is retired ends with that."""
    found = history.stops(view.store, machine, view.day)
    gone = view.stored.gone_on.get(machine)
    if gone is None:
        return found
    end = end_of_day(gone - ONE_DAY, view.shop.shifts, view.shop.zone)
    return [replace(stop, span=Span(stop.span.start, stop.span.end or end)) for stop in found]


def _machine(view: View, machine: Machine, period: Period, stops: list[Stop]) -> MachineReport:
    logs = history.shift_logs(view.store, machine.code, period.first, min(period.last, view.day))
    gained, unlogged = _gained(view, machine, period.first, period.last)
    throughput = Throughput(
        downtime=downtime(stops, period),
        hits=gained,
        good_parts=sum((log.parts for log in logs), ZERO),
        scrap=sum((log.scrap for log in logs), ZERO),
    )
    judged = [
        outcome
        for task in view.tasks
        if task.machine == machine.code
        for outcome in outcomes(view, task, period.first, period.last)
    ]
    weeks = weekly(stops, view.shop, view.workdays, period)
    return MachineReport(
        machine=machine.code,
        throughput=throughput,
        unlogged=unlogged,
        on_time=tally_outcomes(judged),
        causes=pareto(stops, period),
        weeks=[(week, _gained(view, machine, week.first, week.last)[0]) for week in weeks],
    )


def _gained(
    view: View, machine: Machine, first: date, last: date
) -> tuple[Fraction | None, Fraction]:
    """Hits gained on the dates from first to last, and how much of that nobody logged."""
    if machine.meter(HITS) is None:
        return None, ZERO
    end = min(last, view.day)
    meter = view.meter(machine.code, HITS)
    before, after = meter.at_end_of(first - ONE_DAY), meter.at_end_of(end)
    if after is None:
        return ZERO, ZERO
    start = (before.usage, before.unlogged) if before else (ZERO, ZERO)
    return after.usage - start[0], after.unlogged - start[1]


def _shop(reports: list[MachineReport], causes: list[CauseHours]) -> MachineReport:
    """All machines together: hours, parts and jobs are sums."""
    totals = ShopThroughput(
        tuple(r.throughput for r in reports if isinstance(r.throughput, Throughput))
    )
    times = [r.on_time for r in reports]
    return MachineReport(
        machine="shop",
        throughput=totals,
        unlogged=sum((r.unlogged for r in reports), ZERO),
        on_time=OnTime(
            sum(t.on_time for t in times), sum(t.late for t in times), sum(t.open for t in times)
        ),
        causes=causes,
        weeks=[],
    )
