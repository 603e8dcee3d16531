"""A shop file applied after a plan was saved: it is told, and what was retired is left out."""

from pathlib import Path

import pytest

from tests.cli.test_plan_outputs import calendar, days_of
from tests.command import Command
from tests.exports.html_tree import read
from tests.planned_shop import Q1, SHOP, TOLD, apply, changed, plan, store, with_task, without

ADVICE = "'pmtrack plan 2027-Q1 --save' takes it in"
WITHOUT = "'pmtrack plan 2027-Q1 --save' plans without them"
BEFORE = f"plan 2027-Q1 was saved before this: {ADVICE}\n"
LEFT = "Left out as retired since the plan was saved: PB-1/belt, PB-1/half-year"
BELT = "PB-1: Drive belt inspected"


def without_the_press_brake() -> str:
    """The shop file without PB-1 and its tasks."""
    kept = without("PB-1/belt", "PB-1/half-year")
    meter = "    meters: {cycles: {fastest: 20 per minute, expected: 500 per day}}\n"
    press_brake = f"  - code: PB-1\n    name: Press brake\n{meter}"
    assert kept.count(press_brake) == 1
    return kept.replace(press_brake, "")


def applied(run: Command, text: str, now: str = TOLD) -> str:
    """What an apply remarks."""
    path = run.store.with_name("changed.yaml")
    path.write_text(text)
    told = run("apply", str(path), now=now)
    assert told.status == 0, told.err
    return told.err


def closed(day: str) -> str:
    """The shop file with a day closed."""
    shutdown = "winter shutdown}"
    return changed((shutdown, f"{shutdown}\n    - {{on: {day}}}"))


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(changed(("every: 1 month", "every: 2 months")), id="an interval"),
        pytest.param(changed(("minutes: 240", "minutes: 300")), id="minutes"),
        pytest.param(changed(("notice: 21 days", "notice: 14 days")), id="notice"),
        pytest.param(changed(("expected: 500 per day", "expected: 600 per day")), id="a meter"),
        pytest.param(changed(("crew_hours: 2", "crew_hours: 3")), id="the crew"),
        pytest.param(closed("2027-01-20"), id="a closed day"),
        pytest.param(without("PB-1/belt"), id="a task retired"),
        pytest.param(without_the_press_brake(), id="a machine retired"),
        pytest.param(
            changed(("name: Press brake", "name: Press brake\n    in_service: 2026-01-05")),
            id="in service",
        ),
        pytest.param(
            with_task("TP-1", "hose", "title: Hose, every: 2 months, last_done: {on: 2026-12-01}"),
            id="a task more",
        ),
    ],
)
def test_an_apply_that_touches_a_saved_plan_says_so(saved: Command, text: str) -> None:
    assert applied(saved, text) == BEFORE


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(SHOP, id="nothing"),
        pytest.param(changed(("title: Drive belt inspected", "title: Belt")), id="a title"),
        pytest.param(changed(("name: Press brake", "name: Brake")), id="a machine's name"),
        pytest.param(changed(("name: Outside press service", "name: Press")), id="a firm's name"),
        pytest.param(changed(("fastest: 20 per", "fastest: 25 per")), id="a meter's limit"),
        pytest.param(changed(("name: Quillback Sheet", "name: Quillback")), id="the shop's name"),
        pytest.param(f"{SHOP}materials:\n  - {{code: steel, wear: 1}}\n", id="a material"),
        pytest.param(
            changed(("machines:\n  - code: TP-1", "machines:\n  - {code: X-1, name: X}\n"
                     "  - code: TP-1")),
            id="a machine more",
        ),
    ],
)  # fmt: skip
def test_an_apply_that_touches_no_day_of_the_plan_says_nothing(saved: Command, text: str) -> None:
    assert applied(saved, text) == ""


def test_a_quarter_that_is_over_is_not_planned_again(saved: Command) -> None:
    assert applied(saved, without("PB-1/belt"), now="2027-03-31T08:00") == BEFORE
    assert applied(saved, SHOP, now="2027-04-01T08:00") == ""


def test_each_plan_that_is_touched_is_named(saved: Command) -> None:
    plan(saved, "--save", quarter="2027-Q2")
    said = applied(saved, without("FE-1/look")).splitlines()
    assert [line.split()[1] for line in said] == ["2027-Q1", "2027-Q2"]


def test_a_plan_saved_again_takes_it_in(saved: Command) -> None:
    applied(saved, without_the_press_brake())
    plan(saved, "--save")
    out = str(saved.store.with_name("q1.html"))
    told = saved("sheet", Q1, "--out", out, now=TOLD)
    assert (told.status, told.err) == (0, "")


@pytest.mark.parametrize("command", ["sheet", "cards"])
def test_the_sheet_and_the_cards_leave_out_what_was_retired(saved: Command, command: str) -> None:
    applied(saved, without_the_press_brake())
    out = saved.store.with_name("page.html")
    told = saved(command, Q1, "--out", str(out), now=TOLD)
    assert (told.status, told.err) == (0, f"{LEFT}\n{WITHOUT}\n")
    text = read(out.read_text("utf-8")).text
    assert "PB-1" not in text
    assert "TP-1" in text


def test_the_calendar_cancels_what_was_retired_and_keeps_the_visit(saved: Command) -> None:
    before = calendar(saved)
    applied(saved, without_the_press_brake())
    told = saved("calendar", Q1, "--out", str(saved.store.with_name("q1.ics")), now=TOLD)
    assert told.err == f"{LEFT}\n{WITHOUT}\n"
    assert "; since the last file 0 added, 0 moved, 1 cancelled" in told.out
    after = calendar(saved)
    assert after.keys() == before.keys()
    (belt,) = days_of(after, BELT).values()
    assert belt == ("20270217", "1", "CANCELLED")
    (visit,) = (e for e in after.values() if "Outside press service" in e["SUMMARY"])
    assert (visit["SUMMARY"], visit["STATUS"]) == ("Outside press service: TP-1", "CONFIRMED")
    assert "PB-1" not in visit["DESCRIPTION"]


def test_a_plan_that_has_jobs_of_a_machine_out_of_service_is_told(saved: Command) -> None:
    before = calendar(saved)
    assert saved("idle", "PB-1", "--why", "drive out", now=TOLD).status == 0
    told = saved("calendar", Q1, "--out", str(saved.store.with_name("q1.ics")), now=TOLD)
    assert told.err == (
        "Still in the plan, though the machine is out of service: PB-1/half-year,\n"
        f"  PB-1/belt\n{WITHOUT}\n"
    )
    assert calendar(saved).keys() == before.keys()
    plan(saved, "--save")
    told = saved("calendar", Q1, "--out", str(saved.store.with_name("q1.ics")), now=TOLD)
    assert "while the machine is out of service: PB-1/half-year, PB-1/belt" in " ".join(
        (told.out + told.err).split()
    )


def test_a_retired_one_off_job_goes_with_its_machine(saved: Command) -> None:
    assert saved("job", "PB-1", "guard loose", "--wanted", "2027-01-13", now=TOLD).status == 0
    plan(saved, "--save")
    assert len(days_of(calendar(saved), "guard loose")) == 1
    applied(saved, without_the_press_brake())
    (found,) = days_of(calendar(saved), "guard loose").values()
    assert found == ("20270113", "1", "CANCELLED")


def test_a_one_off_job_of_a_retired_machine_is_nowhere(saved: Command) -> None:
    assert saved("job", "PB-1", "guard loose", "--wanted", "2026-12-16", now=TOLD).status == 0
    (job,) = (i["task"] for i in saved.json("today", now=TOLD)["items"] if "job" in i["task"])
    applied(saved, without_the_press_brake())
    assert job not in {item["task"] for item in saved.json("today", now=TOLD)["items"]}
    assert job not in {planned["task"] for planned in plan(saved, "--save")["jobs"]}
    told = saved("calendar", Q1, "--out", str(saved.store.with_name("q1.ics")), now=TOLD)
    assert "retired" not in told.err  # the plan just saved has nothing of it
    saved.refused(["pin", job, "2027-01-13", "--why", "x"], 3, "is retired", now=TOLD)
    saved.refused(["done", job], 3, "is retired", now="2026-12-16T08:00")


def test_what_another_quarters_plan_still_has_is_cancelled_too(tmp_path: Path) -> None:
    weekly = "title: Wipe, every: 1 week, minutes: 5, last_done: {on: 2026-12-09}"
    run = store(tmp_path, with_task("TP-1", "weekly", weekly))
    for quarter in (Q1, "2026-Q4"):
        plan(run, "--save", quarter=quarter)
        calendar(run, quarter=quarter)
    apply(run, SHOP)
    for quarter in (Q1, "2026-Q4"):
        found = days_of(calendar(run, quarter=quarter), "TP-1: Wipe").values()
        assert {status for *_, status in found} == {"CANCELLED"}
