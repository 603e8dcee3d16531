"""A row that is there already is refused, unless it is said to be meant."""

from typing import Any

import pytest

from pmtrack.actions.crossing_out import void
from pmtrack.rules.facts import Moment

HEADERS = {
    "shifts": "machine,shift,date,by,parts,scrap,program,material,confirmed,hits,hours\n",
    "dials": "machine,at,by,wrapped,exchanged,hits,hours\n",
    "stops": "machine,from,to,cause,planned,by\n",
    "completions": "task,at,by,minutes,note,hits\n",
    "tool-counts": "tool,at,hits,by,material\n",
    "tool-events": "tool,at,event,by,mm,why,machine,station\n",
}
SHIFT = "TP-1,day,2026-11-24,Dana,250,3,KIOSK-DOOR,mild,no,9000,7.5"
DIAL = "TP-1,2026-11-24T08:00,Dana,,,1000,20"
STOP = "TP-1,2026-11-24T10:00,2026-11-24T11:00,leak,no,Dana"
DONE = "TP-1/monthly,2026-11-24,Dana,90,all well,1000"
COUNT = "RD-10,2026-11-24,4000,Dana,mild"
FIT = "RD-10,2026-11-24,fit,Dana,,,TP-1,12"
EQUAL = [
    ("shifts", SHIFT, SHIFT),
    ("shifts", SHIFT, 'TP-1 ,day,2026-11-24,Dana,250.0,3,KIOSK-DOOR,mild,,"9,000",7.50'),
    ("shifts", "TP-1,day,2026-11-24,Dana,5,,,,,,", "TP-1,day,2026-11-24,Dana,5,,,,0,,"),
    ("dials", DIAL, "TP-1,2026-11-24T13:00:00Z,Dana,no,false,1000.0,20"),
    ("dials", "TP-1,2026-11-24,Dana,yes,,7,", "TP-1,2026-11-24,Dana,1,0,7,"),
    ("stops", STOP, "TP-1,2026-11-24 10:00,2026-11-24T16:00Z,leak,,Dana"),
    ("stops", "TP-1,2026-11-24T10:00,,leak,no,Dana", "TP-1,2026-11-24T10:00, ,leak,no,Dana"),
    ("completions", DONE, "TP-1/monthly,2026-11-24,Dana,90,another note,1000"),
    ("completions", "TP-1/monthly,2026-11-24,Dana,,,", "TP-1/monthly,2026-11-24,Dana,,x,"),
    ("tool-counts", COUNT, 'RD-10,2026-11-24,"4,000",Dana,mild'),
    ("tool-events", FIT, "RD-10,2026-11-24,fit,Dana,,,,12"),
    (
        "tool-events",
        "RD-10,2026-11-24,sharpen,Dana,0.2,burr,,",
        "RD-10,2026-11-24,sharpen,Dana,0.20,burr,,",
    ),
]
UNLIKE = [
    ("shifts", SHIFT, SHIFT.replace("Dana", "Lee")),
    ("shifts", SHIFT, SHIFT.replace("2026-11-24", "2026-11-23")),
    ("shifts", SHIFT, SHIFT.replace("day", "night")),
    ("shifts", SHIFT, SHIFT.replace(",250,", ",251,")),
    ("shifts", SHIFT, SHIFT.replace(",3,", ",,")),
    ("shifts", SHIFT, SHIFT.replace("KIOSK-DOOR", "")),
    ("shifts", SHIFT, SHIFT.replace("mild", "stainless")),
    ("shifts", SHIFT, SHIFT.replace(",no,", ",yes,")),
    ("shifts", SHIFT, SHIFT.replace("9000", "7")),
    ("shifts", SHIFT, SHIFT.replace(",7.5", ",")),
    ("shifts", "TP-1,day,2026-11-24,Dana,,,,,,7,", "TP-1,day,2026-11-24,Dana,,,,,,,7"),
    ("dials", DIAL, DIAL.replace("08:00", "09:00")),
    ("dials", DIAL, DIAL.replace(",1000,", ",,")),
    ("dials", DIAL, DIAL.replace("Dana,,,", "Dana,,yes,")),
    ("dials", "TP-1,2026-11-24,Dana,,,9999999,", "TP-1,2026-11-24,Dana,yes,,0,"),
    ("stops", STOP, STOP.replace("2026-11-24T11:00", "")),
    ("stops", STOP, STOP.replace("leak", "no power")),
    ("stops", STOP, STOP.replace(",no,", ",yes,")),
    ("completions", DONE, DONE.replace("90", "")),
    ("completions", DONE, DONE.replace("1000", "")),
    ("completions", "TP-1/monthly,2026-11-24,Dana,,,", "TP-1/monthly,2026-11-25,Dana,,,"),
    ("tool-counts", COUNT, COUNT.replace("mild", "")),
    ("tool-counts", COUNT, COUNT.replace("RD-10", "SQ-5")),
    ("tool-events", FIT, FIT.replace("RD-10", "SQ-5").replace("12", "13")),
]


@pytest.mark.parametrize(("kind", "row", "again"), EQUAL)
def test_a_row_equal_to_a_stored_one_is_refused(desk: Any, kind: str, row: str, again: str) -> None:
    desk.take(kind, HEADERS[kind] + row)
    assert desk.faults(kind, f"{HEADERS[kind]}\n{again}\n") == [
        "f.csv:3: in the store already, as entry 1; delete it, or add --again if it is meant"
    ]


@pytest.mark.parametrize(("kind", "row", "again"), EQUAL)
def test_a_row_equal_to_another_of_the_file_is_refused(
    desk: Any, kind: str, row: str, again: str
) -> None:
    assert desk.faults(kind, f"{HEADERS[kind]}{row}\n{again}\n") == [
        "f.csv:3: the same as line 2; delete one, or add --again if both are meant"
    ]


@pytest.mark.parametrize(("kind", "row", "other"), UNLIKE)
def test_rows_that_differ_in_a_column_are_both_taken(
    desk: Any, kind: str, row: str, other: str
) -> None:
    assert other != row
    assert desk.take(kind, HEADERS[kind] + row) == 1
    assert desk.take(kind, HEADERS[kind] + other) == 1


@pytest.mark.parametrize(
    ("kind", "row"),
    [
        ("shifts", SHIFT),
        ("dials", DIAL),
        ("stops", STOP),
        ("completions", DONE),
        ("tool-counts", COUNT),
    ],
)
def test_rows_are_taken_again_when_that_is_meant(desk: Any, kind: str, row: str) -> None:
    desk.take(kind, HEADERS[kind] + row)
    assert desk.take(kind, f"{HEADERS[kind]}{row}\n{row}\n", again=True) == 2
    assert desk.store.rows("SELECT count(*) FROM entry") == [(3,)]


@pytest.mark.parametrize(
    ("kind", "row"),
    [
        ("shifts", SHIFT),
        ("dials", DIAL),
        ("stops", STOP),
        ("completions", DONE),
        ("tool-counts", COUNT),
        ("tool-events", FIT),
    ],
)
def test_a_row_that_was_crossed_out_can_be_imported_anew(desk: Any, kind: str, row: str) -> None:
    desk.take(kind, HEADERS[kind] + row)
    with desk.recorder() as recorder:
        void(recorder, 1, "wrong file", Moment(desk.now.date(), desk.now))
    assert desk.take(kind, HEADERS[kind] + row) == 1


def test_columns_that_a_file_leaves_out_are_compared_as_empty(desk: Any) -> None:
    desk.take("shifts", HEADERS["shifts"] + "TP-1,day,2026-11-24,Dana,5,,,,,,\n")
    assert desk.faults("shifts", "by,machine,parts,date,shift\nDana,TP-1,5,2026-11-24,day\n") == [
        "f.csv:2: in the store already, as entry 1; delete it, or add --again if it is meant"
    ]


def test_a_file_taken_over_twice_names_every_row(desk: Any) -> None:
    rows = "".join(f"RD-10,2026-11-{day},5,Dana,\n" for day in range(10, 25))
    desk.take("tool-counts", HEADERS["tool-counts"] + rows)
    faults = desk.faults("tool-counts", HEADERS["tool-counts"] + rows)
    assert [fault.split(":")[1] for fault in faults] == [str(line) for line in range(2, 17)]
