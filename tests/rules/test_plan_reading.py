"""From the steps chosen for a task to its jobs, and the words on them, by hand.

Every two weeks, done on Monday 1 June 2026: due on 15 June, from Friday 12 to Thursday 18 June.
"""

from dataclasses import replace

import pytest

from pmtrack.rules.forecast import Chain
from pmtrack.rules.plan import PlacedJob, UnfitJob
from pmtrack.rules.plan_reading import Jobs, read_way, reasons
from pmtrack.rules.plan_steps import (
    END,
    LAST,
    LEFT_OUT,
    OWN,
    SETTLED,
    START,
    Ground,
    Step,
    Wishes,
)
from pmtrack.rules.shop import Task
from tests.build import calendars, day, read, shop, stand, task
from tests.rules.test_plan_steps import JOB, LAWFUL, chain, ground, wishes

PLAIN = wishes()


def way(*steps: str) -> list[Step]:
    """Steps like `06-15 own`, each from where the one before led to."""
    found, tail = [], START
    for text in steps:
        on, _, kind = text.partition(" ")
        head = END if on == "end" else day(on).toordinal()
        found.append(Step(tail, head, kind))
        tail = head
    return found


def jobs(start: Chain, where: Ground, known: Wishes, *steps: str) -> Jobs:
    """The jobs that steps lead to."""
    found = Jobs()
    read_way(start, way(*steps), where, known, found)
    return found


def placed(start: Chain, where: Ground, known: Wishes, *steps: str) -> PlacedJob:
    """The one job that steps lead to."""
    found = jobs(start, where, known, *steps)
    (one,) = found.placed
    assert found.left_out == []
    return one


def test_a_job_on_a_day_with_all_that_is_told_of_it() -> None:
    assert placed(chain(JOB, "06-01"), ground(), PLAIN, f"06-16 {OWN}", f"end {LAST}") == PlacedJob(
        key="TP-1/service#2",
        task=JOB,
        due_on=day("06-15"),
        day=day("06-16"),
        window=(day("06-12"), day("06-18")),
        lead=1,  # a tenth of two weeks, whole days
        why=("Due Mon 2026-06-15: every 2 weeks, since 2026-06-01 (entry 1).",),
    )


def test_each_job_starts_from_the_one_before() -> None:
    steps = (f"06-16 {OWN}", f"06-30 {OWN}", f"end {LAST}")
    found = jobs(chain(JOB, "06-01"), ground(last="06-30"), PLAIN, *steps)
    assert [(job.key, job.due_on, job.day) for job in found.placed] == [
        ("TP-1/service#2", day("06-15"), day("06-16")),
        ("TP-1/service#3", day("06-30"), day("06-30")),
    ]
    assert found.placed[1].why == (
        "Due Tue 2026-06-30: every 2 weeks, since 2026-06-16 (planned for 2026-06-16).",
    )


@pytest.mark.parametrize("rest", [(), (f"end {LAST}",), (f"end {LAST}", f"06-29 {OWN}")])
def test_a_way_is_read_as_far_as_it_goes_and_not_past_its_last_step(rest: tuple[str, ...]) -> None:
    found = jobs(chain(JOB, "06-01"), ground(), PLAIN, f"06-15 {OWN}", *rest)
    assert [job.day for job in found.placed] == [day("06-15")]


def test_a_job_of_a_schedule_is_named_by_its_date() -> None:
    """The first Monday of each month, settled by the job of 1 June: Monday 6 July."""
    job = task(on="FREQ=MONTHLY;BYDAY=1MO", starts=day("01-05"))
    start, july = chain(job, "06-01"), ground(last="07-10")
    found = placed(start, july, PLAIN, f"07-06 {OWN}", f"end {LAST}")
    assert found.key == "TP-1/service@2026-07-06"
    assert found.why == (
        "Due Mon 2026-07-06: every month on the first Monday, since 2026-06-01 (entry 1).",
    )


def test_a_task_never_done_says_so() -> None:
    """Due when the shop file was applied, on 25 May, and overdue since."""
    job = placed(chain(JOB, ""), ground(), PLAIN, f"06-02 {OWN}", f"end {LAST}")
    assert job.why[0].endswith("every 2 weeks, not done before.")
    assert job.key == "TP-1/service#1"


def by_hours(spread: float, grace: str = "10 hours", every: int = 100) -> PlacedJob:
    """Hours at 10 a day, more or less by a spread, on the tenth working day, 15 June.

    The 80 % range lies 1.2816 x spread x sqrt(100) / 10^1.5 = 0.405 x spread either side of T = 10.
    """
    meters = {"hours": read(0, "06-01", 10, 0, spread)}
    due = stand(task(f"{every} hours", grace=grace), "06-02", "06-01", meters=meters)
    start = Chain(due.task, due.situation, calendars(), 1, day("06-02"))
    return placed(start, ground(), PLAIN, f"06-15 {OWN}", f"end {LAST}")


def test_a_day_by_usage_is_told_with_its_range() -> None:
    """7.97 to 12.03 working days after 1 June: the 8th and the 13th, a week apart."""
    job = by_hours(5)
    assert job.due_range == (day("06-11"), day("06-18"))
    assert job.why == (
        "Due Mon 2026-06-15: every 100 hours, since 2026-06-01 (entry 1).",
        "Expected by usage: 100 hours.",
        "80 % range 2026-06-11 to 2026-06-18.",
    )


# ---- remarks


def test_an_overdue_job_says_since_when() -> None:
    start, where = chain(JOB, "06-01", "06-22"), ground("06-22", "06-30")
    job = placed(start, where, PLAIN, f"06-22 {OWN}", f"end {LAST}")
    assert job.remarks == ("was due 2026-06-15: as soon as possible",)
    assert job.window == (day("06-22"), day("07-06"))


@pytest.mark.parametrize(
    ("pin", "outside"),
    [("06-11", True), ("06-12", False), ("06-18", False), ("06-19", True)],
)
def test_a_pin_outside_the_window_is_told(pin: str, outside: bool) -> None:
    known = wishes(pinned=pin)
    job = placed(chain(JOB, "06-01"), ground(), known, f"{pin} {OWN}", f"end {LAST}")
    assert job.pinned
    assert job.remarks == (("pinned outside its window",) if outside else ())


def test_a_day_that_nobody_pinned_is_not_called_so() -> None:
    known = wishes(pinned="06-12")
    job = placed(chain(JOB, "06-01"), ground(), known, f"06-15 {OWN}", f"end {LAST}")
    assert (job.pinned, job.remarks) == (False, ())


def test_a_job_before_a_shutdown_says_why() -> None:
    """Closed from 12 to 19 June: to do on Thursday 11 June, not on the day before."""
    where = shop("06-12..06-19")
    start, inside = chain(JOB, "06-01", where=where), ground(last="06-30", where=where)
    job = placed(start, inside, PLAIN, f"06-11 {OWN}", f"end {LAST}")
    assert job.remarks == ("its window falls on closed days: on the last working day before",)
    early = placed(start, inside, wishes(pinned="06-10"), f"06-10 {OWN}", f"end {LAST}")
    assert early.remarks == ("pinned outside its window",)


@pytest.mark.parametrize(
    ("spread", "grace", "told"),
    [
        (5, "10 hours", ""),  # outside the window, 12 to 16 June, but no more than a week
        # 6.76 to 13.24: from the 7th to the 14th, 9 days
        (8, "10 hours", "2026-06-10 to 2026-06-19"),
        (8, "40 hours", ""),  # inside the window, 9 to 19 June
        # 5.95 to 14.05: from its first day, the 9th, to past its last
        (10, "40 hours", "2026-06-09 to 2026-06-22"),
    ],
)
def test_a_day_that_may_lie_outside_the_window_is_called_uncertain(
    spread: float, grace: str, told: str
) -> None:
    expected = (f"its day is uncertain, 80 % range {told}: watch the meter",) if told else ()
    assert by_hours(spread, grace).remarks == expected


def test_a_range_of_more_than_a_week_is_uncertain() -> None:
    """95 hours, T = 9.5: 1.2816 x 7.5 x sqrt(95) / 10^1.5 = 2.96, from the 7th to the 13th day."""
    (remark,) = by_hours(7.5, every=95).remarks
    assert "range 2026-06-10 to 2026-06-18" in remark  # Wednesday to Thursday, 8 days


# ---- left out


AT_THE_DUE_DAY = (f"06-15 {LEFT_OUT}", f"end {LAST}")
AT_THE_22ND = (f"06-22 {LEFT_OUT}", f"end {LAST}")


def unfit(start: Chain, room: float | None = None, **minutes: float) -> UnfitJob:
    """The job left out of June; the minutes taken of a day are given as `d12=450`."""
    load = {day(f"06-{on[1:]}").toordinal(): taken for on, taken in minutes.items()}
    found = jobs(start, ground(), PLAIN, *AT_THE_DUE_DAY)
    (one,) = reasons(found.left_out, ground(), load, room)
    return one


def without_a_day(start: Chain, where: Ground, notice: int = 0) -> UnfitJob:
    """The job left out, to go on from 22 June."""
    found = jobs(start, where, wishes(notice), *AT_THE_22ND)
    (one,) = reasons(found.left_out, where, {}, None)
    return one


def test_a_job_settled_in_time_is_none_and_one_settled_late_is_left_out() -> None:
    for on, missed in (("06-12", 0), ("06-18", 0), ("06-19", 1), ("06-22", 1)):
        steps = (f"{on} {SETTLED}", f"end {LAST}")
        found = jobs(chain(JOB, "06-01"), ground(), PLAIN, *steps)
        assert (found.placed, len(found.left_out)) == ([], missed), on


def test_a_job_settled_after_the_last_of_the_quarter_is_not_missed() -> None:
    steps = (f"06-15 {OWN}", f"07-15 {SETTLED}", f"end {LAST}")
    found = jobs(chain(JOB, "06-01"), ground(), PLAIN, *steps)
    assert (len(found.placed), found.left_out) == (1, [])


def test_the_crew_is_short_on_the_best_day() -> None:
    """Of 480 min a day, 450 are taken on Friday and 440 on Monday: 60 + 440 is short by 20."""
    load = {"d12": 450, "d15": 440, "d16": 470, "d17": 480, "d18": 480}
    assert unfit(chain(JOB, "06-01"), 480, **load) == UnfitJob(
        key="TP-1/service#2",
        task=JOB,
        kind="crew",
        reason="the crew's hours of 2026-06-12 to 2026-06-18 are taken: on the best day, "
        "Mon 2026-06-15 (week 25), they are short by 0.3 h",
        cure="0.3 h more crew on Mon 2026-06-15, or another job moved off that day",
        due_on=day("06-15"),
        window=(day("06-12"), day("06-18")),
        earliest=day("06-15"),
    )


@pytest.mark.parametrize(
    ("load", "best"),
    [
        ({"d12": 450, "d15": 450, "d16": 450, "d17": 450, "d18": 450}, "Fri 2026-06-12"),
        # nothing is planned on the 18th: as good as the 17th, and later
        ({"d12": 450, "d15": 450, "d16": 450, "d17": 0}, "Wed 2026-06-17"),
        # half a minute on the 12th is more than nothing
        ({"d12": 0.5, "d16": 450, "d17": 450, "d18": 450}, "Mon 2026-06-15"),
    ],
)
def test_of_days_taken_alike_the_first_is_the_best(load: dict[str, float], best: str) -> None:
    assert f" {best}" in unfit(chain(JOB, "06-01"), 480, **load).reason


def test_a_job_longer_than_the_crews_day_is_to_be_split() -> None:
    """500 min of 480; one of 480 min only lacks the minutes that are taken, told as a tenth."""
    found = unfit(chain(replace(JOB, minutes=500), "06-01"), 480)
    assert found.reason == "it takes 8.3 h, the crew has 8.0 h a day"
    assert (found.kind, found.cure) == (
        "crew",
        "raise crew_hours, or split the task in the shop file",
    )
    a_minute = dict.fromkeys(("d12", "d15", "d16", "d17", "d18"), 1.0)
    short = unfit(chain(replace(JOB, minutes=480), "06-01"), 480, **a_minute)
    assert "are taken" in short.reason
    assert "they are short by 0.1 h" in short.reason


@pytest.mark.parametrize("free", [419.0, 420.0])
def test_where_the_crew_has_the_time_nothing_is_short(free: float) -> None:
    """Of 480 min all are taken but on Wednesday, where the job's 60 just find room."""
    load = {"d12": 480, "d15": 480, "d16": 480, "d17": free, "d18": 480}
    found = unfit(chain(JOB, "06-01"), 480, **load)
    assert (found.kind, found.cure) == (
        "crew", "pin it to that day: pmtrack pin TP-1/service 2026-06-17"
    )  # fmt: skip
    assert found.reason == (
        "the crew has time for it on Wed 2026-06-17, but no plan was found that puts it there and "
        "leaves out no other job"
    )


def test_where_the_crew_has_the_time_the_machine_may_be_needed() -> None:
    found = unfit(chain(replace(JOB, machine_down=True), "06-01"), 480)
    assert (found.kind, found.reason) == (
        "shift",
        "on each day from 2026-06-12 to 2026-06-18 other work takes the crew's hours, or the time "
        "in which TP-1 may stand for it",
    )
    assert found.cure == "pin it to a day outside its window, split it, or schedule a longer shift"


def test_a_job_of_no_known_length_lacks_only_what_is_taken_too_much() -> None:
    """Of 480 min 1,080 are taken on each day: ten hours are lacking without it."""
    job = replace(JOB, minutes=None)
    load = dict.fromkeys(("d12", "d15", "d16", "d17", "d18"), 1080.0)
    assert "they are short by 10.0 h" in unfit(chain(job, "06-01"), 480, **load).reason


@pytest.mark.parametrize(
    ("job", "room", "what"),
    [
        (JOB, None, "TP-1, which must stand for it, 60 min more"),
        (replace(JOB, crew="firm-a"), 480, "a visit of firm-a 60 min more"),
        (replace(JOB, crew="firm-a", minutes=None), None, "a visit of firm-a 0 min more"),
    ],
)
def test_where_the_crew_is_not_asked_the_shift_is_too_short(
    job: Task, room: float | None, what: str
) -> None:
    found = unfit(chain(job, "06-01"), room)
    assert found.kind == "shift"
    assert found.reason == f"on no day from 2026-06-12 to 2026-06-18 do the shifts leave {what}"
    assert found.cure == "pin it to a day outside its window, split it, or schedule a longer shift"


def test_a_firms_notice_reaches_past_the_window() -> None:
    """Called on 8 June it comes on the 22nd, four days after the last day on time."""
    job = replace(JOB, crew="firm-a")
    found = without_a_day(chain(job, "06-01", "06-08"), ground("06-08"), 14)
    assert (found.kind, found.earliest) == ("notice", day("06-22"))
    assert found.reason == (
        "firm-a needs 14 days' notice: with a call today it comes on Mon 2026-06-22 at the "
        "earliest, 4 days after the last day on time"
    )
    assert found.cure == "ask the firm to come by Thu 2026-06-18, or book Mon 2026-06-22 now"


SHUT = shop("06-12..06-19")


@pytest.mark.parametrize("notice", [0, 7])
def test_closed_days_leave_no_day(notice: int) -> None:
    """Asked for on Friday 12 June, when the shop is closed from then to 19 June."""
    start, where = chain(JOB, "06-01", "06-12", SHUT), ground("06-12", where=SHUT)
    found = without_a_day(start, where, notice)
    assert found.kind == "closed"
    assert found.reason == (
        "closed days and days past leave no working day from 2026-06-11 to 2026-06-18; "
        "the last working day before was Thu 2026-06-11"
    )
    assert found.cure == (
        "open the shop for it on a closed day, or take Mon 2026-06-22, 4 days after the last day "
        "on time"
    )


def test_an_authoritys_job_is_not_offered_a_later_day() -> None:
    start, where = chain(LAWFUL, "06-01", "06-12", SHUT), ground("06-12", where=SHUT)
    assert without_a_day(start, where).cure == "open the shop for it on a closed day"
