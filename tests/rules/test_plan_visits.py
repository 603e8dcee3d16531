"""Visits of outside firms read from the jobs of a plan, by hand."""

from dataclasses import replace

import pytest

from pmtrack.rules.plan import PlacedJob, name_visits, visits_of
from pmtrack.rules.shop import Supplier
from pmtrack.rules.workdays import Workdays
from tests.build import day, shop, task

FIRM = Supplier("press-service", "Press Service", notice=10)
WORKDAYS = Workdays.of(shop())


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
    found = visits_of(jobs, [FIRM], WORKDAYS)
    assert [(one.name, one.day, one.minutes) for one in found] == [
        ("visit 2", day("06-01"), 0),
        ("visit 1", day("06-15"), 75),  # 45 + 30
    ]
    assert [job.task.code for job in found[1].jobs] == ["a", "b"]
    assert found[1].book_by == day("06-05")  # ten days before the 15th


@pytest.mark.parametrize("suppliers", [(), (replace(FIRM, code="another"),)])
def test_a_firm_no_longer_in_the_file_is_named_by_its_code(suppliers: tuple[Supplier, ...]) -> None:
    (found,) = visits_of([placed("a", "06-15", "visit 1")], suppliers, WORKDAYS)
    assert found.supplier == Supplier("press-service", "press-service")


def test_the_jobs_of_two_visits_by_turns_are_two_visits() -> None:
    by_turns = zip("abcd", ("visit 1", "visit 2", "visit 1", "visit 2"), strict=True)
    found = visits_of([placed(code, "06-15", visit) for code, visit in by_turns], [FIRM], WORKDAYS)
    assert [[job.task.code for job in one.jobs] for one in found] == [["a", "c"], ["b", "d"]]


def named(jobs: list[PlacedJob], before: list[PlacedJob]) -> list[tuple[str, str | None]]:
    """The jobs in their order, each with its visit."""
    return [(job.task.code, job.visit) for job in name_visits(jobs, "2026-Q2", before)]


def own(code: str, on: str) -> PlacedJob:
    """A job of the shop's own crew."""
    job = task("6 months", code=code)
    return PlacedJob(f"{job.name}#1", job, day(on), day(on), (day(on), day(on)), 7)


@pytest.mark.parametrize(
    ("before", "expected"),
    [
        ([], ["visit 1", "visit 1", "visit 2"]),  # one for each day
        # a day's jobs keep the name that most of them had
        ([("a", 5), ("b", 5), ("c", 7)], ["visit 5", "visit 5", "visit 7"]),
        # of two names that as many had, the first; the other is free for nobody else
        ([("a", 6), ("b", 5)], ["visit 5", "visit 5", "visit 1"]),
        # both days had it: the earlier one keeps it, the later one gets the next that is free
        ([("a", 1), ("c", 1)], ["visit 1", "visit 1", "visit 2"]),
        ([("c", 1)], ["visit 2", "visit 2", "visit 1"]),
        ([("a", 3), ("c", 2)], ["visit 3", "visit 3", "visit 2"]),
    ],
)
def test_a_visit_keeps_the_name_that_most_of_its_jobs_had(
    before: list[tuple[str, int]], expected: list[str]
) -> None:
    """Jobs a and b on 15 June, c on 16 June."""
    jobs = [placed("c", "06-16", None), placed("b", "06-15", None), placed("a", "06-15", None)]
    olds = [placed(code, "06-01", f"press-service 2026-Q2 visit {number}")
            for code, number in before]  # fmt: skip
    shown = [(code, f"press-service 2026-Q2 {visit}")
             for code, visit in zip("abc", expected, strict=True)]  # fmt: skip
    assert named(jobs, olds) == shown


def test_of_names_that_as_many_jobs_had_the_first_is_kept() -> None:
    jobs = [placed(code, "06-15", None) for code in "abc"]
    for number in range(1, 8):
        names = [f"visit {n}" for n in (number + 2, number, number + 1)]
        olds = [placed(code, "06-01", name) for code, name in zip("abc", names, strict=True)]
        assert {visit for _, visit in named(jobs, olds)} == {f"visit {number}"}


def test_a_job_that_the_shop_did_itself_before_brings_no_name() -> None:
    (job,) = named([placed("a", "06-15", None)], [own("a", "06-01")])
    assert job == ("a", "press-service 2026-Q2 visit 1")


def test_two_against_one_go_by_the_two() -> None:
    jobs = [placed(code, "06-15", None) for code in "abc"]
    olds = [placed(code, "06-01", visit) for code, visit in zip("abc", "122", strict=True)]
    assert {visit for _, visit in named(jobs, olds)} == {"2"}


def test_the_shops_own_jobs_are_no_visit_and_two_firms_are_two() -> None:
    other = placed("z", "06-15", None)
    other = replace(other, task=replace(other.task, crew="crane-firm"))
    jobs = [own("y", "06-15"), placed("a", "06-15", None), other, own("b", "06-01")]
    assert named(jobs, [own("y", "06-15")]) == [
        ("b", None),
        ("a", "press-service 2026-Q2 visit 1"),
        ("y", None),
        ("z", "crane-firm 2026-Q2 visit 1"),
    ]


def test_a_firm_comes_once_a_day_whoever_else_comes() -> None:
    jobs = [placed(code, "06-15", None) for code in "abc"]
    jobs[1] = replace(jobs[1], task=replace(jobs[1].task, crew="crane-firm"))
    assert [visit for _, visit in named(jobs, [])] == [
        "press-service 2026-Q2 visit 1",
        "crane-firm 2026-Q2 visit 1",
        "press-service 2026-Q2 visit 1",
    ]
