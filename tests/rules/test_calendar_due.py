"""Calendar intervals, fixed schedules and one-off jobs on a day, worked by hand.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from fractions import Fraction

import pytest

from pmtrack.rules.shop import OneOff, Task
from tests.build import (
    dates,
    day,
    shop,
    stand,
    task,
)

LAW = "29 CFR 1910.157(e)(2)"
SUMMER = shop("07-03", "07-06..07-10")  # a holiday Friday, then a week of shutdown
MONTHLY = task("1 month")
LAWFUL = task("1 month", authority=LAW)
WEEKLY = task("1 week")
FIRST_MONDAYS = "FREQ=MONTHLY;BYDAY=1MO"


def states(job: Task, since: str, days: list[str], where: str = "") -> str:
    """The states of a task on some days."""
    closed = {"": shop(), "summer": SUMMER}[where]
    return " ".join(stand(job, on, since, closed).state for on in days)


# ---- calendar intervals: D = b + interval


@pytest.mark.parametrize(
    ("job", "since", "where", "due_on", "by"),
    [
        (MONTHLY, "06-01", "", "07-01", "07-01"),
        (MONTHLY, "2026-01-31", "", "02-28", "02-27"),  # clamped; a Saturday
        (MONTHLY, "06-05", "", "07-05", "07-03"),  # Sunday: the Friday before
        (MONTHLY, "06-05", "summer", "07-05", "07-02"),  # that Friday is a holiday
        (MONTHLY, "06-10", "summer", "07-10", "07-02"),  # shutdown: the last day before it
        (WEEKLY, "07-02", "summer", "07-09", "07-13"),  # no working day in between: the first after
        (task("3 days"), "06-05", "", "06-08", "06-08"),
        (task("1 day"), "06-05", "", "06-06", "06-08"),  # due on Saturday, done on Friday: Monday
        (task("6 months"), "06-01T09:30", "", "12-01", "12-01"),  # a time counts by its date
    ],
)
def test_a_calendar_interval_runs_from_its_base(
    job: Task, since: str, where: str, due_on: str, by: str
) -> None:
    due = stand(job, "06-15", since, SUMMER if where else shop())
    assert dates(due) == [due_on, by]


@pytest.mark.parametrize(
    ("job", "since", "where", "days", "expected"),
    [
        # 30 days from Monday 1 June: D Wednesday 1 July, grace 3 and lead 3 days
        (
            MONTHLY,
            "06-01",
            "",
            ["06-02", "06-27", "06-28", "06-30", "07-01", "07-04", "07-05"],
            "ok ok soon soon due due overdue",
        ),
        # D Sunday 5 July, work by Friday 3 July: grace counts from Sunday
        (
            MONTHLY,
            "06-05",
            "",
            ["06-29", "06-30", "07-02", "07-03", "07-05", "07-08", "07-09"],
            "ok soon soon due due due overdue",
        ),
        # D Thursday 9 July, work by Monday 13 July, grace 1 and lead 1 day: grace from Monday
        (
            WEEKLY,
            "07-02",
            "summer",
            ["07-09", "07-11", "07-12", "07-13", "07-14", "07-15"],
            "ok ok soon due due overdue",
        ),
        # under 7 days no grace and no lead: D Saturday, work by Monday
        (
            task("1 day"),
            "06-05",
            "",
            ["06-05", "06-06", "06-07", "06-08", "06-09"],
            "ok ok ok due overdue",
        ),
        # authority: no grace, and the law's date is not moved by a closed day
        (
            LAWFUL,
            "06-01",
            "",
            ["06-27", "06-28", "07-01", "07-02"],
            "ok soon due overdue",
        ),
        (LAWFUL, "06-05", "", ["07-02", "07-03", "07-05", "07-06"], "soon due due overdue"),
        (
            task("1 week", authority=LAW),
            "07-02",
            "summer",
            ["07-08", "07-09", "07-10", "07-13"],
            "ok ok overdue overdue",
        ),
        # grace and lead as written
        (
            task("1 month", grace="10 days", lead="20%"),  # 6 days ahead
            "06-01",
            "",
            ["06-24", "06-25", "07-11", "07-12"],
            "ok soon due overdue",
        ),
        (
            task("1 month", grace="0 days", lead="0 days"),
            "06-01",
            "",
            ["06-30", "07-01", "07-02"],
            "ok due overdue",
        ),
    ],
)
def test_states_change_on_their_border_days(
    job: Task, since: str, where: str, days: list[str], expected: str
) -> None:
    assert states(job, since, days, where) == expected


def test_used_is_the_share_of_the_days_gone() -> None:
    """15 of the 30 days from 1 June to 1 July, then 45 of 30."""
    assert stand(MONTHLY, "06-16", "06-01").governing.used == Fraction(1, 2)
    assert stand(MONTHLY, "07-16", "06-01").governing.used == Fraction(3, 2)
    assert stand(MONTHLY, "06-16").governing.used is None  # never done


def test_days_past_due_are_counted_from_the_due_date() -> None:
    past = [
        stand(MONTHLY, on, "06-05").days_past_due for on in ("07-03", "07-05", "07-06", "08-05")
    ]
    assert past == [0, 0, 1, 31]


def test_a_calendar_interval_has_no_range_and_is_never_estimated() -> None:
    due = stand(MONTHLY, "06-16", "06-01").governing
    assert due.due_range is None
    assert not due.estimated
    assert due.unit == "day"


# ---- without a base


@pytest.mark.parametrize(
    ("job", "days", "expected", "governs"),
    [
        # due on the day first applied, Monday 1 June; G and L of the 30 days from then: 3 and 3
        (
            MONTHLY,
            ["05-28", "05-29", "06-01", "06-04", "06-05"],
            "ok soon due due overdue",
            "1 month",
        ),
        # due at starts, Wednesday 10 June
        (
            task("1 month", starts=day("06-10")),
            ["06-06", "06-07", "06-10", "06-13", "06-14"],
            "ok soon due due overdue",
            "1 month",
        ),
        # starts on Saturday 13 June: work by Friday
        (
            task("1 week", starts=day("06-13")),
            ["06-10", "06-11", "06-12", "06-14", "06-15"],
            "ok soon due due overdue",
            "1 week",
        ),
        # the shortest calendar interval of several gives grace and lead: 1 week, 1 and 1
        (
            task("6 months, 1 week, 500 hours"),
            ["05-30", "05-31", "06-02", "06-03"],
            "ok soon due overdue",
            "1 week",
        ),
        # a usage interval alone: grace 0, lead 7
        (
            task("500 hours"),
            ["05-24", "05-25", "06-01", "06-02"],
            "ok soon due overdue",
            "500 hours",
        ),
        (
            task("500 hours, 90 hits", lead="2 days"),
            ["05-29", "05-30", "06-01", "06-02"],
            "ok soon due overdue",
            "500 hours",
        ),
        (task("1 month", authority=LAW), ["06-01", "06-02"], "due overdue", "1 month"),
    ],
)
def test_a_task_never_done_is_due_at_its_start(
    job: Task, days: list[str], expected: str, governs: str
) -> None:
    found = [stand(job, on, first_applied=day("06-01")) for on in days]
    assert " ".join(due.state for due in found) == expected
    assert {due.governing.rule.text for due in found} == {governs}
    assert {len(due.rules) for due in found} == {1}


def test_a_base_makes_the_start_date_meaningless() -> None:
    job = task("1 month", starts=day("12-01"))
    assert dates(stand(job, "06-15", "06-01")) == ["07-01", "07-01"]


# ---- fixed schedules: first Mondays are 6 July, 3 August, 7 September, 5 October, 2 November

FIXED = task(on=FIRST_MONDAYS, starts=day("07-01"))


@pytest.mark.parametrize(
    ("done", "next_due", "why"),
    [
        ("", "07-06", "never done: the first occurrence from starts"),
        ("06-10", "07-06", "long before: settles nothing"),
        ("07-03", "07-06", "the lead of 28 days is 2, from Saturday 4 July on"),
        ("07-04", "08-03", "early, within the lead"),
        ("07-06", "08-03", "on its day"),
        ("07-31", "08-03", "late for July, too early for August"),
        ("08-01", "09-07", "early for August: two days of lead"),
        ("08-20", "09-07", "late for August"),
        ("09-03", "09-07", "the 35 days to September have a lead of 3, from 4 September on"),
        ("09-04", "10-05", "early for September"),
        ("10-20", "11-02", "late: what was missed before it is settled too"),
    ],
)
def test_a_completion_settles_every_occurrence_whose_lead_has_begun(
    done: str, next_due: str, why: str
) -> None:
    due = stand(FIXED, "10-20", done)
    assert dates(due)[0] == next_due, why
    assert len(due.rules) == 1


@pytest.mark.parametrize(
    ("day_on", "state"),
    [
        ("07-31", "ok"),
        ("08-01", "soon"),  # lead 2 days
        ("08-03", "due"),
        ("08-05", "due"),  # grace 2 days
        ("08-06", "overdue"),
        ("10-20", "overdue"),  # missed ones do not pile up: one job, the first missed
    ],
)
def test_a_fixed_date_has_grace_and_lead_of_the_gap_before_it(day_on: str, state: str) -> None:
    due = stand(FIXED, day_on, "07-06")
    assert (due.state, dates(due)[0]) == (state, "08-03")


def test_the_first_date_has_grace_and_lead_of_the_gap_after_it() -> None:
    """6 July: 28 days to the next, so 2 and 2."""
    found = [stand(FIXED, on).state for on in ("07-03", "07-04", "07-06", "07-08", "07-09")]
    assert found == ["ok", "soon", "due", "due", "overdue"]


def test_a_fixed_date_on_a_closed_day_is_worked_before_it() -> None:
    """Monday 6 July is in the shutdown: work by Thursday 2 July, soon from Tuesday 30 June on."""
    assert dates(stand(FIXED, "06-15", where=SUMMER)) == ["07-06", "07-02"]
    found = [stand(FIXED, on, where=SUMMER).state for on in ("06-29", "06-30", "07-02", "07-09")]
    assert found == ["ok", "soon", "due", "overdue"]
    assert dates(stand(FIXED, "07-09", "06-30", SUMMER))[0] == "08-03"
    assert dates(stand(FIXED, "07-09", "06-29", SUMMER))[0] == "07-06"


def test_a_lead_longer_than_the_gap_settles_more_than_one() -> None:
    """Every Monday with a lead of 20 days: a completion on 1 June settles 1, 8, 15 June too."""
    often = task(on="FREQ=WEEKLY;BYDAY=MO", starts=day("06-01"), lead="20 days")
    assert dates(stand(often, "06-01", "06-01"))[0] == "06-22"
    assert dates(stand(often, "06-01", "06-02"))[0] == "06-29"  # 22 less 20 is the 2nd


def test_a_schedule_begins_on_the_day_first_applied_without_starts() -> None:
    job = task(on=FIRST_MONDAYS)
    assert dates(stand(job, "06-15", first_applied=day("06-02")))[0] == "07-06"
    assert dates(stand(job, "06-15", first_applied=day("06-01")))[0] == "06-01"


def test_used_of_a_fixed_date_runs_from_the_base() -> None:
    """From Monday 6 July to Monday 3 August: 14 of 28 days."""
    assert stand(FIXED, "07-20", "07-06").governing.used == Fraction(1, 2)
    assert stand(FIXED, "07-20").governing.used is None


def test_after_the_last_date_of_a_schedule_nothing_is_due() -> None:
    job = task(on=f"{FIRST_MONDAYS};COUNT=2", starts=day("07-01"))
    assert dates(stand(job, "12-01", "07-06"))[0] == "08-03"
    due = stand(job, "12-01", "08-03")
    assert (due.state, due.governing.due_on, due.governing.work_by) == ("ok", None, None)
    assert due.governing.used is None
    assert due.days_past_due == 0


def test_a_single_date_stands_alone_without_grace_or_lead() -> None:
    job = task(on="FREQ=DAILY;COUNT=1", starts=day("06-10"))
    assert [stand(job, on).state for on in ("06-09", "06-10", "06-11")] == ["ok", "due", "overdue"]


def test_a_fixed_date_that_the_law_demands_is_overdue_the_day_after() -> None:
    """Monday 6 July in the shutdown, work by 2 July."""
    job = task(on=FIRST_MONDAYS, starts=day("07-01"), authority=LAW)
    found = [stand(job, on, where=SUMMER).state for on in ("07-01", "07-02", "07-06", "07-07")]
    assert found == ["soon", "due", "due", "overdue"]


@pytest.mark.parametrize("done", ["06-20", "06-15"])  # after its date, and on that very day
def test_a_date_before_the_shop_ever_worked_is_worked_on_its_first_day(done: str) -> None:
    """Nothing worked before 1 July; done in June, before the work-by day's lead."""
    job = task(on="FREQ=WEEKLY;BYDAY=MO", starts=day("06-15"))
    due = stand(job, "06-20", done, shop("1900-01-01..2026-06-30"))
    assert dates(due) == ["06-15", "07-01"]
    assert due.governing.used is None  # not due after its base: no share of it is gone


# ---- a one-off job, raised by a finding


def test_a_one_off_job_wanted_before_the_shop_opens_is_due_as_it_opens() -> None:
    """Nothing worked before Wednesday 1 July."""
    job, where = task(once=OneOff(day("06-20"))), shop("1900-01-01..2026-06-30")
    days = ("06-04", "06-05", "06-30", "07-01", "07-02")
    found = [stand(job, on, "", where, first_applied=day("06-05")) for on in days]
    assert [due.state for due in found] == ["ok", "soon", "soon", "due", "overdue"]


def test_a_one_off_job_is_announced_from_the_day_it_is_raised_until_it_is_done() -> None:
    job = Task("TP-1", "job-9", "Replace the cracked hose", once=OneOff(day("06-13")))
    raised = day("06-05")
    found = [stand(job, on, first_applied=raised) for on in ("06-05", "06-12", "06-13", "06-14")]
    assert [due.state for due in found] == ["soon", "due", "due", "overdue"]
    assert dates(found[0]) == ["06-13", "06-12"]
    done = stand(job, "06-20", "06-12", first_applied=raised)
    assert (done.state, done.governing.due_on, done.governing.remark) == ("ok", None, "done")
    assert job.once is not None
    assert job.once.text == "once"
