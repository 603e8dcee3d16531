"""The quarter's plan from the store: how the tasks stand, what was planned and pinned before."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from pmtrack.actions.calendar import in_quarter, starting_of
from pmtrack.actions.planning_news import news
from pmtrack.actions.settled import settled_deeds
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.planning.drafting import Draft, make_plan
from pmtrack.rules.base import covered, coverers, instant_of
from pmtrack.rules.dates import parse_quarter, quarter_name
from pmtrack.rules.facts import Pin
from pmtrack.rules.forecast import Chain, PlannedJob, forecast, run_until
from pmtrack.rules.load import in_house_minutes
from pmtrack.rules.plan import Plan, Quarter, UnfitJob
from pmtrack.rules.plan_reasons import Meanwhile
from pmtrack.rules.plan_steps import Ground
from pmtrack.rules.replanning import PlanChange, changes
from pmtrack.rules.shop import Task
from pmtrack.rules.windows import Windows
from pmtrack.store.planned import planned_days, planned_elsewhere
from pmtrack.store.plans import last_plan, last_saving, rules_when_saved, standing_pins

PIN_AHEAD = timedelta(days=366)  # how long before its due date a job may be pinned


def parse_period(text: str) -> Quarter:
    """`2027-Q1` as a quarter. Raises UnreadableInput otherwise."""
    first, last = parse_quarter(text)
    return Quarter(quarter_name(first), first, last)


def saved_plan(view: View, quarter: Quarter) -> Plan | None:
    """The plan saved last for a quarter, None if there is none."""
    return last_plan(view.store, quarter.name, {task.name: task for task in view.stored.tasks})


def plan_quarter(view: View, quarter: Quarter) -> Plan:
    """The plan of a quarter as of the view's day, next to the plan saved for it.

    Raises Refused for a quarter that is over, and where no working day is left to plan on.
    """
    ground = Ground(view.day, quarter, view.workdays)
    if quarter.last < view.day:
        raise Refused(f"{quarter.name} is over; plan {quarter_name(view.day)} or a later one")
    if not ground.days or ground.days[-1] <= quarter.last.toordinal():
        raise Refused(
            f"the shop does not work in the weeks after {quarter.name}, so late jobs have no day "
            "to go to; see the shifts and the closed days of the shop file"
        )
    before = saved_plan(view, quarter) or Plan()
    elsewhere = planned_days(view.store, quarter.name, view.day)
    standing, earlier, blind = _run_up(view, quarter, elsewhere)
    draft = Draft(
        shop=view.shop,
        ground=ground,
        chains=standing,
        coverers=coverers(view.stored.tasks),
        taken=in_house_minutes(earlier),
        before=before.jobs,
        pins=_pins(view, ground, elsewhere),
    )
    found = make_plan(draft)
    return replace(found, unfit=(*found.unfit, *blind))


def plan_changes(view: View, quarter: Quarter, after: Plan) -> list[PlanChange] | None:
    """What a plan changes against the one saved before it; None if none was."""
    before, saving = saved_plan(view, quarter), last_saving(view.store, quarter.name)
    if before is None or saving is None:
        return None
    tasks = [task for task in view.tasks if task.name not in view.stored.retired_on]
    deferrals = {task.name: view.deferral(task) for task in tasks}
    meanwhile = Meanwhile(
        today=view.day,
        workdays=view.workdays,
        done={
            key: deed
            for key, deed in settled_deeds(view, {t.name for t in view.stored.tasks}).items()
            if instant_of(deed.base.moment, view.shop) >= saving.at
        },
        retired=view.stored.retired_on,
        out={m.code for m in view.shop.machines if view.machine_days(m.code)[1]},
        put_off={name: found.until for name, found in deferrals.items() if found},
        rules=rules_when_saved(view.store, quarter.name),
        covered=covered(tasks),
        elsewhere=planned_days(view.store, quarter.name, view.day),
    )
    return news(before, after, changes(before, after, meanwhile))


def _run_up(
    view: View, quarter: Quarter, planned: Mapping[str, date]
) -> tuple[list[Chain], list[PlannedJob], list[UnfitJob]]:
    """The chains where the quarter's jobs come next, the jobs before, and tasks without a date.

    Before the quarter, jobs are done on the days that saved plans have for them: `planned`, by key.
    """
    chains, jobs, blind = list[Chain](), list[PlannedJob](), list[UnfitJob]()
    windows = Windows()

    def is_another_plans(job: PlannedJob) -> bool:
        early = min(job.due_on, job.day) < quarter.first  # due before it, or pinned before it
        return early and planned.get(job.key) == job.day

    by_machine: dict[str, list[Task]] = defaultdict(list)
    listed = (*view.shop.tasks, *view.stored.jobs)
    view.know_last_deeds([task.name for task in listed])
    for task in listed:
        by_machine[task.machine].append(task)
    for machine, tasks in by_machine.items():
        starting = [starting_of(view, task) for task in tasks]
        live = [start for start in starting if not start.situation.out_of_service]
        blind += [_paused(start.task) for start in starting if start.situation.out_of_service]
        calendars = view.calendars(machine)
        earlier, standing = run_until(
            [Chain.of(start, calendars, windows, planned) for start in live],
            covered([start.task for start in live]),
            lambda job: (
                job.due_on > quarter.last
                or (in_quarter(job, quarter) and not is_another_plans(job))
            ),
        )
        blind += [_blind(chain.task) for chain in standing if _is_blind(chain)]
        jobs += earlier
        chains += standing
    return chains, jobs, blind


def open_pins(view: View) -> list[Pin]:
    """The pins that stand of jobs that are not done."""
    standing = standing_pins(view.store, view.day)
    done = settled_deeds(view, {pin.task for pin in standing})
    return [pin for pin in standing if pin.key not in done]


def _pins(view: View, ground: Ground, elsewhere: Mapping[str, date]) -> dict[str, frozenset[int]]:
    """The days to which open jobs are pinned, by task, as ordinals; those that can still be had.

    `elsewhere` has the days of jobs in the plans of other quarters: what is pinned there stays.
    """
    found: dict[str, set[int]] = defaultdict(set)
    possible = frozenset(ground.days)
    for pin in open_pins(view):
        if pin.day.toordinal() in possible and elsewhere.get(pin.key) != pin.day:
            found[pin.task].add(pin.day.toordinal())
    return {task: frozenset(days) for task, days in found.items()}


def _is_blind(chain: Chain) -> bool:
    """A task by usage whose next due date cannot be told, perhaps only after a job before that."""
    by_usage = any(not interval.is_calendar for interval in chain.task.every)
    return by_usage and chain.window is None


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


def job_near(view: View, task_name: str, day: date) -> PlannedJob:
    """The job of a task that comes nearest to a day, were no plan saved.

    Raises Refused where the task has no job that could be put there.
    """
    task = view.task(task_name)
    if view.stored.retired_day(task.name):
        raise Refused(f"{task.name} is retired; name a task of the shop file")
    if view.machine_days(task.machine)[1]:
        raise Refused(f"{task.machine} is out of service; bring it back first")
    listed = [t for t in (*view.shop.tasks, *view.stored.jobs) if t.machine == task.machine]
    jobs = forecast(
        [starting_of(view, t) for t in listed],
        covered(listed),
        view.calendars(task.machine),
        day + PIN_AHEAD,
    )
    own = [job for job in jobs if job.task.name == task.name]
    if not own:
        raise Refused(f"{task.name} has no job until {day + PIN_AHEAD}; 'pmtrack why' tells why")
    return min(own, key=lambda job: (abs(job.day - day), job.day))


def other_pins(view: View, job: PlannedJob) -> list[Pin]:
    """The pins of a job that know it by a number that it had before another was skipped."""
    return [
        pin
        for pin in standing_pins(view.store, view.day)
        if pin.task == job.task.name
        and pin.key != job.key
        and job_near(view, pin.task, pin.day).key == job.key
    ]


def quarters_with(view: View, job: PlannedJob) -> list[str]:
    """The quarters whose saved plans have a job on a day still to come."""
    everywhere = planned_elsewhere(view.store, "")
    return [
        one.period for one in everywhere if one.key == job.key and one.day and one.day >= view.day
    ]
