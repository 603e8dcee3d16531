"""Dates, times and quarters that cannot be read, or in which nothing can have happened yet."""

import pytest

from tests.command import Command

NO_DATE = [  # as --on of a view: status 2
    ("yesterday", "'yesterday' is no date; write it like 2026-11-25"),
    ("", "is no date"),
    ("25.11.2026", "is no date"),
    ("11/25/2026", "is no date"),
    ("2026-11-5", "is no date"),
    ("2026-11", "is no date"),
    ("20261125", "is no date"),
    ("2026-W48-3", "is no date"),
    ("2026-11-25T14:05", "is no date"),
    ("2026-11-25 2026-11-26", "is no date"),
    ("２０２６-11-25", "is no date"),  # noqa: RUF001 - digits of another script
    ("-2026-11-25", "is no date"),
    ("2026-02-29", "'2026-02-29' is no day of the calendar"),
    ("2026-13-01", "'2026-13-01' is no day of the calendar"),
    ("2026-11-31", "'2026-11-31' is no day of the calendar"),
    ("2026-00-10", "is no day of the calendar"),
    ("0000-01-01", "is no day of the calendar"),
    ("1949-12-31", "'1949-12-31' lies outside 1950-01-01 to 2150-12-31"),
    ("2151-01-01", "'2151-01-01' lies outside"),
    ("9999-12-31", "'9999-12-31' lies outside"),
]

NO_TIME = [  # as --at of a fact: status 2
    ("now", "'now' is no time; write it like 2026-11-25T14:05, or a date 2026-11-25"),
    ("", "is no time"),
    ("14:05", "is no time"),
    ("2026-11-25T14", "is no time"),
    ("2026-11-25T1405", "is no time"),
    ("2026-11-25T14:05:00.5", "is no time"),
    ("2026-11-25T14:05 EST", "is no time"),
    ("2026-11-25T24:00", "is no time of the day; check it"),
    ("2026-11-25T14:60", "is no time of the day; check it"),
    ("2026-11-25T14:05+99:00", "is no time of the day; check it"),
    ("2026-02-30T14:05", "'2026-02-30' is no day of the calendar"),
    ("0001-01-01T00:00", "'0001-01-01' lies outside"),
    ("2150-12-32T00:00", "is no day of the calendar"),
]

NOT_YET = [  # status 3: it is 14:45 on 2026-11-25
    (["done", "TP-1/monthly", "--at", "2026-11-25T14:46"], "2026-11-25T14:46 is still to come"),
    (["done", "TP-1/monthly", "--at", "2026-11-26"], "2026-11-26 is still to come (today is 2026"),
    (["defer", "TP-1/monthly", "--until", "2026-12-04", "--why", "x", "--at", "2026-11-26"],
     "2026-11-26 is still to come"),
    (["idle", "TP-1", "--why", "x", "--at", "2026-11-26T06:00"], "is still to come"),
    (["back", "FE-1", "--at", "2026-11-26T06:00"], "is still to come"),
    (["stop", "TP-1", "--cause", "x", "--from", "2026-11-25T15:00"], "is still to come"),
    (["stop", "TP-1", "--cause", "x", "--from", "2026-11-25T14:00", "--to", "2026-11-25T15:00"],
     "2026-11-25T15:00 is still to come"),
    (["restart", "PB-1", "--at", "2026-11-25T15:00"], "is still to come"),
    (["void", "1", "--why", "x", "--at", "2026-11-26"], "is still to come"),
    (["job", "TP-1", "hose", "--at", "2026-11-26"], "is still to come"),
    (["takeout", "RD-10", "--at", "2026-11-26"], "is still to come"),
    (["log", "TP-1", "--shift", "night", "--date", "2026-11-25", "--hits", "5"],
     "the night shift of 2026-11-25 has not begun yet"),
    (["log", "TP-1", "--shift", "day", "--date", "2026-11-27", "--hits", "5"], "has not begun yet"),
    (["log", "TP-1", "--shift", "day", "--dial", "hits=1300000", "--at", "2026-11-26"], "to come"),
]  # fmt: skip

WITHOUT_TIME = [  # status 3: an instant is needed
    (["stop", "TP-1", "--cause", "x", "--from", "2026-11-25"], "give the start with its time"),
    (["stop", "TP-1", "--cause", "x", "--from", "2026-11-25T08:00", "--to", "2026-11-25"],
     "give the end with its time"),
    (["restart", "PB-1", "--at", "2026-11-25"], "give the restart with its time"),
    (["stop", "TP-1", "--cause", "x", "--from", "2026-11-25T08:00", "--to", "2026-11-25T08:00"],
     "the stop ends when it begins"),
    (["stop", "TP-1", "--cause", "x", "--from", "2026-11-25T08:00", "--to", "2026-11-25T07:59"],
     "the stop ends before it begins"),
]  # fmt: skip

QUARTERS = ["2027", "2027-Q5", "2027-Q0", "Q1", "27-Q1", "2027-Q1-1", "1949-Q4", "2150-Q4", "", " "]

EMPTY = [  # an option that was given without a date, as by a script whose variable is not set
    ["usage", "--on", ""],
    ["why", "TP-1/monthly", "--on", ""],
    ["tooling", "--on", ""],
    ["log", "TP-1", "--hits", "5", "--date", ""],
    ["job", "TP-1", "hose", "--wanted", ""],
    ["stop", "TP-1", "--cause", "x", "--from", ""],
    ["stop", "TP-1", "--cause", "x", "--from", "2026-11-25T08:00", "--to", ""],
    ["report", "--from", "", "--to", "2026-11-30"],
]


@pytest.mark.parametrize(("text", "message"), NO_DATE)
def test_what_is_no_date_is_named(run_worked: Command, text: str, message: str) -> None:
    run_worked.refused(["today", f"--on={text}"], 2, message)


@pytest.mark.parametrize(("text", "message"), NO_DATE)
def test_no_date_is_read_differently_by_a_fact(
    run_worked: Command, text: str, message: str
) -> None:
    arguments = ["defer", "TP-1/monthly", f"--until={text}", "--why", "x"]
    run_worked.refused(arguments, 2, message)


@pytest.mark.parametrize(("text", "message"), NO_TIME)
def test_what_is_no_time_is_named(run_worked: Command, text: str, message: str) -> None:
    run_worked.refused(["done", "TP-1/monthly", f"--at={text}"], 2, message)


@pytest.mark.parametrize(("arguments", "message"), [*NOT_YET, *WITHOUT_TIME])
def test_what_cannot_have_happened_is_refused(
    run_worked: Command, arguments: list[str], message: str
) -> None:
    run_worked.refused(arguments, 3, message)


@pytest.mark.parametrize("text", QUARTERS)
def test_what_is_no_quarter_is_named(run_worked: Command, text: str) -> None:
    out = run_worked.store.with_name("q.ics")
    run_worked.refused(["calendar", text, "--out", str(out)], 2, text.strip())
    assert not out.exists()


@pytest.mark.parametrize("arguments", EMPTY)
def test_an_empty_date_is_no_date(run_worked: Command, arguments: list[str]) -> None:
    run_worked.refused(arguments, 2, "'' is no")


def test_a_period_that_ends_before_it_begins_is_refused(run_worked: Command) -> None:
    arguments = ["report", "--from", "2026-11-30", "--to", "2026-11-01"]
    run_worked.refused(arguments, 3, "ends on 2026-11-01, before it begins on 2026-11-30")


@pytest.mark.parametrize(
    ("now", "message"),
    [
        ("2026-11-25", "--now 2026-11-25: give the time too, like 2026-11-25T14:05"),
        ("tomorrow", "'tomorrow' is no time"),
        ("2026-02-30T06:00", "'2026-02-30' is no day of the calendar"),
        ("9999-12-31T23:59", "lies outside"),
        ("0001-01-01T00:00", "lies outside"),
        ("1764097500", "is no time"),
    ],
)
@pytest.mark.parametrize("command", ["today", "done TP-1/monthly", "apply {shop}", "verify"])
def test_a_time_in_place_of_now_must_be_one(
    run_worked: Command, now: str, message: str, command: str
) -> None:
    from tests.command import SMALL_SHOP

    arguments = [word.format(shop=SMALL_SHOP) for word in command.split()]
    run_worked.refused(arguments, 2, message, now=now)
    run_worked.refused(arguments, 2, message, now=None, env={"PMTRACK_NOW": now})


# The clocks of New York: 2026-03-08 from 02:00 to 03:00, 2026-11-01 back from 02:00 to 01:00
# (15 U.S.C. 260a; tests/data/reference/us-dst-changes.csv).


@pytest.mark.parametrize("option", ["--at", "--now"])
def test_a_time_that_the_clock_skips_is_refused_with_the_mend(
    run_worked: Command, option: str
) -> None:
    message = "2026-03-08T02:30 does not exist in America/New_York: the clock was put forward; "
    skipped = "2026-03-08T02:30"
    told = (
        run_worked.refused(["done", "TP-1/monthly", "--at", skipped], 3, message)
        if option == "--at"
        else run_worked.refused(["today"], 3, message, now=skipped)
    )
    assert told.err.endswith("write 2026-03-08T03:30\n")


def test_a_time_that_comes_twice_is_the_first_one(run_worked: Command) -> None:
    run_worked.done("stop", "TP-1", "--cause", "x", "--from", "2026-11-01T01:30")
    # 01:30 in summer time is 05:30 UTC; an hour later it is 01:30 again, 06:30 UTC
    assert run_worked.json("entries", "--last", "1")[0]["at"] == "2026-11-01T05:30:00Z"


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("2026-11-25T14:05", "2026-11-25T19:05:00Z"),
        ("2026-11-25 14:05", "2026-11-25T19:05:00Z"),
        ("2026-11-25T14:05:30", "2026-11-25T19:05:30Z"),
        ("2026-11-25T19:05Z", "2026-11-25T19:05:00Z"),
        ("2026-11-25T20:05+01:00", "2026-11-25T19:05:00Z"),
        ("2026-07-01T14:05", "2026-07-01T18:05:00Z"),  # summer time is UTC-4
    ],
)
def test_an_instant_is_kept_in_utc_and_shown_in_shop_time(
    run_worked: Command, typed: str, kept: str
) -> None:
    run_worked.done("done", "PB-1/weekly", "--at", typed)
    assert run_worked.json("entries", "--last", "1")[0]["at"] == kept
    shown = run_worked.done("entries", "--last", "1")
    assert ("2026-07-01 14:05" if "-07-" in typed else "2026-11-25 14:05") in shown


def test_no_time_in_a_screen_is_utc(run_worked: Command) -> None:
    run_worked.done("restart", "PB-1", "--at", "2026-11-25T14:00")  # the stop began at 13:00
    screen = run_worked.done("entries", "--machine", "PB-1")
    assert "13:00" in screen
    assert "18:00" not in screen
