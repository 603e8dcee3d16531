"""Which intervals to change, on a shop whose best intervals are known, and on the demo."""

from math import log, sqrt
from pathlib import Path
from typing import Any

import pytest

from pmtrack.statistics.weibull import Weibull
from tests.command import Command, assert_fits, dump
from tests.failing_shop import NOW, store

YEAR_ENDS = ("2018-12-31", "2019-12-31", "2021-12-31", "2025-12-31")


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Command:
    """The command line on eight years of a shop with known laws; only looked at."""
    return store(tmp_path_factory.mktemp("failing"))


@pytest.fixture(scope="module")
def tasks(run: Command) -> dict[str, Any]:
    """The advice for each task, by its name."""
    told = run.json("advice", now=NOW)
    return {row["task"]: row for row in told["tasks"]}


def test_the_advice_comes_near_the_best_interval_as_history_grows(run: Command) -> None:
    """After 1, 2, 4 and 8 years: the best is 20 days of 16 h, so 3 weeks, not a month."""
    told = [run.json("advice", "WEARS/service", "--on", day, now=NOW) for day in YEAR_ENDS]
    assert [row["failures"] for row in told] == [33, 56, 109, 240]
    widths = [log(row["shape_high"] / row["shape_low"]) for row in told]
    assert widths == sorted(widths, reverse=True)
    # eight times the failures: a range sqrt(7) as wide
    assert widths[0] / widths[-1] == pytest.approx(sqrt(240 / 33), rel=0.1)
    assert told[-1]["best_hours"] == pytest.approx(320, rel=0.1)
    assert told[-1]["best_low"] < 320 < told[-1]["best_high"]
    assert [row["advised"] for row in told] == ["3 weeks"] * 4
    assert told[-1]["shape"] == pytest.approx(2, abs=0.3)


def test_costs_and_savings_are_in_money(tasks: dict[str, Any]) -> None:
    row = tasks["WEARS/service"]
    assert row["in"] == "money"
    assert row["cost_planned"] == 150  # an hour of the crew at 50, one of the machine at 100
    assert row["cost_failure"] == pytest.approx(150, rel=0.05)  # some end after the shift
    assert row["interval_hours"] == pytest.approx(30.4 * 16, rel=0.03)
    # by the law that was found, a month has (484/s)^k failures and 12 rounds a year
    law = Weibull(row["shape"], row["scale_hours"])
    months, weeks = 365.2425 / 30.436875, 365.2425 / 21
    now = months * (150 + row["cost_failure"] * law.hazard_up_to(row["interval_hours"]))
    then = weeks * (150 + row["cost_failure"] * law.hazard_up_to(row["advised_hours"]))
    assert row["saved_a_year"] == pytest.approx(now - then)
    assert row["cost_a_year"] == pytest.approx(now)


def test_what_does_not_wear_out_is_served_less_often_but_never_what_the_law_demands(
    run: Command, tasks: dict[str, Any]
) -> None:
    free, law = tasks["STEADY/service"], tasks["STEADY/by-law"]
    assert (free["verdict"], law["verdict"]) == ("lengthen", "keep")
    assert (free["advised"], free["reason"]) == ("5 weeks", "one step")  # a quarter more: 38 d
    assert free["best_low"] == law["best_low"] > law["interval_hours"]
    assert (law["advised"], law["reason"]) == (None, "law")
    told = run.done("advice", "STEADY/by-law", now=NOW)
    assert "STEADY/by-law  Stopping time measured: keep" in told
    assert "A law or standard demands it: never lengthened on the strength of figures." in told


def test_a_longer_interval_that_is_too_far_from_what_was_seen_is_not_advised(
    run: Command, tasks: dict[str, Any]
) -> None:
    # done every week for eight years: a quarter more is 9 days, and people set 2 weeks next
    row = tasks["STEADY/oil"]
    assert row["best_low"] > 1.25 * row["interval_hours"]
    assert (row["verdict"], row["advised"], row["reason"]) == ("keep", None, "too far")
    told = run.done("advice", "STEADY/oil", now=NOW)
    assert "The next longer interval is too far beyond what was seen." in told


def test_too_few_failures_give_no_number(run: Command, tasks: dict[str, Any]) -> None:
    row = tasks["SELDOM/service"]
    assert row["failures"] == 2
    fields = ("verdict", "advised", "best_hours", "best_low", "shape", "saved_a_year")
    assert [row[name] for name in fields] == [None] * 6
    assert row["reason"] == "2 failures between such jobs, at least 6 are needed"
    told = run.done("advice", "SELDOM/service", now=NOW)
    assert "No number: 2 failures between such jobs, at least 6 are needed." in told
    assert "shape" not in told


@pytest.mark.parametrize(
    ("task", "why"),
    [
        ("WEARS/look", "a daily check looks for more than breakdowns: it is kept"),
        ("WEARS/untimed", "no minutes in the shop file"),
        ("SELDOM/lift", "0 failures between such jobs"),
    ],
)
def test_other_tasks_without_a_number_tell_why(tasks: dict[str, Any], task: str, why: str) -> None:
    assert tasks[task]["verdict"] is None
    assert why in tasks[task]["reason"]


def test_what_saves_most_comes_first(run: Command, tasks: dict[str, Any]) -> None:
    saved = [row["saved_a_year"] for row in tasks.values()]
    changes = [amount for amount in saved if amount is not None]
    assert saved[: len(changes)] == sorted(changes, reverse=True)
    alone = run.json("advice", "--machine", "WEARS", now=NOW)
    assert {row["machine"] for row in alone["tasks"]} == {"WEARS"}


def test_failures_by_age_since_the_service(run: Command) -> None:
    told = run.json("advice", now=NOW)
    bins = told["failures_by_age"]
    hours = {round(row["operating_hours"], 6) for row in bins}
    assert len(hours) == 1
    assert told["age_trend"]["verdict"] == "worse"
    assert bins[-1]["low"] > bins[0]["high"]
    assert "Failures come more often the longer ago the service was" in run.done("advice", now=NOW)


def test_without_a_rate_costs_are_hours(tmp_path: Path) -> None:
    run = store(tmp_path, rate="crew_hours: 6")
    row = run.json("advice", "WEARS/service", now=NOW)
    assert (row["in"], row["cost_planned"]) == ("hours", 2)
    # alike: both cost an hour of the machine and one of a person
    assert row["best_hours"] == pytest.approx(320, rel=0.1)
    assert " h a year" in run.done("advice", "WEARS/service", now=NOW)


# --- what to change first


def test_three_things_are_ranked_by_what_they_save_with_the_command_that_shows_it(
    run: Command,
) -> None:
    things = run.json("advice", now=NOW)["three_things"]
    assert [one["machine"] for one in things[:2]] == ["WEARS", "STEADY"]
    # a quarter of all its breakdowns is worth more than the shorter interval of WEARS
    assert things[0]["what"].startswith("Find the cure for 'seal leak' on WEARS: 240 stops")
    assert things[1]["what"].startswith("Find the cure for 'seal leak' on STEADY: 76 stops")
    saved = [one["saved_a_year"] for one in things if one["saved_a_year"] is not None]
    assert saved == sorted(saved, reverse=True)
    for one in things:
        assert run(*one["evidence"].split()[1:], now=NOW).status == 0, one


def test_a_firm_that_can_no_longer_come_in_time_is_to_be_called(run: Command) -> None:
    (call,) = [
        one
        for one in run.json("advice", "--machine", "SELDOM", now=NOW)["three_things"]
        if one["matter"] == "call overdue"
    ]
    # wanted by 20 January 2026 at 21 days' notice: 30 December, six days before 5 January
    assert (call["days_late"], call["saved_a_year"]) == (6, None)
    assert call["what"] == "Call lift-inspector for SELDOM/lift: wanted by 2026-01-20"


def test_what_is_late_by_law_comes_first(run: Command) -> None:
    late = "2026-02-20T08:00"  # done on 20 December, so wanted by 20 January
    first = run.json("advice", now=late)["three_things"][0]
    assert (first["matter"], first["days_late"]) == ("late by law", 31)
    assert first["evidence"] == "pmtrack why STEADY/by-law"
    assert "1. Do STEADY/by-law, demanded by law or standard, 31 d past due" in run.done(
        "advice", now=late
    )


# --- what is refused, and how it looks


@pytest.mark.parametrize(
    ("arguments", "status", "message"),
    [
        (["advice", "WEARS/none"], 3, "no task 'WEARS/none'"),
        (["advice", "WEARS/fixed"], 3, "WEARS/fixed has no interval that could be changed"),
        (["advice", "--machine", "XX-1"], 3, "no machine 'XX-1'"),
        (["advice", "WEARS/look", "--machine", "WEARS"], 2, "--machine does not go with it"),
        (["advice", "--on", "soon"], 2, "soon"),
    ],
)
def test_what_cannot_be_answered(
    run: Command, arguments: list[str], status: int, message: str
) -> None:
    run.refused(arguments, status, message, now=NOW)


def test_looking_changes_nothing_and_fits_the_paper(run: Command) -> None:
    before = dump(run.store)
    for line in ("advice", "advice --machine STEADY", "advice WEARS/service", "advice WEARS/look"):
        assert_fits(run.done(*line.split(), now=NOW))
    assert dump(run.store) == before


def test_a_shop_without_any_history_has_nothing_to_change(run_small: Command) -> None:
    told = run_small.done("advice")
    assert "Too few failures since a service: 0, at least 4 needed" in told
    assert "None: no best interval is far enough" in told
    # outside service wanted by Friday 11 December at 21 days' notice: 20 November is past
    assert "2. Call press-service for TP-1/half-year: wanted by 2026-12-11" in told
    assert "Nothing stands out" in run_small.done("advice", "--machine", "PB-1")
    assert run_small.json("advice")["tasks"] == []


@pytest.fixture
def run_small(shop_store: Path) -> Command:
    """The command line on the small shop without any entry."""
    return Command(shop_store)
