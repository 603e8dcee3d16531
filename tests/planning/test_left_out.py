"""A job is left out only where it has no day, never because its day is dear.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from collections import defaultdict
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from pmtrack.planning.formulation import A_HEAVY_MINUTE, full_price, rigid_price
from pmtrack.rules.forecast import Chain, Starting
from pmtrack.rules.plan import Quarter
from pmtrack.rules.plan_steps import LEFT_OUT, OWN, Ground, Step, Wishes, steps_of
from pmtrack.rules.situation import Situation
from pmtrack.rules.windows import Windows
from pmtrack.rules.workdays import Workdays
from tests.build import base, calendars, day, shop, task
from tests.planning.by_hand import days, planned

ONE_DAY = timedelta(days=1)
FIRST, LAST_DAY = day("06-01"), day("07-31")
A_VISIT = 1.0
A_WHOLE_DAY = 24 * 60 * A_HEAVY_MINUTE  # what the crew's minutes of a day-long job may cost


def some_days(count: int) -> st.SearchStrategy[frozenset[int]]:
    """Days of the quarter and after, as ordinals."""
    first = FIRST.toordinal()
    return st.frozensets(st.integers(first, first + 90), max_size=count)


@st.composite
def ways(draw: st.DrawFn) -> dict[int, list[Step]]:
    """All steps of a random task, by where they start from."""
    today = FIRST + draw(st.integers(-5, 30)) * ONE_DAY
    closed = FIRST + draw(st.integers(0, 60)) * ONE_DAY
    where = shop(f"{closed}..{closed + draw(st.integers(0, 12)) * ONE_DAY}")
    grace = draw(st.sampled_from([None, "0 days", "20 days"]))
    authority = draw(st.sampled_from([None, None, "an inspectorate"]))
    every = draw(st.sampled_from(["1 day", "1 week", "2 weeks", "1 month", "3 months", "1 year"]))
    job = task(every, authority=authority, **({"grace": grace} if grace and not authority else {}))
    done = base(str(today - draw(st.integers(1, 500)) * ONE_DAY))
    chain = Chain.of(
        Starting(job, Situation(day=today, first_applied=day("01-02"), base=done), 1),
        calendars(where),
        Windows(),
    )
    wishes = Wishes(
        notice=draw(st.sampled_from([0, 0, 9, 21])),
        settling=draw(some_days(4)),
        saved=draw(some_days(20)),
        pinned=draw(some_days(2)),
    )
    ground = Ground(today, Quarter("short", FIRST, LAST_DAY), Workdays.of(where))
    found: dict[int, list[Step]] = defaultdict(list)
    for step in steps_of(chain, ground, wishes):
        found[step.tail].append(step)
    return found


@given(ways())
def test_leaving_a_job_out_is_dearer_than_any_day_that_it_has(found: dict[int, list[Step]]) -> None:
    for steps in found.values():
        own = [step for step in steps if step.kind == OWN]
        for left in (step for step in steps if step.kind == LEFT_OUT):
            assert all(full_price(left) > full_price(step) + A_WHOLE_DAY for step in own)


@given(ways())
def test_no_job_is_left_out_to_save_a_visit(found: dict[int, list[Step]]) -> None:
    """One job less saves one visit at most."""
    for steps in found.values():
        own = [step for step in steps if step.kind == OWN]
        for left in (step for step in steps if step.kind == LEFT_OUT):
            assert all(rigid_price(left) > rigid_price(step) + A_VISIT for step in own)


def test_an_overdue_job_waits_as_long_as_it_must() -> None:
    """Due on 15 June with 3 days of grace, overdue on the 22nd, and the crew busy to the 30th."""
    job = task("2 weeks", grace="3 days", minutes=60)
    busy = {f"06-{on}": 60 for on in range(22, 31)}
    plan = planned((job, "06-01"), today="06-22", last="06-30", hours=1, taken=busy)
    assert days(plan) == {"service": ["07-01"]}
    assert plan.unfit == ()


def test_an_overdue_job_waits_to_the_end_of_the_two_weeks_but_no_longer() -> None:
    """From 22 June two weeks are 6 July: with that day busy too it has no day."""
    job = task("2 weeks", grace="3 days", minutes=60)
    busy = {str(day("06-22") + n * ONE_DAY): 60 for n in range(14)}
    plan = planned((job, "06-01"), today="06-22", last="06-30", hours=1, taken=busy)
    assert days(plan) == {"service": ["07-06"]}
    busy |= {"07-06": 60}
    plan = planned((job, "06-01"), today="06-22", last="06-30", hours=1, taken=busy)
    assert [(job.kind, job.task.code) for job in plan.unfit] == [("crew", "service")]
    assert "short by 1.0 h" in plan.unfit[0].reason
