"""The window of a job: the day to aim for, the first and the last day on time, by hand.

1 June 2026 is a Monday; the made shop works Monday to Friday. A tenth of a month is 3 days, of two
weeks 1 day.
"""

from dataclasses import replace
from itertools import product

import pytest

from pmtrack.rules.facts import Deferral
from pmtrack.rules.shop import OneOff, Shop, Task
from pmtrack.rules.situation import MeterView, Situation
from pmtrack.rules.windows import JobWindow, Windows, job_window
from tests.build import at, base, calendars, day, read, shop, task, views

MONTHLY = task("1 month")
LAWFUL = task("1 month", authority="an inspectorate")
FIRST_MONDAYS = "FREQ=MONTHLY;BYDAY=1MO"


def window(job: Task, since: str, where: Shop | None = None, **known: object) -> JobWindow:
    """The window of a task done last on a day, asked for on 2 June."""
    meters = known.pop("meters", {})
    situation = Situation(
        day=day("06-02"),
        first_applied=day("01-02"),
        base=base(since),
        meters=views(job, meters),  # type: ignore[arg-type]
        **known,  # type: ignore[arg-type]
    )
    found = job_window(job, situation, calendars(where))
    assert found is not None
    return found


def shown(found: JobWindow) -> str:
    """Due date, day to aim for, first and last day."""
    days = (found.due_on, found.target, found.first, found.last)
    return " ".join(f"{on:%m-%d}" for on in days)


@pytest.mark.parametrize(
    ("job", "since", "expected"),
    [
        (MONTHLY, "06-01", "07-01 07-01 06-28 07-04"),
        (task("2 weeks"), "06-01", "06-15 06-15 06-14 06-16"),
        (task("6 days"), "06-02", "06-08 06-08 06-08 06-08"),  # under a week: no grace
        (task("6 months"), "06-01", "12-01 12-01 11-17 12-15"),  # 183 days, 14 at most
        # due on Sunday: the window's one working day is the Monday after
        (task("1 week"), "05-31", "06-07 06-08 06-06 06-08"),
        # due on Sunday, no grace: to do on Friday, to which the window is widened
        (task("6 days"), "06-01", "06-07 06-05 06-05 06-07"),
        # never on the base day itself
        (task("1 week", grace="7 days"), "06-01", "06-08 06-08 06-02 06-15"),
        # an authority: never after D, and no earlier than the lead
        (LAWFUL, "06-01", "07-01 07-01 06-28 07-01"),
        (
            task("1 month", authority="an inspectorate", lead="5 days"),
            "06-01",
            "07-01 07-01 06-26 07-01",
        ),
        # the first Monday: 35 days after the one before, so 3 days; a shorter lead cuts it
        (task(on=FIRST_MONDAYS, starts=day("01-05")), "06-01", "07-06 07-06 07-03 07-09"),
        (
            task(on=FIRST_MONDAYS, starts=day("01-05"), lead="1 days"),
            "06-01",
            "07-06 07-06 07-05 07-09",
        ),
        # of several intervals the earliest D, and the earliest last day
        (task("1 month, 2 weeks"), "06-01", "06-15 06-15 06-14 06-16"),
    ],
)
def test_windows_by_calendar(job: Task, since: str, expected: str) -> None:
    found = window(job, since)
    assert shown(found) == expected
    assert found.widened is (found.target < found.due_on)  # to Friday 5 June, in one case


@pytest.mark.parametrize(
    ("job", "expected"),
    [
        # 100 hours at 10 a day from 1 June: the tenth working day, 15 June; 10 hours are a day
        (task("100 hours"), "06-15 06-15 06-12 06-16"),
        (task("100 hours", grace="25 hours"), "06-15 06-15 06-11 06-17"),
        (task("100 hours", authority="an inspectorate"), "06-15 06-15 06-12 06-15"),
        (
            task("100 hours", authority="an inspectorate", lead="30 hours"),
            "06-15 06-15 06-10 06-15",
        ),
        # two weeks run out on 15 June too; with 6 hours of grace no day after counts
        (task("2 weeks, 100 hours", grace="6 hours"), "06-15 06-15 06-14 06-15"),
    ],
)
def test_windows_by_usage(job: Task, expected: str) -> None:
    assert shown(window(job, "06-01", meters={"hours": read(0, "06-01", 10)})) == expected


@pytest.mark.parametrize("rate", [None, 0])
def test_without_a_rate_there_are_no_days_of_grace(rate: int | None) -> None:
    """The interval ran out on Thursday 4 June; how long 10 hours of grace take is not known."""
    known = read(105, "06-04", rate)
    reached = MeterView(known.standing, replace(known.at_base, reached_on=day("06-04")))
    found = window(task("100 hours"), "06-01", meters={"hours": reached})
    assert (shown(found), found.widened) == ("06-04 06-04 06-04 06-04", False)


@pytest.mark.parametrize(
    ("job", "until", "expected"),
    [
        (MONTHLY, "07-10", "07-01 07-10 07-10 07-10"),
        (MONTHLY, "07-12", "07-01 07-10 07-10 07-12"),  # a Sunday: to do on Friday
        (MONTHLY, "06-20", "07-01 07-01 06-28 07-04"),  # ends before it is due
        (LAWFUL, "07-10", "07-01 07-01 06-28 07-01"),  # an authority is not put off
    ],
)
def test_a_deferral_puts_the_window_off(job: Task, until: str, expected: str) -> None:
    put_off = Deferral(1, at("06-01T08:00"), day(until), "rush order")
    assert shown(window(job, "06-01", deferral=put_off)) == expected


@pytest.mark.parametrize(
    ("job", "expected"),
    [
        (MONTHLY, "07-01 06-26 06-26 07-04"),
        (LAWFUL, "07-01 06-26 06-26 07-01"),
    ],
)
def test_a_window_that_is_closed_reaches_back_to_the_last_working_day(
    job: Task, expected: str
) -> None:
    """Closed from 29 June to 10 July: Friday 26 June."""
    found = window(job, "06-01", shop("06-29..07-10"))
    assert (shown(found), found.widened) == (expected, True)


def test_where_no_working_day_was_left_before_grace_counts_from_the_next() -> None:
    """Done on 5 June, a week on is 12 June, closed from the 6th to the 14th: 15 June and a day."""
    found = window(task("1 week"), "06-05", shop("06-06..06-14"))
    assert shown(found) == "06-12 06-15 06-11 06-16"


def test_a_one_off_job_that_is_done_has_no_window() -> None:
    job = task(once=OneOff(day("06-20")))
    situation = Situation(day=day("06-02"), first_applied=day("06-01"), base=base("06-02"))
    assert job_window(job, situation, calendars()) is None


@pytest.mark.parametrize(
    ("job", "days"),
    [
        (MONTHLY, 3),  # a tenth of 31 days, whole days
        (task("1 month", lead="12 days"), 12),
        (task("500 hours"), 7),  # by usage: a week, whatever its share (common practice)
    ],
)
def test_a_job_is_announced_so_many_days_ahead(job: Task, days: int) -> None:
    found = window(job, "05-29", meters={"hours": read(100, "06-01", 80)})
    assert found.lead_days == days


def test_windows_known_already_are_those_worked_out_anew() -> None:
    known = Windows()
    meters = {"hours": read(0, "06-01", 80), "hits": read(0, "06-01", 40)}
    jobs = [MONTHLY, LAWFUL, task("2 weeks"), task("500 hours"), task("500 hits"),
            task(on=FIRST_MONDAYS, starts=day("01-05")), task(on=FIRST_MONDAYS),
            task("1 month", grace="1 day"), task("1 month", lead="20 days"),
            task("1 month", starts=day("06-20")), task("500 hours", starts=day("06-20")),
            task("1 month, 500 hours")]  # fmt: skip
    for since in ("05-29", "05-04", None, "05-29", None):
        for first_applied, job in product(("01-02", "05-30"), jobs):
            told = Situation(
                day("06-02"),
                day(first_applied),
                base=base(since) if since else None,
                meters=views(job, meters),
            )
            again = job_window(job, told, calendars())
            for _ in range(2):
                assert known.of(job, told, calendars()) == again


def test_windows_are_kept_for_each_calendar_of_a_machine_where_it_bears_on_them() -> None:
    """100 hours at 10 a day are 15 June; out on the 8th and 9th a machine has them on the 17th.

    What runs by the calendar is the same for both, and worked out once.
    """
    out = calendars().machine.without([(day("06-08"), day("06-10"))])
    both = [calendars(), replace(calendars(), machine=out)]
    found = {}
    for job in (task("100 hours"), MONTHLY):
        known, meters = Windows(), views(job, {"hours": read(0, "06-01", 10)})
        told = Situation(day("06-02"), day("01-02"), base=base("06-01"), meters=meters)
        found[job] = [known.of(job, told, where) for where in both]
        assert known.of(job, told, both[0]) is found[job][0]
    first, second = found[task("100 hours")]
    assert first is not None
    assert second is not None
    assert [first.due_on, second.due_on] == [day("06-15"), day("06-17")]
    assert found[MONTHLY][0] is found[MONTHLY][1]
