"""A saved plan is stable: planned again, only what must move moves, and says why."""

from collections import Counter
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.command import Command, assert_fits, dump
from tests.planned_shop import (
    PLANNED,
    Q1,
    TOLD,
    VISIT,
    Change,
    apply,
    changed,
    days,
    plan,
    reasons,
    store,
    told_changes,
    with_task,
    without,
    words,
)


def test_a_saved_plan_planned_again_stays_as_it_is(saved: Command) -> None:
    found = plan(saved)
    assert (days(found), found["changes"]) == (PLANNED, [])
    shown = saved("plan", Q1, now=TOLD)
    assert "Nothing moves against the saved plan." in shown.out
    assert "not saved; 'pmtrack plan 2027-Q1 --save' keeps it" in shown.err


def test_planning_without_saving_changes_nothing_in_the_store(saved: Command) -> None:
    before = dump(saved.store)
    plan(saved)
    assert dump(saved.store) == before
    assert "saved as plan 2 of 2027-Q1" in saved("plan", Q1, "--save", now=TOLD).err
    assert dump(saved.store) != before


class Case(NamedTuple):
    """What happens after a plan was saved, as a command or a shop file; what moves, and why."""

    happens: list[str] | str
    moves: set[Change]
    why: str
    now: str = TOLD


MOVES = {
    # 1,000 cycles on the first day: r = (5 x 500 + 1,000) / 6 = 583.3 a day. 19,000 more take 33
    # working days: 6 to 23 December, 20 in January, 7 to Tuesday 9 February; 22,000 are passed on
    # the 12th, so it must move. The next 20,000 take 35: from the 9th on 13 in February and 22 in
    # March, so one job more falls due on 30 March
    "reading": Case(
        ["log", "PB-1", "--date", "2026-12-15", "--count", "cycles=1000"],
        {
            ("moved", "PB-1/belt", "2027-02-17", "2027-02-09"),
            ("added", "PB-1/belt", None, "2027-03-30"),
        },
        "the meter was read since: due Tue 2027-02-09 now, not Wed 2027-02-17",
        "2026-12-15T15:00",
    ),
    "pin": Case(
        ["pin", "PB-1/half-year", "2027-01-26"],
        {("moved", "PB-1/half-year", "2027-01-20", "2027-01-26")},
        "pinned to its new day",
    ),
    "idle": Case(
        ["idle", "PB-1", "--why", "rebuilt"],
        {
            ("dropped", "PB-1/half-year", "2027-01-20", None),
            ("dropped", "PB-1/belt", "2027-02-17", None),
        },
        "PB-1 is out of service",
    ),
    "one-off job": Case(
        ["job", "TP-1", "hose chafed", "--wanted", "2027-01-13"],
        {("added", "TP-1/job-1", None, "2027-01-13")},
        "raised since the plan was saved",
    ),
    # without the 20th TP-1 is to be done by the 19th, when PB-1 is 5 working days early as before
    "closed day": Case(
        changed(
            (
                "why: winter shutdown}",
                "why: winter shutdown}\n    - {on: 2027-01-20, why: power cut}",
            )
        ),
        {
            ("moved", "TP-1/half-year", "2027-01-20", "2027-01-19"),
            ("moved", "PB-1/half-year", "2027-01-20", "2027-01-19"),
        },
        "Wed 2027-01-20 is no working day now",
    ),
    "retired task": Case(
        without("PB-1/belt"),
        {("dropped", "PB-1/belt", "2027-02-17", None)},
        "retired: no longer in the shop file",
    ),
    # from 24 October on, 3 months run out on Sunday 24 January: the Friday before
    "new task": Case(
        with_task(
            "TP-1",
            "quarter",
            "title: Level checked, every: 3 months, minutes: 20, last_done: {on: 2026-10-24}",
        ),
        {("added", "TP-1/quarter", None, "2027-01-22")},
        "due Sun 2027-01-24, not in the saved plan",
    ),
}


@pytest.mark.parametrize("case", MOVES.values(), ids=MOVES.keys())
def test_only_what_must_move_moves_and_says_why(saved: Command, case: Case) -> None:
    if isinstance(case.happens, str):
        apply(saved, case.happens)
    else:
        assert saved(*case.happens, now=case.now).status == 0
    found = plan(saved, now=case.now)
    assert told_changes(found, "moved", "dropped", "added", "unfit") == case.moves
    gone = {(name, was) for _, name, was, _ in case.moves if was}
    come = {(name, day) for _, name, _, day in case.moves if day}
    assert days(found) == PLANNED - gone | come
    touched = {name for _, name, _, _ in case.moves}
    assert any(case.why in reasons(found, name) for name in touched)
    shown = saved("plan", Q1, now=case.now).out
    assert_fits(shown)
    assert "Against the saved plan" in shown
    numbers = Counter(kind for kind, *_ in told_changes(found) if kind != "visit")
    if sum(numbers.values()) > 1:
        assert "in all " in shown
        assert all(f"{number} {kind}" in words(shown) for kind, number in numbers.items())
    assert case.why in words(shown)


def test_a_visit_tells_how_its_jobs_changed(saved: Command) -> None:
    saved("pin", "PB-1/half-year", "2027-01-26", now=TOLD)
    found = plan(saved)
    second = "press-service 2027-Q1 visit 2"
    assert told_changes(found, "visit") == {
        ("visit", VISIT, "2027-01-20", "2027-01-20"),
        ("visit", second, None, "2027-01-26"),
    }
    assert reasons(found, VISIT) == ["without PB-1/half-year"]
    assert reasons(found, second) == ["new, for PB-1/half-year"]


def test_a_machine_that_is_back_has_its_jobs_again(saved: Command) -> None:
    saved("idle", "PB-1", "--why", "rebuilt", now=TOLD)
    idle = plan(saved, "--save")
    assert {(job["task"], job["kind"]) for job in idle["unfit"]} == {
        ("PB-1/half-year", "unknown"),
        ("PB-1/belt", "unknown"),
    }
    assert "pmtrack back PB-1" in idle["unfit"][0]["cure"]
    saved("back", "PB-1", now="2026-12-15T09:00")
    found = plan(saved, now="2026-12-15T09:00")
    assert found["unfit"] == []
    added = {(name, day) for _, name, _, day in told_changes(found, "added")}
    assert {name for name, _ in added} == {"PB-1/half-year", "PB-1/belt"}
    assert told_changes(found, "dropped", "unfit") == set()


def test_another_interval_is_the_reason_that_is_told(saved: Command) -> None:
    apply(saved, changed(("every: 1 month\n", "every: 3 weeks\n")))
    found = plan(saved)
    assert {change["name"] for change in found["changes"]} == {"TP-1/monthly"}
    assert all(
        why.startswith("its interval is 3 weeks now, not 1 month: due ")
        for why in reasons(found, "TP-1/monthly")
    )


@pytest.fixture
def in_house(tmp_path: Path) -> Command:
    """A shop without the firm's jobs and the belt, its plan saved, in the middle of January."""
    run = store(tmp_path, without("TP-1/half-year", "PB-1/half-year", "PB-1/belt"))
    assert run("plan", Q1, "--save", now=TOLD).status == 0
    assert run("done", "FE-1/look", "--at", "2027-01-04", now="2027-01-05T08:00").status == 0
    return run


def test_a_job_done_in_its_window_moves_nothing(in_house: Command) -> None:
    # done on the 11th: due again on 11 February, 12 February is within 3 days of it
    in_house("done", "TP-1/monthly", "--at", "2027-01-11T10:00", now="2027-01-11T11:00")
    found = plan(in_house, now="2027-01-11T11:00")
    assert told_changes(found) == {
        ("dropped", "FE-1/look", "2027-01-04", None),
        ("dropped", "TP-1/monthly", "2027-01-14", None),
    }
    assert reasons(found, "TP-1/monthly") == ["done on Mon 2027-01-11, not on Thu 2027-01-14"]
    assert days(found) == {j for j in PLANNED if j[0] in ("TP-1/monthly", "FE-1/look")} - {
        ("FE-1/look", "2027-01-04"),
        ("TP-1/monthly", "2027-01-14"),
    }


def test_a_job_done_late_moves_what_follows_from_it(in_house: Command) -> None:
    # done on Monday 18 January: due again on Thursday 18 February, then 18 March
    in_house("done", "TP-1/monthly", "--at", "2027-01-18T10:00", now="2027-01-18T11:00")
    found = plan(in_house, now="2027-01-18T11:00")
    assert told_changes(found, "moved") == {
        ("moved", "TP-1/monthly", "2027-02-12", "2027-02-18"),
        ("moved", "TP-1/monthly", "2027-03-12", "2027-03-18"),
    }
    why = "done on Mon 2027-01-18, not on Thu 2027-01-14: due Thu 2027-02-18 now"
    assert any(told.startswith(why) for told in reasons(found, "TP-1/monthly"))


def test_a_day_that_passed_without_its_job_is_made_up_for(in_house: Command) -> None:
    found = plan(in_house, now="2027-01-15T08:00")
    assert ("moved", "TP-1/monthly", "2027-01-14", "2027-01-15") in told_changes(found)
    assert "Thu 2027-01-14 passed without it" in reasons(found, "TP-1/monthly")


def test_weeks_that_were_skipped_leave_the_weeks_to_come_alone(tmp_path: Path) -> None:
    # done on Monday 14 December, every Monday since; 21 December falls into the quarter before
    weekly = "title: Wipe, every: 1 week, minutes: 5, last_done: {on: 2026-12-14}"
    run = store(tmp_path, with_task("TP-1", "weekly", weekly))
    plan(run, "--save")
    found = plan(run, now="2027-01-18T08:00")
    gone = [change for change in found["changes"] if change["name"] == "TP-1/weekly"]
    assert [(change["kind"], change["was"], change["why"]) for change in gone] == [
        ("dropped", "2027-01-04", "Mon 2027-01-04 passed without it"),
        ("dropped", "2027-01-11", "Mon 2027-01-11 passed without it"),
    ]
