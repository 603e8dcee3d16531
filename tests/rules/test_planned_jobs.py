"""Tools by the jobs that are planned, worked by hand: RD-10 is sharpened every 60,000 wear hits."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import UnreadableInput
from pmtrack.rules.planned_jobs import (
    PlannedRun,
    WearByJobs,
    parse_parts,
    still_to_come,
    used_on,
    wear_by_jobs,
)
from pmtrack.rules.shop import Material, Program, Tool
from pmtrack.rules.wear import ToolWear
from pmtrack.rules.wear_hits import Factors
from tests.build import day

RD_10 = Tool(
    "RD-10", "TP-1", Fraction(60000), grind=Fraction("0.2"), grindable=Fraction(3),
    replace_notice=10,
)  # fmt: skip
SQ_5 = Tool("SQ-5", "TP-1", Fraction(50000))
BEND = Tool("BP-1", "PB-1", Fraction(1000))
NOZZLE = Tool("NZ-1", "TP-1", Fraction(400), counts="hours")
FACTORS = Factors(
    {
        "DOOR": Program("DOOR", "mild", {"RD-10": Fraction(10), "BP-1": Fraction(2)}),
        "LID": Program("LID", None, {"SQ-5": Fraction(5)}),
    },
    {"mild": Material("mild"), "stainless": Material("stainless", wear=Fraction(2))},
)
RATED = (day("06-30"), (day("06-25"), day("07-02")), day("12-01"), day("11-21"))  # by the rate


def stand(
    tool: Tool = RD_10, worn: int = 0, left: int | None = 15, at: tuple[str, str] | None = None
) -> ToolWear:
    """A tool with so many wear hits since it was sharpened, and dates by its rate."""
    return ToolWear(
        tool=tool,
        as_of=day("06-05"),
        state="ok",
        wear_hits=Fraction(worn),
        used=worn / tool.sharpen_every,
        per_day=Fraction(2000),
        sharpen_on=RATED[0],
        sharpen_range=RATED[1],
        mm_left=None,
        sharpenings_left=left,
        end_of_life=RATED[2],
        order_by=RATED[3],
        cost_per_1000=None,
        fitted=at,
    )


def job(
    on: str, parts: int, program: str = "DOOR", machine: str | None = None, line: int = 2
) -> PlannedRun:
    """A row of a file of jobs, in the program's material."""
    return PlannedRun(line, day(on), program, Fraction(parts), None, machine)


def in_stainless(run: PlannedRun) -> PlannedRun:
    """The same, in a sheet that wears twice as fast."""
    return replace(run, material="stainless")


def by_jobs(wear: ToolWear, *jobs: PlannedRun) -> WearByJobs:
    """One tool by jobs."""
    return wear_by_jobs([wear], jobs, FACTORS)[0]


@pytest.mark.parametrize(
    ("worn", "jobs", "added", "reached"),  # ten hits of RD-10 a part
    [
        (0, [], 0, None),
        (0, [job("06-08", 5999)], 59990, None),
        (0, [job("06-08", 6000)], 60000, "06-08"),  # due once the interval is made
        (0, [job("06-08", 3000), job("06-09", 3000)], 60000, "06-09"),
        (0, [job("06-08", 3000), job("06-09", 2999), job("06-12", 1)], 60000, "06-12"),
        (0, [in_stainless(job("06-08", 3000))], 60000, "06-08"),  # twice the wear
        (55000, [job("06-08", 300), job("06-08", 200), job("06-09", 1)], 5010, "06-08"),
        (55000, [job("06-08", 9999, "LID")], 0, None),  # does not use it
        (55000, [job("06-08", 500, machine="TP-1")], 5000, "06-08"),
    ],
)
def test_the_day_on_which_the_jobs_wear_a_tool_out(
    worn: int, jobs: list[PlannedRun], added: int, reached: str | None
) -> None:
    found = by_jobs(stand(worn=worn), *jobs)
    assert found.added == added
    assert found.wear.sharpen_on == (day(reached) if reached else None)
    assert found.wear.sharpen_range is None


def test_a_tool_worn_out_already_keeps_the_day_on_which_it_was() -> None:
    found = by_jobs(stand(worn=60000), job("06-08", 6000))
    assert found.wear.sharpen_on == RATED[0]


@pytest.mark.parametrize(
    ("worn", "left", "parts", "end", "order"),
    [
        (50000, 0, 999, None, None),
        (50000, 0, 1000, "06-08", "05-29"),  # 60,000 - 50,000, ten days' notice
        (50000, 1, 6999, None, None),
        (50000, 1, 7000, "06-08", "05-29"),  # 2 x 60,000 - 50,000
        (60000, 0, 1, "12-01", "11-21"),  # used up before: as it was
        (50000, None, 9000, None, None),  # nobody knows what can be ground off
    ],
)
def test_the_end_of_life_by_the_jobs(
    worn: int, left: int | None, parts: int, end: str | None, order: str | None
) -> None:
    found = by_jobs(stand(worn=worn, left=left), job("06-08", parts)).wear
    assert [found.end_of_life, found.order_by] == [day(d) if d else None for d in (end, order)]


@pytest.mark.parametrize(
    ("worn", "state", "on", "told"),  # on that day the jobs use it up; today is 5 June
    [
        (30000, "ok", "06-12", "soon"),  # half gone, and 7 days ahead
        (30000, "soon", "06-13", "ok"),  # near by its rate, but not by the jobs
        (29999, "ok", "06-12", "ok"),  # not yet half gone
        (54000, "ok", "06-30", "soon"),  # nine tenths gone
        (60000, "due", "06-30", "due"),
        (0, "scrapped", "06-30", "scrapped"),
    ],
)
def test_how_a_tool_stands_by_the_jobs(worn: int, state: str, on: str, told: str) -> None:
    found = by_jobs(replace(stand(worn=worn), state=state), job(on, 6000))
    assert found.wear.state == told


def test_no_job_gives_a_scrapped_tool_a_day() -> None:
    scrapped = replace(stand(), state="scrapped", sharpen_on=None, end_of_life=None, order_by=None)
    assert by_jobs(scrapped, job("06-08", 6000)).wear == scrapped


def test_a_part_that_wears_by_a_meter_is_left_as_it_is() -> None:
    found = by_jobs(stand(NOZZLE), job("06-08", 6000))
    assert found == WearByJobs(stand(NOZZLE), None)


@pytest.mark.parametrize(
    ("machine", "added"),  # by 100 parts: RD-10 in T12 of TP-1, SQ-5 in T1 of TP-2, BP-1 loose
    [
        (None, [1000, 200]),
        ("TP-1", [1000, 0]),  # the brake's punch is not hit on the press
        ("PB-1", [0, 200]),
        ("TP-2", [1000, 200]),  # has none of them: all come over for the job
    ],
)
def test_a_job_on_a_machine_wears_the_tools_that_are_used_there(
    machine: str | None, added: list[int]
) -> None:
    tools = [stand(at=("TP-1", "T12")), stand(BEND), stand(SQ_5, at=("TP-2", "T1"))]
    found = wear_by_jobs(tools, [job("06-08", 100, machine=machine)], FACTORS)
    assert [tool.added for tool in found] == [*added, 0]


@pytest.mark.parametrize(
    ("machine", "used"),
    [
        ("TP-1", ["RD-10", "SQ-5"]),
        ("TP-2", ["RD-10", "SQ-5"]),  # one came over: the others of its machine are to follow
        ("PB-1", ["BP-1"]),
        ("TP-3", ["RD-10", "SQ-5", "BP-1"]),
        (None, ["RD-10", "SQ-5", "BP-1"]),
    ],
)
def test_which_tools_a_job_uses_on_a_machine(machine: str | None, used: list[str]) -> None:
    tools = [stand(at=("TP-2", "T1")), stand(SQ_5), stand(BEND, at=("PB-1", "B1"))]
    assert [wear.tool.code for wear in used_on(tools, machine)] == used


LOGGED = [
    ([], [300, 200]),
    ([("DOOR", "TP-1", 100)], [200, 200]),
    ([("DOOR", "TP-1", 300)], [200]),
    ([("DOOR", "TP-1", 350)], [150]),
    ([("DOOR", "TP-1", 600)], []),
    ([("DOOR", "TP-1", 250), ("DOOR", "TP-1", 100)], [150]),
    ([("LID", "TP-1", 100)], [300, 200]),
]


@pytest.mark.parametrize(("made", "left"), LOGGED)
def test_what_is_logged_of_the_days_jobs_does_not_come_twice(
    made: list[tuple[str, str, int]], left: list[int]
) -> None:
    jobs = [job("06-05", 300), job("06-05", 200, line=3), job("06-08", 50, line=4)]
    logged = [(program, machine, Fraction(parts)) for program, machine, parts in made]
    found = still_to_come(jobs, day("06-05"), logged)
    assert [run.parts for run in found] == [*left, 50]


def test_what_another_machine_made_is_not_taken_off() -> None:
    jobs = [job("06-05", 300, machine="TP-2"), job("06-05", 200, machine="TP-1", line=3)]
    found = still_to_come(jobs, day("06-05"), [("DOOR", "TP-1", Fraction(120))])
    assert {run.machine: run.parts for run in found} == {"TP-2": 300, "TP-1": 80}


def test_jobs_come_in_the_order_of_days_and_those_past_do_not_come() -> None:
    jobs = [job("06-09", 1, line=2), job("06-04", 2, line=3), job("06-05", 3, line=4),
            job("06-09", 4, line=5), job("06-05", 5, line=6)]  # fmt: skip
    found = still_to_come(jobs, day("06-05"), [("DOOR", "TP-1", Fraction(0))])
    assert [run.parts for run in found] == [3, 5, 1, 4]


DAYS = st.lists(st.tuples(st.integers(0, 60), st.integers(1, 3000)), max_size=12)


@given(worn=st.integers(0, 59999), rows=DAYS)
def test_the_day_is_the_first_by_which_the_interval_is_made(
    worn: int, rows: list[tuple[int, int]]
) -> None:
    """Added up anew for every day, from nothing."""
    dates = [(date.fromordinal(day("06-05").toordinal() + n), parts) for n, parts in rows]
    jobs = [PlannedRun(n, on, "DOOR", Fraction(parts)) for n, (on, parts) in enumerate(dates)]
    found = by_jobs(stand(worn=worn), *still_to_come(jobs, day("06-05"), []))
    through = {on: sum(10 * p for d, p in dates if d <= on) for on, _ in dates}
    enough = [on for on, hits in through.items() if worn + hits >= 60000]
    assert found.wear.sharpen_on == min(enough, default=None)
    assert found.added == sum(10 * parts for _, parts in rows)


@given(worn=st.integers(0, 59999), rows=DAYS, more=st.tuples(st.integers(0, 60), st.integers(1)))
def test_one_more_job_never_puts_the_day_off(
    worn: int, rows: list[tuple[int, int]], more: tuple[int, int]
) -> None:
    start = day("06-05")
    jobs = [
        PlannedRun(n, date.fromordinal(start.toordinal() + on), "DOOR", Fraction(parts))
        for n, (on, parts) in enumerate([*rows, more])
    ]
    fewer = by_jobs(stand(worn=worn), *still_to_come(jobs[:-1], start, [])).wear.sharpen_on
    found = by_jobs(stand(worn=worn), *still_to_come(jobs, start, [])).wear.sharpen_on
    assert fewer is None or (found is not None and found <= fewer)


def test_nothing_else_of_the_tool_changes() -> None:
    before = stand(worn=50000)  # no longer near: the jobs do not use it up
    found = by_jobs(before, job("06-08", 10)).wear
    told = replace(
        found, sharpen_on=RATED[0], sharpen_range=RATED[1], end_of_life=RATED[2],
        order_by=RATED[3],
    )  # fmt: skip
    assert told == before


@pytest.mark.parametrize("text", ["1", "310", "1,000"])
def test_a_number_of_parts_is_whole(text: str) -> None:
    assert parse_parts(text) == int(text.replace(",", ""))


@pytest.mark.parametrize("text", ["0", "0.5", "1.5"])
def test_no_part_or_half_a_part_is_no_number_of_parts(text: str) -> None:
    with pytest.raises(UnreadableInput, match="is no number of parts; write a whole number"):
        parse_parts(text)
