"""A job fixed to a day and let go again, on the command line."""

from pathlib import Path

import pytest

from tests.cli.test_manager import events
from tests.command import Command
from tests.planned_shop import (
    PLANNED,
    Q1,
    Q4,
    TOLD,
    apply,
    changed,
    days,
    plan,
    store,
    told_changes,
    with_task,
    words,
)

FIRM = "PB-1/half-year"
MOVED = ("moved", FIRM, "2027-01-20", "2027-01-26")


def test_a_pinned_job_goes_to_its_day_and_stays_there(saved: Command) -> None:
    told = saved("pin", FIRM, "2027-01-26", "--why", "the firm offered that day", now=TOLD)
    assert told.status == 0
    assert told.out == "entry 1: PB-1/half-year, due 2027-01-27, is fixed to Tue 2027-01-26\n"
    assert told.err == "'pmtrack plan 2027-Q1 --save' takes it into the plan\n"
    assert saved.json("entries", now=TOLD)[0]["why"] == "the firm offered that day"
    found = plan(saved, "--save")
    assert MOVED in told_changes(found, "moved")
    (job,) = (job for job in found["jobs"] if job["task"] == FIRM)
    assert (job["day"], job["pinned"]) == ("2027-01-26", True)
    assert plan(saved)["changes"] == []
    assert "PB-1/half-year, due Wed 27 Jan 2027 (pinned)" in words(saved("plan", Q1, now=TOLD).out)


def test_a_released_job_may_stay_but_is_pinned_no_more(saved: Command) -> None:
    saved("pin", FIRM, "2027-01-26", now=TOLD)
    plan(saved, "--save")
    assert saved.done("release", FIRM, now=TOLD) == "entry 2: PB-1/half-year may move again\n"
    found = plan(saved)
    # it stands alone on the 26th; one visit for both is worth the move back to TP-1's day
    (job,) = (job for job in found["jobs"] if job["task"] == FIRM)
    assert not job["pinned"]
    kinds = {kind for kind, name, *_ in told_changes(found) if name == FIRM}
    assert kinds <= {"moved", "released"}
    assert kinds


def test_a_pin_that_is_crossed_out_never_was(saved: Command) -> None:
    saved("pin", FIRM, "2027-01-26", now=TOLD)
    saved.done("void", "1", "--why", "the firm rang again", now=TOLD)
    found = plan(saved)
    assert (days(found), found["changes"]) == (PLANNED, [])
    saved.refused(["release", FIRM], 3, "PB-1/half-year is not pinned", now=TOLD)


def test_a_later_pin_of_the_same_job_replaces_the_one_before(saved: Command) -> None:
    saved("pin", FIRM, "2027-01-26", now=TOLD)
    saved("pin", FIRM, "2027-01-28", now=TOLD)
    assert (FIRM, "2027-01-28") in days(plan(saved))
    saved.refused(["release", FIRM, "2027-01-26"], 3, "is not pinned to 2027-01-26, but", now=TOLD)
    saved.done("release", FIRM, "2027-01-28", now=TOLD)
    assert days(plan(saved)) == PLANNED


@pytest.mark.parametrize(
    ("task", "day", "status", "message"),
    [
        ("TP-1/monthly", "2026-12-28", 3, "is no working day (closed, winter shutdown); name"),
        ("TP-1/monthly", "2027-01-16", 3, "is no working day (no shift works on a Saturday)"),
        ("TP-1/monthly", "2026-12-14", 3, "is past; name a day from 2026-12-15 on"),
        ("FE-1/look", "2027-01-05", 3, "it cannot be planned after its due date, 2027-01-04"),
        ("TP-1/yearly", "2027-01-14", 3, "no task 'TP-1/yearly'; tasks there: TP-1/monthly"),
        ("XX-9/monthly", "2027-01-14", 3, "no task 'XX-9/monthly'"),
        ("TP-1/monthly", "14.1.2027", 2, "is no date; write it like"),
        ("TP-1/monthly", "2027-02-30", 2, "2027-02-30"),
        ("TP-1/monthly", "", 2, "is no date; write it like"),
    ],
)
def test_a_pin_to_a_day_that_cannot_be(
    saved: Command, task: str, day: str, status: int, message: str
) -> None:
    saved.refused(["pin", task, day], status, message, now=TOLD)


def test_a_pin_of_what_is_out_of_service_or_retired(saved: Command) -> None:
    saved("idle", "PB-1", "--why", "rebuilt", now=TOLD)
    saved.refused(["pin", "PB-1/belt", "2027-02-17"], 3, "PB-1 is out of service", now=TOLD)


def test_a_release_without_a_pin(saved: Command) -> None:
    saved.refused(["release", "TP-1/monthly"], 3, "TP-1/monthly is not pinned", now=TOLD)
    saved.refused(["release", "TP-1/yearly"], 3, "no task 'TP-1/yearly'", now=TOLD)


def test_a_firm_with_too_little_notice_is_to_be_asked(saved: Command) -> None:
    told = saved("pin", FIRM, "2027-01-04", now=TOLD)  # 20 days from 15 December
    assert told.status == 0
    assert "asks for 21 days' notice and has 20; make sure that they come" in told.err


def test_a_pin_that_cannot_be_kept_is_told(saved: Command) -> None:
    saved("pin", FIRM, "2027-01-26", now=TOLD)
    cut = "why: winter shutdown}\n    - {on: 2027-01-26, why: power cut}"
    apply(saved, changed(("why: winter shutdown}", cut)))
    found = plan(saved)
    assert found["broken_pins"] == [{"entry": 1, "task": FIRM, "day": "2027-01-26"}]
    shown = words(saved("plan", Q1, now=TOLD).out)
    assert "Pins that could not be kept PB-1/half-year, Tue 2027-01-26: planned for" in shown
    assert "'pmtrack release' it, or 'pmtrack pin' it nearer to its due day" in shown
    assert plan(saved, "--save")["broken_pins"] == found["broken_pins"]


def test_a_pin_that_another_quarters_plan_keeps_is_kept(tmp_path: Path) -> None:
    """Due on 28 February, fixed to 12 April: the plan of the quarter in which it is due has it."""
    text = "title: Gearbox oil, every: 6 months, minutes: 60, last_done: {on: 2026-08-28}"
    run = store(tmp_path, with_task("TP-1", "gear", text))
    assert run("pin", "TP-1/gear", "2027-04-12", now=TOLD).status == 0
    before = plan(run, "--save", quarter="2027-Q2")
    assert [pin["day"] for pin in before["broken_pins"]] == ["2027-04-12"]  # no plan has it yet
    found = plan(run, "--save")
    assert ("TP-1/gear", "2027-04-12") in days(found)
    assert found["broken_pins"] == []
    assert plan(run, "--save", quarter="2027-Q2")["broken_pins"] == []


GEAR = "TP-1/gear"


@pytest.fixture
def both(tmp_path: Path) -> Command:
    """A shop with one job more, done every three months, due on Sunday 24 January; both planned."""
    text = "title: Gearbox oil, every: 3 months, minutes: 60, last_done: {on: 2026-10-24}"
    run = store(tmp_path, with_task("TP-1", "gear", text))
    for quarter in (Q4, Q1):
        plan(run, "--save", quarter=quarter)
    return run


def gear(run: Command, quarter: str) -> list[tuple[str, bool]]:
    """The days of that job in a plan, and whether it is pinned; no pin is broken."""
    found = plan(run, "--save", quarter=quarter)
    assert found["broken_pins"] == []
    return [(job["day"], job["pinned"]) for job in found["jobs"] if job["task"] == GEAR]


def test_a_job_due_in_the_next_quarter_is_pinned_into_this_one(both: Command) -> None:
    """It then counts as done on 22 December, and comes again three months later."""
    assert gear(both, Q1) == [("2027-01-22", False)]
    told = both("pin", GEAR, "2026-12-22", now=TOLD)
    assert told.err == (
        "'pmtrack plan 2026-Q4 --save' takes it into the plan\n"
        "then 'pmtrack plan 2027-Q1 --save' counts it as done on that day\n"
    )
    unkept = words(both("plan", Q1, now=TOLD).out)
    assert "TP-1/gear, Tue 2026-12-22: planned for Fri 2027-01-22" in unkept
    assert "cure: 'pmtrack plan 2026-Q4 --save' takes it in" in unkept
    assert gear(both, Q4) == [("2026-12-22", True)]
    change = plan(both)["changes"]
    assert "planned for Tue 2026-12-22, in the plan of another quarter" in {
        found["why"] for found in change
    }
    for _ in range(2):
        assert gear(both, Q1) == [("2027-03-22", False)]
        assert gear(both, Q4) == [("2026-12-22", True)]


def test_a_job_let_go_again_returns_to_its_own_quarter(both: Command) -> None:
    both("pin", GEAR, "2026-12-22", now=TOLD)
    assert [gear(both, quarter) for quarter in (Q4, Q1)] == [
        [("2026-12-22", True)], [("2027-03-22", False)],
    ]  # fmt: skip
    both("release", GEAR, now=TOLD)
    assert [gear(both, quarter) for quarter in (Q4, Q1)] == [[], [("2027-01-22", False)]]


def test_the_calendar_of_the_quarter_of_the_pin_tells_of_the_job(both: Command) -> None:
    """The next quarter's file told of the job before: it leaves it to this one, uncancelled."""
    files = {quarter: both.store.with_name(f"{quarter}.ics") for quarter in (Q4, Q1)}

    def told() -> list[list[str]]:
        for quarter, out in files.items():
            assert both("calendar", quarter, "--out", str(out), now=TOLD).status == 0
        return [
            [f"{event['DTSTART']} {event['STATUS']}" for event in events(out)
             if event["SUMMARY"].endswith("Gearbox oil")]
            for out in files.values()
        ]  # fmt: skip

    assert both("calendar", Q1, "--out", str(files[Q1]), now=TOLD).status == 0
    both("pin", GEAR, "2026-12-22", now=TOLD)
    for quarter in (Q4, Q1):
        gear(both, quarter)
    for _ in range(2):
        here, there = told()
        assert here == ["20261222 CONFIRMED"]
        assert there == ["20270322 CONFIRMED"]
        counted = both("calendar", Q4, "--out", str(files[Q4]), now=TOLD).out
        assert "Q4.ics: 1 event;" in counted


def test_a_pin_nearer_to_the_job_before_is_refused_with_the_first_day(both: Command) -> None:
    """A year is 365 days: 182 of them before 1 December are 2 June."""
    text = "title: Bearings, every: 1 year, minutes: 60, last_done: {on: 2026-12-01}"
    apply(both, with_task("TP-1", "bearings", text))
    why = "2027-01-13 is too early for TP-1/bearings, due 2027-12-01; name a day from Thu"
    both.refused(["pin", "TP-1/bearings", "2027-01-13"], 3, f"{why} 2027-06-03 on", now=TOLD)
    assert both("pin", "TP-1/bearings", "2027-06-03", now=TOLD).status == 0


def test_a_pin_past_the_due_date_and_its_grace_is_told_as_late(saved: Command) -> None:
    """TP-1/monthly, due on Thursday 14 January with 3 days of grace."""
    assert "late" not in saved("pin", "TP-1/monthly", "2027-01-15", now=TOLD).err
    told = saved("pin", "TP-1/monthly", "2027-01-18", now=TOLD)
    assert "Mon 2027-01-18 is late: its last day on time is Sun 2027-01-17\n" in told.err


def test_a_pin_holds_its_job_whatever_else_moves(saved: Command) -> None:
    saved("pin", "TP-1/monthly", "2027-01-13", now=TOLD)
    saved("pin", FIRM, "2027-01-26", now=TOLD)
    apply(saved, changed(("crew_hours: 2", "crew_hours: 4"), ("minutes: 240", "minutes: 300")))
    found = plan(saved)
    pinned = {(job["task"], job["day"]) for job in found["jobs"] if job["pinned"]}
    assert pinned == {("TP-1/monthly", "2027-01-13"), (FIRM, "2027-01-26")}


def test_a_pin_years_away_is_no_matter_for_the_quarter(tmp_path: Path) -> None:
    text = "title: Rewired, every: 5 years, minutes: 60, last_done: {on: 2022-02-15}"
    run = store(tmp_path, with_task("TP-1", "wiring", text))
    assert run("pin", "TP-1/wiring", "2028-02-15", now=TOLD).status == 0
    found = plan(run)
    assert ("TP-1/wiring", "2027-02-15") in days(found)  # when its 5 years are over
    assert [pin["day"] for pin in found["broken_pins"]] == ["2028-02-15"]


def test_a_job_pinned_again_after_another_was_skipped_has_one_pin(tmp_path: Path) -> None:
    """16 December was missed: the 23rd, done, is the first of its row, and all others move up."""
    weekly = "title: Wipe, every: 1 week, minutes: 5, last_done: {on: 2026-12-09}"
    shutdown = "    - {from: 2026-12-24, to: 2027-01-01, why: winter shutdown}"
    text = with_task("TP-1", "weekly", weekly)
    run = store(tmp_path, text.replace(shutdown, "    - {on: 2027-01-01}"))
    plan(run, "--save", quarter=Q4)
    plan(run, "--save")
    assert run("pin", "TP-1/weekly", "2027-01-19", now=TOLD).status == 0
    late = "2026-12-23T15:00"
    assert run("done", "TP-1/weekly", "--at", "2026-12-23", now=late).status == 0
    told = run("pin", "TP-1/weekly", "2027-01-22", now=late)
    assert "\n  in place of Tue 2027-01-19, entry 1\n" in told.out
    found = plan(run, "--save", now=late)
    assert found["broken_pins"] == []
    pinned = [job["day"] for job in found["jobs"] if job["pinned"]]
    assert pinned == ["2027-01-22"]
    assert run.done("release", "TP-1/weekly", now=late).endswith("TP-1/weekly may move again\n")


def test_a_pin_back_into_the_next_quarter_names_the_plan_that_holds_the_job(both: Command) -> None:
    """PB-1/half-year, due on 27 January, was pinned into December; both plans know it."""
    early = "2026-12-21"
    assert both("pin", FIRM, early, now=TOLD).status == 0
    for quarter in (Q4, Q1):
        plan(both, "--save", quarter=quarter)
    told = both("pin", FIRM, "2027-01-19", now=TOLD)
    assert told.err == (
        "'pmtrack plan 2026-Q4 --save' first lets it go\n"
        "'pmtrack plan 2027-Q1 --save' takes it into the plan\n"
    )
    plan(both, "--save", quarter=Q4)
    found = plan(both, "--save")
    assert found["broken_pins"] == []
    assert (FIRM, "2027-01-19") in days(found)
