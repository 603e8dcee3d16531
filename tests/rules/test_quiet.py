"""Bounds on the days a task is on no list: by hand, and as laws against the rules themselves."""

from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.calendar_due import calendar_due
from pmtrack.rules.quiet import (
    MILLION,
    Asked,
    Pace,
    Passing,
    countdowns,
    done_after,
    fastest_rate,
    is_settled,
    prior_of,
)
from pmtrack.rules.rate import rate_of, span_start
from pmtrack.rules.situation import Situation
from pmtrack.rules.workdays import Workdays
from tests.build import ONE_DAY, base, calendars, day, recent, shop, task, weekday_counts

LEADS = ["", "0 days", "5 days", "20%", "30 days"]
CLOSED = shop("06-08..06-12", "07-03")
LAWFUL = {"authority": "29 CFR 1910.217(e)(1)"}


@pytest.mark.parametrize(
    ("every", "lead", "within", "expected"),
    [
        # from the 8th: due on Monday the 15th, announced on this Sunday
        ("1 week", "", 0, "06-08"),
        # from the 7th: due this Sunday, to be worked on Friday
        ("1 week", "0 days", 0, "06-07"),
        # from 17 May: due on Wednesday 17 June, announced 3 days before
        ("1 month", "", 0, "05-17"),
        ("1 month", "", 10, "05-24"),
        # from 1 June: due on the 15th, announced the day before
        ("1 month, 2 weeks", "", 0, "06-01"),
        ("500 hits", "", 0, "0001-01-01"),
    ],
)
def test_done_later_than_that_a_task_is_quiet(
    every: str, lead: str, within: int, expected: str
) -> None:
    asked = Asked(day("06-14"), within)
    found = done_after(task(every, lead=lead), asked, Workdays.of(shop()))
    assert found == day(expected)


@given(
    st.sampled_from(["1 day", "5 days", "1 week", "1 month", "3 months", "1 year"]),
    st.sampled_from(LEADS),
    st.sampled_from([{}, LAWFUL]),
    st.integers(0, 500),
    st.sampled_from([0, 3, 40]),
)
def test_a_task_done_later_stands_ok_and_is_not_near(
    every: str, lead: str, law: dict[str, str], on: int, within: int
) -> None:
    made, asked = task(every, lead=lead, **law), Asked(day("03-01") + on * ONE_DAY, within)
    where = calendars(CLOSED)
    after = done_after(made, asked, where.shop)
    for turn in range(1, min((asked.day - after).days, 40) + 1):
        situation = Situation(asked.day, day("01-02"), base(str(after + turn * ONE_DAY)))
        found = calendar_due(made, made.every[0], situation, where)
        assert found.state == "ok"
        assert found.work_by is not None
        assert found.work_by > asked.day + timedelta(days=within)


def test_the_bound_is_close() -> None:
    """Done on the bound itself, a weekly task is on the list."""
    asked = Asked(day("06-16"))
    after = done_after(task("1 week"), asked, Workdays.of(shop()))
    situation = Situation(asked.day, day("01-02"), base(str(after)))
    assert (
        calendar_due(task("1 week"), task("1 week").every[0], situation, calendars()).state != "ok"
    )


@pytest.mark.parametrize(
    ("done", "on", "expected"),
    [
        ("05-04", "05-29", True),  # Monday 1 June is announced 2 days before: the gap is 28 days
        ("05-04", "05-30", False),
        ("05-30", "06-01", True),  # done within the lead
        ("04-01", "05-20", False),  # 6 April was missed
    ],
)
def test_a_schedule_is_quiet_until_its_next_lead(done: str, on: str, expected: bool) -> None:
    made = task(on="FREQ=MONTHLY;BYDAY=1MO")
    found = is_settled(made, (day("01-02"), day(done)), Asked(day(on)), calendars())
    assert found is expected


def test_a_schedule_after_its_last_date_is_quiet() -> None:
    made = task(on="FREQ=DAILY;COUNT=2")
    assert is_settled(made, (day("06-01"), day("06-02")), Asked(day("06-30")), calendars())


@given(
    st.lists(st.integers(-500, 900), min_size=26, max_size=60),
    st.sampled_from([None, Fraction(100), Fraction(1, 3)]),
    st.integers(0, 5),
)
def test_no_rate_is_above_the_fastest(
    gains: list[int], expected: Fraction | None, later: int
) -> None:
    """The rate from all increments is at most the bound from the first and the last total."""
    entries = weekday_counts("03-02", *gains)
    days, last = Workdays.of(shop()), entries[-1].day
    on = last + later * ONE_DAY
    first = span_start(on, days)
    inside = [entry for entry in entries if entry.day >= first]
    gained = int(sum(entry.value for entry in inside)) * MILLION
    bound = fastest_rate(gained, days.between(first - ONE_DAY, last), prior_of(expected))
    per_day = rate_of(recent(entries), on, days, expected).per_day
    assert per_day is not None
    assert per_day * MILLION <= bound


def passed(every: str, pace: Pace, within: int = 0, lead: str = "") -> list[Fraction | int]:
    """Usage at the base above which each usage interval is quiet on Monday 15 June."""
    passing = Passing(Asked(day("06-15"), within), Workdays.of(shop()))
    made = task(every, lead=lead)
    return [Fraction(passing.passed(one, pace), MILLION) for one in countdowns(made)]


FRIDAY = Pace(10_000 * MILLION, day("06-12"), 100 * MILLION)


@pytest.mark.parametrize(
    ("every", "lead", "within", "expected"),
    [
        # to the lead of 200 lie 200; half of 2000 is 1000, but 6 days to the 22nd are only 600
        ("2000 hits", "", 0, 8600),
        ("2000 hits", "30 days", 0, 9000 + Fraction(1, MILLION)),  # 23 days: half is gone first
        ("2000 hits", "0 days", 0, 8200),
        ("2000 hits", "0 days", 14, 9100),  # 11 days to the 29th
    ],
)
def test_usage_at_the_base_above_which_an_interval_is_quiet(
    every: str, lead: str, within: int, expected: Fraction
) -> None:
    assert passed(every, FRIDAY, within, lead) == [expected]


def test_days_that_nobody_entered_are_counted_at_the_fastest() -> None:
    """Thursday and Friday lie between Wednesday and Monday: 200 more, and 8 days to the 22nd."""
    pace = Pace(FRIDAY.usage, day("06-10"), FRIDAY.fastest)
    assert passed("2000 hits", pace, lead="0 days") == [8400]
    assert passed("2000 hits", pace) == [8800]
