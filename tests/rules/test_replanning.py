"""What a new plan changes, and why: each row a job before and after, with the reason by hand.

Today is Monday 4 January 2027; the shop works Monday to Friday.
"""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.plan import PlacedJob, Plan, UnfitJob
from pmtrack.rules.plan_reasons import Meanwhile, rule_text
from pmtrack.rules.replanning import KINDS, PlanChange, changes
from pmtrack.rules.settled import Deed
from pmtrack.rules.shop import OneOff, Task
from tests.build import calendars, day, shop, task

MONTHLY = task("1 month", code="monthly")
WEEKLY = task("1 week", code="weekly")
YEARLY = task("1 year", code="yearly", crew="press", covers=("monthly",), machine_down=True)
GREASE = task("1 year", code="grease", crew="press")
BY_HITS = task("500000 hits", code="punches")
LAMPS = task(on="FREQ=MONTHLY;BYDAY=1MO", code="lamps")
HOSE = replace(task(code="job-9", title="replace hose"), once=OneOff(day("2027-01-20")))
TODAY = day("2027-01-04")


def on(text: str) -> date:
    """A day of 2027."""
    return day(f"2027-{text}")


def placed(job: Task, key: str, when: str, due: str = "", **more: object) -> PlacedJob:
    """The job `#n` or `@date` of a task on a day; due then unless said, window 7 days around it."""
    due_on = on(due or when)
    window = (date.fromordinal(due_on.toordinal() - 7), date.fromordinal(due_on.toordinal() + 7))
    made = PlacedJob(f"{job.name}{key}", job, due_on, on(when), window, 3)
    return replace(made, **more)  # type: ignore[arg-type]


def without_day(job: Task, key: str, reason: str) -> UnfitJob:
    """A job that does not fit."""
    return UnfitJob(f"{job.name}{key}", job, "crew", reason, "more hours")


def plan(*jobs: PlacedJob | UnfitJob) -> Plan:
    """A plan of these jobs."""
    return Plan(
        jobs=tuple(job for job in jobs if isinstance(job, PlacedJob)),
        unfit=tuple(job for job in jobs if isinstance(job, UnfitJob)),
    )


def since(*closed: str, **known: object) -> Meanwhile:
    """What happened since; the shop closed on these dates."""
    days = calendars(shop(*closed)).shop
    return replace(Meanwhile(TODAY, days), **known)  # type: ignore[arg-type]


def deed(name: str, when: str) -> Deed:
    """A task done on a day."""
    return Deed(name, Base(Moment(on(when)), "entry 1", entry=1))


def told(found: list[PlanChange]) -> list[tuple[str, str, str | None, str | None, str]]:
    """Kind, name, days as month and day, and the reason."""
    return [
        (c.kind, c.name, str(c.was)[5:] if c.was else None, str(c.day)[5:] if c.day else None,
         c.why)
        for c in found
    ]  # fmt: skip


def test_the_same_plan_is_no_change() -> None:
    same = plan(placed(MONTHLY, "#1", "01-11"), without_day(WEEKLY, "#1", "no hours"))
    assert changes(same, same, since()) == []


def test_another_due_date_alone_is_no_change() -> None:
    before = plan(placed(MONTHLY, "#1", "01-11", due="01-11"))
    after = plan(placed(MONTHLY, "#1", "01-11", due="01-13"))
    assert changes(before, after, since()) == []


# --- moved: the job monthly #2 from Monday 18 January to Wednesday 20 January

OLD, NEW = placed(MONTHLY, "#2", "01-18"), placed(MONTHLY, "#2", "01-20", due="01-18")
LATER = placed(MONTHLY, "#2", "01-20", due="01-20")
VISIT = {"visit": "press 2027-Q1 visit 1"}
COVERS = {"TP-1/yearly": ("TP-1/monthly",)}

MOVED = [
    ("pinned to its new day", OLD, replace(NEW, pinned=True), (), since("2027-01-18")),
    ("released from its pin", replace(OLD, pinned=True), NEW, (), since()),
    ("Mon 2027-01-18 is no working day now", OLD, LATER, (), since("2027-01-18")),
    ("Mon 2027-01-18 passed without it", OLD, NEW, (), since(today=on("01-19"))),
    ("TP-1 is out of service", OLD, NEW, (), since(out={"TP-1"})),
    ("the rest of the plan fits better so", OLD, NEW, (), since(out={"PB-1"})),
    ("its interval is 1 month now, not 4 weeks: due Wed 2027-01-20 now, not Mon 2027-01-18",
     OLD, LATER, (), since(rules={"TP-1/monthly": "4 weeks"})),
    ("due Wed 2027-01-20 now, not Mon 2027-01-18",
     OLD, LATER, (), since(rules={"TP-1/monthly": "1 month"})),
    ("put off through Tue 2027-01-19", OLD, NEW, (), since(put_off={"TP-1/monthly": on("01-19")})),
    ("the rest of the plan fits better so",  # the deferral ended before the day that it had
     OLD, NEW, (), since(put_off={"TP-1/monthly": on("01-15")})),
    ("it may be done from Tue 2027-01-19 to Thu 2027-01-28 now",
     OLD, replace(NEW, window=(on("01-19"), on("01-28"))), (), since()),
    ("to make room on Mon 2027-01-18 for TP-1/weekly",
     OLD, NEW, (placed(WEEKLY, "#7", "01-18"),), since()),
    # a firm's job on that day takes none of the crew's hands
    ("the rest of the plan fits better so", OLD, NEW, (placed(GREASE, "#7", "01-18"),), since()),
]  # fmt: skip


@pytest.mark.parametrize(("why", "old", "new", "others", "meanwhile"), MOVED)
def test_a_job_moves_for_a_reason(
    why: str,
    old: PlacedJob,
    new: PlacedJob,
    others: tuple[PlacedJob, ...],
    meanwhile: Meanwhile,
) -> None:
    found = changes(plan(old), plan(new, *others), meanwhile)
    moved = [change for change in found if change.kind == "moved"]
    assert told(moved) == [("moved", "TP-1/monthly", "01-18", "01-20", why)]


@pytest.mark.parametrize(
    ("done", "why"),
    [
        # planned for the 4th, done on the 6th by itself, or by the yearly that covers it
        (deed("TP-1/monthly", "01-06"), "done on Wed 2027-01-06, not on Mon 2027-01-04: "
         "due Sat 2027-02-06 now, not Thu 2027-02-04"),
        (deed("TP-1/yearly", "01-06"), "settled by TP-1/yearly, done on Wed 2027-01-06, "
         "not on Mon 2027-01-04: due Sat 2027-02-06 now, not Thu 2027-02-04"),
        # done as planned: that is no reason
        (deed("TP-1/monthly", "01-04"), "due Sat 2027-02-06 now, not Thu 2027-02-04"),
    ],
)  # fmt: skip
def test_a_job_moves_as_the_one_before_was_done_on_another_day(done: Deed, why: str) -> None:
    before = plan(placed(MONTHLY, "#1", "01-04"), placed(MONTHLY, "#2", "02-04"))
    after = plan(placed(MONTHLY, "#2", "02-05", due="02-06"))
    found = changes(before, after, since(done={"TP-1/monthly#1": done}))
    assert found[-1].why == why


def test_the_latest_deed_is_the_one_that_counts() -> None:
    """The first was done late, the second as planned: the third moves for another reason."""
    before = plan(placed(WEEKLY, "#1", "01-04"), placed(WEEKLY, "#2", "01-11"),
                  placed(WEEKLY, "#3", "01-18"))  # fmt: skip
    after = plan(placed(WEEKLY, "#3", "01-19"))
    done = {"TP-1/weekly#1": deed("TP-1/weekly", "01-06"),
            "TP-1/weekly#2": deed("TP-1/weekly", "01-11")}  # fmt: skip
    found = changes(before, after, since(done=done))
    assert found[-1].why == "due Tue 2027-01-19 now, not Mon 2027-01-18"


def test_a_job_moves_as_the_one_before_it_is_planned_for_another_day() -> None:
    before = plan(placed(WEEKLY, "#1", "01-11"), placed(WEEKLY, "#2", "01-18"))
    after = plan(placed(WEEKLY, "#1", "01-13", due="01-11"), placed(WEEKLY, "#2", "01-20"))
    assert [change.why for change in changes(before, after, since())] == [
        "the rest of the plan fits better so",
        "TP-1/weekly is planned for Wed 2027-01-13 before it: "
        "due Wed 2027-01-20 now, not Mon 2027-01-18",
    ]


def test_a_job_after_the_day_that_it_had_is_no_reason_to_leave_it() -> None:
    before = plan(placed(WEEKLY, "#1", "01-11"), placed(WEEKLY, "#2", "01-18"))
    after = plan(placed(WEEKLY, "#1", "02-15"), placed(WEEKLY, "#2", "02-22"))
    assert [change.why for change in changes(before, after, since())] == [
        "due Mon 2027-02-15 now, not Mon 2027-01-11",
        "due Mon 2027-02-22 now, not Mon 2027-01-18",
    ]


def test_a_job_moves_as_one_that_covers_it_came() -> None:
    before = plan(placed(MONTHLY, "#2", "02-15"))
    after = plan(placed(YEARLY, "#1", "01-20"), placed(MONTHLY, "#2", "02-19"))
    found = changes(before, after, since(covered=COVERS))
    assert [c.why for c in found if c.kind == "moved"] == [
        "TP-1/yearly is planned for Wed 2027-01-20 before it: "
        "due Fri 2027-02-19 now, not Mon 2027-02-15"
    ]


def test_a_usage_job_moves_by_what_the_meter_says() -> None:
    before, after = plan(placed(BY_HITS, "#1", "01-18")), plan(placed(BY_HITS, "#1", "01-22"))
    assert [change.why for change in changes(before, after, since())] == [
        "the meter was read since: due Fri 2027-01-22 now, not Mon 2027-01-18"
    ]


# --- with a firm's visit


def test_a_firms_job_moves_to_share_a_visit() -> None:
    before = plan(placed(YEARLY, "#1", "01-18", **VISIT),
                  placed(GREASE, "#1", "01-20", visit="press 2027-Q1 visit 2"))  # fmt: skip
    after = plan(placed(YEARLY, "#1", "01-18", **VISIT),
                 placed(GREASE, "#1", "01-18", due="01-20", **VISIT))  # fmt: skip
    assert told(changes(before, after, since())) == [
        ("moved", "TP-1/grease", "01-20", "01-18", "to share a visit of press with TP-1/yearly"),
        ("visit", "press 2027-Q1 visit 1", "01-18", "01-18", "now with TP-1/grease"),
        ("visit", "press 2027-Q1 visit 2", "01-20", None, "falls away; it was for TP-1/grease"),
    ]


def test_a_visit_that_moves_takes_its_jobs_along() -> None:
    before = plan(*(placed(job, "#1", "01-18", **VISIT) for job in (YEARLY, GREASE)))
    after = plan(placed(YEARLY, "#1", "01-20", **VISIT),
                 placed(GREASE, "#1", "01-20", due="01-18", **VISIT))  # fmt: skip
    assert told(changes(before, after, since())) == [
        ("moved", "TP-1/grease", "01-18", "01-20", "the visit of press moved, with TP-1/yearly"),
        ("moved", "TP-1/yearly", "01-18", "01-20", "due Wed 2027-01-20 now, not Mon 2027-01-18"),
        ("visit", "press 2027-Q1 visit 1", "01-18", "01-20", "with the same jobs"),
    ]


def test_a_visit_that_is_over_is_no_news() -> None:
    before = plan(*(placed(job, "#1", "01-04", **VISIT) for job in (YEARLY, GREASE)))
    done = {f"{job.name}#1": deed(job.name, "01-04") for job in (YEARLY, GREASE)}
    found = changes(before, plan(), since(done=done))
    assert [change.kind for change in found] == ["dropped", "dropped"]


def test_a_new_visit_and_one_that_lost_a_job() -> None:
    before = plan(*(placed(job, "#1", "01-18", **VISIT) for job in (YEARLY, GREASE)))
    after = plan(placed(YEARLY, "#1", "01-18", **VISIT),
                 placed(GREASE, "#1", "02-18", visit="press 2027-Q1 visit 2"))  # fmt: skip
    visits = [change for change in changes(before, after, since()) if change.kind == "visit"]
    assert told(visits) == [
        ("visit", "press 2027-Q1 visit 1", "01-18", "01-18", "without TP-1/grease"),
        ("visit", "press 2027-Q1 visit 2", None, "02-18", "new, for TP-1/grease"),
    ]


# --- dropped

GONE = placed(MONTHLY, "#2", "01-18")
DROPPED = [
    ("done on Fri 2027-01-15, not on Mon 2027-01-18", (),
     since(done={"TP-1/monthly#2": deed("TP-1/monthly", "01-15")}, retired={"TP-1/monthly"})),
    ("done on Mon 2027-01-18", (),
     since(done={"TP-1/monthly#2": deed("TP-1/monthly", "01-18")})),
    ("settled by TP-1/yearly, done on Fri 2027-01-15, not on Mon 2027-01-18", (),
     since(done={"TP-1/monthly#2": deed("TP-1/yearly", "01-15")})),
    ("retired: no longer in the shop file", (), since(retired={"TP-1/monthly"}, out={"TP-1"})),
    ("TP-1 is out of service", (), since(out={"TP-1"})),
    # the window ends on the 25th: of two yearly jobs the nearer one settles it
    ("settled by TP-1/yearly on Thu 2027-01-21",
     (placed(YEARLY, "#1", "01-05"), placed(YEARLY, "#2", "01-21")), since(covered=COVERS)),
    ("settled by TP-1/yearly on Mon 2027-01-25",
     (placed(YEARLY, "#1", "01-25"),), since(covered=COVERS)),
    ("no longer due in the quarter", (placed(YEARLY, "#1", "01-26"),), since(covered=COVERS)),
    ("planned for Tue 2026-12-22, in the plan of another quarter", (),
     since(elsewhere={"TP-1/monthly#2": day("2026-12-22")})),
    ("no longer due in the quarter", (), since(elsewhere={"TP-1/monthly#3": on("04-01")})),
    ("no longer due in the quarter", (), since()),
    ("its interval is 1 month now, not 4 weeks: no longer due in the quarter", (),
     since(rules={"TP-1/monthly": "4 weeks"})),
    ("done on Tue 2027-01-12: no longer due in the quarter", (),
     since(done={"TP-1/monthly#1": deed("TP-1/monthly", "01-12")})),
]  # fmt: skip


@pytest.mark.parametrize(("why", "others", "meanwhile"), DROPPED)
def test_a_job_falls_away_for_a_reason(
    why: str, others: tuple[PlacedJob, ...], meanwhile: Meanwhile
) -> None:
    found = changes(plan(GONE), plan(*others), meanwhile)
    dropped = [change for change in found if change.kind == "dropped"]
    assert told(dropped) == [("dropped", "TP-1/monthly", "01-18", None, why)]


def test_a_covering_job_that_was_there_before_settles_nothing_new() -> None:
    yearly = placed(YEARLY, "#1", "01-21")
    found = changes(plan(GONE, yearly), plan(yearly), since(covered=COVERS))
    assert [change.why for change in found] == ["no longer due in the quarter"]


def test_a_date_that_was_missed_goes_with_the_next() -> None:
    """January's lamps were done on 1 February: that settles both dates."""
    before = plan(placed(LAMPS, "@2027-01-04", "01-04"), placed(LAMPS, "@2027-02-01", "02-01"))
    done = {"TP-1/lamps@2027-01-04": deed("TP-1/lamps", "02-01")}
    assert [change.why for change in changes(before, plan(), since(done=done))] == [
        "done on Mon 2027-02-01, not on Mon 2027-01-04",
        "done on Mon 2027-02-01, not on Mon 2027-01-04",
    ]


# --- added, and what does not fit

ADDED = [
    ("raised since the plan was saved", HOSE, "", (), since()),
    ("due Wed 2027-01-20, not in the saved plan", MONTHLY, "#1", (), since()),
    ("its interval is 1 month now, not 2 months: due Wed 2027-01-20", MONTHLY, "#2", (),
     since(rules={"TP-1/monthly": "2 months"})),
    ("done on Mon 2027-01-04: due Wed 2027-01-20", MONTHLY, "#2", (),
     since(done={"TP-1/monthly#1": deed("TP-1/monthly", "01-04")})),
    ("it fits now; before: crew hours short by 2 in week 3", MONTHLY, "#2",
     (without_day(MONTHLY, "#2", "crew hours short by 2 in week 3"),), since()),
]  # fmt: skip


@pytest.mark.parametrize(("why", "job", "key", "before", "meanwhile"), ADDED)
def test_a_job_comes_for_a_reason(
    why: str, job: Task, key: str, before: tuple[UnfitJob, ...], meanwhile: Meanwhile
) -> None:
    found = changes(plan(*before), plan(placed(job, key, "01-20")), meanwhile)
    assert told(found) == [("added", job.name, None, "01-20", why)]


def test_a_job_comes_for_it_is_pinned_to_a_day() -> None:
    """It is the next quarter's, but for the pin."""
    job = placed(MONTHLY, "#2", "01-20", due="04-05", pinned=True)
    assert [change.why for change in changes(plan(), plan(job), since())] == [
        "pinned to its day: due Mon 2027-04-05"
    ]


def test_what_no_longer_fits_is_told_with_its_reason() -> None:
    before = plan(GONE, without_day(WEEKLY, "#1", "no hours"))
    after = plan(without_day(MONTHLY, "#2", "shutdown"), without_day(WEEKLY, "#1", "no hours"),
                 without_day(LAMPS, "@2027-02-01", "no shift"))  # fmt: skip
    assert told(changes(before, after, since())) == [
        ("unfit", "TP-1/monthly", "01-18", None, "shutdown"),
        ("unfit", "TP-1/lamps", None, None, "no shift"),
    ]


def test_what_did_not_fit_and_was_done_is_told_too() -> None:
    done = {"TP-1/weekly#1": deed("TP-1/weekly", "01-04")}
    found = changes(plan(without_day(WEEKLY, "#1", "no hours")), plan(), since(done=done))
    assert told(found) == [("dropped", "TP-1/weekly", None, None, "done on Mon 2027-01-04")]


# --- pins, order, words


def test_a_pin_to_the_day_a_job_has_is_told() -> None:
    pinned = replace(GONE, pinned=True)
    assert told(changes(plan(GONE), plan(pinned), since())) == [
        ("pinned", "TP-1/monthly", "01-18", "01-18", "it keeps its day")
    ]
    assert told(changes(plan(pinned), plan(GONE), since())) == [
        ("released", "TP-1/monthly", "01-18", "01-18", "it keeps its day")
    ]


def test_changes_come_in_order_of_their_days() -> None:
    before = plan(placed(MONTHLY, "#2", "01-18"), placed(WEEKLY, "#1", "01-12"))
    after = plan(placed(MONTHLY, "#2", "01-11"), placed(LAMPS, "@2027-02-01", "01-05"))
    found = changes(before, after, since())
    assert [(c.kind, c.name) for c in found] == [
        ("added", "TP-1/lamps"), ("moved", "TP-1/monthly"), ("dropped", "TP-1/weekly"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (task("6 months, 2000 hours"), "6 months or 2000 hours"),
        (LAMPS, "every month on the first Monday"),
        (HOSE, "once"),
        (Task("TP-1", "gone", "Gone"), ""),
    ],
)
def test_what_makes_a_task_due_in_words(job: Task, words: str) -> None:
    assert rule_text(job) == words


CHOICES = st.dictionaries(
    st.tuples(st.sampled_from([MONTHLY, WEEKLY, GREASE, YEARLY]), st.integers(1, 3)),
    st.integers(4, 29),
    max_size=8,
)


def _plan_of(chosen: dict[tuple[Task, int], int]) -> Plan:
    return plan(
        *(
            placed(job, f"#{number}", f"01-{on_day:02}",
                   visit=f"press {on_day}" if job.crew else None)
            for (job, number), on_day in chosen.items()
        )
    )  # fmt: skip


@given(CHOICES, CHOICES)
def test_the_changes_lead_from_one_plan_to_the_other(
    before: dict[tuple[Task, int], int], after: dict[tuple[Task, int], int]
) -> None:
    """Whoever makes the changes to the days before has the days after, and each has a reason."""
    old, new = _plan_of(before), _plan_of(after)
    found = changes(old, new, since(covered=COVERS))
    days = {job.key: job.day for job in old.jobs}
    for change in found:
        assert change.kind in KINDS
        assert change.why
        if change.kind in ("moved", "added") and change.day:
            assert days.get(change.key) == change.was
            days[change.key] = change.day
        elif change.kind == "dropped":
            assert days.pop(change.key) == change.was
    assert days == {job.key: job.day for job in new.jobs}
