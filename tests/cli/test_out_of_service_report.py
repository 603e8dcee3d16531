"""Reports of a machine out of service: days at whose end it is out are not scheduled.

PB-1 of the small shop: 8.5 h by day, 8 h by night (not on Fridays). It is out from Tuesday 1
December, 07:00, and back on Thursday the 3rd at 06:00. Monday 30 November to Friday 4 December has
4 x 16.5 + 8.5 = 74.5 h; Tuesday and Wednesday are out, 33 h, so S = 41.5. A stop runs from Monday
12:30 to Thursday 07:00: 2 h of Monday's day shift, its night shift, 8 h, and 1 h of Thursday:
X = 11, n = 1, T = 30.5.
"""

import csv
from typing import Any

import pytest

from tests.command import Command, assert_fits
from tests.pictures.inlined import taken_apart

DATES = ("--from", "2026-11-30", "--to", "2026-12-04")
OUT_DAYS = ("--from", "2026-12-01", "--to", "2026-12-02")
LATER = "2026-12-07T05:00"
TITLE = "Out of service, so not scheduled"
LINE = "PB-1: 33 h of this period, 2026-12-01 to 2026-12-02 (entry 1)"


@pytest.fixture
def out(run: Command) -> Command:
    """A store with the history worked above."""
    for line in (
        "idle PB-1 --why rebuilt --at 2026-12-01T07:00",
        "back PB-1 --at 2026-12-03T06:00",
        "stop PB-1 --cause gauge --from 2026-11-30T12:30 --to 2026-12-03T07:00",
        "log PB-1 --shift day --date 2026-12-04 --count cycles=500 --parts 61",
    ):
        run.done(*line.split(), now=LATER)
    return run


def told(run: Command, *dates: str, **how: Any) -> dict[str, Any]:
    found = run.json("report", *dates, **{"now": LATER, **how})
    (row,) = (row for row in found["machines"] if row["machine"] == "PB-1")
    return dict(row)


FIGURES = {
    "scheduled_hours": 41.5,
    "out_of_service_hours": 33,
    "unplanned_hours": 11,
    "unplanned_stops": 1,
    "operating_hours": 30.5,
    "availability": 30.5 / 41.5,
    "mtbf_hours": 30.5,
    "mttr_hours": 66.5,  # Monday 12:30 to Thursday 07:00 by the clock
    "mttr_scheduled_hours": 11,
    "parts_per_operating_hour": 2,
}


def test_the_days_out_are_in_no_figure_of_hours(out: Command) -> None:
    row = told(out, *DATES)
    assert {name: row[name] for name in FIGURES} == pytest.approx(FIGURES)
    assert row["out_of_service"] == [{"from": "2026-12-01", "to": "2026-12-02", "entry": 1}]
    (week,) = row["weeks"]
    assert (week["scheduled_hours"], week["out_of_service_hours"]) == (41.5, 33)


def test_the_shop_and_its_causes_are_the_sum_of_the_machines(out: Command) -> None:
    out.done("stop", "TP-1", "--cause", "gauge", "--from", "2026-12-01T08:00",
             "--to", "2026-12-01T10:00", now=LATER)  # fmt: skip
    shop = out.json("report", *DATES, now=LATER)["shop"]
    assert (shop["scheduled_hours"], shop["out_of_service_hours"]) == (2 * 74.5 + 41.5, 33)
    assert [(c["cause"], c["stops"], c["unplanned_hours"]) for c in shop["causes"]] == [
        ("gauge", 2, 13)
    ]
    assert shop["unplanned_hours"] == 13


@pytest.mark.parametrize(
    ("dates", "scheduled", "away", "named"),
    [
        (("2026-12-01", "2026-12-02"), 0, 33, True),
        (("2026-12-02", "2026-12-03"), 16.5, 16.5, True),
        (("2026-12-03", "2026-12-04"), 25, 0, False),
        (("2026-11-27", "2026-11-30"), 25, 0, False),
    ],
)
def test_it_is_named_where_a_day_out_is_in_the_period(
    out: Command, dates: tuple[str, str], scheduled: float, away: float, named: bool
) -> None:
    asked = ("--from", dates[0], "--to", dates[1])
    row = told(out, *asked)
    assert (row["scheduled_hours"], row["out_of_service_hours"]) == (scheduled, away)
    assert bool(row["out_of_service"]) is named
    assert (TITLE in out.done("report", *asked, now=LATER)) is named


def test_days_without_a_shift_are_not_told(out: Command) -> None:
    out.done("idle", "FE-1", "--why", "hall cleared", "--at", "2026-12-05T08:00", now=LATER)
    saturday = ("--from", "2026-12-05", "--to", "2026-12-06")
    assert TITLE not in out.done("report", *saturday, now=LATER)


def test_what_is_out_all_the_time_has_no_ratio(out: Command) -> None:
    row = told(out, *OUT_DAYS)
    names = ("availability", "share_up", "mtbf_hours", "mttr_hours")
    assert [row[name] for name in names] == [None] * 4
    shown = out.done("report", *OUT_DAYS, "--machine", "PB-1", now=LATER)
    assert "PB-1 0 0 0 - 0 - -" in [" ".join(line.split()) for line in shown.splitlines()]
    assert [line.strip() for line in shown.splitlines()].count(LINE) == 1
    assert_fits(shown)


def test_one_that_still_is_out_is_told_since_when(out: Command) -> None:
    out.done("idle", "PB-1", "--why", "sold", "--at", "2026-12-04T08:00", now=LATER)
    row = told(out, *DATES)
    assert (row["scheduled_hours"], row["out_of_service_hours"]) == (33, 41.5)
    assert row["out_of_service"][1] == {"from": "2026-12-04", "to": None, "entry": 5}
    shown = " ".join(out.done("report", *DATES, now=LATER).split())
    assert "2026-12-01 to 2026-12-02 (entry 1); since 2026-12-04 (entry 5)" in shown


def test_as_of_a_day_only_what_was_known_counts(out: Command) -> None:
    row = told(out, *DATES, "--on", "2026-12-01")
    assert (row["scheduled_hours"], row["out_of_service_hours"]) == (16.5, 16.5)
    assert row["out_of_service"] == [{"from": "2026-12-01", "to": None, "entry": 1}]


def test_a_void_puts_the_days_back(out: Command) -> None:
    for entry in ("2", "1"):
        assert out("void", entry, "--why", "slip", now=LATER).status == 0
    row = told(out, *DATES)
    assert (row["scheduled_hours"], row["out_of_service_hours"]) == (74.5, 0)
    assert row["out_of_service"] == []


def test_trend_and_report_count_the_same_hours(out: Command) -> None:
    (row,) = out.json("trend", "PB-1", *DATES, now=LATER)
    assert (row["operating_hours"], row["failures"]) == (30.5, 1)
    # the clock stands still while it is out: 8.5 h of Monday less 2 h before the stop
    assert row["failure_hours"] == [6.5]


def test_advice_takes_the_pace_of_the_days_in_service(out: Command) -> None:
    """Watched from 23 November to 7 December, 15 days of which 13 in service: 3 x 16.5 + 8.5 h up
    to the 27th (the 26th is closed), then 30.5 h; a week is 7 / 13 of that."""
    advised = out.json("advice", now=LATER)["tasks"]
    (weekly,) = (row for row in advised if row["task"] == "PB-1/weekly")
    assert weekly["interval_hours"] == pytest.approx(88.5 * 7 / 13)


def test_rows_and_pages_have_the_hours_too(out: Command) -> None:
    file, page = out.store.with_name("r.csv"), out.store.with_name("r.html")
    out.done("report", *DATES, "--before", "--csv", str(file), now=LATER)
    with file.open(newline="", encoding="utf-8") as text:
        rows = {row["machine"]: row for row in csv.DictReader(text)}
    ends = ("", "_before", "_difference")
    assert [rows["PB-1"][f"out_of_service_hours{end}"] for end in ends] == ["33", "0", "33"]
    out.done("report", *DATES, "--html", str(page), now=LATER)
    text_of_page = taken_apart(page.read_text("utf-8")).html.text
    assert f"{TITLE}: {LINE}." in text_of_page
    assert "Hours out of service 33 " in text_of_page
