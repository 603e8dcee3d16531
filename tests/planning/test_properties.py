"""Laws of every plan, on random shops: windows, notice, crew, chains, covering jobs, no silence."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.planning.drafting import Draft, chosen_ways, make_plan
from pmtrack.rules.base import coverers
from pmtrack.rules.facts import Deferral
from pmtrack.rules.forecast import Chain, Starting
from pmtrack.rules.intervals import add_interval, grace_days
from pmtrack.rules.plan import PlacedJob, Plan, Quarter
from pmtrack.rules.plan_steps import Ground
from pmtrack.rules.shop import Supplier, Task
from pmtrack.rules.situation import Situation
from pmtrack.rules.windows import Windows
from pmtrack.rules.workdays import Workdays
from tests.build import at, base, calendars, day, read, shop, task, views

FIRST = day("06-01")  # a Monday
QUARTER = Quarter("2026-Q2b", FIRST, day("07-12"))
NOTICE = {"firm-a": 0, "firm-b": 9}
ONE_DAY = timedelta(days=1)

EVERY = st.sampled_from(["1 week", "2 weeks", "1 month", "10 days, 2 weeks", "60 hours"])
SCHEDULES = st.sampled_from(["FREQ=WEEKLY;BYDAY=WE", "FREQ=MONTHLY;BYDAY=2MO", "FREQ=WEEKLY"])


@st.composite
def some_task(draw: st.DrawFn, number: int) -> Task:
    """A task by calendar, by usage or on a schedule, perhaps covering the one before."""
    fields: dict[str, Any] = {
        "code": f"job-{number}",
        "minutes": draw(st.sampled_from([20, 60, 150, 400])),
        "crew": draw(st.sampled_from([None, None, "firm-a", "firm-b"])),
        "machine_down": draw(st.booleans()),
        "covers": (f"job-{number - 1}",) if number and draw(st.booleans()) else (),
    }
    if draw(st.integers(0, 3)) == 0:
        return task(**fields, on=draw(SCHEDULES), starts=day("01-05"))
    if draw(st.integers(0, 4)) == 0:
        fields["authority"] = "an inspectorate"
    return task(draw(EVERY), **fields)


@st.composite
def some_chain(draw: st.DrawFn, number: int, today: date, workdays: Workdays) -> Chain:
    """The chain of a random task, done last some days ago, perhaps put off."""
    job = draw(some_task(number))
    meter = read(0, str(today - ONE_DAY), draw(st.sampled_from([3, 8, 20])), began=-30)
    off = None
    if draw(st.integers(0, 5)) == 0 and not job.authority:
        off = Deferral(1, at("05-20T08:00"), today + draw(st.integers(1, 20)) * ONE_DAY, "rush")
    situation = Situation(
        day=today,
        first_applied=day("01-02"),
        base=base(str(today - draw(st.integers(1, 40)) * ONE_DAY)),
        meters=views(job, {"hours": meter}),
        deferral=off,
    )
    known = replace(calendars(), shop=workdays, machine=workdays)
    return Chain.of(Starting(job, situation, 3), known, Windows())


@st.composite
def drafts(draw: st.DrawFn) -> Draft:
    """A shop of one machine and two to five tasks, with a closure and short crew hours."""
    today = FIRST + draw(st.integers(-4, 10)) * ONE_DAY
    closed = FIRST + draw(st.integers(0, 35)) * ONE_DAY
    where = shop(f"{closed}..{closed + draw(st.integers(0, 8)) * ONE_DAY}")
    workdays = Workdays.of(where)
    count = draw(st.integers(2, 5))
    chains = [draw(some_chain(number, today, workdays)) for number in range(count)]
    hours = draw(st.sampled_from([None, Fraction(2), Fraction(3), Fraction(8)]))
    suppliers = tuple(Supplier(code, code, notice) for code, notice in NOTICE.items())
    whole = replace(where, crew_hours=hours, suppliers=suppliers)
    tasks = [chain.task for chain in chains]
    return Draft(whole, Ground(today, QUARTER, workdays), chains, coverers(tasks))


def days_of(plan: Plan) -> dict[str, list[date]]:
    """The days of each task's jobs, in order."""
    found: dict[str, list[date]] = defaultdict(list)
    for job in plan.jobs:
        found[job.task.name].append(job.day)
    return {name: sorted(days) for name, days in found.items()}


def done_days(draft: Draft, plan: Plan, name: str) -> list[date]:
    """The days on which a task is done, by its own jobs or by those that cover it."""
    days = days_of(plan)
    names = (name, *draft.coverers.get(name, ()))
    return sorted({on for done in names for on in days.get(done, [])})


def overdue_at_start(draft: Draft, job: PlacedJob) -> bool:
    """Whether a job's time had passed before today."""
    chain = next(chain for chain in draft.chains if chain.task.name == job.task.name)
    window = chain.window
    return window is not None and job.due_on == window.due_on and window.last < draft.ground.today


LAWS = settings(max_examples=15, deadline=None)


@LAWS
@given(drafts())
def test_each_job_is_on_a_working_day_of_its_window_with_notice_given(draft: Draft) -> None:
    for job in make_plan(draft).jobs:
        today = draft.ground.today
        assert job.day in draft.ground.workdays
        assert job.window[0] <= job.day <= job.window[1]
        assert job.day >= today + NOTICE.get(job.task.crew or "", 0) * ONE_DAY


@LAWS
@given(drafts())
def test_what_an_authority_demands_never_comes_late(draft: Draft) -> None:
    for job in make_plan(draft).jobs:
        if job.task.authority and not overdue_at_start(draft, job):
            assert job.day <= job.due_on


@LAWS
@given(drafts())
def test_the_hours_of_crew_and_shifts_are_kept(draft: Draft) -> None:
    crew: dict[date, int] = defaultdict(int)
    visits: dict[tuple[str, date], list[int]] = defaultdict(list)
    down: dict[date, list[int]] = defaultdict(list)
    for job in make_plan(draft).jobs:
        minutes = job.task.minutes or 0
        if job.task.crew:
            visits[job.task.crew, job.day].append(minutes)
        else:
            crew[job.day] += minutes
        if job.task.machine_down:
            down[job.day].append(minutes)
    if draft.shop.crew_hours is not None:
        assert all(minutes <= draft.shop.crew_hours * 60 for minutes in crew.values())
    for lengths in (*visits.values(), *down.values()):
        assert len(lengths) == 1 or sum(lengths) <= 510  # the made shop's shift


@LAWS
@given(drafts())
def test_no_gap_is_longer_than_interval_and_grace(draft: Draft) -> None:
    """Of calendar tasks of which no job is left out; grace counts from a work-by day after D."""
    plan = make_plan(draft)
    unfit = {job.task.name for job in plan.unfit}
    for chain in draft.chains:
        job = chain.task
        if job.on or job.name in unfit or not all(every.is_calendar for every in job.every):
            continue
        days = done_days(draft, plan, job.name)
        for before, after in pairwise(days):
            for every in job.every:
                due = add_interval(before, every)
                by = draft.ground.workdays.nth_after(due - ONE_DAY, 1)
                assert by is not None
                if draft.ground.workdays.between(before, due):
                    by = due  # a working day on or before D is there to work
                grace = grace_days(job, (due - before).days)
                assert after <= max(due, by) + grace * ONE_DAY


@LAWS
@given(drafts())
def test_a_task_is_never_done_by_itself_on_the_day_of_a_job_that_covers_it(draft: Draft) -> None:
    days = days_of(make_plan(draft))
    for name, by in draft.coverers.items():
        for coverer in by:
            assert not set(days.get(name, ())) & set(days.get(coverer, ()))


@LAWS
@given(drafts())
def test_nothing_that_falls_due_is_dropped_in_silence(draft: Draft) -> None:
    """Along each chain every job due in the quarter is placed, settled or told as unfit."""
    plan = make_plan(draft)
    keys = {job.key: job.day for job in plan.jobs}
    unfit = {job.key: job.earliest for job in plan.unfit}
    for chain in draft.chains:
        settling = _settling(draft, plan, chain.task.name)
        while (window := chain.window) and window.due_on <= QUARTER.last:
            key = chain.key(window)
            own = keys.get(key) or unfit.get(key)
            by = next((on for on in settling if _after(chain, on)), None)
            done = min(on for on in (own, by) if on is not None)
            assert _after(chain, done)
            chain = chain.done(done)


def _settling(draft: Draft, plan: Plan, name: str) -> list[date]:
    days = days_of(plan)
    return sorted({on for by in draft.coverers.get(name, ()) for on in days.get(by, ())})


def _after(chain: Chain, on: date) -> bool:
    base_now = chain.situation.base
    return base_now is None or on > base_now.moment.day


@LAWS
@given(drafts())
def test_a_plan_made_twice_is_the_same(draft: Draft) -> None:
    assert make_plan(draft) == make_plan(draft)


@LAWS
@given(drafts(), st.randoms(use_true_random=False))
def test_the_order_of_the_tasks_costs_nothing(draft: Draft, chance: object) -> None:
    chains: list[Chain] = list(draft.chains)
    chance.shuffle(chains)  # type: ignore[attr-defined]
    costs = [chosen_ways(d, 0.0)[0].cost for d in (draft, replace(draft, chains=chains))]
    assert abs(costs[0] - costs[1]) < 1e-6


WINDOWS = [("10 days", 1), ("2 weeks", 1), ("1 month", 3), ("3 months", 9), ("1 year", 14)]


@given(st.sampled_from(WINDOWS), st.integers(0, 364))
def test_windows_are_a_tenth_of_the_interval(row: tuple[str, int], start: int) -> None:
    """10 % of the interval either way, 14 days at most: common practice, no source."""
    every, about = row
    done = day("2026-01-01") + start * ONE_DAY
    job = task(every)
    situation = Situation(day=done, first_applied=done, base=base(str(done)))
    window = Chain.of(Starting(job, situation, 1), calendars(), Windows()).window
    assert window is not None
    early = (window.due_on - window.first).days
    assert early in _tenths(about) or window.first == window.target
    assert (window.last - window.due_on).days in _tenths(about) or window.target > window.due_on


def _tenths(about: int) -> Iterable[int]:
    """A month has 28 to 31 days, a quarter 90 to 92: the tenth is 2 or 3, and 8 or 9."""
    return (about, about - 1) if about in (3, 9) else (about,)
