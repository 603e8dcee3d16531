"""Jobs that fell due: in time, late or still open, worked by hand.

June 2026 begins on a Monday; a month from 1 June is Wednesday 1 July, with 3 days of grace.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.actions.on_time import outcomes
from pmtrack.rules.facts import Base
from pmtrack.rules.on_time import (
    DoneJob,
    JobOutcome,
    OnTime,
    UsageAtDone,
    done_outcome,
    fixed_outcomes,
    jobs_together,
    tally_outcomes,
)
from pmtrack.rules.shop import LastDone, OneOff, Shop, Task
from tests.book import Book
from tests.build import DAY, NIGHT, base, calendars, day, shop, task

LAW = "29 CFR 1910.157(e)(2)"
SUMMER = shop("07-03", "07-06..07-10")
MONTHLY = task("1 month")


def done(
    job: Task,
    since: str,
    on: str,
    usage: list[UsageAtDone] | None = None,
    where: Shop | None = None,
) -> str:
    """Due date and outcome of a job done on a day, from its base (none for the first)."""
    start: Base | None = base(since) if since else None
    meters = [interval for interval in job.every if not interval.is_calendar]
    by_interval = dict(zip(meters, usage or [], strict=True)) if start else {}
    made = DoneJob(start, base(on), by_interval)
    found = done_outcome(job, made, day("06-01"), calendars(where))
    assert (found.task, found.done_on) == (job.name, day(on[:5]))
    return f"{found.due_on:%m-%d} {found.outcome}"


# ---- done: at or before max(D, work_by) + G


@pytest.mark.parametrize(
    ("job", "since", "on", "expected", "why"),
    [
        (MONTHLY, "06-01", "06-10", "07-01 on time", "early counts too"),
        (MONTHLY, "06-01", "07-01", "07-01 on time", "on its day"),
        (MONTHLY, "06-01", "07-04", "07-01 on time", "the last day of grace"),
        (MONTHLY, "06-01", "07-05", "07-01 late", "a day after it"),
        (MONTHLY, "06-05", "07-08", "07-05 on time", "Sunday and 3 days"),
        (
            MONTHLY,
            "06-05",
            "07-09",
            "07-05 late",
            "grace counts from the due date, not from Friday",
        ),
        (task("1 month", grace="0 days"), "06-01", "07-02", "07-01 late", "no grace"),
        (task("1 month", authority=LAW), "06-05", "07-05", "07-05 on time", "the law's own day"),
        (task("1 month", authority=LAW), "06-05", "07-06", "07-05 late", "no grace with authority"),
        (MONTHLY, "", "06-04", "06-01 on time", "the first: from the day first applied, grace 3"),
        (MONTHLY, "", "06-05", "06-01 late", "and a day late"),
        (task("1 month", starts=day("06-10")), "", "06-13", "06-10 on time", "or from starts"),
        (task("500 hits"), "", "06-02", "06-01 late", "a first job by usage alone has no grace"),
        (
            task(code="job-9", once=OneOff(day("06-12"))),
            "",
            "06-12",
            "06-12 on time",
            "a one-off job on the day it was wanted",
        ),
        (task(code="job-9", once=OneOff(day("06-12"))), "", "06-13", "06-12 late", "a day after"),
    ],
)
def test_a_job_is_on_time_up_to_the_end_of_its_grace(
    job: Task, since: str, on: str, expected: str, why: str
) -> None:
    assert done(job, since, on) == expected, why


def test_grace_counts_from_the_first_day_of_work_after_a_shutdown() -> None:
    """Due on Thursday 9 July, work by Monday 13 July, one day of grace."""
    assert done(task("1 week"), "07-02", "07-14", where=SUMMER) == "07-09 on time"
    assert done(task("1 week"), "07-02", "07-15", where=SUMMER) == "07-09 late"
    lawful = task("1 week", authority=LAW)
    assert done(lawful, "07-02", "07-13", where=SUMMER) == "07-09 late"


# ---- by usage: at the completion at most U + G; D the day usage reached U


@pytest.mark.parametrize(
    ("usage", "expected", "why"),
    [
        (UsageAtDone(None, False), "06-10 on time", "done before its time: due on that day"),
        (UsageAtDone(day("06-08"), False), "06-08 on time", "reached on Monday, within the grace"),
        (UsageAtDone(day("06-08"), True), "06-08 late", "and past it"),
        (UsageAtDone(day("06-12"), False), "06-10 on time", "never later than its completion"),
    ],
)
def test_a_usage_job_is_judged_by_usage_at_its_completion(
    usage: UsageAtDone, expected: str, why: str
) -> None:
    assert done(task("500 hits"), "05-04", "06-10", [usage]) == expected, why


@pytest.mark.parametrize(
    ("on", "hits", "hours", "expected", "why"),
    [
        ("06-20", UsageAtDone(None, False), UsageAtDone(None, False), "06-20 on time", "early"),
        (
            "07-01",
            UsageAtDone(day("06-25"), False),
            UsageAtDone(day("06-18"), False),
            "06-18 on time",
            "due on the earliest of the three",
        ),
        (
            "07-01",
            UsageAtDone(day("06-25"), False),
            UsageAtDone(day("06-18"), True),
            "06-18 late",
            "one of them was overdue",
        ),
        (
            "07-06",
            UsageAtDone(None, False),
            UsageAtDone(None, False),
            "07-01 late",
            "by the calendar",
        ),
    ],
)
def test_a_job_of_several_intervals_is_on_time_if_none_was_overdue(
    on: str, hits: UsageAtDone, hours: UsageAtDone, expected: str, why: str
) -> None:
    assert done(task("1 month, 500 hits, 90 hours"), "06-01", on, [hits, hours]) == expected, why


# ---- fixed schedules: first Mondays 1 June, 6 July, 3 August, 7 September


FIXED = task(on="FREQ=MONTHLY;BYDAY=1MO", starts=day("06-01"))


def fixed(completions: str, last: str, as_of: str, job: Task = FIXED) -> list[str]:
    """Each date up to `last`, and how it ended, as known on a day."""
    days = [day(text) for text in completions.split()]
    found = fixed_outcomes(job, days, (day(last), day(as_of)), (day("01-02"), calendars()))
    return [f"{job.due_on:%m-%d} {job.outcome}" for job in found]


@pytest.mark.parametrize(
    ("completions", "last", "as_of", "expected", "why"),
    [
        ("06-01 07-06", "07-31", "08-31", ["06-01 on time", "07-06 on time"], "on their days"),
        ("05-30 07-08", "07-31", "08-31", ["06-01 on time", "07-06 on time"], "lead 3, grace 3"),
        ("06-04 07-10", "07-31", "08-31", ["06-01 on time", "07-06 late"], "grace 3 in each"),
        ("06-05", "06-30", "08-31", ["06-01 late"], "four days late"),
        (
            "06-01 08-03",
            "08-31",
            "08-31",
            ["06-01 on time", "07-06 late", "08-03 on time"],
            "a missed date is late once the next completion settles it",
        ),
        ("06-01", "07-31", "07-09", ["06-01 on time", "07-06 open"], "the window is still open"),
        ("06-01", "07-31", "07-10", ["06-01 on time", "07-06 late"], "and past"),
        ("06-01", "06-30", "07-10", ["06-01 on time"], "dates after the period are left out"),
        ("08-03 06-01 07-06", "07-31", "08-31", ["06-01 on time", "07-06 on time"], "any order"),
        ("", "05-31", "08-31", [], "nothing was due yet"),
    ],
)
def test_each_date_of_a_schedule_is_judged(
    completions: str, last: str, as_of: str, expected: list[str], why: str
) -> None:
    assert fixed(completions, last, as_of) == expected, why


def test_the_day_of_a_completion_is_told_with_the_date_it_settles() -> None:
    found = fixed_outcomes(
        FIXED, [day("06-04")], (day("07-31"), day("07-07")), (day("01-02"), calendars())
    )
    assert [job.done_on for job in found] == [day("06-04"), None]


def test_a_schedule_that_has_ended_has_no_more_dates() -> None:
    job = task(on="FREQ=MONTHLY;BYDAY=1MO;COUNT=1", starts=day("06-01"))
    assert fixed("06-01", "12-31", "12-31", job) == ["06-01 on time"]


# ---- the share


@pytest.mark.parametrize(
    ("on_time", "late", "still_open", "share"),
    [
        (3, 1, 0, Fraction(3, 4)),
        (3, 1, 5, Fraction(3, 4)),  # open ones are left out
        (0, 2, 0, Fraction(0)),
        (0, 0, 4, None),  # nothing is decided
        # SMRP Best Practices, metric on work-order compliance (quoted): 318 of 384 is 82.8 %
        (318, 66, 0, Fraction(318, 384)),
    ],
)
def test_the_share_is_of_the_jobs_that_are_decided(
    on_time: int, late: int, still_open: int, share: Fraction | None
) -> None:
    assert OnTime(on_time, late, still_open).share == share
    kinds = ["on time"] * on_time + ["late"] * late + ["open"] * still_open
    made = [JobOutcome("TP-1/service", day("06-01"), None, kind) for kind in kinds]
    assert tally_outcomes(made) == OnTime(on_time, late, still_open)


@given(st.lists(st.sampled_from(["on time", "late", "open"])))
def test_every_job_is_counted_once(kinds: list[str]) -> None:
    made = [JobOutcome("TP-1/service", day("06-01"), None, kind) for kind in kinds]
    found = tally_outcomes(made)
    assert found.on_time + found.late + found.open == len(kinds)
    assert found.share is None or 0 <= found.share <= 1


# ---- from the facts of a shop


def told(book: Book, first: str, last: str, on: str) -> list[str]:
    """Due date and outcome of the jobs of TP-1/service due in a period, as known on a day."""
    view = book.view(on)
    found = outcomes(view, view.task("TP-1/service"), day(first), day(last))
    return [f"{job.due_on:%m-%d} {job.outcome}" for job in found]


def test_jobs_are_counted_in_the_period_they_fall_due_in() -> None:
    """Due at first on 2 January, on which it was applied; from 1 June on each month."""
    book = Book([MONTHLY])
    book.done("service", "06-01T10:00")
    book.done("service", "07-03T10:00")
    book.done("service", "08-09T10:00")  # due on 3 August, grace 3
    assert told(book, "06-01", "06-30", "09-01") == []
    assert told(book, "07-01", "07-31", "09-01") == ["07-01 on time"]
    assert told(book, "08-01", "08-31", "09-01") == ["08-03 late"]
    assert told(book, "08-01", "08-31", "08-05") == ["08-03 open"]
    assert told(book, "08-01", "08-31", "08-07") == ["08-03 late"]  # past it, not yet done
    assert told(book, "01-01", "12-31", "08-09") == [
        "01-02 late",
        "07-01 on time",
        "08-03 late",
        "09-09 open",
    ]


def test_what_came_before_the_store_is_not_judged() -> None:
    """last_done of 1 June is where the first judged interval begins."""
    book = Book([task("1 month", last_done=LastDone(day("06-01")))])
    book.done("service", "07-03")
    assert told(book, "01-01", "07-31", "07-31") == ["07-01 on time"]


def test_a_usage_job_is_due_on_the_day_usage_reached_its_mark() -> None:
    """From 0: 500 hits on Wednesday 3 June at 200 a day; done on Friday at 1000, past 550."""
    book = Book([task("500 hits")])
    book.done("service", "05-29")
    for on in ("06-01", "06-02", "06-03", "06-04", "06-05"):
        book.count(on, 200)
    book.done("service", "06-05")
    assert told(book, "06-01", "06-05", "06-05") == ["06-03 late"]
    # and the next, at 200 a day, on the third working day
    assert told(book, "06-06", "06-30", "06-05") == ["06-10 open"]


def test_a_usage_job_done_within_its_grace_is_on_time() -> None:
    """540 of 500 and 50: reached on Tuesday, done on Tuesday night before the next count."""
    book = Book([task("500 hits")])
    book.done("service", "05-29")
    book.count("06-01", 300)
    book.count("06-02", 240)
    book.done("service", "06-02T20:00")
    book.count("06-03", 900)
    assert told(book, "06-01", "06-02", "06-03") == ["06-02 on time"]


def test_a_usage_job_done_early_is_due_on_the_day_it_was_done() -> None:
    book = Book([task("500 hits")], shop(shifts=(DAY, NIGHT)))
    book.done("service", "05-29")
    book.count("06-01", 300)
    book.done("service", "06-02T20:00")
    assert told(book, "06-01", "06-02", "06-02") == ["06-02 on time"]


def test_a_usage_job_of_a_meter_without_entries_is_due_when_it_is_done() -> None:
    book = Book([task("500 hits")])
    book.done("service", "05-29")
    book.done("service", "06-12")
    assert told(book, "06-01", "06-30", "06-12") == ["06-12 on time"]


def test_jobs_of_several_machines_are_added_up_kind_by_kind() -> None:
    assert jobs_together([OnTime(1, 2, 4), OnTime(8, 16, 32)]) == OnTime(9, 18, 36)
    assert jobs_together([]) == OnTime(0, 0, 0)


@pytest.mark.parametrize(
    ("when", "expected"),
    [("06-02T20:00", "06-02 on time"), ("06-03", "06-02 late"), ("06-05", "06-02 late")],
)
def test_a_usage_job_that_the_law_demands_is_late_after_its_day(when: str, expected: str) -> None:
    """500 of 500 hits on Tuesday 2 June, none since: overdue on Wednesday, as on the list."""
    book = Book([task("500 hits", authority=LAW)])
    book.done("service", "05-29")
    book.count("06-01", 300)
    book.count("06-02", 200)
    assert book.due("service", "06-03").state == "overdue"
    book.done("service", when)
    assert told(book, "06-01", "06-30", "06-05")[0] == expected
