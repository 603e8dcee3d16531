"""A plan made again moves only what must move; what a person pinned stays.

Every two weeks, done on Monday 1 June: due on 15 June, from 12 to 18 June with 3 days of grace.
"""

from dataclasses import replace

import pytest

from pmtrack.rules.plan import PlacedJob
from tests.build import day, shop, task
from tests.planning.by_hand import days, planned

JOB = task("2 weeks", grace="3 days", minutes=60)
LAWFUL = task("2 weeks", authority="an inspectorate", lead="3 days", minutes=60)


def saved(on: str) -> list[PlacedJob]:
    """The saved plan: the job on a day."""
    return [replace(planned((JOB, "06-01")).jobs[0], day=day(on))]


def test_without_a_plan_the_job_is_on_its_due_day() -> None:
    assert days(planned((JOB, "06-01"))) == {"service": ["06-15"]}


@pytest.mark.parametrize(
    ("on", "closed", "expected"),
    [
        ("06-17", "06-03", "06-17"),  # two days late, and yet it stays
        ("06-17", "06-17", "06-15"),  # its day is closed now: it must move
        ("06-24", "06-03", "06-15"),  # outside its window now
        ("06-01", "06-03", "06-15"),  # in the past
    ],
)
def test_only_what_must_move_moves(on: str, closed: str, expected: str) -> None:
    plan = planned((JOB, "06-01"), where=shop(closed), before=saved(on))
    assert days(plan) == {"service": [expected]}


def test_a_new_job_gives_way_to_one_that_is_planned() -> None:
    """Both want Monday 15 June, the crew has time for one: the new one comes on Friday before."""
    new = task("2 weeks", code="new", grace="3 days", minutes=60)
    plan = planned((JOB, "06-01"), (new, "06-01"), hours=1, before=saved("06-15"))
    assert days(plan) == {"service": ["06-15"], "new": ["06-12"]}


@pytest.mark.parametrize(
    ("pin", "remarks"),
    [("06-18", ()), ("06-12", ()), ("06-19", ("pinned outside its window",))],
)
def test_a_pin_is_kept(pin: str, remarks: tuple[str, ...]) -> None:
    (job,) = planned((JOB, "06-01"), pins={JOB.name: pin}).jobs
    assert (job.day, job.pinned, job.remarks) == (day(pin), True, remarks)


def test_a_pin_goes_before_the_saved_day() -> None:
    plan = planned((JOB, "06-01"), before=saved("06-16"), pins={JOB.name: "06-17"})
    assert days(plan) == {"service": ["06-17"]}


def test_what_an_authority_demands_is_not_pinned_past_its_due_date() -> None:
    (job,) = planned((LAWFUL, "06-01"), pins={LAWFUL.name: "06-17"}).jobs
    assert (job.day, job.pinned) == (day("06-15"), False)


@pytest.mark.parametrize("pin", ["06-13", "06-10"])  # a Saturday, and a closed day
def test_a_pin_to_a_day_that_is_closed_is_no_day_for_the_job(pin: str) -> None:
    plan = planned((JOB, "06-01"), where=shop("06-10"), pins={JOB.name: pin})
    assert (days(plan), plan.unfit) == ({"service": ["06-15"]}, ())


def test_a_pin_in_the_past_is_no_day_for_the_job() -> None:
    plan = planned((JOB, "06-01"), today="06-11", pins={JOB.name: "06-09"})
    assert days(plan) == {"service": ["06-15"]}
