"""The quarter's plan from the store: how the tasks stand, what was planned and pinned before."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from pmtrack.actions.calendar import in_quarter, is_blind, starting_of
from pmtrack.actions.view import View
from pmtrack.planning.drafting import Draft, make_plan
from pmtrack.rules.base import covered
from pmtrack.rules.forecast import Chain, PlannedJob, run_until
from pmtrack.rules.plan import PlacedJob, Plan, Quarter, UnfitJob
from pmtrack.rules.plan_steps import Ground
from pmtrack.rules.shop import Task
from pmtrack.rules.windows import Windows


def plan_quarter(view: View, quarter: Quarter) -> Plan:
    """The plan of a quarter as of the view's day, next to the plan saved for it."""
    before: list[PlacedJob] = []
    pins: dict[str, frozenset[int]] = {}
    planned: dict[str, date] = {}
    chains, jobs = list[Chain](), list[PlannedJob]()
    blind = list[UnfitJob]()
    windows = Windows()
    for machine in view.shop.machines:
        starting = [
            starting_of(view, task)
            for task in (*view.shop.tasks, *view.stored.jobs)
            if task.machine == machine.code
        ]
        live = [start for start in starting if not start.situation.out_of_service]
        blind += [_paused(start.task) for start in starting if start.situation.out_of_service]
        calendars = view.calendars(machine.code)
        blind += [_blind(start.task) for start in live if is_blind(view, start)]
        earlier, standing = run_until(
            [Chain.of(start, calendars, windows, planned) for start in live],
            covered([start.task for start in live]),
            lambda job: job.due_on > quarter.last or in_quarter(job, quarter),
        )
        jobs += earlier
        chains += standing
    draft = Draft(
        shop=view.shop,
        ground=Ground(view.day, quarter, view.workdays),
        chains=chains,
        coverers=view.covered_by,
        taken=_minutes_taken(jobs),
        before=before,
        pins=pins,
    )
    found = make_plan(draft)
    return replace(found, unfit=(*found.unfit, *blind))


def _minutes_taken(jobs: Iterable[PlannedJob]) -> dict[int, float]:
    """In-house minutes by day (an ordinal) of the jobs that come before the quarter's."""
    taken: dict[int, float] = defaultdict(float)
    for job in jobs:
        if not job.task.crew:
            taken[job.day.toordinal()] += job.task.minutes or 0
    return taken


def _blind(task: Task) -> UnfitJob:
    return UnfitJob(
        task.name,
        task,
        "unknown",
        "no due date can be told: nobody reads its meter, and no rate is known",
        f"log the meter: pmtrack log {task.machine}",
    )


def _paused(task: Task) -> UnfitJob:
    return UnfitJob(
        task.name,
        task,
        "unknown",
        f"{task.machine} is out of service",
        f"plan again once it is back: pmtrack back {task.machine}",
    )
