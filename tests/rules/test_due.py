"""One task on one day: which interval governs, and what stands in place of its state.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pmtrack.rules.due import TaskDue
from pmtrack.rules.facts import Deferral
from pmtrack.rules.shop import Task
from pmtrack.rules.situation import MeterView, UsageBase
from pmtrack.rules.usage import Tally, fold
from tests.book import Book
from tests.build import (
    ONE_DAY,
    at,
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
MONTHLY = task("1 month")


HOURS = task("500 hours")
FRIDAY = "06-05"

# ---- several intervals


@pytest.mark.parametrize(
    ("on", "usage", "state", "governs", "why"),
    [
        ("06-10", 0, "ok", "1 month", "both ok: the earlier D, 1 July; 500 hours has none"),
        ("06-10", 460, "soon", "500 hours", "the worst state"),
        ("06-29", 0, "soon", "1 month", "the worst state"),
        ("06-29", 460, "soon", "1 month", "equal states: the one with a D"),
        ("07-01", 460, "due", "1 month", "due goes before soon"),
        ("07-01", 560, "overdue", "500 hours", "overdue goes before due"),
        ("07-05", 560, "overdue", "500 hours", "equal states: reached on 10 June, before 1 July"),
    ],
)
def test_the_interval_in_the_worst_state_governs(
    on: str, usage: int, state: str, governs: str, why: str
) -> None:
    view = read(usage, on, None)
    reached = MeterView(view.standing, UsageBase(Fraction(0), False, day("06-10")))
    due = stand(
        task("1 month, 500 hours"),
        on,
        "06-01",
        meters={"hours": reached if usage >= 500 else view},
    )
    assert (due.state, due.governing.rule.text) == (state, governs), why
    assert [rule.rule.text for rule in due.rules] == ["1 month", "500 hours"]


def test_quarterly_or_750_operating_hours_whichever_first() -> None:
    """California Title 8, 5031(c): cranes at least four times a year and never more than 750
    operating hours apart. Last inspection 2026-01-15 at 1200 h, 15 h each weekday from 16 January:
    1950 h or 15 April. 750 h are 50 working days; the 50th is Thursday 26 March.
    """
    job = task("3 months, 750 hours", authority="Cal. Code Regs. title 8 s. 5031(c)")
    reading = dial("2026-01-15T15:00", 1200)
    at_base = UsageBase(Fraction(1200))
    for logged in (5, 20, 49):  # the date is the same however far the log has come
        entries = [reading, *weekday_counts("2026-01-16", *[15] * logged)]
        last = str(entries[-1].day)
        view = MeterView(meter_at(entries, last), at_base)
        due = stand(job, last, "2026-01-15T15:00", meters={"hours": view})
        assert [rule.due_on for rule in due.rules] == [day("2026-04-15"), day("2026-03-26")]
    entries = [reading, *weekday_counts("2026-01-16", *[15] * 50)]
    assert str(entries[-1].day) == "2026-03-26"
    reached = UsageBase(Fraction(1200), False, day("2026-03-26"))
    for on, state in (("2026-03-26", "due"), ("2026-03-27", "overdue")):
        view = MeterView(meter_at(entries, on), reached)
        due = stand(job, on, "2026-01-15T15:00", meters={"hours": view})
        assert (due.state, due.governing.rule.text) == (state, "750 hours")
        assert due.governing.due_on == day("2026-03-26")
        assert due.governing.usage == 1950


# ---- deferred, paused, retired

PUT_OFF = Deferral(7, at("07-02T09:00"), day("07-10"), "no seal kit")


@pytest.mark.parametrize(
    ("on", "state"),
    [  # D 1 July; soon from 28 June, overdue from 5 July on
        ("06-27", "ok"),  # nothing to put off yet
        ("07-04", "deferred"),
        ("07-10", "deferred"),  # through its end date
        ("07-11", "overdue"),
    ],
)
def test_a_deferral_stands_in_place_of_the_state_through_its_end_date(on: str, state: str) -> None:
    due = stand(MONTHLY, on, "06-01", deferral=PUT_OFF)
    assert due.state == state
    assert due.governing.state in ("ok", "due", "overdue")
    assert dates(due) == ["07-01", "07-01"]


def test_paused_goes_before_deferred_and_only_in_place_of_what_is_listed() -> None:
    due = stand(MONTHLY, "07-04", "06-01", deferral=PUT_OFF, out_of_service=True)
    assert (due.state, due.governing.state) == ("paused", "due")
    assert stand(MONTHLY, "06-10", "06-01", out_of_service=True).state == "ok"


def test_a_usage_task_has_no_date_while_its_machine_is_out_of_service() -> None:
    view = read(470, FRIDAY, 10, spread=5)
    due = stand(HOURS, FRIDAY, "05-01", meters={"hours": view}, out_of_service=True)
    found = due.governing
    assert (due.state, found.due_on, found.work_by, found.due_range) == ("paused", None, None, None)
    assert found.used == Fraction(470, 500)


@pytest.mark.parametrize(
    ("on", "state"), [("07-04", "due"), ("07-05", "retired"), ("08-01", "retired")]
)
def test_a_task_is_retired_from_that_day_on(on: str, state: str) -> None:
    assert stand(MONTHLY, on, "06-01", retired_on=day("07-05")).state == state
    paused = stand(MONTHLY, on, "06-01", retired_on=day("07-05"), out_of_service=True)
    assert paused.state == ("paused" if state == "due" else "retired")


def test_a_deferral_ends_when_the_task_is_done_and_a_later_one_replaces_it() -> None:
    book = Book([MONTHLY])
    book.done("service", "06-01T10:00")
    book.defer("service", "07-02T09:00", "07-20")
    assert [book.due("service", on).state for on in ("07-01", "07-02", "07-20", "07-21")] == [
        "due",
        "deferred",
        "deferred",
        "overdue",
    ]
    book.defer("service", "07-03T09:00", "07-08")  # replaces the longer one
    assert [book.due("service", on).state for on in ("07-02", "07-08", "07-09")] == [
        "deferred",
        "deferred",
        "overdue",
    ]
    done = book.done("service", "07-06T09:00")  # D 6 August, soon from 3 August on
    book.defer("service", "08-03T09:00", "08-04")
    assert [book.due("service", on).state for on in ("07-06", "08-03", "08-05")] == [
        "ok",
        "deferred",
        "soon",
    ]
    book.void(done)  # never done: the deferral of August is the latest, and over
    assert book.due("service", "07-08").state == "deferred"
    assert book.due("service", "08-05").state == "overdue"


def test_a_completion_before_a_deferral_does_not_end_it() -> None:
    book = Book([MONTHLY])
    book.done("service", "06-01T10:00")
    book.defer("service", "07-02T09:00", "07-20")
    book.done("service", "05-20T10:00")  # a late entry of an older completion: no new base
    assert book.due("service", "07-10").state == "deferred"


def test_the_day_a_machine_returns_its_task_stands_where_it_would_have_stood() -> None:
    book = Book([MONTHLY])
    book.done("service", "06-01T10:00")
    book.service("06-10T08:00", out=True)
    book.service("07-20T08:00", out=False)
    found = [book.due("service", on).state for on in ("06-27", "06-30", "07-19", "07-20")]
    assert found == ["ok", "paused", "paused", "overdue"]


def test_days_out_of_service_are_no_working_days_of_a_machines_meters() -> None:
    """100 a day to 5 June (500 entered), 300 to go; out from Monday 8 to Friday 12 June."""
    book = Book([task("800 hits")])
    book.done("service", "05-29")
    for number in range(1, 6):
        book.count(f"06-0{number}", 100)
    assert dates(book.due("service", "06-05"))[0] == "06-10"
    book.service("06-08T08:00", out=True)
    book.service("06-12T08:00", out=False)  # at Friday's end it is back
    assert book.due("service", "06-09").governing.due_on is None
    # Friday 12, Monday 15, Tuesday 16
    assert dates(book.due("service", "06-12"))[0] == "06-16"
    due = book.due("service", "06-15")
    assert [due.governing.usage, due.governing.estimated] == [600, True]


# ---- laws

CALENDAR = st.builds(
    lambda amount, unit: task(f"{amount} {unit}"),
    st.integers(1, 14),
    st.sampled_from(["day", "week", "month"]),
)
BASES = st.dates(date(2026, 1, 1), date(2026, 12, 31))
RANK = {"ok": 0, "soon": 1, "due": 2, "overdue": 3}


@given(CALENDAR, BASES, st.integers(0, 450), st.integers(0, 60))
def test_a_calendar_state_never_goes_back_while_nothing_is_done(
    job: Task, since: date, after: int, later: int
) -> None:
    early = stand(job, since + timedelta(after), str(since), SUMMER)
    late = stand(job, since + timedelta(after + later), str(since), SUMMER)
    assert RANK[early.state] <= RANK[late.state]


@given(st.dates(date(2026, 1, 1), date(2026, 6, 30)), st.integers(0, 200), st.integers(0, 60))
def test_a_fixed_state_never_goes_back_while_nothing_is_done(
    since: date, after: int, later: int
) -> None:
    job = task(on="FREQ=MONTHLY;BYMONTHDAY=5,20", starts=day("2026-01-01"))
    early = stand(job, since + timedelta(after), str(since), SUMMER)
    late = stand(job, since + timedelta(after + later), str(since), SUMMER)
    assert RANK[early.state] <= RANK[late.state]


@given(
    st.integers(0, 600),
    st.integers(0, 80),
    st.integers(0, 60),
    st.integers(0, 30),
    st.sampled_from(["", LAW]),
)
def test_a_usage_state_never_goes_back_while_the_rate_stays(
    usage: int, rate: int, after: int, later: int, authority: str
) -> None:
    assume(usage < 500)
    view = read(usage, FRIDAY, rate)
    job = task("500 hours", authority=authority or None)
    first = day(FRIDAY) + timedelta(after)
    early = stand(job, first, "05-01", meters={"hours": view})
    late = stand(job, first + timedelta(later), "05-01", meters={"hours": view})
    assert RANK[early.state] <= RANK[late.state]


def due_with(counts: list[int], amount: int, on: str, expected: int | None) -> TaskDue:
    """A task with a usage interval from before the first of daily counts."""
    entries = weekday_counts("06-01", *counts)
    total, reached = Fraction(0), None
    for entry, tally in zip(entries, fold(entries, Tally(), None), strict=True):
        if total < amount <= tally.usage:
            reached = entry.day
        total = tally.usage
    view = MeterView(meter_at(entries, on, expected), UsageBase(Fraction(0), False, reached))
    return stand(task(f"{amount} hours"), on, "05-29", meters={"hours": view})


@given(
    st.lists(st.integers(0, 100), min_size=1, max_size=22),
    st.tuples(st.integers(0, 21), st.integers(1, 100)),
    st.integers(1, 3000),
    st.integers(0, 20),
    st.none() | st.integers(1, 50),
)
def test_more_hits_never_make_a_job_due_later(
    counts: list[int],
    raise_by: tuple[int, int],
    amount: int,
    later: int,
    expected: int | None,
) -> None:
    place = raise_by[0] % len(counts)
    more = [*counts[:place], counts[place] + raise_by[1], *counts[place + 1 :]]
    on = str(weekday_counts("06-01", *counts)[-1].day + later * ONE_DAY)
    fewer_hits = due_with(counts, amount, on, expected)
    more_hits = due_with(more, amount, on, expected)
    assert (more_hits.governing.due_on or date.max) <= (fewer_hits.governing.due_on or date.max)
    assert RANK[more_hits.state] >= RANK[fewer_hits.state]


@given(CALENDAR, BASES, st.integers(0, 400))
def test_a_window_is_in_order(job: Task, since: date, after: int) -> None:
    found = stand(job, since + timedelta(after), str(since), SUMMER).governing
    assert found.due_on is not None
    assert found.work_by is not None
    assert since < found.due_on
    assert since < found.work_by
    assert found.grace >= 0
    assert found.lead >= 0
