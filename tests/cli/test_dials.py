"""Dials that cannot be: which entry is named, and how a right one is confirmed.

In the worked store entry 2 reads 1,204,350 hits of TP-1 on 25 November at 14:30, the end of the day
shift; it is 14:45. At 120 a minute 1,800 hits are made in a quarter of an hour, 172,800 in the day
that is to spare, since the time of a reading is often taken for granted.
"""

from pathlib import Path

import pytest

from tests.command import Command

LATER = "2026-11-25T14:50"
IMPOSSIBLE = [
    (
        "log TP-1 --dial hits=12043500 --at 2026-11-25T14:45",
        "TP-1 hits would gain 10,839,150 in 0.25 h, from 1,204,350 (entry 2) to 12,043,500: more "
        "than the machine can make, at most 174,600 at 120 per minute and a day to spare; correct "
        "it, or cross out entry 2 if that is wrong, or add --confirm if it is right",
    ),
    (
        "done TP-1/monthly --dial hits=1378951",
        "would gain 174,601 in 0.25 h, from 1,204,350 (entry 2) to 1,378,951",
    ),
    (
        "done TP-1/monthly --dial hits=1029749 --at 2026-11-25T14:15",
        "TP-1 hits would gain 174,601 in 0.25 h, from 1,029,749 to 1,204,350 (entry 2)",
    ),
    (
        "log TP-1 --dial hits=7 --wrapped hits --at 2026-11-25T14:45",
        "TP-1 hits would gain 8,795,657 in 0.25 h",
    ),
    (
        "done TP-1/monthly --dial hits=1204300 --confirm",  # no confirmation turns a counter back
        "TP-1 hits would run backwards, from 1,204,350 (entry 2) to 1,204,300; correct it, "
        "or cross out entry 2 if that is wrong, or say --wrapped hits if the counter started over, "
        "--exchanged hits if a new one was fitted",
    ),
    (
        "done TP-1/monthly --dial hits=1204351 --at 2026-11-25T14:29",
        "TP-1 hits would run backwards, from 1,204,351 to 1,204,350 (entry 2); correct it, "
        "or cross out entry 2 if that is wrong",
    ),
]


@pytest.mark.parametrize(("line", "told"), IMPOSSIBLE)
def test_a_dial_that_cannot_be_names_the_reading_that_stands(
    run_worked: Command, line: str, told: str
) -> None:
    run_worked.refused(line.split(), 3, told)


@pytest.mark.parametrize(
    "line",
    [
        "log TP-1 --dial hits=1378950 --at 2026-11-25T14:45",
        "done TP-1/monthly --dial hits=1029750 --at 2026-11-25T14:15",
        "done TP-1/monthly --dial hits=1208350 --at 2026-11-25",  # a date counts at its end,
        "done TP-1/monthly --dial hits=0 --exchanged hits",
        "log TP-1 --dial hits=12043500 --at 2026-11-25T14:45 --confirm",
        "done TP-1/monthly --dial hits=12043500 --confirm",
        "log TP-1 --dial hours=99999",  # without `fastest` nothing is said
    ],
)
def test_a_dial_that_can_be_or_is_confirmed_is_taken(run_worked: Command, line: str) -> None:
    told = run_worked(*line.split())
    assert (told.status, told.out[:10]) == (0, "entry 11: ")


def test_a_confirmed_dial_is_not_held_against_the_next_one(run_worked: Command) -> None:
    def read(hits: int, *sure: str) -> list[str]:
        return ["log", "TP-1", "--dial", f"hits={hits}", "--at", "2026-11-25T14:45", *sure]

    run_worked.done(*read(12043500, "--confirm"))
    run_worked.done("job", "TP-1", "hose", now=LATER)
    assert run_worked("done", "TP-1/weekly", "--dial", "hits=12043600", now=LATER).status == 0
    run_worked.refused(
        ["done", "TP-1/weekly", "--dial", "hits=1204400"], 3, "cross out entry 13", now=LATER
    )
    for wrong in ("13", "11"):
        run_worked.done("void", wrong, "--why", "a digit too many", now=LATER)
    assert run_worked("done", "TP-1/weekly", "--dial", "hits=1204400", now=LATER).status == 0


def test_a_file_confirms_a_dial_in_a_column_of_its_own(run_worked: Command, tmp_path: Path) -> None:
    file = tmp_path / "f.csv"

    def of(sure: str) -> list[str]:
        file.write_text(
            "machine,at,by,hits,confirmed\n"
            f"TP-1,2026-11-25T14:40,Dana,2204350,{sure}\nTP-1,2026-11-25T14:45,Lee,2204400,\n"
        )
        return ["import", "dials", str(file)]

    run_worked.refused(
        of(""), 3, "f.csv:2: TP-1 hits would gain 1,000,000 in 0.17 h, from 1,204,350 (entry 2)"
    )
    run_worked.refused(of("no"), 3, "or add yes under confirmed if it is right")
    run_worked.refused(of("perhaps"), 3, "f.csv:2: confirmed: 'perhaps' is neither yes nor no")
    assert run_worked(*of("yes")).status == 0
    run_worked.refused(of("no"), 3, "f.csv:2: in the store already, as entry 11")


def test_a_file_of_completions_confirms_a_dial_too(run_worked: Command, tmp_path: Path) -> None:
    file = tmp_path / "f.csv"
    rows = "TP-1/monthly,2026-11-25T14:40,Dana,2204350,"
    file.write_text(f"task,at,by,hits,confirmed\n{rows}\n")
    run_worked.refused(["import", "completions", str(file)], 3, "add yes under confirmed")
    file.write_text(f"task,at,by,hits,confirmed\n{rows}yes\n")
    assert run_worked("import", "completions", str(file)).status == 0


def test_a_dial_of_a_shift_that_still_runs_is_read_now(run: Command) -> None:
    """At 10:30 the day shift is half over and ends at 14:30."""
    run.done("log", "TP-1", "--dial", "hours=22400", now="2026-11-25T10:30")
    assert run.json("entries")[0]["day"] == "2026-11-25"
    told = run("done", "TP-1/weekly", "--dial", "hours=22401.5", now="2026-11-25T12:00")
    assert told.status == 0
    run.done("log", "TP-1", "--dial", "hours=22403", now="2026-11-25T14:40")
    assert [m["usage"] for m in run.json("usage") if m["meter"] == "hours"] == [22403]


def test_times_that_are_taken_for_granted_refuse_no_right_reading(run: Command) -> None:
    """Both are read in the morning of another day than their entries' dates say."""
    run.done("log", "TP-1", "--dial", "hits=500000", now="2026-11-25T23:00")
    run.done("log", "TP-1", "--dial", "hits=501000", now="2026-11-26T05:00")
    assert run("done", "TP-1/weekly", "--at", "2026-11-25", "--dial", "hits=504000").status == 0
    assert run("done", "TP-1/weekly", "--at", "2026-11-25", "--dial", "hits=508000").status == 0
