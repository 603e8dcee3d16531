"""Output in weeks with more and less unplanned downtime, worked by hand."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.command import Command

SHOP = """\
shop:
  name: Quillback Sheet Works
  timezone: UTC
  shifts: [{name: day, days: mon-fri, start: "06:00", end: "16:00"}]
machines:
  - {code: TP-1, name: Turret punch press, meters: {hits: {fastest: 120 per minute}}}
  - {code: PB-1, name: Press brake}
  - {code: CR-1, name: Crane}
tasks:
  - {code: year, machines: [TP-1, PB-1, CR-1], title: Service, every: 1 year, minutes: 60}
"""
MONDAY = date(2026, 1, 5)
WEEKS = 10
DOWN = [0, 5, 10, 20, 0, 5, 10, 20, 0, 5]  # hours of the 50 of each week
NOW = "2026-03-19T05:00"  # a Thursday, in a week that is not over


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """TP-1 makes 1000 hits an hour while up, PB-1 so many parts whatever happens."""
    folder = tmp_path_factory.mktemp("pays")
    shifts = ["machine,shift,date,by,hits", *_shifts("TP-1")]
    parts = ["machine,shift,date,by,parts", *_shifts("PB-1")]
    stops = ["machine,from,to,cause,planned,by", *_stops()]
    run = Command(folder / "pmtrack.db")
    (folder / "shop.yaml").write_text(SHOP, "utf-8")
    assert run("apply", str(folder / "shop.yaml"), now="2026-01-05T05:00").status == 0
    for kind, name, rows in (
        ("shifts", "a", shifts), ("shifts", "b", parts), ("stops", "c", stops)
    ):  # fmt: skip
        (folder / f"{name}.csv").write_text("\n".join(rows), "utf-8")
        done = run("import", kind, str(folder / f"{name}.csv"), now=NOW)
        assert done.status == 0, done.err
    found: dict[str, Any] = run.json("advice", now=NOW)
    found["shown"] = run.done("advice", now=NOW)
    return found


def _shifts(machine: str) -> list[str]:
    """All of a week on its Monday but one hit; the last, of the week that runs, says nothing."""
    rows = []
    for week, down in enumerate(DOWN):
        made = 1000 * (50 - down) if machine == "TP-1" else 700
        for n, amount in enumerate([made // 5] * 5):
            rows.append(f"{machine},day,{MONDAY + timedelta(days=7 * week + n)},Dana,{amount}")
    return [*rows, f"{machine},day,{MONDAY + timedelta(days=7 * WEEKS)},Dana,1"]


def _stops() -> list[str]:
    """From 06:00 on each weekday the same part of the week's hours, on both machines."""
    rows = []
    for week, down in enumerate(DOWN):
        for n in range(5 if down else 0):
            day = MONDAY + timedelta(days=7 * week + n)
            for machine in ("TP-1", "PB-1"):
                rows.append(f"{machine},{day}T06:00,{day}T{6 + down // 5:02}:00,leak,no,Dana")
    return rows


def test_each_hour_down_in_100_takes_its_part_of_the_hits(told: dict[str, Any]) -> None:
    hits, parts = told["output_and_downtime"]
    assert (hits["machine"], hits["output"], hits["weeks"]) == ("TP-1", "hits", WEEKS)
    # output is (100 - hours down in 100) % of what it could be, 85 % on average: 1 / 0.85 %
    mean = sum(50 - down for down in DOWN) / (50 * WEEKS)
    assert mean == 0.85
    assert hits["percent_of_output_for_each_hour_down_in_100"] == pytest.approx(-1 / mean)
    assert hits["low"] == pytest.approx(-1 / mean)
    # always the same: no slope, and too many equal points for limits
    assert parts["percent_of_output_for_each_hour_down_in_100"] == 0
    assert (parts["output"], parts["low"], parts["high"]) == ("good parts", None, None)


def test_it_is_called_an_association(told: dict[str, Any]) -> None:
    lines = [line.rstrip() for line in told["shown"].splitlines()]
    assert "TP-1     hits           10  -1.2 %  -1.2 % to -1.2 %" in lines
    assert "That is association, not cause: busy weeks, hard jobs and old machines" in told["shown"]


def test_a_machine_that_makes_nothing_is_left_out(told: dict[str, Any]) -> None:
    assert [row["machine"] for row in told["output_and_downtime"]] == ["TP-1", "PB-1"]


def test_a_few_weeks_give_no_slope(tmp_path: Path) -> None:
    (tmp_path / "shop.yaml").write_text(SHOP, "utf-8")
    rows = ["machine,shift,date,by,hits", *_shifts("TP-1")[:35]]
    (tmp_path / "a.csv").write_text("\n".join(rows), "utf-8")
    run = Command(tmp_path / "pmtrack.db")
    run("apply", str(tmp_path / "shop.yaml"), now="2026-01-05T05:00")
    assert run("import", "shifts", str(tmp_path / "a.csv"), now=NOW).status == 0
    (row,) = run.json("advice", now=NOW)["output_and_downtime"]
    assert row["weeks"] == 7
    assert row["percent_of_output_for_each_hour_down_in_100"] is None
    assert "association" not in run.done("advice", now=NOW)
