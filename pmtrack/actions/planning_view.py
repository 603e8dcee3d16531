"""What is shown of a plan: its visits, calls, parts and loads; its sheet and its job cards."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from pmtrack.actions.calendar import machine_of, recurs_daily
from pmtrack.actions.planning import open_pins, plan_changes
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.exports.job_cards import JobCard
from pmtrack.exports.sheet_facts import QuarterSheet
from pmtrack.rules.calls import Call, calls_to_make
from pmtrack.rules.dates import parse_week
from pmtrack.rules.facts import Pin
from pmtrack.rules.load import WeekLoad, week_loads
from pmtrack.rules.parts_needed import PartNeeded, parts_by_week
from pmtrack.rules.plan import PlacedJob, Plan, Quarter, Visit, visits_of
from pmtrack.rules.replanning import PlanChange
from pmtrack.store.planned import planned_days


@dataclass(frozen=True)
class PlanShown:
    """A plan with all that the manager asks about it.

    `daily` counts the jobs left out as daily, `broken` has the pins that it could not keep;
    `changes` is None where no plan was saved.
    """

    plan: Plan
    quarter: Quarter
    today: date
    visits: Sequence[Visit]
    calls: Sequence[Call]
    loads: Sequence[WeekLoad]
    parts: Sequence[PartNeeded]
    daily: int = 0
    broken: Sequence[Pin] = ()
    changes: Sequence[PlanChange] | None = None


def shown_plan(view: View, quarter: Quarter, plan: Plan, no_daily: bool = False) -> PlanShown:
    """A plan as it is shown, against the one saved; daily jobs load the crew, shown or not."""
    found = without_daily(view, plan) if no_daily else plan
    visits = visits_of(plan.jobs, view.shop.suppliers, view.workdays)
    changes = plan_changes(view, quarter, plan)
    return PlanShown(
        plan=found,
        quarter=quarter,
        today=view.day,
        visits=visits,
        calls=calls_to_make(visits, plan.unfit, view.shop.suppliers, view.day, view.workdays),
        loads=week_loads(
            plan.jobs,
            view.workdays,
            view.shop.crew_hours,
            (max(quarter.first, view.day), quarter.last),
        ),
        parts=parts_by_week(found.jobs),
        daily=len(plan.jobs) - len(found.jobs),
        broken=broken_pins(view, quarter, plan),
        changes=_without_daily_changes(view, changes) if no_daily and changes else changes,
    )


def _without_daily_changes(view: View, changes: Iterable[PlanChange]) -> list[PlanChange]:
    weekdays = view.workdays.weekdays
    daily = {task.name for task in view.stored.tasks if recurs_daily(task, weekdays)}
    return [change for change in changes if change.name not in daily]


def broken_pins(view: View, quarter: Quarter, plan: Plan) -> list[Pin]:
    """The pins to days of the quarter, or of jobs of the plan, on whose day the task has no job.

    One that the saved plan of another quarter keeps is kept.
    """
    kept = {(job.task.name, job.day) for job in plan.jobs}
    known = {job.key for job in plan.jobs} | {job.key for job in plan.unfit}
    elsewhere = planned_days(view.store, quarter.name, view.day)
    return [
        pin
        for pin in open_pins(view)
        if (pin.key in known or quarter.first <= pin.day <= quarter.last)
        and (pin.task, pin.day) not in kept
        and elsewhere.get(pin.key) != pin.day
    ]


def without_daily(view: View, plan: Plan) -> Plan:
    """A plan without the jobs that recur every working day."""
    weekdays = view.workdays.weekdays
    return replace(plan, jobs=tuple(j for j in plan.jobs if not recurs_daily(j.task, weekdays)))


def wall_sheet(view: View, quarter: Quarter, plan: Plan, no_daily: bool = False) -> QuarterSheet:
    """The plan as a sheet for the wall."""
    shown = without_daily(view, plan) if no_daily else plan
    left = {job.task.name for job in plan.jobs} - {job.task.name for job in shown.jobs}
    notes = (f"Every working day, not shown: {', '.join(sorted(left))}.",) if left else ()
    return QuarterSheet(
        shop=view.shop.name,
        quarter=quarter,
        made_on=view.day,
        jobs=shown.jobs,
        visits=tuple(visits_of(shown.jobs, view.shop.suppliers, view.workdays)),
        unfit=plan.unfit,
        closures=view.shop.closed,
        weekdays=tuple(sorted(view.workdays.weekdays)),
        loads=tuple(
            week_loads(
                plan.jobs, view.workdays, view.shop.crew_hours, (quarter.first, quarter.last)
            )
        ),
        notes=notes,
    )


def cards_of(
    view: View, plan: Plan, task: str | None, week: str | None, no_daily: bool = False
) -> list[JobCard]:
    """The job cards of a plan, perhaps only those of a task or an ISO week.

    Raises Refused where there is none, UnreadableInput for a week that is none.
    """
    name = view.task(task).name if task else None
    found = without_daily(view, plan) if no_daily else plan
    jobs = [job for job in found.jobs if name in (None, job.task.name)]
    if week:
        monday = parse_week(week)
        jobs = [job for job in jobs if job.day.isocalendar()[:2] == monday.isocalendar()[:2]]
    if not jobs:
        raise Refused("the plan has no such job; 'pmtrack plan' with --jobs lists them")
    return [_card(view, job) for job in jobs]


def _card(view: View, job: PlacedJob) -> JobCard:
    return JobCard(job, machine_of(view, job.task), view.shop.firm_of(job.task))
