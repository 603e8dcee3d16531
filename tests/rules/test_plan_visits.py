"""Visits of outside firms read from the jobs of a plan, by hand."""

from dataclasses import replace

import pytest

from pmtrack.rules.plan import PlacedJob, visits_of
from pmtrack.rules.shop import Supplier
from tests.build import day, task

FIRM = Supplier("press-service", "Press Service", notice=10)


def placed(code: str, on: str, visit: str | None, minutes: int | None = 30) -> PlacedJob:
    """A job of an outside firm on a day."""
    job = task("6 months", code=code, crew="press-service", minutes=minutes)
    return PlacedJob(f"{job.name}#1", job, day(on), day(on), (day(on), day(on)), 7, visit=visit)


def test_jobs_of_one_visit_are_booked_together_with_the_firms_notice() -> None:
    jobs = [
        placed("b", "06-15", "visit 1", 45),
        placed("a", "06-15", "visit 1"),
        placed("c", "06-16", None),  # no visit: the shop's own job
        placed("d", "06-01", "visit 2", None),  # its minutes are not told
    ]
    found = visits_of(jobs, [FIRM])
    assert [(one.name, one.day, one.minutes) for one in found] == [
        ("visit 2", day("06-01"), 0),
        ("visit 1", day("06-15"), 75),  # 45 + 30
    ]
    assert [job.task.code for job in found[1].jobs] == ["a", "b"]
    assert found[1].book_by == day("06-05")  # ten days before the 15th


@pytest.mark.parametrize("suppliers", [(), (replace(FIRM, code="another"),)])
def test_a_firm_no_longer_in_the_file_is_named_by_its_code(suppliers: tuple[Supplier, ...]) -> None:
    (found,) = visits_of([placed("a", "06-15", "visit 1")], suppliers)
    assert found.supplier == Supplier("press-service", "press-service")
