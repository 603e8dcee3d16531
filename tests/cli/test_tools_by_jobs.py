"""`tooling --jobs`: the tools by planned jobs, as of Wednesday 25 November 2026, 14:45."""

import csv
import io
from pathlib import Path

import pytest

from tests import run_shop
from tests.command import ESCAPE, Command, assert_fits, copied, dump, trimmed

HEADER = "date,program,parts,material,machine\n"


@pytest.fixture(scope="module")
def worked_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """RD-10 with 42,000 of 60,000 wear hits from 3,000 doors of Tuesday, SQ-5 with 12,000."""
    run = run_shop.store(tmp_path_factory.mktemp("doors"))
    run.done("fit", "RD-10", "--station", "T12", "--at", "2026-11-24T06:00")
    run.done("fit", "SQ-5", "--station", "T13", "--at", "2026-11-24T06:00")
    made = ["--parts", "3000", "--program", "KIOSK-DOOR"]
    run.done("log", "TP-1", "--shift", "day", "--date", "2026-11-24", *made)
    return run.store


@pytest.fixture
def run(worked_shop: Path, tmp_path: Path) -> Command:
    """The command line on a copy of that store."""
    return Command(copied(worked_shop, tmp_path / "pmtrack.db"))


def by(run: Command, *rows: str) -> list[str]:
    """The arguments that show the tools by a file of these jobs."""
    file = run.store.with_name("jobs.csv")
    file.write_text(HEADER + "".join(f"{row}\n" for row in rows), "utf-8")
    return ["tooling", "--jobs", str(file)]


JOBS = (
    "2026-12-02,KIOSK-DOOR,700,,",
    "2026-11-27,KIOSK-DOOR,600,,",
    "2026-12-01,LOUVER,250,stainless,TP-1",
)
# RD-10: 42,000 + 600 x 14 = 50,400 on the 27th, + 700 x 14 = 60,200 on 2 December, 7 days ahead.
# LV-60: 250 x 8 x 2 = 4,000 of 2,000. Nothing is known of hours of TP-1.
SHOWN = """\
By 3 jobs from Fri 27 Nov to Wed  2 Dec, in place of the recent rate:
State  Tool       Station  Wear hits  Used  Jobs add  Sharpen by jobs    Left
soon   RD-10      T12         42,000  70 %    18,200  2026-12-02           15
ok     SQ-5       T13         12,000  24 %     5,200  not in these jobs    10
ok     LV-60      -                0   0 %     4,000  2026-12-01            1
ok     RE-50      -                0   0 %         0  not in these jobs    20
ok     RE-50.die  -                0   0 %         0  not in these jobs    10
ok     BP-88      -                0   0 %         0  not in these jobs     -
ok     TIP-1      -                0   0 %         -  by its meter          -"""


def test_the_days_come_from_the_jobs(run: Command) -> None:
    assert trimmed(run.done(*by(run, *JOBS))) == SHOWN.split("\n")
    told = {row["tool"]: row for row in run.json(*by(run, *JOBS))}
    assert (told["RD-10"]["sharpen_on"], told["RD-10"]["by_jobs"]) == ("2026-12-02", 18200)
    assert told["RD-10"]["sharpen_range"] is None
    assert (told["SQ-5"]["sharpen_on"], told["SQ-5"]["by_jobs"]) == (None, 5200)
    # one sharpening left: 2 x 2,000 are used up on the same day
    assert told["LV-60"]["end_of_life"] == "2026-12-01"
    assert told["TIP-1"]["by_jobs"] is None


def test_the_keys_are_those_of_tooling_and_one_more(run: Command) -> None:
    plain, told = run.json("tooling"), run.json(*by(run, *JOBS))
    assert [row["tool"] for row in told] == [row["tool"] for row in plain]
    for before, after in zip(plain, told, strict=True):
        assert after.keys() == before.keys() | {"by_jobs"}
        same = before.keys() - {"state", "sharpen_on", "sharpen_range", "end_of_life", "order_by"}
        assert {key: after[key] for key in same} == {key: before[key] for key in same}


def test_the_tools_by_jobs_as_a_table(run: Command, tmp_path: Path) -> None:
    out = tmp_path / "table.csv"
    assert run(*by(run, *JOBS), "--csv", str(out)).status == 0
    (rd10, *_) = rows = list(csv.DictReader(io.StringIO(out.read_text("utf-8"))))
    assert (rd10["tool"], rd10["by_jobs"]) == ("RD-10", "18200")
    assert [row["tool"] for row in rows] == [
        t["tool"] for t in run(*by(run, *JOBS), "--json").json()
    ]


def test_chosen_and_ordered_as_tooling_is(run: Command) -> None:
    listed = run.json(*by(run, *JOBS), "--machine", "PB-1")
    assert [row["tool"] for row in listed] == ["BP-88"]
    listed = run.json(*by(run, *JOBS), "--station", "T13")
    assert [row["tool"] for row in listed] == ["SQ-5"]
    run.refused([*by(run, *JOBS), "--unallocated"], 2, "--jobs does not go with --unallocated")
    listed = run.json(*by(run, *JOBS), "--dull-first")
    assert [row["tool"] for row in listed][:2] == ["RD-10", "SQ-5"]
    run.refused([*by(run, *JOBS), "--machine", "X"], 3, "no machine 'X'")


def test_jobs_of_the_past_are_left_out_with_a_remark(run: Command) -> None:
    rows = [f"2026-11-{day},KIOSK-DOOR,5000,," for day in range(17, 25)]
    told = run(*by(run, *rows[:1], *JOBS))
    assert (told.status, trimmed(told.out)) == (0, SHOWN.split("\n"))
    assert told.err.endswith("jobs.csv: jobs before 2026-11-25 are left out: line 2\n")
    told = run(*by(run, *rows))
    assert "left out: lines 2, 3, 4, 5, 6 and 3 more" in told.err
    assert told.out.startswith("No jobs from 2026-11-25 on.\n")
    assert run.json(*by(run))[0]["sharpen_on"] is None  # no rows at all


def test_what_is_logged_of_the_days_jobs_is_not_counted_again(run: Command) -> None:
    rows = ["2026-11-25,KIOSK-DOOR,300,,"]
    assert run.json(*by(run, *rows))[0]["by_jobs"] == 4200
    run.done("log", "TP-1", "--parts", "120", "--program", "KIOSK-DOOR")
    told = run(*by(run, *rows), "--json")
    assert told.err == "120 parts of 2026-11-25 are logged already and not counted again\n"
    assert '"by_jobs": 2520' in told.out  # 180 x 14


def test_as_of_another_day(run: Command) -> None:
    told = run.json(*by(run, *JOBS), "--on", "2026-11-23")
    assert [row["wear_hits"] for row in told[:2]] == [0, 0]
    assert told[0]["sharpen_on"] is None


FAULTY = [
    ("2026-11-27,DOOR,600,,", "jobs.csv:2: program: no program 'DOOR'; the shop file has KIOSK"),
    (
        "2026-11-27,KIOSK-DOOR,0,,",
        "jobs.csv:2: parts: '0' is no number of parts; write a whole number, 1 or more",
    ),
    ("27.11.2026,KIOSK-DOOR,6,,", "jobs.csv:2: date: '27.11.2026' is no date; write it like"),
    ("2026-11-27,KIOSK-DOOR,6,gold,", "jobs.csv:2: material: no material 'gold'"),
    ("2026-11-27,KIOSK-DOOR,6,,X", "jobs.csv:2: machine: no machine 'X'"),
    ("2026-11-27,KIOSK-DOOR,6", "jobs.csv:2: 3 cells where the header has 5"),
    ("2026-11-27,\x1b[31m,6,,", "jobs.csv:2: program: no program '?[31m'"),
]


@pytest.mark.parametrize(("row", "message"), FAULTY)
def test_a_faulty_file_is_refused_whole(run: Command, row: str, message: str) -> None:
    run.refused(by(run, row, *JOBS), 3, message)


def test_a_file_that_is_not_there(run: Command) -> None:
    run.refused(["tooling", "--jobs", "nowhere.csv"], 3, "nowhere.csv: no such file or directory")


def test_it_fits_eighty_columns_and_looking_changes_nothing(run: Command) -> None:
    run.done("takeout", "SQ-5")
    run.done("fit", "SQ-5", "--station", "W[b]" * 10)
    before = dump(run.store)
    rows = [f"2026-12-{day:02},KIOSK-DOOR,{parts},," for day, parts in ((1, 1), (2, 10**12))]
    told = run.done(*by(run, *JOBS, *rows))
    assert_fits(told)
    assert "[b]" in told
    assert dump(run.store) == before


def test_a_file_with_a_hostile_name(run: Command) -> None:
    file = run.store.with_name("\x1b[31mjobs.csv")
    file.write_text(HEADER + "2026-11-20,KIOSK-DOOR,5,,\n", "utf-8")
    told = run("tooling", "--jobs", str(file))
    assert (told.status, ESCAPE in told.err + told.out) == (0, False)
    file.write_text(HEADER + "x,KIOSK-DOOR,5,,\n", "utf-8")
    run.refused(["tooling", "--jobs", str(file)], 3, "date: 'x' is no date")
