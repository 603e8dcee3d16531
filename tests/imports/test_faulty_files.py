"""Every fault is named with its line and the mend, all at once, and nothing is stored."""

from datetime import date
from typing import Any

import pytest

from pmtrack.actions.technician import NewJob, raise_job
from pmtrack.errors import UnreadableInput
from pmtrack.rules.facts import Moment

SHIFTS = "machine,shift,date,by,hits\n"
DIALS = "machine,at,by,wrapped,exchanged,hits,hours\n"
STOPS = "machine,from,to,cause,planned,by\n"
COMPLETIONS = "task,at,by,minutes,note,hits\n"
COUNTS = "tool,at,hits,by,material\n"
EVENTS = "tool,at,event,by,mm,why,machine,station\n"
UTF_8 = "save it as CSV UTF-8 with commas"
NOT_MARKED = "correct it, or say yes under wrapped if the counter started over, yes under exchanged"

HEADERS: list[tuple[str, str | bytes, list[str]]] = [
    ("shifts", "", ["1: the file is empty; begin with the header"]),
    ("shifts", "\n\r\n , ,\n", ["1: the file is empty; begin with the header"]),
    ("shifts", b"\xef\xbb\xbf", ["1: the file is empty; begin with the header"]),
    ("shifts", SHIFTS.encode("utf-16"), [f"1: this is UTF-16 text, not UTF-8; {UTF_8}"]),
    (
        "shifts",
        (SHIFTS + "TP-1,day,2026-11-24,J\u00fcrgen,1\n").encode("latin-1"),
        [f"2: this is not UTF-8 text; {UTF_8}"],
    ),
    (
        "shifts",
        b"\xef\xbb\xbf" + SHIFTS.encode() + b"\r\n\r\n\xff",
        [f"4: this is not UTF-8 text; {UTF_8}"],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Da\0na,1\n",
        [f"2: a NUL byte: this is no CSV text; {UTF_8}"],
    ),
    (
        "shifts",
        "machine;shift;date;by;hits\nTP-1;day;2026-11-24;Dana;1\n",
        [f"1: the columns are set apart by semicolons; {UTF_8}"],
    ),
    ("stops", "machine\tfrom\tto\n", [f"1: the columns are set apart by tabs; {UTF_8}"]),
    (
        "shifts",
        "machine,shift,by\nTP-1,day,Dana\n",
        ["1: no column date; shifts need machine, shift, date, by"],
    ),
    (
        "stops",
        "machine,from,cause\n",
        [
            "1: no column by; stops need machine, from, to, cause, planned, by",
            "1: no column planned; stops need machine, from, to, cause, planned, by",
            "1: no column to; stops need machine, from, to, cause, planned, by",
        ],
    ),
    (
        "shifts",
        "machine,shift,date,by,hist\n",
        ["1: shifts have no column 'hist'; write hits, or delete it"],
    ),
    (
        "shifts",
        "Machine,machine,shift,date,by\n",
        ["1: shifts have no column 'Machine'; write machine, or delete it"],
    ),
    (
        "tool-counts",
        "tool,at,hits,by,hours\n",  # meters are no columns of this kind
        [
            "1: tool-counts have no column 'hours'; "
            "write one of tool, at, hits, by, material, or delete it"
        ],
    ),
    (
        "dials",
        "machine,at,by,parts\n",  # parts are of shifts
        [
            "1: dials have no column 'parts'; "
            "write one of machine, at, by, wrapped, exchanged, confirmed, hits, hours, bends, "
            "or delete it"
        ],
    ),
    (
        "shifts",
        "machine,shift,date,by,hits,hits\n",
        ["1: a second column 'hits'; delete one of them"],
    ),
    (
        "shifts",
        "machine,shift,,date,by,hits,\n",
        [
            "1: column 3 has no name; name it, or delete it",
            "1: column 7 has no name; name it, or delete it",
        ],
    ),
    (  # the rows below a faulty header are read as far as that goes
        "shifts",
        "\nmachine,shift,date,by,hist\nTP-1,day,2026-13-01,Dana,\nTP-1,day,2026-11-24,Dana\n",
        [
            "2: shifts have no column 'hist'; write hits, or delete it",
            "3: date: '2026-13-01' is no day of the calendar; check it",
            "4: 4 cells where the header has 5; write the commas of empty cells too",
        ],
    ),
]

LAYOUT: list[tuple[str, str | bytes, list[str]]] = [
    (
        "shifts",
        SHIFTS + "TP-1\n",
        ["2: 1 cell where the header has 5; write the commas of empty cells too"],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Dana,41,200\n",
        [
            "2: 6 cells where the header has 5; "
            'put a cell that holds a comma in quotes, like "41,200"'
        ],
    ),
    (
        "shifts",
        SHIFTS + 'TP-1,day,2026-11-24,"Dana,1\nTP-1,day,2026-11-23,Dana,1\n',
        ["2: a quote is opened and never closed; close it, or delete it"],
    ),
    (
        "shifts",
        SHIFTS + 'TP-1,day,2026-11-24,"Dana" B,1\nTP-1,dya,2026-11-23,Dana,1\n',
        [
            "2: text follows a closing quote; write a quote inside a quoted cell twice",
            "3: no shift 'dya'; the shop has day, night",
        ],
    ),
    (
        "completions",
        "task,at,by,note\nTP-1/monthly,2026-11-24,Dana," + "x" * 131_073 + "\n",
        ["2: a cell of more than 131,072 characters; shorten it, or close its quote"],
    ),
    (  # the line is that on which the row starts; blank rows are counted, but are no rows
        "completions",
        'task,at,by,note\r\n\r\nTP-1/monthly,2026-11-24,Dana,"two\r\nlines"\r,,,\nTP-1/weekly,,Dana,\n',
        ["6: at is empty; fill it in"],
    ),
]

CELLS: list[tuple[str, str | bytes, list[str]]] = [
    (
        "shifts",
        SHIFTS + ",day,2026-11-24, ,1\n",
        ["2: by is empty; fill it in", "2: machine is empty; fill it in"],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,day,24.11.2026,Dana,many\n",
        [
            "2: date: '24.11.2026' is no date; write it like 2026-11-25",
            "2: hits: 'many' is not a number; write it like 41200 or 7.5",
        ],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Dana,-5\n",
        ["2: hits: '-5' is below 0; write 0 or more"],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Dana,0.0000001\n",
        ["2: hits: '0.0000001' has more than 6 decimals; round it"],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Dana,=1+2\n",
        ["2: hits: '=1+2' is not a number; write it like 41200 or 7.5"],
    ),
    (
        "shifts",
        "machine,shift,date,by,parts,confirmed\nTP-1,day,2026-11-24,Dana,5,maybe\n",
        ["2: confirmed: 'maybe' is neither yes nor no; write yes or no"],
    ),
    (
        "dials",
        DIALS + "TP-1,2026-03-08T02:30,Dana,,,1,\n",
        [
            "2: at: 2026-03-08T02:30 does not exist in America/New_York: "
            "the clock was put forward; write 2026-03-08T03:30"
        ],
    ),
    (
        "dials",
        DIALS + "TP-1,9:30,Dana,,,1,\n",
        ["2: at: '9:30' is no time; write it like 2026-11-25T14:05, or a date 2026-11-25"],
    ),
    (
        "completions",
        COMPLETIONS + "TP-1/monthly,2026-11-24,Dana,90.5,,\n",
        ["2: minutes: '90.5' is no whole number; round it"],
    ),
    (
        "tool-events",
        EVENTS + "RD-10,2026-11-24,grind,Dana,0.2,worn,,\n",
        [
            "2: event: 'grind' is not known; write sharpen, fit, takeout, replace or scrap",
            "2: why: 'worn' is not known; write planned, burr or chipped",
        ],
    ),
    (  # what is not printable does not reach the screen
        "shifts",
        SHIFTS + "T\x1b[31mP,day,2026-11-24,Dana,1\n",
        ["2: no machine 'T?[31mP'; the shop has TP-1, PB-1, FE-1"],
    ),
]

ROWS: list[tuple[str, str | bytes, list[str]]] = [
    (
        "shifts",
        SHIFTS + "TP-9,day,2026-11-24,Dana,1\n",
        ["2: no machine 'TP-9'; the shop has TP-1, PB-1, FE-1"],
    ),
    (
        "shifts",
        SHIFTS + "PB-1,day,2026-11-24,Dana,1\n",
        ["2: PB-1 has no meter 'hits'; it has bends"],
    ),
    (
        "shifts",
        SHIFTS + "FE-1,day,2026-11-24,Dana,1\n",
        ["2: FE-1 has no meter 'hits'; it has no meters"],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Dana,\n",
        ["2: nothing to log; fill in parts, scrap, a program or a count"],
    ),
    (
        "shifts",
        SHIFTS + "TP-1,night,2026-11-25,Dana,1\n",
        ["2: the night shift of 2026-11-25 has not begun yet"],
    ),
    (
        "shifts",
        "machine,shift,date,by,program,material\nTP-1,day,2026-11-24,Dana,DESK,\n"
        "TP-1,day,2026-11-23,Dana,KIOSK-DOOR,gold\n",
        [
            "2: no program 'DESK'; the shop file has KIOSK-DOOR",
            "3: no material 'gold'; the shop file has mild, stainless",
        ],
    ),
    (  # 120 a minute over 8 hours is 57,600
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Dana,57600\nTP-1,day,2026-11-23,Dana,57601\n",
        [
            "3: TP-1 57,601 hits is more than the machine can make in a shift of 8 h: "
            "at most 57,600 at 120 per minute; "
            "correct it, or add yes under confirmed if it is right"
        ],
    ),
    (  # 40,000 + 20,000 in one shift
        "shifts",
        SHIFTS + "TP-1,day,2026-11-24,Dana,40000\nTP-1,day,2026-11-24,Lee,20000\n",
        [
            "3: TP-1 20,000 hits and the 40,000 already logged for that shift are more than the "
            "machine can make in a shift of 8 h: "
            "at most 57,600 at 120 per minute; "
            "correct it, or add yes under confirmed if it is right"
        ],
    ),
    (  # ten times 10^12 is past what a whole number of millionths in the store can tell
        "shifts",
        "machine,shift,date,by,bends\n"
        + "".join(f"PB-1,day,2026-11-{day},Dana,{10**12}\n" for day in range(10, 20)),
        ["2: PB-1 bends would grow past what can be kept; correct it"],
    ),
    (
        "dials",
        DIALS + "TP-1,2026-11-24,Dana,,,,\n",
        ["2: no reading; fill in the column of a meter"],
    ),
    (
        "dials",
        DIALS + "TP-1,2026-11-24,Dana,yes,yes,5,\n",
        ["2: both wrapped and exchanged; a counter started over or is a new one: keep one"],
    ),
    (
        "dials",
        DIALS + "TP-1,2026-11-24,Dana,yes,,,5\n",
        [
            "2: TP-1 hours has no wraps_at in the shop file: add it there, "
            "or say yes under exchanged if a new counter was fitted"
        ],
    ),
    (
        "dials",
        DIALS + "TP-1,2026-11-25T14:06,Dana,,,5,\nTP-1,2026-11-26,Dana,,,5,\n",
        [
            "2: 2026-11-25T14:06 is still to come (it is 2026-11-25T14:05)",
            "3: 2026-11-26 is still to come (today is 2026-11-25)",
        ],
    ),
    (  # a reading of a row that fails half-way is told by its line as well
        "dials",
        "machine,at,by,hits,bends\nTP-1,2026-11-23,Dana,1000,5\nTP-1,2026-11-24,Dana,900,\n",
        [
            "2: TP-1 has no meter 'bends'; it has hits, hours",
            f"3: TP-1 hits would run backwards, from 1,000 (line 2) to 900; {NOT_MARKED} "
            "if a new one was fitted",
        ],
    ),
    (  # the later reading is named, wherever it stands in the file
        "dials",
        DIALS + "TP-1,2026-11-24,Dana,,,900,\nTP-1,2026-11-23,Dana,,,1000,\n",
        [
            f"2: TP-1 hits would run backwards, from 1,000 (line 3) to 900; {NOT_MARKED} "
            "if a new one was fitted"
        ],
    ),
    (
        "stops",
        STOPS + "TP-1,2026-11-24T10:00,2026-11-24T10:00,leak,no,Dana\n",
        ["2: the stop ends when it begins; check from and to"],
    ),
    (
        "stops",
        STOPS + "TP-1,2026-11-24,2026-11-24T10:00,leak,no,Dana\n",
        ["2: give the start with its time, like 2026-11-24T14:05"],
    ),
    (
        "stops",
        STOPS + "TP-1,2026-11-24T10:00,,,no,Dana\n",
        ["2: cause is empty; fill it in"],
    ),
    (
        "completions",
        COMPLETIONS + "TP-1/weekly,2026-11-24,Dana,,,\n",
        ["2: no task 'TP-1/weekly'; tasks there: TP-1/monthly"],
    ),
    (
        "completions",
        COMPLETIONS + "TP-1/monthly,2026-11-24,Dana,,bell\a,\n",
        ["2: the note holds characters that cannot be shown; type it as plain text"],
    ),
    (
        "stops",
        STOPS + f"TP-1,2026-11-24T10:00,,{'x' * 401},no,Dana\n",
        ["2: what stopped it is 401 characters long; keep it under 400"],
    ),
    (
        "completions",
        COMPLETIONS + "FE-1/look,2026-11-24,Dana,,,5\n",
        ["2: FE-1 has no meter 'hits'; it has no meters"],
    ),
    (
        "completions",
        COMPLETIONS + "TP-1/monthly,2026-11-24,Dana,,,5\nTP-1/monthly,2026-10-24,Dana,,,7\n",
        [
            f"2: TP-1 hits would run backwards, from 7 (line 3) to 5; {NOT_MARKED} "
            "if a new one was fitted"
        ],
    ),
    (
        "tool-counts",
        COUNTS + "RD-11,2026-11-24,5,Dana,\nRD-10,2026-11-24,,Dana,\nRD-10,2026-11-24,5,Dana,tin\n",
        [
            "2: no tool 'RD-11'; see 'pmtrack tooling' for the tools of the shop",
            "3: hits is empty; fill it in",
            "4: no material 'tin'; the shop file has mild, stainless",
        ],
    ),
    (
        "tool-events",
        EVENTS + "RD-10,2026-11-24,sharpen,Dana,,,,\nRD-10,2026-11-23,fit,Dana,,,,\n",
        ["2: sharpen needs mm; fill it in", "3: fit needs station; fill it in"],
    ),
    (
        "tool-events",
        EVENTS
        + "RD-10,2026-11-24,takeout,Dana,0.2,,,\nRD-10,2026-11-23,sharpen,Dana,1,burr,TP-1,\n",
        [
            "2: mm does not go with takeout; leave its cell empty",
            "3: machine does not go with sharpen; leave its cell empty",
        ],
    ),
    (
        "tool-events",
        EVENTS + "RD-10,2026-11-24,fit,Dana,,,TP-9,12\n",
        ["2: no machine 'TP-9'; the shop has TP-1, PB-1, FE-1"],
    ),
    (  # 3.0 mm are grindable; 2.9 are gone by line 3
        "tool-events",
        EVENTS + "RD-10,2026-11-24,sharpen,Dana,0.2,planned,,\n"
        "RD-10,2026-11-23,sharpen,Dana,2.9,planned,,\n",
        [
            "2: RD-10 has 0.1 mm left to grind, not 0.2; "
            "correct mm, or record 'replace RD-10' if it is a new one"
        ],
    ),
    (
        "tool-events",
        EVENTS + "RD-10,2026-11-24,fit,Dana,,,,12\nSQ-5,2026-11-24,fit,Dana,,,TP-1,12\n"
        "SQ-5,2026-11-23,takeout,Dana,,,,\n",
        [
            "3: station 12 of TP-1 holds RD-10; take it out first: takeout RD-10",
            "4: SQ-5 is not fitted in any station, so it cannot be taken out; fit it first",
        ],
    ),
]


@pytest.mark.parametrize(("kind", "file", "faults"), HEADERS + LAYOUT + CELLS + ROWS)
def test_every_fault_is_named_with_its_line_and_the_mend(
    desk: Any, kind: str, file: str | bytes, faults: list[str]
) -> None:
    assert desk.faults(kind, file) == [f"f.csv:{fault}" for fault in faults]


def test_faults_of_all_sorts_are_told_at_once_in_the_order_of_the_lines(desk: Any) -> None:
    file = SHIFTS + (
        "TP-1,day,2026-11-24,Dana,60000\n"
        "TP-1,day,2026-11-23,Dana\n"
        "TP-2,day,2026-11-20,Dana,5\n"
        "TP-1,day,2026-11-19,Dana,5\n"
        "TP-1,day,2026-11-19,Dana,5.0\n"
        "TP-1,day,yesterday,Dana,5\n"
    )
    lines = [int(fault.split(":")[1]) for fault in desk.faults("shifts", file)]
    assert lines == [2, 3, 4, 6, 7]


def test_a_dial_below_a_stored_one_names_the_entry(desk: Any) -> None:
    desk.take("dials", DIALS + "TP-1,2026-11-20,Dana,,,1000,\n")
    assert desk.faults(
        "dials", DIALS + "TP-1,2026-11-23,Dana,,,900,\nTP-1,2026-11-19,Lee,,,1001,\n"
    ) == [
        "f.csv:2: TP-1 hits would run backwards, from 1,000 (entry 1) to 900; correct it, "
        "or cross out entry 1 if that is wrong, or say yes under wrapped if the counter started "
        "over, yes under exchanged if a new one was fitted",
        "f.csv:3: TP-1 hits would run backwards, from 1,001 to 1,000 (entry 1); correct it, "
        "or cross out entry 1 if that is wrong",
    ]


def test_an_unknown_kind_of_file_is_refused_as_unreadable(desk: Any) -> None:
    with pytest.raises(UnreadableInput, match=r"^no kind 'shift' of file; write one of shifts, "):
        desk.take("shift", SHIFTS)


def test_a_one_off_job_is_done_once_in_a_file(desk: Any) -> None:
    with desk.recorder() as recorder:
        _, job = raise_job(recorder, NewJob("TP-1", "Replace the hose", Moment(date(2026, 11, 2))))
    rows = f"{job.name},2026-11-24,Dana,,,\n{job.name},2026-11-23,Dana,,,\n"
    assert desk.faults("completions", COMPLETIONS + rows) == [
        f"f.csv:2: {job.name} is done already, in line 3; delete one of them"
    ]
    assert desk.take("completions", COMPLETIONS + rows.splitlines()[0]) == 1
    assert desk.faults("completions", COMPLETIONS + rows.splitlines()[1]) == [
        f"f.csv:2: {job.name} is done already: entry 2, {job.name} done"
    ]
