"""A machine that comes into the shop later than the others: its hours begin when it does.

One shift of 8 h, Monday to Friday; Monday 23 November 2026 is the first day of B-1. By the end of
Friday the 27th it has five shifts, 40 h; a stop takes the whole of Tuesday, 8 h; T = 32, n = 1.
"""

from pathlib import Path
from typing import Any

import pytest

from tests.command import Command

SHOP = """\
shop:
  name: Quillback Sheet Works
  timezone: UTC
  shifts: [{name: day, days: mon-fri, start: "06:00", end: "14:00"}]
machines:
  - {code: A-1, name: Press, in_service: 2019-03-04}
  - {code: B-1, name: Brake, in_service: 2026-11-23, meters: {hits: {}}}
  - {code: C-1, name: Shear}
tasks:
  - {code: weekly, machines: [A-1, B-1, C-1], title: Clean, every: 1 week, minutes: 20,
     starts: 2026-12-31}
"""
BEGAN, LATER = "2026-10-30T05:00", "2026-11-28T08:00"


@pytest.fixture
def run(tmp_path: Path) -> Command:
    """The shop since the end of October, with the stop of the new machine."""
    (tmp_path / "shop.yaml").write_text(SHOP, "utf-8")
    made = Command(tmp_path / "pmtrack.db")
    made.done("apply", str(tmp_path / "shop.yaml"), now=BEGAN)
    stop(made, "B-1", "2026-11-24")
    return made


def stop(run: Command, machine: str, day: str) -> None:
    run.done("stop", machine, "--cause", "belt", "--from", f"{day}T06:00", "--to", f"{day}T14:00",
             now=LATER)  # fmt: skip


def told(run: Command, first: str, last: str, *more: str) -> dict[str, Any]:
    found = run.json("report", "--from", first, "--to", last, *more, now=LATER)
    return {row["machine"]: row for row in found["machines"]}


def figures(row: dict[str, Any]) -> list[float | None]:
    """S, availability, MTBF."""
    return [row[name] for name in ("scheduled_hours", "availability", "mtbf_hours")]


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        ("2026-11-01", "2026-11-27", [40, 0.8, 32]),
        ("2026-11-23", "2026-11-27", [40, 0.8, 32]),
        ("2026-11-24", "2026-11-27", [32, 0.75, 24]),
        ("2026-11-01", "2026-11-23", [8, 1, None]),  # its first day alone
        ("2026-11-01", "2026-11-22", [0, None, None]),  # not there yet
    ],
)
def test_its_hours_begin_with_its_first_day(
    run: Command, first: str, last: str, expected: list[float | None]
) -> None:
    assert figures(told(run, first, last, "--machine", "B-1")["B-1"]) == expected


def test_the_others_are_there_all_the_time(run: Command) -> None:
    """20 working days from 2 to 27 November; of C-1 the file does not say since when."""
    found = told(run, "2026-11-01", "2026-11-27")
    assert {code: row["scheduled_hours"] for code, row in found.items()} == {
        "A-1": 160, "B-1": 40, "C-1": 160,
    }  # fmt: skip
    shop = run.json("report", "--from", "2026-11-01", "--to", "2026-11-27", now=LATER)["shop"]
    assert figures(shop) == [360, 352 / 360, 352]


def test_a_report_of_days_before_it_came_is_without_it(run: Command) -> None:
    assert list(told(run, "2026-11-01", "2026-11-22")) == ["A-1", "C-1"]
    before = run.json("report", "--from", "2026-11-23", "--to", "2026-11-27", "--before", now=LATER)
    assert [m["machine"] for m in before["before"]["machines"]] == ["A-1", "C-1"]
    run.done("done", "B-1/weekly", "--at", "2026-11-20T10:00", now=LATER)  # before it ran
    early = told(run, "2026-11-01", "2026-11-22")["B-1"]
    assert [*figures(early), early["pm_jobs"]] == [0, None, None, 1]


def test_its_weeks_begin_with_it(run: Command) -> None:
    weeks = told(run, "2026-11-01", "2026-11-27")["B-1"]["weeks"]
    assert [(w["week"], w["scheduled_hours"]) for w in weeks] == [("2026-11-23", 40)]
    dates = ("--from", "2026-11-09", "--to", "2026-11-27")
    groups = run.json("report", *dates, "--by", "week", now=LATER)["groups"]
    assert [row["scheduled_hours"] for row in groups] == [80, 80, 120]


def test_a_stop_entered_for_an_earlier_day_shows_that_it_was_there(run: Command) -> None:
    """From Thursday the 19th: 7 shifts, 56 h, two of them down."""
    stop(run, "B-1", "2026-11-19")
    found = told(run, "2026-11-01", "2026-11-27")["B-1"]
    assert figures(found) == [56, pytest.approx(40 / 56), 20]


@pytest.mark.parametrize(
    ("dates", "began", "hours"),
    [
        ((), "2026-11-23", 32),  # the file was applied on 30 October
        (("--from", "2026-11-01"), "2026-11-23", 32),
        (("--from", "2026-11-25"), "2026-11-25", 24),
        (("--from", "2026-11-01", "--to", "2026-11-20"), "2026-11-23", 0),
    ],
)
def test_its_trend_rests_on_the_same_hours(
    run: Command, dates: tuple[str, ...], began: str, hours: int
) -> None:
    (row,) = run.json("trend", "B-1", *dates, now=LATER)
    assert (row["from"], row["operating_hours"]) == (began, hours)


def test_a_machine_still_to_come_has_no_hours_anywhere(run: Command) -> None:
    early = "2026-11-20T15:00"
    (row,) = run.json("trend", "B-1", now=early)
    assert (row["operating_hours"], row["failures"]) == (0, 0)
    for command in ("trend", "advice", "advice B-1/weekly"):
        run.done(*command.split(), now=early)
    dates = ("--from", "2026-11-01", "--to", "2026-11-20")
    for more in ((), ("--machine", "B-1"), ("--machine", "B-1", "--by", "week", "--before")):
        run.done("report", *dates, *more, now=early)
        page = run.store.with_name("page.html")
        run.done("report", *dates, *more, "--html", str(page), now=early)
