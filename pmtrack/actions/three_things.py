"""The things to change first, each with what it may save and the command that shows why."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from pmtrack.actions.advice import TaskAdvice, advice_of
from pmtrack.actions.failing import Watch, watches_of
from pmtrack.actions.trend import MachineTrend
from pmtrack.actions.view import View
from pmtrack.rules.dates import quarter_name
from pmtrack.rules.downtime import pareto
from pmtrack.rules.due import TaskDue
from pmtrack.rules.job_costs import rates_of
from pmtrack.rules.job_key import task_of
from pmtrack.rules.quantity import show
from pmtrack.rules.worth import Matter, Thing, first_things
from pmtrack.statistics.interval_advice import Verdict
from pmtrack.statistics.power_law import Growth
from pmtrack.statistics.trend import Verdict as Way
from pmtrack.store.planned import days_ahead

PREVENTED = 0.25  # share of a cause's hours that a cure may spare; common practice, no source
FEWEST_STOPS = 3  # of one cause, to be more than chance; common practice, no source
_YEAR = 365.2425


def three_things(view: View, now: datetime, machine: str | None = None) -> list[Thing]:
    """What to change first in the shop, or on one machine; at most three."""
    return first_things(every_thing(view, now, machine))


def every_thing(view: View, now: datetime, machine: str | None = None) -> list[Thing]:
    """All that could be changed, in no order."""
    watches = watches_of(view, now, machine)
    return things_of(view, watches, advice_of(one for one in watches if one.failures))


def things_of(view: View, watches: Sequence[Watch], advised: Sequence[TaskAdvice]) -> list[Thing]:
    """The same where the machines are watched and the advice is worked out already."""
    machines = {one.machine.code for one in watches}
    dues = [view.due(t) for t in view.shop.tasks if t.machine in machines]
    ahead = days_ahead(view.store, view.day)
    planned = {task_of(key) for key in ahead}
    return [
        *(thing for due in dues for thing in _by_law(due)),
        *(thing for due in dues for thing in _call(view, due, planned)),
        *(thing for one in advised for thing in _interval(one)),
        *(thing for one in watches for thing in _causes(one)),
        *(thing for one in watches for thing in _worse(one)),
    ]


def _by_law(due: TaskDue) -> Iterator[Thing]:
    if due.task.authority and due.state == "overdue":
        past = due.days_past_due
        what = f"Do {due.task.name}, demanded by law or standard, {past} d past due"
        yield Thing(Matter.LAW, due.task.machine, what, f"why {due.task.name}", days=past)


def _call(view: View, due: TaskDue, planned: set[str]) -> Iterator[Thing]:
    """An outside firm that can no longer come in time at its usual notice, and no plan has."""
    firm = next((one for one in view.shop.suppliers if one.code == due.task.crew), None)
    by = due.governing.work_by or due.governing.due_on
    if firm is None or by is None or due.task.name in planned or due.state in _AT_REST:
        return
    late = (view.day - (by - timedelta(days=firm.notice))).days
    if late > 0:
        law = ", demanded by law or standard" if due.task.authority else ""
        what = f"Call {firm.code} for {due.task.name}{law}: wanted by {by}"
        quarter = f"plan {quarter_name(max(by, view.day))}"
        yield Thing(Matter.CALL, due.task.machine, what, quarter, days=late)


_AT_REST = ("paused", "retired", "deferred")


def _interval(one: TaskAdvice) -> Iterator[Thing]:
    saved = one.saved_a_year
    if one.advised is None or one.costs is None or saved is None or saved <= 0:
        return
    word = "Shorten" if one.verdict is Verdict.SHORTEN else "Lengthen"
    what = (
        f"{word} {one.task.name} from {one.interval.text} to {one.advised.text} "
        f"({one.failures} failures)"
    )
    evidence = f"advice {one.task.name}"
    yield Thing(Matter.INTERVAL, one.task.machine, what, evidence, saved, one.costs.rates.money)


def _causes(one: Watch) -> Iterator[Thing]:
    """What stopped a machine more than once or twice."""
    rates = rates_of(one.view.shop, one.machine)
    code, period = one.machine.code, one.period
    for cause in pareto(one.stops, period):
        if cause.count < FEWEST_STOPS or not cause.unplanned_hours:
            continue
        a_year = float(cause.unplanned_hours) / max(one.days / _YEAR, 1.0)
        what = (
            f"Find the cure for '{cause.cause}' on {code}: {cause.count} stops, "
            f"{show(cause.unplanned_hours)} h down"
        )
        saved = PREVENTED * a_year * float(rates.machine + rates.crew)
        evidence = f"report --from {period.first} --to {one.last} --machine {code}"
        yield Thing(Matter.CAUSE, code, what, evidence, saved, rates.money)


def _worse(one: Watch) -> Iterator[Thing]:
    """A machine that fails more and more often: what it would spare to fail as on average."""
    found = MachineTrend(one)
    if found.verdict is not Way.WORSE or not isinstance(found.growth, Growth):
        return
    rates, law = rates_of(one.view.shop, one.machine), found.growth.law
    extra = 1 / law.mtbf(law.end) - found.failures / law.end
    saved = extra * one.hours_a_year * float(one.lost_hours * (rates.machine + rates.crew))
    what = f"Look into {one.machine.code}: its {found.failures} failures come more and more often"
    yield Thing(
        Matter.TREND, one.machine.code, what, f"trend {one.machine.code}", saved, rates.money
    )
