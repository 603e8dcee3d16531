"""A file of planned jobs: what is read from it, and each fault with its line and the mend."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import FaultyFile
from pmtrack.imports.jobs import read_jobs
from pmtrack.rules.planned_jobs import PlannedRun
from pmtrack.rules.shop import Machine, Material, Program, Shop
from tests.build import day, shop

HEADER = "date,program,parts,material,machine\n"
SAVE = "save it as CSV UTF-8 with commas"


def small_shop() -> Shop:
    """A shop with two programs, a material and two machines."""
    made = shop()
    return Shop(
        name=made.name,
        timezone=made.timezone,
        shifts=made.shifts,
        machines=(Machine("TP-1", "Turret punch press"), Machine("TP-2", "Second press")),
        materials=(Material("stainless", wear=Fraction(2)),),
        programs=(Program("DOOR"), Program("LID")),
    )


def jobs(data: str | bytes) -> list[PlannedRun]:
    """The jobs of a file named f.csv."""
    return read_jobs("f.csv", data if isinstance(data, bytes) else data.encode(), small_shop())


def faults(data: str | bytes) -> list[str]:
    """What is wrong with a file, without its name."""
    with pytest.raises(FaultyFile) as caught:
        jobs(data)
    return [fault.removeprefix("f.csv:") for fault in caught.value.faults]


DOOR = PlannedRun(2, day("06-08"), "DOOR", Fraction(300))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("date,program,parts\n2026-06-08,DOOR,300\n", [DOOR]),
        ("parts,program,date\n300,DOOR,2026-06-08\n", [DOOR]),
        (HEADER + "2026-06-08,DOOR,300,,\n", [DOOR]),
        (HEADER + ' 2026-06-08 , DOOR ,"1,300",stainless,TP-2\n',
         [PlannedRun(2, day("06-08"), "DOOR", Fraction(1300), "stainless", "TP-2")]),
        (HEADER + "\n2026-06-09,LID,1,,\n\n2026-06-08,DOOR,2,,\n",
         [PlannedRun(3, day("06-09"), "LID", Fraction(1)),
          PlannedRun(5, day("06-08"), "DOOR", Fraction(2))]),
        ("date,program,parts,machine\n2026-06-08,DOOR,300,TP-1\n2026-06-08,DOOR,300,TP-2\n",
         [PlannedRun(2, day("06-08"), "DOOR", Fraction(300), None, "TP-1"),
          PlannedRun(3, day("06-08"), "DOOR", Fraction(300), None, "TP-2")]),
        (HEADER, []),
        ("\ufeffdate,program,parts\r\n2026-06-08,DOOR,300\r\n", [DOOR]),
    ],
)  # fmt: skip
def test_what_is_read(text: str, expected: list[PlannedRun]) -> None:
    assert jobs(text) == expected


NO_PROGRAM = "no program 'DOR'; the shop file has DOOR, LID"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ["1: the file is empty; begin with the header"]),
        (b"date,program,parts\n\xff\n", [f"2: this is not UTF-8 text; {SAVE}"]),
        ("date;program;parts\n", [f"1: the columns are set apart by semicolons; {SAVE}"]),
        ("date,program\n2026-06-08,DOOR\n",
         ["1: no column parts; jobs need date, program, parts"]),
        ("date,program,part\n",
         ["1: jobs have no column 'part'; write parts, or delete it",
          "1: no column parts; jobs need date, program, parts"]),
        ("date,program,parts,by\n",
         ["1: jobs have no column 'by'; write one of date, program, parts, material, machine, "
          "or delete it"]),
        (HEADER + "2026-6-8,DOOR,1,,\n",
         ["2: date: '2026-6-8' is no date; write it like 2026-11-25"]),
        (HEADER + ",DOOR,1,,\n", ["2: date is empty; fill it in"]),
        (HEADER + "2026-06-08,DOR,1,,\n", [f"2: program: {NO_PROGRAM}"]),
        (HEADER + "2026-06-08,DOOR,0,,\n",
         ["2: parts: '0' is no number of parts; write a whole number, 1 or more"]),
        (HEADER + "2026-06-08,DOOR,-5,,\n",
         ["2: parts: '-5' is no number of parts; write a whole number, 1 or more"]),
        (HEADER + "2026-06-08,DOOR,2.5,,\n",
         ["2: parts: '2.5' is no number of parts; write a whole number, 1 or more"]),
        (HEADER + "2026-06-08,DOOR,many,,\n",
         ["2: parts: 'many' is not a number; write it like 41200 or 7.5"]),
        (HEADER + "2026-06-08,DOOR,1,gold,\n",
         ["2: material: no material 'gold'; the shop file has stainless"]),
        (HEADER + "2026-06-08,DOOR,1,,TP-9\n",
         ["2: machine: no machine 'TP-9'; the shop file has TP-1, TP-2"]),
        (HEADER + "2026-06-08,DOOR,1\n",
         ["2: 3 cells where the header has 5; write the commas of empty cells too"]),
        (HEADER + "2026-06-08,DOOR,5,,\n2026-06-08,LID,5,,\n2026-06-08,DOOR,5,,\n",
         ["4: the same as line 2; delete one, or if both are meant add their parts up"]),
        # every fault at once, in the order of lines
        (HEADER + "2026-06-08,DOR,0,,\n2026-06-08,DOOR,1,,\n2026-06-31,DOOR,1,,\n",
         ["2: parts: '0' is no number of parts; write a whole number, 1 or more",
          f"2: program: {NO_PROGRAM}",
          "4: date: '2026-06-31' is no day of the calendar; check it"]),
    ],
)  # fmt: skip
def test_each_fault_is_told_with_its_line(text: str | bytes, expected: list[str]) -> None:
    assert faults(text) == expected


def test_a_cell_that_plays_with_the_terminal_is_told_in_printable_text() -> None:
    told = faults(HEADER + "2026-06-08,\x1b[31mDOOR,1,\x9b,\x07\n")
    assert len(told) == 3
    assert all(fault.isprintable() for fault in told)


@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda t: (HEADER + t).encode()))
def test_any_bytes_are_read_or_refused_with_a_line(data: bytes) -> None:
    read: list[PlannedRun] = []
    told: list[str] = []
    try:
        read = read_jobs("f.csv", data, small_shop())
    except FaultyFile as error:
        told = error.faults
    assert all(fault.startswith("f.csv:") and fault.isprintable() for fault in told)
    assert all(run.parts >= 1 and run.program in ("DOOR", "LID") for run in read)
