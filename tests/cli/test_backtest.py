"""`backtest`: how often the day came in the range, in words, as a table and as JSON."""

from datetime import date, timedelta
from itertools import cycle

import pytest

from tests.command import Command, assert_fits, trimmed

FIRST, LAST = date(2026, 6, 1), date(2026, 11, 24)  # a Monday; the day before NOW
WEEKDAYS = [
    day
    for day in (FIRST + timedelta(days=n) for n in range((LAST - FIRST).days + 1))
    if day.weekday() < 5
]


def enter(run: Command, meter: str, amounts: list[int], days: list[date] = WEEKDAYS) -> None:
    """A count of the day shift on each day, the amounts over and over."""
    machine = "PB-1" if meter == "cycles" else "TP-1"
    pairs = zip(days, cycle(amounts), strict=False)
    rows = [f"{machine},day,{day},Dana,{amount}" for day, amount in pairs]
    file = run.store.with_name(f"{meter}.csv")
    file.write_text("\n".join([f"machine,shift,date,by,{meter}", *rows]) + "\n")
    assert run("import", "shifts", str(file)).status == 0


def cases(first: int, last: int) -> int:
    """Cases of a meter whose every day comes as told: from the fifth entry on, one after another.

    With the same amount each day no range is wider than its day.
    """
    left, count = len(WEEKDAYS) - 5, 0
    for ahead in cycle(range(first, last + 1)):
        if ahead > left:
            return count
        left, count = left - ahead, count + 1
    raise AssertionError


@pytest.fixture
def steady(run: Command) -> Command:
    """9,000 hits a day, as is expected; nothing is known of the other meters."""
    enter(run, "hits", [9000])
    return run


def test_of_a_steady_meter_every_day_comes_as_told(steady: Command) -> None:
    told = steady.json("backtest", "TP-1")
    assert told["on"] == "2026-11-25"
    hits, hours = told["meters"]
    assert (hits["machine"], hits["meter"]) == ("TP-1", "hits")
    assert (hits["from"], hits["to"]) == ("2026-06-01", "2026-11-24")
    assert (hours["meter"], hours["from"], hours["to"]) == ("hours", None, None)
    assert [band["ahead"] for band in hits["bands"]] == [[1, 5], [6, 15], [16, 40]]
    for band in hits["bands"]:
        number = cases(*band["ahead"])
        assert number > 3
        assert (band["cases"], band["median_miss"], band["median_error"]) == (number, 0, 0)
        for name in ("due_range", "likely_range"):
            found = band[name]
            assert (found["inside"], found["early"], found["late"]) == (number, 0, 0)
            assert found["share"] == 1
    assert told["all"] == hits["bands"]


def test_limits_and_verdict_come_with_ten_cases(steady: Command) -> None:
    near, _, far = steady.json("backtest", "TP-1")["all"]
    # of n of n the lower limit is 0.05^(1/n)
    assert near["due_range"]["share_low"] == pytest.approx(0.05 ** (1 / near["cases"]))
    assert (near["due_range"]["share_high"], near["due_range"]["verdict"]) == (1, "wide")
    assert far["cases"] == 6
    assert far["due_range"] == {
        "inside": 6, "early": 0, "late": 0, "share": 1, "share_low": None, "share_high": None,
        "verdict": "too few cases",
    }  # fmt: skip


def test_a_steady_meter_in_words(steady: Command) -> None:
    told = steady.done("backtest", "TP-1")
    assert_fits(told)
    lines = trimmed(told)
    assert lines[1:5] == [
        "Did the 80 % ranges hold, up to 2026-11-25?",
        "  1-5 working days ahead: the ranges hold, and more: 100 %",
        # 118 of the 122 days after the fifth entry are 6 to 15, 6 and 7: 0.05^(1/12) is below 0.8
        "  6-15 working days ahead: the ranges hold: 100 %",
        # 111 are 16 to 21
        "  16-40 working days ahead: too few cases to tell: 6 of 10",
    ]
    assert [line.split()[:2] for line in lines if line.startswith("TP-1")] == [
        ["TP-1", "hits"],
        ["TP-1", "hours"],
    ]
    assert lines[lines.index("To know") - 2].endswith("too few cases")


def test_a_meter_that_swings_is_called_too_narrow(run: Command) -> None:
    """Four weeks at 12,000 a day, four at 6,000: the rate of the past is not that to come."""
    weeks = [12_000] * 10 + [12_100] * 10 + [6000] * 10 + [6100] * 10
    enter(run, "hits", weeks)
    told = run.done("backtest")
    assert_fits(told)
    assert "  6-15 working days ahead: too narrow: " in told
    near, middle, _ = run.json("backtest")["all"]
    assert middle["due_range"]["share_high"] < 0.8
    assert middle["due_range"]["verdict"] == "too narrow"
    assert middle["likely_range"]["inside"] >= middle["due_range"]["inside"]
    for band in (near, middle):
        due = band["due_range"]
        assert due["inside"] + due["early"] + due["late"] == band["cases"]
    (row,) = [line for line in trimmed(told) if line.startswith("TP-1     hits")]
    assert row.endswith("too narrow")


def test_as_of_a_past_day_only_what_was_entered_by_then_counts(steady: Command) -> None:
    told = steady.json("backtest", "TP-1", "--on", "2026-06-12")
    hits, _ = told["meters"]
    assert (told["on"], hits["to"]) == ("2026-06-12", "2026-06-12")
    assert [band["cases"] for band in hits["bands"]] == [2, 0, 0]  # 5 days: 1 and 2 ahead


def test_without_entries_there_is_nothing_to_tell(run: Command) -> None:
    told = run.done("backtest")
    assert_fits(told)
    assert trimmed(told)[2:] == [
        f"  {ahead} working days ahead: too few cases to tell: 0 of 10"
        for ahead in ("1-5", "6-15", "16-40")
    ]
    for band in run.json("backtest")["all"]:
        assert (band["cases"], band["median_miss"], band["median_error"]) == (0, None, None)
        assert band["due_range"]["share"] is None


def test_an_unknown_machine_is_refused(run: Command) -> None:
    run.refused(["backtest", "XX-1"], 3, "XX-1")


def test_a_machine_without_a_meter_has_no_row(steady: Command) -> None:
    assert steady.json("backtest", "FE-1")["meters"] == []


def test_the_likely_range_is_told_with_a_task(run: Command) -> None:
    enter(run, "cycles", [500, 1300], WEEKDAYS[-9:])  # some 12,000 of 20,000 cycles are to go
    item = run.json("why", "PB-1/belt")
    assert item["likely_range"][0] <= item["due_range"][0] <= item["due_range"][1]
    assert item["due_range"][1] <= item["likely_range"][1]
    (rule,) = item["rules"]
    assert rule["likely_range"] == item["likely_range"] != item["due_range"]
    first, last = item["likely_range"]
    assert f"likely range {first} to {last}, as the rate may not stay as it is" in "\n".join(
        item["arithmetic"]
    )
    listed = {i["task"]: i for i in run.json("today", "--all")["items"]}
    assert listed["PB-1/belt"]["likely_range"] == item["likely_range"]
    assert listed["FE-1/look"]["likely_range"] is None
