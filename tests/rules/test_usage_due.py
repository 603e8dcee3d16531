"""Usage intervals on a day: by count, by estimate, by meters that nobody reads, by hand.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from fractions import Fraction

import pytest

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.situation import MeterView, UsageBase
from tests.build import (
    dates,
    day,
    dial,
    meter_at,
    read,
    shop,
    stand,
    task,
    weekday_counts,
)

LAW = "29 CFR 1910.157(e)(2)"
SUMMER = shop("07-03", "07-06..07-10")  # a holiday Friday, then a week of shutdown


# ---- usage intervals

HOURS = task("500 hours")  # grace 50, lead 50
FRIDAY = "06-05"


@pytest.mark.parametrize(
    ("usage", "state"),
    [
        (0, "ok"),
        (449, "ok"),
        (450, "soon"),
        (499, "soon"),
        (500, "due"),
        (550, "due"),
        (550.5, "overdue"),
    ],
)
def test_a_usage_interval_stands_by_its_count(usage: float, state: str) -> None:
    """Without a rate, read today: U = 100 + 500."""
    view = read(100 + usage, FRIDAY, None, began=100)
    reached = MeterView(view.standing, UsageBase(Fraction(100), False, day("06-03")))
    found = reached if usage >= 500 else view
    due = stand(HOURS, FRIDAY, "05-01", meters={"hours": found})
    assert due.state == state
    assert due.governing.used == Fraction(usage) / 500
    assert due.governing.due_on == (day("06-03") if usage >= 500 else None)
    assert due.governing.target == 600


@pytest.mark.parametrize(
    ("usage", "rate", "lead", "stands", "why"),
    [
        (250, 50, "", "soon 06-12", "half gone, and 250 / 50 = 5 working days: in 7 days"),
        (250, 49, "", "ok 06-15", "250 / 49 is over 5, so the 6th: in 10 days"),
        (249, 100, "", "ok 06-10", "near, but less than half is gone"),
        (250, 50, "3 days", "ok 06-12", "a lead in days replaces the 7"),
        (250, 250, "3 days", "soon 06-08", "Monday is in 3 days"),
        (250, 30, "14 days", "soon 06-18", "250 / 30 is over 8: in 13 days"),
        (399, 10, "100 hours", "ok 06-22", "101 / 10: the 11th working day"),
        (400, 10, "100 hours", "soon 06-19", "by units, though D is 14 days off"),
        (450, 0.5, "", "soon 10-23", "by the tenth, though D is 100 working days off"),
        (450, 0, "", "soon None", "no rate above 0: no date, the count tells all the same"),
        (400, 0, "", "ok None", "and nothing runs out"),
    ],
)
def test_a_job_is_announced_by_units_or_when_its_day_is_near(
    usage: float, rate: float, lead: str, stands: str, why: str
) -> None:
    job = task("500 hours", lead=lead)
    due = stand(job, FRIDAY, "05-01", meters={"hours": read(usage, FRIDAY, rate)})
    found = due.governing.due_on
    assert f"{due.state} {found and f'{found:%m-%d}'}" == stands, why


@pytest.mark.parametrize(
    ("on", "usage", "due_on", "state", "estimated"),
    [  # 470 entered on Friday 5 June at 10 a day: T = 3, so D is Wednesday 10 June
        ("06-05", 470, "06-10", "soon", False),
        ("06-08", 470, "06-10", "soon", False),  # Monday may still be entered
        ("06-09", 480, "06-10", "soon", True),
        ("06-10", 490, "06-10", "soon", True),
        ("06-11", 500, "06-10", "due", True),  # the estimate has passed U: D lies before
        ("06-18", 550, "06-10", "due", True),  # U + G = 550
        ("06-19", 560, "06-10", "overdue", True),
    ],
)
def test_days_that_nobody_entered_are_estimated(
    on: str, usage: int, due_on: str, state: str, estimated: bool
) -> None:
    due = stand(HOURS, on, "05-01", meters={"hours": read(470, "06-05", 10)})
    found = due.governing
    assert found.usage == usage
    assert (found.due_on, due.state) == (day(due_on), state)
    assert found.estimated is estimated
    assert found.used == Fraction(usage, 500)


def test_closed_days_move_a_usage_date() -> None:
    """30 to go at 10 a day from Wednesday 1 July: Thursday 2, then Monday 13, Tuesday 14."""
    due = stand(HOURS, "07-01", "05-01", SUMMER, meters={"hours": read(470, "07-01", 10)})
    assert dates(due) == ["07-14", "07-14"]


def test_usage_reached_on_a_saturday_is_worked_on_the_friday_before() -> None:
    view = read(510, "06-06", 10)
    reached = MeterView(view.standing, UsageBase(Fraction(0), False, day("06-06")))
    due = stand(HOURS, "06-08", "05-01", meters={"hours": reached})
    assert dates(due) == ["06-06", "06-05"]
    assert due.days_past_due == 2


@pytest.mark.parametrize(
    ("on", "usage", "state"),
    [
        ("06-10", 490, "soon"),
        ("06-11", 500, "overdue"),  # D was yesterday, though the count is at U
    ],
)
def test_a_usage_interval_that_the_law_demands_is_overdue_after_its_day(
    on: str, usage: int, state: str
) -> None:
    job = task("500 hours", authority=LAW)
    due = stand(job, on, "05-01", meters={"hours": read(470, "06-05", 10)})
    assert due.governing.usage == usage
    assert due.state == state


@pytest.mark.parametrize(("usage", "state"), [(499, "soon"), (500, "due"), (501, "overdue")])
def test_a_usage_interval_that_the_law_demands_has_no_grace(usage: int, state: str) -> None:
    view = read(usage, FRIDAY, None)
    reached = MeterView(view.standing, UsageBase(Fraction(0), False, day(FRIDAY)))
    job = task("500 hours", authority=LAW)
    due = stand(job, FRIDAY, "05-01", meters={"hours": reached if usage >= 500 else view})
    assert due.state == state


# ---- meters that nobody reads

NOTHING: list[MeterEntry] = []


@pytest.mark.parametrize(
    ("on", "usage", "state"),
    [  # without entries at 10 a day from Monday 1 June: 100 on the 10th working day, 15 June
        ("06-01", 0, "ok"),
        ("06-02", 0, "ok"),
        ("06-08", 40, "soon"),  # D is in 7 days, but less than half is gone
        ("06-10", 60, "soon"),
        ("06-15", 90, "soon"),
        ("06-16", 100, "due"),
    ],
)
def test_a_meter_without_entries_runs_from_the_later_of_base_and_in_service(
    on: str, usage: int, state: str
) -> None:
    view = MeterView(meter_at(NOTHING, on, 10), UsageBase(Fraction(0)))
    expected = "ok" if on == "06-08" else state
    for since, in_service in (("05-01", "06-01"), ("06-01", "05-01")):
        due = stand(
            task("100 hours"), on, since, meters={"hours": view}, in_service=day(in_service)
        )
        assert due.governing.usage == usage
        assert due.governing.due_on == day("06-15")
        assert due.state == expected
        assert due.governing.estimated is (usage > 0)
    due = stand(task("100 hours"), on, "06-01", meters={"hours": view})  # no date in service
    assert due.governing.usage == usage


def test_a_meter_that_nobody_reads_and_without_a_rate_is_at_least_soon() -> None:
    view = MeterView(meter_at(NOTHING, "06-15"), UsageBase(Fraction(0)))
    due = stand(HOURS, "06-15", "06-01", meters={"hours": view})
    assert (due.state, due.governing.due_on, due.governing.used) == ("soon", None, None)
    assert "nobody reads this meter" in due.governing.remark
    # one reading, long ago, is no rate either
    stale = MeterView(meter_at([dial("05-01T06:00", 50)], "06-15"), UsageBase(Fraction(40)))
    due = stand(HOURS, "06-15", "06-01", meters={"hours": stale})
    assert (due.state, due.governing.due_on, due.governing.used) == ("soon", None, None)
    # but what it shows counts
    over = MeterView(stale.standing, UsageBase(Fraction(-600), False, day("05-01")))
    due = stand(HOURS, "06-15", "06-01", meters={"hours": over})
    assert (due.state, due.governing.due_on) == ("overdue", day("05-01"))
    assert due.governing.used == Fraction(650, 500)


def test_a_meter_read_today_without_a_rate_is_not_blind() -> None:
    fresh = MeterView(meter_at([dial("06-15T06:00", 50)], "06-15"), UsageBase(Fraction(40)))
    due = stand(HOURS, "06-15", "06-01", meters={"hours": fresh})
    assert (due.state, due.governing.due_on) == ("ok", None)
    assert due.governing.used == Fraction(10, 500)
    assert due.governing.remark == ""


def test_a_base_read_off_a_dial_wants_a_dial_read_once() -> None:
    view = MeterView(
        meter_at(weekday_counts("06-01", 10, 10), "06-02"),
        UsageBase(Fraction(4100), off_dial=True),
    )
    due = stand(HOURS, "06-02", "05-29", meters={"hours": view})
    assert due.governing.remark == (
        "the meter's level is not known, since last_done was read off a dial and no dial "
        "reading is entered: log one once"
    )


def test_a_stale_meter_and_an_assumed_base_are_told() -> None:
    counts = weekday_counts("06-01", 10, 10, 10)
    view = MeterView(meter_at(counts, "06-15"), UsageBase(Fraction(0), assumed=True))
    due = stand(HOURS, "06-15", "05-01", meters={"hours": view})
    assert due.governing.remark == (
        "the meter has not been read for more than 3 working days; usage at the base is assumed: "
        "it is older than the meter's first entry"
    )
