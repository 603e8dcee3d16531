"""The load of each week, against the crew's hours."""

from dataclasses import replace
from datetime import time
from fractions import Fraction

import pytest

from pmtrack.rules.forecast import PlannedJob
from pmtrack.rules.load import WeekLoad, in_house_minutes, week_loads
from pmtrack.rules.plan import PlacedJob
from pmtrack.rules.shop import Closure, Shift
from pmtrack.rules.situation import RuleDue
from pmtrack.rules.workdays import Workdays
from tests.build import calendars, day, shop, task

JUNE = day("06-01"), day("06-30")


def planned(on: str, minutes: int | None, crew: str | None = None) -> PlannedJob:
    """A job on a day of 2026."""
    job = task("1 month", minutes=minutes, crew=crew)
    when = day(on)
    due = RuleDue(job.every[0], "ok", when, when, Fraction(3), Fraction(3))
    return PlannedJob("key", job, when, when, due, None)


def test_a_week_adds_up_its_in_house_minutes() -> None:
    """Monday 1 June: 90 and 30 minutes, a visit and a job of unknown length; then a week with one.

    The shop of the tests works Monday to Friday: 5 days at 6 hours are 30.
    """
    jobs = [
        planned("06-01", 90),
        planned("06-05", 30),
        planned("06-03", 420, crew="press-service"),
        planned("06-04", None),
        planned("06-15", 45),
    ]
    assert week_loads(jobs, calendars().shop, Fraction(6), JUNE) == [
        WeekLoad(day("06-01"), 4, Fraction(2), Fraction(30)),
        WeekLoad(day("06-15"), 1, Fraction(3, 4), Fraction(30)),
    ]


def test_without_crew_hours_nothing_is_said_of_them() -> None:
    assert week_loads([planned("06-01", 60)], calendars().shop, None, JUNE)[0].available is None


def test_a_week_has_the_hours_of_all_its_working_days_and_no_others() -> None:
    """Seven days at 6 hours are 42; closed on Sunday 31 May and on Monday 1 June, 36 are left."""
    daily = shop(shifts=(Shift("day", (0, 1, 2, 3, 4, 5, 6), time(6), time(14)),))
    closed = replace(daily, closed=(Closure(day("05-31"), day("06-01")),))
    for where, hours in ((daily, 42), (closed, 36)):
        (week,) = week_loads([planned("06-07", 60)], Workdays.of(where), Fraction(6), JUNE)
        assert (week.monday, week.available) == (day("06-01"), Fraction(hours))


@pytest.mark.parametrize(
    ("on", "hours"),
    [
        (["06-29"], 12),  # 1 to 3 July are the next month's
        (["06-29", "07-02"], 18),  # but for the day on which a late job of June stands
        (["07-02", "07-02"], 18),  # 29 and 30 June are June's, and have room
        (["07-07", "07-08"], 12),  # a week of July with two late jobs
        (["05-29"], 6),  # a job of the week before: Friday alone
    ],
)
def test_a_week_at_the_edge_has_no_hours_of_the_next_quarter(on: list[str], hours: int) -> None:
    """June ends on a Tuesday and begins on a Monday; 6 hours a day."""
    (week,) = week_loads([planned(one, 60) for one in on], calendars().shop, Fraction(6), JUNE)
    assert week.available == hours


def test_no_jobs_make_no_weeks() -> None:
    assert week_loads([], calendars().shop, Fraction(6), JUNE) == []


def test_the_jobs_of_a_plan_are_weighed_alike() -> None:
    """Sunday 7 June still belongs to the week of Monday 1 June."""
    job = task("1 month", minutes=90)
    jobs = [PlacedJob("key", job, day(on), day(on), (day(on), day(on)), 3)
            for on in ("06-01", "06-07", "06-08")]  # fmt: skip
    assert week_loads(jobs, calendars().shop, None, JUNE) == [
        WeekLoad(day("06-01"), 2, Fraction(3), None),
        WeekLoad(day("06-08"), 1, Fraction(3, 2), None),
    ]


def test_the_crews_minutes_of_each_day() -> None:
    """90 and 30 minutes on Monday, a visit and a job of unknown length on Tuesday."""
    jobs = [
        planned("06-01", 90),
        planned("06-01", 30),
        planned("06-02", 420, crew="press-service"),
        planned("06-02", None),
    ]
    minutes = in_house_minutes(jobs)
    assert [minutes[day(on).toordinal()] for on in ("06-01", "06-02", "06-03")] == [120, 0, 0]
    assert in_house_minutes(jobs[2:3]) == {}
