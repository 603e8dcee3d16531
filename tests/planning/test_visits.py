"""An outside firm comes as seldom as the windows and the shift allow."""

from dataclasses import replace

import pytest

from pmtrack.rules.plan import Plan
from pmtrack.rules.shop import Task
from tests.build import task
from tests.planning.by_hand import days, planned

FIRM = {"firm-a": 0, "firm-b": 0}


def visit(code: str, crew: str = "firm-a", **fields: object) -> Task:
    """A firm's task of every two weeks, with 3 days of grace: 3 days either side of D."""
    known: dict[str, object] = {"crew": crew, "grace": "3 days", "minutes": 60} | fields
    return task("2 weeks", code=code, **known)


@pytest.mark.parametrize(
    ("since", "expected"),
    [
        # due on 15 and 17 June, both from 15 to 18: on the 15th the second is 2 days early (2),
        # on the 16th one late (2) and one early (1), on the 17th two late (4)
        ("06-03", ["06-15", "06-15"]),
        # due on 15 and 19 June, from 12 to 18 and from 16 to 22: on the 16th 2 + 3, on the 17th
        # 4 + 2, on the 18th 6 + 1
        ("06-05", ["06-16", "06-16"]),
        # due on 15 and 22 June, to 18 and from 19: no day for both
        ("06-08", ["06-15", "06-22"]),
    ],
)
def test_two_jobs_share_a_visit_where_they_can(since: str, expected: list[str]) -> None:
    jobs = (visit("one"), "06-01"), (visit("two"), since)
    plan = planned(*jobs, last="06-24", today="06-08", notice=FIRM)
    assert [days(plan)["one"][0], days(plan)["two"][0]] == expected
    assert len({job.visit for job in plan.jobs}) == len(set(expected))


def test_without_any_task_there_is_nothing_to_plan() -> None:
    assert planned() == Plan(jobs=(), unfit=(), gap=0.0)


def test_two_firms_do_not_share_a_visit() -> None:
    jobs = (visit("one"), "06-01"), (visit("two", "firm-b"), "06-03")
    plan = planned(*jobs, today="06-08", notice=FIRM)
    assert days(plan) == {"one": ["06-15"], "two": ["06-17"]}
    assert {job.visit for job in plan.jobs} == {"firm-a June visit 1", "firm-b June visit 1"}


def test_three_jobs_that_outlast_a_shift_take_two_visits() -> None:
    """Each 200 min of 510: two in one visit, the third in another, the next day being nearest."""
    jobs = [(visit(code, minutes=200), "06-01") for code in ("one", "two", "three")]
    plan = planned(*jobs, today="06-08", notice=FIRM)
    assert sorted(day for found in days(plan).values() for day in found) == [
        "06-12",  # a working day early costs 1, the Tuesday after 2
        "06-15",
        "06-15",
    ]
    assert plan.unfit == ()


def test_a_visit_keeps_its_name() -> None:
    jobs = (visit("one"), "06-01"), (visit("two"), "06-08")
    first = planned(*jobs, last="06-24", today="06-08", notice=FIRM)
    names = {"one": "firm-a June visit 2", "two": "firm-a June visit 1"}
    before = [replace(job, visit=names[job.task.code]) for job in first.jobs]
    again = planned(*jobs, last="06-24", today="06-08", notice=FIRM, before=before)
    assert {job.task.code: job.visit for job in again.jobs} == names


def test_a_visit_waits_for_the_notice() -> None:
    """A call on 8 June with 9 days' notice: 17 June, two working days late."""
    plan = planned((visit("one"), "06-01"), today="06-08", notice={"firm-a": 9})
    assert days(plan) == {"one": ["06-17"]}


def test_a_job_settles_what_it_covers() -> None:
    """The monthly check, due on 17 June, needs no job of its own beside the half-yearly service."""
    check = task("1 month", code="check", minutes=30)
    service = task("6 months", code="service", crew="firm-a", covers=("check",), minutes=60)
    done = (check, "05-17"), (service, "2025-12-16")
    plan = planned(*done, last="06-30", today="06-08", notice=FIRM)
    assert days(plan) == {"service": ["06-16"]}
