"""The ways of a task through a quarter, each step by hand.

June 2026 begins on a Monday; the made shop works Monday to Friday. Every two weeks, done on 1 June:
due on Monday 15 June, with 3 days of grace from Friday 12 to Thursday 18 June.
"""

from dataclasses import replace
from datetime import date

import pytest

from pmtrack.rules.forecast import Chain, Starting
from pmtrack.rules.plan import Quarter
from pmtrack.rules.plan_steps import END, START, Ground, Step, Wishes, choice, pin_span, steps_of
from pmtrack.rules.shop import Shop, Task
from pmtrack.rules.situation import Situation
from pmtrack.rules.windows import Windows
from pmtrack.rules.workdays import Workdays
from tests.build import base, calendars, day, read, shop, task, views

JOB = task("2 weeks", grace="3 days", minutes=60)
LAWFUL = task("2 weeks", authority="an inspectorate", lead="3 days", minutes=60)


def chain(job: Task, since: str, today: str = "06-02", where: Shop | None = None) -> Chain:
    """A task done last on a day, for the first time; `since` is empty where it never was."""
    done = base(since) if since else None
    known = Situation(day=day(today), first_applied=day("05-25"), base=done)
    return Chain.of(Starting(job, known, int(bool(since))), calendars(where), Windows())


def ground(today: str = "06-02", last: str = "06-19", where: Shop | None = None) -> Ground:
    """A quarter from 1 June to a last day."""
    quarter = Quarter("June", day("06-01"), day(last))
    return Ground(day(today), quarter, Workdays.of(where or shop()))


def ordinals(days: str) -> frozenset[int]:
    """Days as a plan counts them: `06-15 06-16`."""
    return frozenset(day(one).toordinal() for one in days.split())


def wishes(notice: int = 0, settling: str = "", saved: str = "", pinned: str = "") -> Wishes:
    """Wishes with days as texts."""
    return Wishes(notice, ordinals(settling), ordinals(saved), ordinals(pinned))


def name(place: int) -> str:
    """A place on the way: a day as month and day, `start` or `end`."""
    return {START: "start", END: "end"}.get(place) or f"{date.fromordinal(place):%m-%d}"


def told(steps: tuple[Step, ...], tail: str = "start") -> list[str]:
    """The steps from a place: where to, how, its cost, its breaks."""
    return [f"{name(s.head)} {s.kind} {s.cost} {s.breaks}" for s in steps if name(s.tail) == tail]


# ---- the ground


def test_a_plan_uses_working_days_from_today_to_sixty_days_past_the_quarter() -> None:
    """From Wednesday 3 June; 19 June and 60 days are Tuesday 18 August."""
    where = ground("06-03")
    days = [date.fromordinal(one) for one in where.days]
    assert (days[0], days[2], days[3], days[-1]) == (
        day("06-03"), day("06-05"), day("06-08"), day("08-18"),
    )  # fmt: skip
    assert [where.is_open(day(on).toordinal()) for on in ("06-02", "06-03", "06-06")] == [
        False, True, False,
    ]  # fmt: skip
    assert where.between(day("06-01"), day("06-05")) == where.days[:3]
    assert where.between(day("06-04"), day("06-07")) == where.days[1:3]
    assert where.between(day("06-06"), day("06-07")) == ()


@pytest.mark.parametrize(
    ("on", "target", "cost"),
    [
        ("06-15", "06-15", 0),
        ("06-12", "06-15", 1),  # a working day before
        ("06-11", "06-15", 2),
        ("06-16", "06-15", 2),  # one after
        ("06-17", "06-15", 4),
        ("06-15", "06-13", 0),  # a Saturday counts as the Monday after it
        ("06-12", "06-13", 1),
        ("06-04", "05-20", 2),  # a past one counts as today: 3 June
    ],
)
def test_a_day_costs_by_its_distance(on: str, target: str, cost: int) -> None:
    assert ground("06-03").distance(day(on).toordinal(), day(target).toordinal()) == cost


@pytest.mark.parametrize(
    ("after", "before", "given_up"),
    [
        ("06-09", "06-19", 2),
        ("06-10", "06-19", 1),  # the day itself was kept
        ("06-09", "06-18", 1),
        ("06-10", "06-18", 0),
    ],
)
def test_saved_days_between_two_days_are_given_up(after: str, before: str, given_up: int) -> None:
    known = wishes(saved="06-10 06-18")
    assert known.given_up(day(after).toordinal(), day(before).toordinal()) == given_up


# ---- where the next job may be put


@pytest.mark.parametrize(
    ("today", "known", "days", "otherwise"),
    [
        ("06-02", wishes(), "06-12 06-15 06-16 06-17 06-18", "06-15"),
        ("06-16", wishes(), "06-16 06-17 06-18", "06-16"),
        ("06-18", wishes(), "06-18", "06-18"),  # the last day on time
        # a call on 8 June: the firm comes on the 17th at the earliest
        ("06-08", wishes(notice=9), "06-17 06-18", "06-17"),
        # it was called for the 15th already
        ("06-08", wishes(notice=9, saved="06-15"), "06-15 06-17 06-18", "06-15"),
        # saved outside the window, or on a day that the notice does not reach to
        ("06-08", wishes(notice=9, saved="06-11 06-19"), "06-17 06-18", "06-17"),
        ("06-08", wishes(notice=10, saved="06-18"), "06-18", "06-18"),
        ("06-08", wishes(notice=11, saved="06-18"), "06-18", "06-18"),
        # 22 June is past the window; so is Saturday the 20th, and Monday comes after it
        ("06-08", wishes(notice=14), "", "06-22"),
        ("06-08", wishes(notice=12), "", "06-22"),
        ("06-08", wishes(notice=99), "", "08-18"),  # past all days: the last one
    ],
)
def test_the_days_of_the_next_job(today: str, known: Wishes, days: str, otherwise: str) -> None:
    found = choice(chain(JOB, "06-01", today), ground(today), known)
    assert " ".join(map(name, found.days)) == days
    assert name(found.otherwise) == otherwise
    assert (found.first, found.last) == (day("06-12"), day("06-18"))
    assert (name(found.target), found.ended, found.overdue) == ("06-15", False, False)
    late = [found.misses(day(on).toordinal()) for on in ("06-18", "06-19")]
    assert late == [False, True]


def test_of_two_days_as_near_the_earlier_one_goes_on() -> None:
    """Due on Wednesday 17 June; the firm is called for the 15th, and may come from the 19th on."""
    called = choice(chain(JOB, "06-03", "06-08"), ground("06-08"), wishes(11, saved="06-15"))
    assert [name(one) for one in called.days] == ["06-15", "06-19"]
    assert name(called.otherwise) == "06-15"


@pytest.mark.parametrize(
    ("today", "notice", "first"),
    [
        ("06-19", 0, "06-19"),  # 18 June was the last day
        ("06-22", 0, "06-22"),
        ("06-20", 0, "06-22"),  # a Saturday
        ("06-22", 9, "07-01"),
    ],
)
def test_an_overdue_job_is_to_find_a_day_within_two_weeks(
    today: str, notice: int, first: str
) -> None:
    """Two weeks from a weekday on, both ends included, have 11 working days."""
    found = choice(chain(JOB, "06-01", today), ground(today), wishes(notice))
    assert (found.overdue, found.first, (found.last - found.first).days) == (True, day(first), 14)
    assert (len(found.days), name(found.days[0])) == (11, first)
    assert name(found.target) == name(found.otherwise) == first


def test_an_overdue_job_that_finds_no_day_in_two_weeks_waits_for_the_first_one() -> None:
    """Called on 22 June with 9 days' notice, closed to 17 July: Monday 20 July."""
    where = shop("06-29..07-17")
    inside = ground("06-22", where=where)
    found = choice(chain(JOB, "06-01", "06-22", where), inside, wishes(9))
    assert (found.overdue, found.days, name(found.otherwise)) == (True, (), "07-20")


@pytest.mark.parametrize(("last", "ended"), [("06-14", True), ("06-15", False)])
def test_a_job_due_after_the_quarter_is_the_next_quarters(last: str, ended: bool) -> None:
    found = choice(chain(JOB, "06-01"), ground(last=last), wishes())
    assert found.ended is ended
    assert bool(found.days) is not ended
    if ended:
        assert found.otherwise == END
        assert not found.misses(day("06-30").toordinal())


def test_a_task_without_any_due_date_has_ended() -> None:
    job = task("500 hours")
    start = chain(job, "06-01")
    unread = replace(start.situation, meters=views(job, {"hours": read(0, "06-01", None)}))
    found = choice(replace(start, situation=unread), ground(), wishes(notice=3))
    assert (found.window, found.ended, found.first) == (None, True, day("06-05"))
    steps = steps_of(replace(start, situation=unread), ground(), wishes(pinned="06-10"))
    assert told(steps) == ["end last 0 0"]


# ---- all ways


def test_all_steps_of_a_task_that_is_due_once() -> None:
    steps = steps_of(chain(JOB, "06-01"), ground(), wishes())
    assert told(steps) == [
        "06-12 own 1 0",
        "06-15 left out 0 10",
        "06-15 own 0 0",
        "06-16 own 2 0",
        "06-17 own 4 0",
        "06-18 own 6 0",
    ]
    after = ["06-12", "06-15", "06-16", "06-17", "06-18"]  # its next job is due from 26 June on
    assert [told(steps, tail) for tail in after] == [["end last 0 0"]] * 5
    assert len(steps) == 6 + 5


def test_each_day_of_a_job_leads_to_the_days_of_the_next() -> None:
    """From 12 June two weeks are the 26th, from 15 June the 29th: each from 3 days before."""
    steps = steps_of(chain(JOB, "06-01"), ground(last="06-29"), wishes())
    assert told(steps, "06-12") == [
        "06-23 own 3 0",
        "06-24 own 2 0",
        "06-25 own 1 0",
        "06-26 left out 0 10",
        "06-26 own 0 0",
        "06-29 own 2 0",
    ]
    assert told(steps, "06-15")[0] == "06-26 own 1 0"
    assert told(steps, "06-16") == ["end last 0 0"]  # its next is due on the 30th
    assert told(steps, "06-26") == ["end last 0 0"]


@pytest.mark.parametrize(
    ("every", "since", "cost"),
    [
        ("1 week", "06-16", 10),  # due on the 23rd, to be done on the 17th: the day after
        ("8 days", "06-13", 0),  # due on Sunday the 21st: half of its 8 days is just over
        ("9 days", "06-13", 10),  # due on the 22nd: half a day too soon
    ],
)
def test_a_shutdown_may_want_a_job_before_half_its_interval_is_over(
    every: str, since: str, cost: int
) -> None:
    """Closed from Thursday 18 to Friday 26 June: it is aimed at the day before."""
    where = shop("06-18..06-26")
    start = chain(task(every), since, "06-15", where)
    steps = told(steps_of(start, ground("06-15", "06-24", where), wishes()))
    assert [line for line in steps if "own" in line] == [f"06-17 own {cost} 0"]


def test_what_an_authority_demands_is_missed_at_five_times_the_price() -> None:
    steps = steps_of(chain(LAWFUL, "06-01"), ground(), wishes())
    assert told(steps) == ["06-12 own 1 0", "06-15 left out 0 50", "06-15 own 0 0"]


def test_each_working_day_that_an_overdue_job_waits_breaks_twice() -> None:
    """Overdue on Monday 22 June: that day, or later at 2 for each of 10 working days."""
    steps = steps_of(chain(JOB, "06-01", "06-22"), ground("06-22", "06-30"), wishes())
    assert told(steps)[:4] == [
        "06-22 left out 0 30",
        "06-22 own 0 0",
        "06-23 own 2 2",
        "06-24 own 4 4",
    ]


def test_a_saved_day_given_up_breaks_once() -> None:
    """Saved on 16 June: passed over on the way to it, or afterwards on the way to the end."""
    steps = steps_of(chain(JOB, "06-01"), ground(), wishes(saved="06-16"))
    assert told(steps) == [
        "06-12 own 1 0",
        "06-15 left out 0 11",
        "06-15 own 0 0",
        "06-16 own 2 0",
        "06-17 own 4 1",
        "06-18 own 6 1",
    ]
    ends = {tail: told(steps, tail) for tail in ("06-15", "06-16", "06-17")}
    assert ends == {
        "06-15": ["end last 0 1"], "06-16": ["end last 0 0"], "06-17": ["end last 0 0"],
    }  # fmt: skip


def test_a_saved_day_on_which_a_job_is_left_out_or_settled_is_given_up_too() -> None:
    known = wishes(settling="06-12 06-15", saved="06-15")
    steps = steps_of(chain(JOB, "06-01"), ground(), known)
    assert "06-15 left out 0 12" in told(steps)  # one for itself, one as on the days after it
    assert "06-15 settled 0 1" in told(steps)
    assert "06-12 settled 0 0" in told(steps)


def test_a_saved_day_counts_to_the_last_day_of_all() -> None:
    """14 June and 60 days are Thursday 13 August."""
    for on, breaks in (("08-13", 1), ("08-14", 0)):
        steps = steps_of(chain(JOB, "06-01"), ground(last="06-14"), wishes(saved=on))
        assert told(steps) == [f"end last 0 {breaks}"]


# ---- settled by another job


def test_a_covering_job_settles_it_from_the_day_after_the_base_to_its_last_day() -> None:
    known = wishes(settling="06-01 06-02 06-18 06-19")
    steps = steps_of(chain(JOB, "06-01"), ground(), known)
    settled = [line for line in told(steps) if "settled" in line]
    assert settled == ["06-02 settled 0 0", "06-18 settled 0 0"]


@pytest.mark.parametrize(("job", "breaks"), [(JOB, 10), (LAWFUL, 50)])
def test_a_covering_job_that_comes_too_late_is_a_miss(job: Task, breaks: int) -> None:
    """With 14 days' notice from 8 June the first day is 22 June; what covers it may come then."""
    known = wishes(14, settling="06-12 06-19 06-22 06-23")
    steps = steps_of(chain(job, "06-01", "06-08"), ground("06-08"), known)
    assert told(steps) == [
        "06-12 settled 0 0",
        f"06-19 settled 0 {breaks}",
        f"06-22 left out 0 {breaks}",
        f"06-22 settled 0 {breaks}",
    ]


def test_after_its_last_job_it_may_still_be_settled() -> None:
    known = wishes(settling="06-01 07-01 08-13 08-14")
    steps = steps_of(chain(JOB, "06-01"), ground(last="06-14"), known)
    assert told(steps) == ["end last 0 0", "07-01 settled 0 0", "08-13 settled 0 0"]


# ---- pinned days


@pytest.mark.parametrize(
    ("job", "pinned", "expected"),
    [
        # half of the two weeks either side of 15 June: from the 9th to the 22nd
        (JOB, "06-08 06-23", []),
        (JOB, "06-09 06-22", ["06-09 own 4 0", "06-22 own 10 0"]),
        # half of three weeks, 10 days, either side of 22 June
        (replace(JOB, every=task("3 weeks").every), "06-12 07-03", []),
        (replace(JOB, every=task("3 weeks").every), "06-15 07-02",
         ["06-15 own 5 0", "07-02 own 16 0"]),
        (JOB, "06-13", []),  # a Saturday
        (LAWFUL, "06-11 06-16", ["06-11 own 2 0"]),  # never past its due date
    ],
)  # fmt: skip
def test_a_pin_near_the_due_day_is_a_day_for_the_job(
    job: Task, pinned: str, expected: list[str]
) -> None:
    plain = told(steps_of(chain(job, "06-01"), ground(last="06-22"), wishes()))
    steps = told(steps_of(chain(job, "06-01"), ground(last="06-22"), wishes(pinned=pinned)))
    assert sorted(set(steps) - set(plain)) == expected
    assert set(plain) <= set(steps)


@pytest.mark.parametrize(
    ("pinned", "expected"),
    [
        ("06-11", ["06-11 own 2 0"]),
        ("06-12", ["06-12 own 1 0"]),  # inside its window too
        ("06-08", []),  # half of the two weeks: as near to the job before
        ("06-16", []),  # past the quarter: the next one's plan has it
    ],
)
def test_a_job_due_after_the_quarter_is_pinned_into_it(pinned: str, expected: list[str]) -> None:
    """Due on Monday 15 June, the quarter ends on Sunday the 14th."""
    steps = steps_of(chain(JOB, "06-01"), ground(last="06-14"), wishes(pinned=pinned))
    assert told(steps) == ["end last 0 0", *expected]
    assert [told(steps, line[:5]) for line in expected] == [["end last 0 0"]] * len(expected)


def test_a_job_pinned_before_the_quarter_is_in_the_plan_of_that_quarter() -> None:
    """Due on Monday 1 June, the quarter's first day; its window begins on Friday 29 May."""
    steps = steps_of(chain(JOB, "05-18", "05-27"), ground("05-27"), wishes(pinned="05-27 05-29"))
    assert {line[:5] for line in told(steps) if "own" in line} == {
        "05-29", "06-01", "06-02", "06-03", "06-04",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("job", "since", "span"),
    [
        (JOB, "06-01", "06-09 06-22"),  # half of two weeks either side of the 15th
        (LAWFUL, "06-01", "06-09 06-15"),
        # the first Monday of July is the 6th, its lead 3 days: settled from the 3rd on
        (task(on="FREQ=MONTHLY;BYDAY=1MO", starts=day("01-05"), lead="3 days"), "06-01",
         "07-03 07-23"),
    ],
)  # fmt: skip
def test_the_days_to_which_a_job_may_be_pinned(job: Task, since: str, span: str) -> None:
    start = chain(job, since)
    assert start.window is not None
    found = pin_span(job, start.situation.base, start.window)
    assert " ".join(f"{on:%m-%d}" for on in found) == span


def test_a_job_that_was_never_done_may_be_pinned_to_any_day() -> None:
    start = chain(JOB, "")
    assert start.window is not None
    first, last = pin_span(JOB, None, start.window)
    assert (first, last > day("2999-01-01")) == (date.min, True)


def test_a_pin_before_an_overdue_jobs_first_day_does_not_wait() -> None:
    """Overdue on 22 June, its firm comes from 1 July on, 7 working days later; it was called."""
    known = wishes(9, pinned="06-22")
    steps = told(steps_of(chain(JOB, "06-01", "06-22"), ground("06-22", "06-30"), known))
    assert "06-22 own 7 0" in steps
    assert "07-02 own 2 2" in steps


def test_an_overdue_job_does_not_wait_for_the_day_that_a_person_fixed() -> None:
    steps = steps_of(chain(JOB, "06-01", "06-22"), ground("06-22"), wishes(pinned="06-24"))
    assert [line for line in told(steps) if line < "06-26" and "own" in line] == [
        "06-22 own 0 0", "06-23 own 2 2", "06-24 own 4 0", "06-25 own 6 6",
    ]  # fmt: skip


def test_a_task_without_any_wish_needs_no_notice() -> None:
    plain = choice(chain(JOB, "06-01", "06-12"), ground("06-12"), Wishes())
    assert plain == choice(chain(JOB, "06-01", "06-12"), ground("06-12"), wishes())
    assert name(plain.days[0]) == "06-12"


def test_a_pin_inside_the_window_is_no_further_day() -> None:
    plain = steps_of(chain(JOB, "06-01"), ground(), wishes())
    assert steps_of(chain(JOB, "06-01"), ground(), wishes(pinned="06-17")) == plain


def test_a_pin_in_the_past_is_no_day() -> None:
    """Due on 15 June, today it is the 11th."""
    steps = steps_of(chain(JOB, "06-01", "06-11"), ground("06-11"), wishes(pinned="06-10"))
    assert not [line for line in told(steps) if line.startswith("06-10")]


def test_a_task_that_was_never_done_is_pinned_and_settled_on_any_day() -> None:
    """First due when the shop file was applied, 25 May; the 8 days before today do not matter."""
    known = wishes(settling="06-02", pinned="06-30")
    lines = told(steps_of(chain(JOB, ""), ground(), known))
    assert [line for line in lines if line.startswith("06-30")]
    assert "06-02 settled 0 0" in lines
