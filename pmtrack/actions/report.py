"""Downtime against throughput: figures per machine, kind, cause and span, and for the shop."""

from dataclasses import dataclass, field, replace
from datetime import date, datetime
from fractions import Fraction

from pmtrack.actions.meter_history import MeterHistory
from pmtrack.actions.references import References
from pmtrack.actions.report_facts import MachineFacts, read_facts
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.cause_losses import CauseLoss, cause_losses
from pmtrack.rules.downtime import CauseHours, Week, causes_together, downtime, pareto, weekly
from pmtrack.rules.facts import DaysOut, Moment
from pmtrack.rules.grouping import Grouping, period_before, slices
from pmtrack.rules.on_time import OnTime, jobs_together, tally_outcomes
from pmtrack.rules.pm_work import WorkTotals, tally_work, work_together
from pmtrack.rules.shop import Machine
from pmtrack.rules.shoptime import ONE_DAY, shift_span
from pmtrack.rules.spans import Period, period_of
from pmtrack.rules.throughput import Made, Throughput
from pmtrack.rules.usage import ZERO, Tally
from pmtrack.rules.workdays import shifts_on
from pmtrack.store.first_day import first_day

HITS = "hits"
NO_KIND = "no kind"


@dataclass(frozen=True)
class Figures:
    """The figures of one machine or several in a period; `name` is that of the line.

    `demanded` are the jobs that a law or standard demands; `weeks` have the hits gained in each;
    `out` are the spans of days on which the one machine is out of service.
    """

    name: str
    first: date
    last: date
    throughput: Throughput
    unlogged: Fraction
    on_time: OnTime
    demanded: OnTime
    work: WorkTotals
    causes: list[CauseHours] = field(default_factory=list)
    weeks: list[tuple[Week, Fraction | None]] = field(default_factory=list)
    out: list[DaysOut] = field(default_factory=list)


@dataclass(frozen=True)
class Report:
    """All machines and the shop together, and the lines by which the report was asked for.

    `groups` is empty by cause, where `causes` are the lines. Before `known_from` no shift and no
    stop was entered.
    """

    first: date
    last: date
    by: Grouping
    machines: list[Figures]
    shop: Figures
    groups: list[Figures]
    causes: list[CauseLoss]
    known_from: date | None
    earlier: "Report | None" = None


@dataclass(frozen=True)
class Asked:
    """What a report is to show: dates, one machine or all, by what, and beside what."""

    first: date
    last: date
    only: str | None = None
    by: Grouping = Grouping.MACHINE
    before: bool = False


def report(view: View, now: datetime, asked: Asked) -> Report:
    """The figures of the dates asked for, as known at `now` on the view's day."""
    first, last = asked.first, asked.last
    if last < first:
        raise Refused(f"the period ends on {last}, before it begins on {first}")
    made = _report(view, now, asked)
    if not asked.before:
        return made
    through = min(last, view.day) if first <= view.day else last  # what has been, with as much
    earlier = period_before(first, through)
    return replace(
        made, earlier=_report(view, now, replace(asked, first=earlier[0], last=earlier[1]))
    )


def _report(view: View, now: datetime, asked: Asked) -> Report:
    first, last = asked.first, asked.last
    facts = read_facts(view, _machines(view, asked), first, last)
    if asked.only is None:
        facts = [found for found in facts if found.bears_on(first, last)]
    machines = [_with_weeks(view, now, _one(view, now, f, (first, last)), f) for f in facts]
    causes = causes_together(machine.causes for machine in machines)
    shop = replace(_together("shop", (first, last), machines), causes=causes)
    each = [(m.throughput.machines[0], m.causes) for m in machines]
    return Report(
        first=first,
        last=last,
        by=asked.by,
        machines=machines,
        shop=shop,
        groups=_groups(view, now, asked, list(zip(facts, machines, strict=True))),
        causes=cause_losses(causes, each),
        known_from=first_day(view.store),
    )


def _machines(view: View, asked: Asked) -> tuple[Machine, ...]:
    if asked.only is None:
        return view.stored.machines_on(asked.first)
    return (References(view).machine(asked.only, asked.first),)


def _groups(
    view: View, now: datetime, asked: Asked, machines: list[tuple[MachineFacts, Figures]]
) -> list[Figures]:
    """The lines of the report, but for causes."""
    if asked.by is Grouping.MACHINE:
        return [figures for _, figures in machines]
    if asked.by is Grouping.KIND:
        return _by_kind(asked, machines)
    if asked.by is Grouping.CAUSE:
        return []
    facts = [found for found, _ in machines]
    return _by_dates(view, now, asked, facts)


def _by_kind(asked: Asked, machines: list[tuple[MachineFacts, Figures]]) -> list[Figures]:
    """Machines of a kind together, in the order of the shop file."""
    kinds: dict[str, list[Figures]] = {}
    for facts, figures in machines:
        kinds.setdefault(facts.machine.kind or NO_KIND, []).append(figures)
    dates = asked.first, asked.last
    return [_together(kind, dates, figures) for kind, figures in kinds.items()]


def _by_dates(view: View, now: datetime, asked: Asked, facts: list[MachineFacts]) -> list[Figures]:
    """The machines together, week by week and the like, through the day of the view."""
    result = []
    for part in slices(asked.by, asked.first, min(asked.last, view.day)):
        dates = part.first, part.last
        there = [f for f in facts if f.bears_on(*dates)]
        result.append(_together(part.name, dates, [_one(view, now, f, dates) for f in there]))
    return result


def _period(view: View, now: datetime, facts: MachineFacts, dates: tuple[date, date]) -> Period:
    """The dates on which the machine is in the shop: until the day before it was retired."""
    period = period_of(view.shop, view.workdays, *facts.there(*dates), now)
    return period.of_machine(facts.out)


def _one(view: View, now: datetime, facts: MachineFacts, dates: tuple[date, date]) -> Figures:
    """The figures of one machine."""
    period, (first, last) = _period(view, now, facts, dates), dates
    hits, unlogged = _gained(view, facts.machine, period.first, period.last)
    logs = [log for log in facts.logs if first <= log.day <= period.last]
    made = Made(
        downtime=downtime(facts.stops, period),
        hits=hits,
        good_parts=sum((log.parts for log in logs), ZERO),
        scrap=sum((log.scrap for log in logs), ZERO),
        hourly_rate=facts.machine.hourly_rate,
    )
    return Figures(
        name=facts.machine.code,
        first=first,
        last=last,
        throughput=Throughput((made,)),
        unlogged=unlogged,
        on_time=tally_outcomes(j for j in facts.jobs if first <= j.due_on <= last),
        demanded=tally_outcomes(j for j in facts.demanded if first <= j.due_on <= last),
        work=tally_work([work for work in facts.work if first <= work.day <= last]),
        causes=pareto(facts.stops, period),
        out=[out for out in facts.out if any(out.holds(shift.day) for shift in period.idle)],
    )


def _with_weeks(view: View, now: datetime, found: Figures, facts: MachineFacts) -> Figures:
    """The figures with the machine's weeks."""
    period = _period(view, now, facts, (found.first, found.last))
    weeks = weekly(facts.stops, view.shop, view.workdays, period)
    gained = [(w, _gained(view, facts.machine, w.first, w.last)[0]) for w in weeks]
    return replace(found, weeks=gained)


def _gained(
    view: View, machine: Machine, first: date, last: date
) -> tuple[Fraction | None, Fraction]:
    """Hits gained on the dates from first to last, and how much of that nobody logged."""
    if machine.meter(HITS) is None:
        return None, ZERO
    end = min(last, view.day)
    if end < first:
        return ZERO, ZERO
    meter = view.meter(machine.code, HITS)
    before, after = _at_start(view, meter, (first, end)), meter.at_end_of(end)
    if after is None:
        return ZERO, ZERO
    start = (before.usage, before.unlogged) if before else (ZERO, ZERO)
    return after.usage - start[0], after.unlogged - start[1]


def _at_start(view: View, meter: MeterHistory, dates: tuple[date, date]) -> Tally | None:
    """How a meter stood before the dates, or at the first shift of all where that is among them.

    What a dial read that morning tells of the time before is not of the dates.
    """
    known = first_day(view.store)
    if known and dates[0] <= known <= dates[1]:
        shifts = shifts_on(view.shop, view.workdays, known)
        starts = [shift_span(shift, known, view.shop.zone)[0] for shift in shifts]
        if starts:
            return meter.at(Moment(known, min(starts)))
    return meter.at_end_of(dates[0] - ONE_DAY)


def _together(name: str, dates: tuple[date, date], reports: list[Figures]) -> Figures:
    """Several machines as one line: hours, parts and jobs are sums."""
    return Figures(
        name=name,
        first=dates[0],
        last=dates[1],
        throughput=Throughput(tuple(m for r in reports for m in r.throughput.machines)),
        unlogged=sum((r.unlogged for r in reports), ZERO),
        on_time=jobs_together(r.on_time for r in reports),
        demanded=jobs_together(r.demanded for r in reports),
        work=work_together(r.work for r in reports),
    )
