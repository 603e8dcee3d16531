"""The jobs to come, each counted as done on its planned day: chains worked by hand, and laws.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import Deferral
from pmtrack.rules.forecast import (
    Chain,
    PlannedJob,
    Starting,
    first_working_day,
    forecast,
)
from pmtrack.rules.intervals import add_interval
from pmtrack.rules.rate import Rate, Standing
from pmtrack.rules.shop import OneOff, Shop, Task
from pmtrack.rules.situation import MeterView, Situation, UsageBase
from pmtrack.rules.windows import Windows
from pmtrack.rules.workdays import Workdays
from tests.build import at, base, calendars, day, meter_at, read, shop, task, views

SUMMER = shop("07-03", "07-06..07-10")  # a holiday Friday, then a week of shutdown
MONTHLY = task("1 month", code="monthly")
HALF_YEAR = task("6 months", code="half-year", covers=("monthly",))
COVERED = {"TP-1/half-year": ("TP-1/monthly",)}


def starting(job: Task, on: str, since: str = "", done: int = 0, **known: object) -> Starting:
    """Where a task stands on a day, done so often before."""
    meters = known.pop("meters", {})
    situation = Situation(
        day=day(on),
        first_applied=day("01-02"),
        base=base(since) if since else None,
        meters=views(job, meters),  # type: ignore[arg-type]
        **known,  # type: ignore[arg-type]
    )
    return Starting(job, situation, done)


def jobs(
    *starts: Starting,
    last: str,
    covered: Mapping[str, tuple[str, ...]] | None = None,
    where: Shop | None = None,
) -> list[PlannedJob]:
    """The jobs due by a date."""
    return forecast(starts, covered or {}, calendars(where), day(last))


def planned(found: list[PlannedJob]) -> list[str]:
    """Each job's planned day, and its due date where that is another."""
    days = [(f"{job.day:%m-%d}", f"{job.due_on:%m-%d}") for job in found]
    return [on if on == due else f"{on} ({due})" for on, due in days]


# ---- one task


@pytest.mark.parametrize(
    ("start", "last", "where", "expected"),
    [
        # each month from its planned day; due on Sundays and in the shutdown: the day before
        (
            starting(MONTHLY, "06-03", "06-01"),
            "12-31",
            "",
            "07-01 07-31 (08-01) 08-31 09-30 10-30 11-30 12-30",
        ),
        # 1 July, then Saturday 1 August: Friday; 31 July + 1 month is 31 August
        (
            starting(task("1 week"), "06-26", "06-25"),
            "07-31",
            "summer",
            "07-02 07-13 (07-09) 07-20 07-27",
        ),
        # overdue: as soon as possible, today or the next working day, and from there on
        (starting(MONTHLY, "06-12", "04-01"), "08-31", "", "06-12 (05-01) 07-10 (07-12) 08-10"),
        (starting(MONTHLY, "06-13", "04-01"), "08-31", "", "06-15 (05-01) 07-15 08-14 (08-15)"),
        # never done: at its start
        (
            starting(task("1 month", starts=day("06-13")), "06-01"),
            "08-01",
            "",
            "06-12 (06-13) 07-10 (07-12)",
        ),
        # a date past the last one asked about is left out
        (starting(MONTHLY, "06-03", "06-01"), "06-30", "", ""),
    ],
)
def test_a_task_recurs_from_its_planned_days(
    start: Starting, last: str, where: str, expected: str
) -> None:
    found = jobs(start, last=last, where=SUMMER if where else None)
    assert " ".join(planned(found)) == expected


def test_a_fixed_schedule_keeps_its_dates() -> None:
    """First Mondays; 6 July lies in the shutdown."""
    job = task(on="FREQ=MONTHLY;BYDAY=1MO", starts=day("06-01"))
    found = jobs(starting(job, "06-03", "06-01"), last="10-31", where=SUMMER)
    assert planned(found) == ["07-02 (07-06)", "08-03", "09-07", "10-05"]
    assert [planned_job.key for planned_job in found] == [
        "TP-1/service@2026-07-06",
        "TP-1/service@2026-08-03",
        "TP-1/service@2026-09-07",
        "TP-1/service@2026-10-05",
    ]


def test_missed_dates_of_a_schedule_make_one_job() -> None:
    """Last done on 2 March; on 3 June the dates of April, May and June are missed."""
    job = task(on="FREQ=MONTHLY;BYDAY=1MO", starts=day("01-05"))
    found = jobs(starting(job, "06-03", "03-02"), last="08-31")
    assert planned(found) == ["06-03 (04-06)", "07-06", "08-03"]


def test_a_schedule_that_ends_has_no_more_jobs() -> None:
    job = task(on="FREQ=MONTHLY;BYDAY=1MO;COUNT=2", starts=day("06-01"))
    assert planned(jobs(starting(job, "05-20"), last="12-31")) == ["06-01", "07-06"]


def test_a_usage_interval_recurs_by_the_rate() -> None:
    """400 of 500 on Friday 5 June at 25 a day: 4 working days, then 20 each time."""
    view = read(400, "06-05", 25)
    found = jobs(starting(task("500 hits"), "06-05", "05-01", meters={"hits": view}), last="08-31")
    assert planned(found) == ["06-11", "07-09", "08-06"]


def test_what_was_used_since_the_last_entry_counts_in_the_next_run() -> None:
    """Asked on Wednesday 10 June, overdue since Monday 8: done on the 10th, 20 days from there."""
    view = read(490, "06-05", 25)
    found = jobs(starting(task("500 hits"), "06-10", "05-01", meters={"hits": view}), last="07-31")
    assert planned(found) == ["06-10 (06-08)", "07-08"]


def test_a_meter_without_entries_recurs_by_what_is_expected() -> None:
    view = MeterView(meter_at([], "06-05", 25), UsageBase(Fraction(0)))
    start = starting(task("500 hits"), "06-05", "06-01", meters={"hits": view})
    assert planned(jobs(start, last="08-31")) == ["06-29", "07-27", "08-24"]


def test_of_several_intervals_the_earliest_due_date_makes_the_job() -> None:
    """A month is Wednesday 1 July; 500 hits at 50 a day come on Monday 15 June."""
    view = read(0, "06-01", 50)
    start = starting(task("1 month, 500 hits"), "06-01", "06-01", meters={"hits": view})
    found = jobs(start, last="06-30")
    assert planned(found) == ["06-15", "06-29"]
    assert {job.rule.rule.text for job in found} == {"500 hits"}


def test_a_task_without_any_date_has_no_job() -> None:
    view = MeterView(meter_at([], "06-05"), UsageBase(Fraction(0)))
    start = starting(task("500 hits"), "06-05", "06-01", meters={"hits": view})
    assert jobs(start, last="12-31") == []


def test_a_task_never_done_whose_meter_nobody_reads_has_its_first_job_alone() -> None:
    start = starting(task("500 hits", starts=day("06-10")), "06-05")
    assert planned(jobs(start, last="12-31")) == ["06-10"]


def test_a_one_off_job_comes_once() -> None:
    job = task(code="job-9", once=OneOff(day("06-20")))
    found = jobs(starting(job, "06-15"), last="12-31")
    assert planned(found) == ["06-19 (06-20)"]
    assert found[0].key == "TP-1/job-9"
    assert jobs(starting(job, "06-15", "06-12"), last="12-31") == []


@pytest.mark.parametrize(
    ("until", "expected"),
    [
        ("06-20", "07-01 07-31 (08-01)"),  # over before the job is due
        ("07-08", "07-08 (07-01) 08-07 (08-08)"),
        ("07-12", "07-10 (07-01) 08-10"),  # a Sunday: the last working day of it
    ],
)
def test_a_job_put_off_is_planned_for_the_end_of_its_deferral(until: str, expected: str) -> None:
    put_off = Deferral(7, at("06-02T09:00"), day(until), "no seal kit")
    found = jobs(starting(MONTHLY, "06-03", "06-01", deferral=put_off), last="08-15")
    assert " ".join(planned(found)) == expected


# ---- several tasks


def test_a_job_settles_those_that_it_covers() -> None:
    """The half-year job of 1 July is due on the day of the monthly one, and goes first."""
    found = jobs(
        starting(MONTHLY, "06-03", "06-01"),
        starting(HALF_YEAR, "06-03", "01-01"),
        covered=COVERED,
        last="08-31",
    )
    listed = [f"{job.task.code} {job.day:%m-%d}" for job in found]
    assert listed == ["half-year 07-01", "monthly 07-31", "monthly 08-31"]
    assert [job.key.split("/")[1] for job in found] == ["half-year#1", "monthly#2", "monthly#3"]


def test_on_one_day_the_job_that_covers_another_goes_first_whatever_its_name() -> None:
    yearly = task("1 year", code="yearly", covers=("monthly",))
    found = jobs(
        starting(MONTHLY, "06-03", "06-01"),
        starting(yearly, "06-03", "2025-07-01"),
        covered={"TP-1/yearly": ("TP-1/monthly",)},
        last="07-15",
    )
    assert [job.task.code for job in found] == ["yearly"]


def test_without_covering_one_another_both_jobs_stand() -> None:
    found = jobs(
        starting(MONTHLY, "06-03", "06-01"), starting(HALF_YEAR, "06-03", "01-01"), last="07-15"
    )
    assert [job.task.code for job in found] == ["half-year", "monthly"]


def test_a_covered_task_that_is_not_asked_about_is_left_alone() -> None:
    found = jobs(starting(HALF_YEAR, "06-03", "01-01"), covered=COVERED, last="07-15")
    assert [job.task.code for job in found] == ["half-year"]


def test_a_covering_job_done_before_does_not_set_a_newer_base_back() -> None:
    """The monthly job was done ahead, as of Wednesday 1 July; the half-year job comes on 1 July."""
    found = jobs(
        starting(MONTHLY, "06-30", "07-01"),
        starting(HALF_YEAR, "06-30", "01-01"),
        covered=COVERED,
        last="08-15",
    )
    assert [job.key.split("/")[1] for job in found] == ["half-year#1", "monthly#1"]


# ---- names that last


def test_a_job_keeps_its_name_until_it_is_done() -> None:
    before = jobs(starting(MONTHLY, "06-03", "06-01", done=4), last="09-30")
    later = jobs(starting(MONTHLY, "06-20", "06-01", done=4), last="09-30")
    assert [job.key for job in before] == [job.key for job in later]
    assert before[0].key == "TP-1/monthly#5"
    done = jobs(starting(MONTHLY, "07-03", "07-02", done=5), last="09-30")
    assert done[0].key == before[1].key


@pytest.mark.parametrize(
    ("job", "lead"),
    [("1 month", 3), ("1 year", 7), ("500 hits", 7)],  # of usage alone, a week ahead
)
def test_a_job_tells_how_far_ahead_it_is_announced(job: str, lead: int) -> None:
    view = read(400, "06-05", 25)
    found = jobs(starting(task(job), "06-05", "06-01", meters={"hits": view}), last="2027-12-31")
    assert found[0].lead_days == lead
    early = jobs(
        starting(task(job, lead="12 days"), "06-05", "06-01", meters={"hits": view}),
        last="2027-12-31",
    )
    assert early[0].lead_days == 12


def test_what_was_planned_before_is_no_part_of_how_a_task_stands() -> None:
    """So that tasks that stand alike can share their way through a quarter."""
    start = starting(MONTHLY, "06-02", "06-01")
    other = Chain.of(start, calendars(), Windows(), {"TP-1/monthly#1": day("06-30")})
    plain = Chain.of(start, calendars(), Windows())
    assert plain == other
    assert plain.job is not None
    assert other.job is not None
    assert [plain.job.day, other.job.day] == [day("07-01"), day("06-30")]


def test_after_a_job_a_meter_stands_where_its_rate_brings_it() -> None:
    """10 a working day from 40 on Monday 1 June: 140 by Monday 15 June, where it begins anew."""
    job = task("500 hours")
    known = {"hours": replace(read(40, "06-01", 10), at_base=UsageBase(Fraction(7)))}
    start = Chain.of(starting(job, "06-02", "06-01", meters=known), calendars(), Windows())
    after = MeterView(
        Standing(Fraction(140), None, Rate(Fraction(10)), stale=False, last_day=day("06-15")),
        UsageBase(Fraction(140)),
    )
    assert start.done(day("06-15")).situation.meters == {job.every[0]: after}


def test_after_a_job_a_meter_that_nobody_reads_stands_at_its_start_and_stale() -> None:
    job = task("500 hours")
    start = Chain.of(starting(job, "06-02", "06-01"), calendars(), Windows())
    expected = MeterView(Standing(None, None, Rate(None), stale=True), UsageBase(Fraction(0)))
    assert start.done(day("06-15")).situation.meters == {job.every[0]: expected}


def test_the_first_working_day_from_a_date_on() -> None:
    days = Workdays.of(SUMMER)
    found = [first_working_day(day(on), days) for on in ("07-02", "07-03", "07-13")]
    assert found == [day("07-02"), day("07-13"), day("07-13")]
    assert first_working_day(date.max, days) == date.max


class Counted(dict[str, tuple[str, ...]]):
    """What jobs cover, asked about a thousand times at most: once or twice for each job."""

    asked = 0

    def get(self, key: str, default: object = ()) -> tuple[str, ...]:
        """As always, but not without end."""
        self.asked += 1
        assert self.asked < 1000, "the forecast does not end"
        return ()


def test_a_forecast_ends_though_usage_passed_its_mark_before_the_base_of_today() -> None:
    """`last_done` of today with a reading of 1000, while the counter showed 1500 on 2 June."""
    view = read(5000, "06-10", 25, began=1000)
    passed = MeterView(view.standing, UsageBase(Fraction(1000), False, day("06-02")))
    start = starting(task("500 hits"), "06-15", "06-15", meters={"hits": passed})
    found = forecast([start], Counted(), calendars(), day("12-31"))
    assert len(found) < 12


# ---- laws

AMOUNTS = st.tuples(st.integers(1, 9), st.sampled_from(["week", "month"]))
STARTS = st.dates(date(2026, 1, 1), date(2026, 12, 31))


def some_starts(intervals: list[tuple[int, str]], since: date, rate: int) -> list[Starting]:
    """A usage task, a fixed one, and one task for each interval, none of which covers another."""
    on = str(since)
    jobs_wanted = [
        task(f"{amount} {unit}", code=f"job-{place}")
        for place, (amount, unit) in enumerate(intervals)
    ]
    view = read(0, on, rate)
    return [
        starting(task("1000 hits", code="usage"), on, on, meters={"hits": view}),
        starting(task(on="FREQ=MONTHLY;BYMONTHDAY=31,2", code="fixed"), on, on),
        *(starting(wanted, on, on) for wanted in jobs_wanted),
    ]


@given(st.lists(AMOUNTS, max_size=3), STARTS, st.integers(5, 90), st.integers(0, 200))
def test_a_forecast_over_two_quarters_is_that_of_the_first_and_the_rest(
    intervals: list[tuple[int, str]], since: date, rate: int, cut: int
) -> None:
    starts = some_starts(intervals, since, rate)
    last = date.fromordinal(since.toordinal() + 200)
    middle = date.fromordinal(since.toordinal() + cut)
    whole = forecast(starts, {}, calendars(SUMMER), last)
    first = forecast(starts, {}, calendars(SUMMER), middle)
    assert first == [job for job in whole if job.due_on <= middle]


@given(st.lists(AMOUNTS, max_size=3), STARTS, st.integers(5, 90))
def test_jobs_come_in_order_on_working_days_under_a_name_each(
    intervals: list[tuple[int, str]], since: date, rate: int
) -> None:
    starts = some_starts(intervals, since, rate)
    last = date.fromordinal(since.toordinal() + 200)
    found = forecast(starts, {}, calendars(SUMMER), last)
    assert all(earlier.day <= later.day for earlier, later in pairwise(found))
    assert all(job.day in calendars(SUMMER).shop for job in found)
    assert all(job.day >= since for job in found)
    assert len({job.key for job in found}) == len(found)


@given(AMOUNTS, STARTS)
def test_gaps_never_exceed_the_interval_and_its_grace(
    interval: tuple[int, str], since: date
) -> None:
    """Over weekends and single holidays; only a shutdown as long as the interval may do that."""
    wanted = task(f"{interval[0]} {interval[1]}")
    last = date.fromordinal(since.toordinal() + 400)
    where = shop("05-25", "07-03", "09-07", "11-26", "12-25")
    found = jobs(starting(wanted, str(since), str(since)), last=str(last), where=where)
    days = [since, *(job.day for job in found)]
    for job, (earlier, later) in zip(found, pairwise(days), strict=True):
        assert job.due_on == add_interval(earlier, wanted.every[0])
        assert earlier < later <= job.due_on  # at most the interval, within its grace


@given(STARTS, st.integers(1, 12), st.integers(1, 28))
def test_a_covering_job_never_adds_jobs_to_what_it_covers(
    since: date, months: int, after: int
) -> None:
    on = str(since)
    small = starting(task("2 weeks", code="small"), on, on)
    big = starting(task(f"{months} months", code="big"), on, on)
    last = date.fromordinal(since.toordinal() + 300 + after)
    alone = forecast([small], {}, calendars(), last)
    both = forecast([small, big], {"TP-1/big": ("TP-1/small",)}, calendars(), last)
    kept = [job for job in both if job.task.code == "small"]
    assert len(kept) <= len(alone)
    done = [since, *sorted({job.day for job in both})]
    assert all((later - earlier).days <= 14 for earlier, later in pairwise(done))
