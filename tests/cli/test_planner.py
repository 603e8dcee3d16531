"""The quarter's plan on the command line: what it holds, what is refused, what does not fit."""

from pathlib import Path
from typing import NamedTuple

import pytest

from tests.command import ESCAPE, Command, assert_fits
from tests.planned_shop import (
    PLANNED,
    Q1,
    SHOP,
    TOLD,
    VISIT,
    apply,
    changed,
    days,
    plan,
    store,
    with_task,
    words,
)

# --- what a plan holds


def test_the_plan_is_the_one_worked_by_hand(tmp_path: Path) -> None:
    found = plan(store(tmp_path))
    assert days(found) == PLANNED
    assert (found["unfit"], found["gap"], found["changes"]) == ([], 0.0, None)


def test_a_plan_that_none_can_beat_says_so(saved: Command) -> None:
    assert "Its cost is the best there is." in saved("plan", Q1, now=TOLD).out


def test_a_job_has_the_fields_that_scripts_rely_on(saved: Command) -> None:
    found = plan(saved)
    assert {"jobs", "unfit", "gap"} <= found.keys()
    (job,) = (job for job in found["jobs"] if job["task"] == "PB-1/half-year")
    # window: 27 January and 14 days of grace (10 % of 6 months, at most 14) on either side
    wanted = {
        "task": "PB-1/half-year",
        "due_on": "2027-01-27",
        "day": "2027-01-20",
        "window": ["2027-01-13", "2027-02-10"],
        "crew": "press-service",
        "minutes": 200,
        "visit": VISIT,
    }
    assert {key: job[key] for key in wanted} == wanted
    (belt,) = (job for job in found["jobs"] if job["task"] == "PB-1/belt")
    # 10 % of 20,000 cycles: from 18,000, on the 36th working day, to 22,000, on the 44th
    assert belt["window"] == ["2027-02-11", "2027-02-23"]
    assert (belt["due_on"], belt["crew"], belt["visit"]) == ("2027-02-17", None, None)
    looks = [job for job in found["jobs"] if job["task"] == "FE-1/look"]
    assert [job["window"][1] for job in looks] == [job["due_on"] for job in looks]  # the law's


def test_a_firm_comes_once_and_is_called_in_time(saved: Command) -> None:
    found = plan(saved)
    assert found["visits"] == [
        {
            "visit": VISIT,
            "crew": "press-service",
            "day": "2027-01-20",
            "book_by": "2026-12-23",  # 21 days before is a day of the shutdown
            "minutes": 440,
            "tasks": ["PB-1/half-year", "TP-1/half-year"],
        }
    ]
    (call,) = found["calls"]
    assert (call["book_by"], call["day"], call["overdue"]) == ("2026-12-23", "2027-01-20", False)


def test_weeks_and_parts_follow_from_the_days(saved: Command) -> None:
    found = plan(saved)
    weeks = {week["monday"]: (week["jobs"], week["hours"]) for week in found["weeks"]}
    assert weeks["2027-01-11"] == (1, 1.5)  # the monthly of 90 minutes
    assert weeks["2027-01-18"] == (2, 0)  # the firm's jobs take none of the crew's hours
    assert {week["available"] for week in found["weeks"]} == {10}  # 5 days of 2 hours
    assert [(p["week"], p["part"], p["quantity"]) for p in found["parts"]] == [
        (week, "filter element", 2) for week in ("2027-W02", "2027-W06", "2027-W10")
    ]


@pytest.mark.parametrize("options", [[], ["--jobs"], ["--parts"], ["--jobs", "--parts"]])
def test_a_plan_fits_the_paper_without_colour(saved: Command, options: list[str]) -> None:
    told = saved("plan", Q1, *options, now=TOLD)
    assert told.status == 0
    assert_fits(told.out)
    assert_fits(told.err)
    assert "9 jobs, 1 visit of outside firms." in words(told.out)
    assert ("Drive belt inspected" in told.out) == ("--jobs" in options)
    assert ("2 x filter element" in told.out) == ("--parts" in options)


def test_long_names_fit_the_paper_too(tmp_path: Path) -> None:
    title = "Guards, " * 30
    text = with_task("PB-1", "x" * 40, f"title: '{title}', every: 1 month")
    run = store(tmp_path, text.replace("PB-1", "P" * 40))
    shown = run("plan", Q1, "--jobs", "--save", now=TOLD).out
    assert_fits(shown)
    assert "x" * 20 in shown


def test_what_recurs_every_day_is_left_out_where_asked(tmp_path: Path) -> None:
    text = with_task("TP-1", "daily", "title: Wipe, every: 1 day, minutes: 5")
    run = store(tmp_path, text)
    whole, short = plan(run), plan(run, "--no-daily")
    daily = {job for job in days(whole) if job[0] == "TP-1/daily"}
    assert len(daily) == 63  # working days from Monday 4 January to Wednesday 31 March
    assert days(short) == days(whole) - daily == PLANNED
    assert short["weeks"] == whole["weeks"]  # the crew does them all the same
    shown = run("plan", Q1, "--no-daily", now=TOLD).out
    assert "9 jobs besides 63 daily ones not listed, 1 visit" in words(shown)
    plan(run, "--save")
    run("idle", "TP-1", "--why", "rebuilt", now=TOLD)
    changed_tasks = {change["name"] for change in plan(run, "--no-daily")["changes"]}
    assert "TP-1/monthly" in changed_tasks
    assert "TP-1/daily" not in changed_tasks


def test_a_shop_without_tasks_has_an_empty_plan(tmp_path: Path) -> None:
    run = store(tmp_path, SHOP.split("tasks:")[0])
    found = plan(run, "--save")
    assert (found["jobs"], found["unfit"], found["gap"]) == ([], [], 0)
    shown = run("plan", Q1, now=TOLD)
    assert shown.status == 0
    assert shown.out.startswith("2027-Q1: 0 jobs, 0 visits of outside firms.")
    assert plan(run)["changes"] == []


# --- what is refused


@pytest.mark.parametrize("quarter", ["", "2027", "2027-Q5", "2027-Q0", "Q1", "2027-W03", "27-Q1"])
@pytest.mark.parametrize("command", ["plan", "sheet", "cards", "publish"])
def test_a_quarter_written_badly(saved: Command, command: str, quarter: str) -> None:
    rest = {"sheet": ["--out", "x"], "cards": ["--out", "x"], "publish": ["--url", "http://[::1]/"]}
    saved.refused([command, quarter, *rest.get(command, [])], 2, "write it like 2027-Q1", now=TOLD)


@pytest.mark.parametrize("quarter", ["2026-Q3", "2020-Q1", "1950-Q1"])
def test_a_quarter_that_is_over_is_not_planned(saved: Command, quarter: str) -> None:
    message = f"{quarter} is over; plan 2026-Q4 or a later one"
    saved.refused(["plan", quarter, "--save"], 3, message, now=TOLD)


def test_the_quarter_that_runs_is_planned_from_today_on(saved: Command) -> None:
    # FE-1/look, done on 7 December, and TP-1/monthly, on the 14th, are due again in January
    run = Command(saved.store)
    apply(run, changed(("last_done: {on: 2026-07-20}", "last_done: {on: 2026-06-18}")))
    found = plan(run, quarter="2026-Q4", now="2026-12-15T08:00")
    # due on Friday 18 December; 21 days' notice from the 15th make it Tuesday 5 January
    assert days(found) == {("TP-1/half-year", "2027-01-05")} or not days(found)
    assert all(day >= "2026-12-15" for _, day in days(found))


@pytest.mark.parametrize("first", ["2026-12-24", "2027-02-01"])
def test_a_shop_that_works_no_more_has_no_plan(tmp_path: Path, first: str) -> None:
    text = changed(("from: 2026-12-24, to: 2027-01-01", f"from: {first}, to: 2028-01-01"))
    message = "the shop does not work in the weeks after 2027-Q1"
    store(tmp_path, text).refused(["plan", Q1, "--save"], 3, message, now="2026-12-24T08:00")


# --- what does not fit is listed with its reason and its cure


class Odd(NamedTuple):
    """A task of a machine that cannot be planned at a time; what is told of it."""

    machine: str
    definition: str
    kind: str
    reason: str
    cure: str
    now: str = TOLD


UNFIT = [
    Odd(  # 150 minutes never fit into 2 crew hours a day
        "TP-1",
        "title: Big, every: 3 months, minutes: 150, last_done: {on: 2026-11-01}",
        "crew",
        "it takes 2.5 h, the crew has 2.0 h a day",
        "crew_hours",
    ),
    Odd(  # due on 2 January, a day later at most; called on 15 December the firm comes on the 5th
        "TP-1",
        "title: Call, every: 6 months, minutes: 60, crew: press-service, grace: 1 days,"
        " last_done: {on: 2026-07-02}",
        "notice",
        "press-service needs 21 days' notice",
        "ask the firm to come by",
    ),
    Odd(  # the law wants it by Friday 1 January, in the shutdown, which has begun
        "FE-1",
        "title: Law, on: FREQ=YEARLY;BYMONTH=1;BYMONTHDAY=1, starts: 2027-01-01,"
        " authority: 29 CFR 1910.157(e)(2), minutes: 10",
        "closed",
        "no working day from 2026-12-23 to 2027-01-01",
        "open the shop for it on a closed day",
        "2026-12-24T08:00",
    ),
    Odd(  # nobody reads the meter of the lift truck and nothing is expected of it
        "LT-1",
        "title: Blind, every: 100 hours, minutes: 10, last_done: {on: 2026-12-01}",
        "unknown",
        "no due date can be told: nobody reads its meter",
        "pmtrack log LT-1",
    ),
    Odd(  # a first one is due at once, but when the next one is nobody can tell
        "LT-1",
        "title: Blind, every: 100 hours, minutes: 10",
        "unknown",
        "no due date can be told: nobody reads its meter",
        "pmtrack log LT-1",
    ),
]
TRUCK = (
    "  - {code: FE-1, name: Portable extinguishers}\n",
    "  - {code: FE-1, name: Portable extinguishers}\n"
    "  - {code: LT-1, name: Lift truck, meters: {hours: {}}}\n",
)


@pytest.mark.parametrize("row", UNFIT, ids=["crew", "notice", "closed", "blind", "blind-later"])
def test_what_does_not_fit_is_listed_with_a_reason_and_a_cure(tmp_path: Path, row: Odd) -> None:
    name = f"{row.machine}/odd"
    text = with_task(row.machine, "odd", row.definition).replace(*TRUCK)
    run = store(tmp_path, text, row.now)
    found = plan(run, now=row.now)
    (odd,) = (job for job in found["unfit"] if job["task"] == name)
    assert odd["kind"] == row.kind
    assert row.reason in odd["reason"]
    assert row.cure in odd["cure"]
    assert name not in {task for task, _ in days(found)}
    shown = run("plan", Q1, now=row.now).out
    assert_fits(shown)
    told = words(shown)
    assert name in told[told.index("What does not fit") :]
    assert words(odd["reason"]) in told
    assert f"cure: {words(odd['cure'])}" in told


def test_a_firm_called_too_late_is_a_call_to_make_now(tmp_path: Path) -> None:
    late = UNFIT[1]
    (call,) = (
        call
        for call in plan(store(tmp_path, with_task(late.machine, "odd", late.definition)))["calls"]
        if call["tasks"] == ["TP-1/odd"]
    )
    assert (call["overdue"], call["placed"]) == (True, False)


def test_nothing_is_dropped_in_silence(tmp_path: Path) -> None:
    """Each task due in the quarter or before has a day, or is listed as unfit."""
    text = SHOP
    for number, row in enumerate(UNFIT):
        text += f"  - {{machines: [{row.machine}], code: odd-{number}, {row.definition}}}\n"
    run = store(tmp_path, text.replace(*TRUCK))
    run.done("idle", "FE-1", "--why", "hall cleared", now=TOLD)
    found = plan(run)
    told = {task for task, _ in days(found)} | {job["task"] for job in found["unfit"]}
    items = run.json("today", "--all", now=TOLD)["items"]
    due = {i["task"] for i in items if i["due_on"] is None or i["due_on"] <= "2027-03-31"}
    assert len(due) == 10  # five tasks and the five of the table
    assert due <= told


def test_no_escape_sequence_reaches_a_pipe_even_when_a_colour_is_asked_for(
    saved: Command,
) -> None:
    told = saved("plan", Q1, "--jobs", now=TOLD, env={"TERM": "xterm-256color"})
    assert ESCAPE not in told.out + told.err
