"""The calendars of two quarters on one calendar: each job in one of them, no event flips."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.cli.test_plan_outputs import calendar, days_of, hose
from tests.command import Command
from tests.planned_shop import Q1, TOLD, apply, plan, store, told_changes, with_task

Q4, Q2 = "2026-Q4", "2027-Q2"
WIPE = "TP-1: Wipe"
# due on 16 and 23 December, and then on the 30th, when the shop is closed: so on Monday 4 January
WEEKLY = "title: Wipe, every: 1 week, minutes: 5, last_done: {on: 2026-12-09}"
Events = dict[str, tuple[str, int, str]]


@pytest.fixture
def run(tmp_path: Path) -> Command:
    """The shop worked by hand, with a weekly task."""
    return store(tmp_path, with_task("TP-1", "weekly", WEEKLY))


def told(run: Command, quarter: str, now: str = TOLD) -> Events:
    """Day, SEQUENCE and STATUS of the weekly events in a quarter's file, by UID."""
    found = calendar(run, quarter=quarter, now=now)
    return {
        uid: (event["DTSTART"], int(event["SEQUENCE"]), event["STATUS"])
        for uid, event in found.items()
        if event["SUMMARY"].endswith(WIPE)
    }


def on(events: Events, day: str) -> dict[str, tuple[int, str]]:
    """SEQUENCE and STATUS of the events on a day, by UID."""
    return {uid: (number, status) for uid, (at, number, status) in events.items() if at == day}


ONCE = [(0, "CONFIRMED")]


def test_replanning_one_quarter_leaves_the_other_quarters_jobs_alone(run: Command) -> None:
    plan(run, "--save")
    first = told(run, Q1)
    assert list(on(first, "20270104").values()) == ONCE
    plan(run, "--save", quarter=Q4)
    fourth = told(run, Q4)
    assert on(fourth, "20270104") == on(first, "20270104")  # the same event, as it was
    plan(run, "--save")
    again = told(run, Q1)
    assert on(again, "20270104") == {}  # left to the quarter that plans it
    assert {uid: e for uid, e in first.items() if uid in again} == again
    for _ in range(2):
        assert told(run, Q4) == fourth
        assert told(run, Q1) == again


def test_of_two_plans_with_the_same_job_the_later_tells_it(run: Command) -> None:
    plan(run, "--save")
    plan(run, "--save", quarter=Q4)
    out = str(run.store.with_name("q1.ics"))
    left = run("calendar", Q1, "--out", out, now=TOLD)
    assert "1 job left to the calendar of 2026-Q4" in left.err
    assert on(told(run, Q1), "20270104") == {}
    assert list(on(told(run, Q4), "20270104").values()) == ONCE


def test_a_job_that_only_the_other_plan_has_stays_until_that_is_told(run: Command) -> None:
    plan(run, "--save")
    first = told(run, Q1)
    plan(run, "--save", quarter=Q4)
    assert told(run, Q1) == first  # the calendar of the fourth quarter was not written yet


def test_without_plans_a_job_is_told_by_the_quarter_in_which_it_is_due(run: Command) -> None:
    assert len(on(told(run, Q4), "20270104")) == 1
    assert on(told(run, Q1), "20270104") == {}
    assert "20270111" in {day for day, *_ in told(run, Q1).values()}


def test_without_plans_a_job_of_a_quarter_that_is_over_goes_to_the_next(run: Command) -> None:
    (planned,) = on(told(run, Q4), "20270104")
    for day in ("2026-12-16", "2026-12-23"):
        assert run("done", "TP-1/weekly", "--at", day, now=f"{day}T15:00").status == 0
    # not done on the 4th
    assert on(told(run, Q1, now="2027-01-05T08:00"), "20270105") == {planned: (1, "CONFIRMED")}


def test_a_plan_goes_before_a_quarter_without_one(run: Command) -> None:
    plan(run, "--save", quarter=Q4)
    assert on(told(run, Q1), "20270104") == {}
    assert len(on(told(run, Q4), "20270104")) == 1


def test_a_sequence_never_falls_from_one_quarters_file_to_anothers(tmp_path: Path) -> None:
    run = store(tmp_path, hose("2 months"))
    # to the second quarter and back; a file written in between knows what others said
    steps: list[tuple[str, str, dict[str, tuple[str, str, str] | None]]] = [
        ("2 months", Q1, {Q1: ("20270201", "0", "CONFIRMED")}),
        ("5 months", Q1, {Q1: ("20270201", "1", "CANCELLED")}),
        ("5 months", Q2, {Q2: ("20270430", "2", "CONFIRMED"), Q1: None}),
        ("2 months", Q2, {Q2: ("20270430", "3", "CANCELLED"), Q1: None}),
        ("2 months", Q1, {Q1: ("20270201", "4", "CONFIRMED"), Q2: None}),
    ]
    uid = ""
    for every, planned, expected in steps:
        apply(run, hose(every))
        plan(run, "--save", quarter=planned)
        for quarter, says in expected.items():
            found = days_of(calendar(run, quarter=quarter), "Hose looked at")
            uid = uid or next(iter(found))
            assert found.get(uid) == says


def test_a_skipped_week_leaves_the_other_weeks_events_as_they_are(tmp_path: Path) -> None:
    open_all_year = "  closed:\n    - {from: 2026-12-24, to: 2027-01-01, why: winter shutdown}\n"
    weekly = WEEKLY.replace("2026-12-09", "2026-12-14")
    run = store(tmp_path, with_task("TP-1", "weekly", weekly).replace(open_all_year, ""))
    plan(run, "--save")
    before = told(run, Q1)
    mondays = [date(2027, 1, 4) + week * timedelta(days=7) for week in range(13)]
    days = {(f"{day:%Y%m%d}", 0, "CONFIRMED") for day in mondays}
    assert set(before.values()) == days
    # 21 December is skipped, so that the first job is that of the 28th
    assert run("done", "TP-1/weekly", "--at", "2026-12-28", now="2026-12-28T15:00").status == 0
    planned = plan(run, "--save", now="2026-12-29T08:00")
    assert told_changes(planned) == set()
    assert told(run, Q1, now="2026-12-29T09:00") == before
    # what is done then is told by the event of its day, and what moves moves
    assert run("done", "TP-1/weekly", "--at", "2027-01-04", now="2027-01-04T15:00").status == 0
    moved = run("pin", "TP-1/weekly", "2027-01-13", now="2027-01-04T15:00")
    assert moved.status == 0
    plan(run, "--save", now="2027-01-05T08:00")
    after = told(run, Q1, now="2027-01-05T09:00")
    (first,), (second,) = on(before, "20270104"), on(before, "20270111")
    assert after[first] == ("20270104", 1, "CONFIRMED")
    assert after[second] == ("20270113", 1, "CONFIRMED")
    assert after.keys() == before.keys()


def test_weeks_that_were_skipped_are_cancelled_though_their_numbers_live_on(tmp_path: Path) -> None:
    """Open all winter. The 16th and 23rd were missed; the 30th, done, is the first of the row.

    The second is in the next quarter now, where it has an event of its own.
    """
    shutdown = "    - {from: 2026-12-24, to: 2027-01-01, why: winter shutdown}"
    text = with_task("TP-1", "weekly", WEEKLY)
    assert text.count(shutdown) == 1
    run = store(tmp_path, text.replace(shutdown, "    - {on: 2027-01-01}"))

    def both(now: str) -> list[Events]:
        for quarter in (Q4, Q1):
            plan(run, "--save", quarter=quarter, now=now)
        for _ in range(2):
            found = [told(run, quarter, now=now) for quarter in (Q4, Q1)]
        return found

    both(TOLD)
    assert run("done", "TP-1/weekly", "--at", "2026-12-30", now="2026-12-30T15:00").status == 0
    for events in both("2026-12-31T08:00"):
        days = [day for day, _, status in events.values() if status == "CONFIRMED"]
        assert not {"20261216", "20261223"} & set(days)
        assert len(days) == len(set(days))


def test_a_job_just_done_is_not_planned_for_the_day_that_it_was_done(run: Command) -> None:
    """The 16th was missed; the 23rd is the first of its row, though planned as the second."""
    plan(run, "--save", quarter=Q4)
    done = "2026-12-23T15:00"
    assert [job["task"] for job in run.json("today", now=done)["planned"]] == ["TP-1/weekly"]
    assert run("done", "TP-1/weekly", "--at", "2026-12-23", now=done).status == 0
    assert run.json("today", now=done)["planned"] == []
    (weekly,) = (
        item
        for item in run.json("today", "--all", now=done)["items"]
        if item["task"] == "TP-1/weekly"
    )
    assert weekly["planned_on"] == "2027-01-04"
