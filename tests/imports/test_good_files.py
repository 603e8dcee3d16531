"""A file stores what the single commands store, fact for fact."""

from datetime import UTC, date, datetime
from fractions import Fraction as F
from typing import Any

import pytest

from pmtrack.actions import operator, technician, tool_room
from pmtrack.actions.recorder import Dial, NewShift
from pmtrack.actions.tool_room import ToolDeed
from pmtrack.rules.facts import Moment


def at(day: int, hour: int = 0, minute: int = 0) -> Moment:
    """A time of November 2026 in the shop, which is 5 hours behind UTC."""
    return Moment(date(2026, 11, day), datetime(2026, 11, day, hour + 5, minute, tzinfo=UTC))


def test_shifts(desk: Any, other_desk: Any) -> None:
    taken = desk.take(
        "shifts",
        "hits,by,date,shift,machine,parts,scrap,program,material,confirmed,bends,hours\n"
        '"41,200",Dana,2026-11-23,day,TP-1,250,3,KIOSK-DOOR,stainless,,,7.5\n'
        "60000,Lee,2026-11-23,night,TP-1,,,,,Yes,,\n"
        ",Dana,2026-11-24,day,PB-1,0,,,,0,1800,\n",
    )
    logs = [
        NewShift(
            machine="TP-1",
            shift="day",
            day=date(2026, 11, 23),
            counts={"hits": F(41200), "hours": F(15, 2)},
            parts=F(250),
            scrap=F(3),
            program="KIOSK-DOOR",
            material="stainless",
        ),
        NewShift("TP-1", "night", date(2026, 11, 23), {"hits": F(60000)}, confirmed=True),
        NewShift("PB-1", "day", date(2026, 11, 24), {"bends": F(1800)}, parts=F(0)),
    ]
    for by, log in zip(("Dana", "Lee", "Dana"), logs, strict=True):
        with other_desk.recorder(by) as recorder:
            operator.log_shift(recorder, log)
    assert taken == 3
    assert desk.dump() == other_desk.dump()


def test_dials_of_a_new_counter_and_of_one_that_started_over(desk: Any, other_desk: Any) -> None:
    taken = desk.take(
        "dials",
        "machine,at,by,exchanged,wrapped,hours,hits\n"
        'TP-1,2026-11-22T08:00,Dana,,,100,"9,999,000"\n'
        "TP-1,2026-11-23,Dana,false,TRUE,,500\n"  # a date is the end of that day
        "TP-1,2026-11-24T13:00Z,Lee,1,no,0,0\n",  # 08:00 in the shop
    )
    told = [
        ("Dana", at(22, 8), {"hours": Dial(F(100)), "hits": Dial(F(9_999_000))}),
        ("Dana", Moment(date(2026, 11, 23)), {"hits": Dial(F(500), wrapped=True)}),
        ("Lee", at(24, 8), {name: Dial(F(0), exchanged=True) for name in ("hours", "hits")}),
    ]
    for by, moment, readings in told:
        with other_desk.recorder(by) as recorder:
            recorder.dials("TP-1", readings, moment)
            recorder.finish()
    assert taken == 3
    assert desk.dump() == other_desk.dump()


def test_stops_one_of_which_is_still_running(desk: Any, other_desk: Any) -> None:
    taken = desk.take(
        "stops",
        "machine,from,to,cause,planned,by\n"
        "TP-1,2026-11-23T10:00,2026-11-23T11:30, hydraulic  leak ,yes,Dana\n"
        "PB-1,2026-11-24 09:15,,no power,,Lee\n",
    )
    stops = [
        operator.NewStop("TP-1", "hydraulic leak", at(23, 10), at(23, 11, 30), planned=True),
        operator.NewStop("PB-1", "no power", at(24, 9, 15)),
    ]
    for by, stop in zip(("Dana", "Lee"), stops, strict=True):
        with other_desk.recorder(by) as recorder:
            operator.stop(recorder, stop)
    assert taken == 2
    assert desk.dump() == other_desk.dump()


def test_completions_one_with_a_note_of_two_lines(desk: Any, other_desk: Any) -> None:
    taken = desk.take(
        "completions",
        "task,at,by,minutes,note,hits\r\n"
        'TP-1/monthly,2026-11-20,Dana,95,"Seal weeps,\nsee ""hose""",1000\r\n'
        "PB-1/yearly,2026-11-24T08:00,Lee,,,\r\n",
    )
    done = [
        technician.NewCompletion(
            task="TP-1/monthly",
            moment=Moment(date(2026, 11, 20)),
            minutes=95,
            dials={"hits": Dial(F(1000))},
            note='Seal weeps,\nsee "hose"',
        ),
        technician.NewCompletion("PB-1/yearly", at(24, 8)),
    ]
    for by, completion in zip(("Dana", "Lee"), done, strict=True):
        with other_desk.recorder(by) as recorder:
            technician.complete(recorder, completion)
            recorder.finish()
    assert taken == 2
    assert desk.dump() == other_desk.dump()


def test_tool_counts(desk: Any, other_desk: Any) -> None:
    taken = desk.take(
        "tool-counts",
        "tool,at,hits,by,material\nRD-10,2026-11-23,4000,Dana,stainless\nSQ-5,2026-11-24,12.5,Lee,\n",
    )
    counts = [
        ("Dana", "RD-10", Moment(date(2026, 11, 23)), (F(4000), "stainless")),
        ("Lee", "SQ-5", Moment(date(2026, 11, 24)), (F(25, 2), None)),
    ]
    for by, tool, moment, counted in counts:
        with other_desk.recorder(by) as recorder:
            tool_room.record_count(recorder, tool, moment, counted)
    assert taken == 2
    assert desk.dump() == other_desk.dump()


def test_tool_events_are_judged_in_the_order_of_time(desk: Any, other_desk: Any) -> None:
    taken = desk.take(
        "tool-events",
        "tool,at,event,by,mm,why,machine,station\n"
        "RD-10,2026-11-24T10:00,replace,Dana,,,,\n"
        "RD-10,2026-11-23T10:00,scrap,Dana,,,,\n"
        "RD-10,2026-11-20,takeout,Dana,,,,\n"  # of one moment: as they stand in the file
        "RD-10,2026-11-20,sharpen,Dana,0.2,burr,,\n"
        "RD-10,2026-11-20,fit,Dana,,,PB-1,3\n"
        "RD-10,2026-11-19,fit,Dana,,,,12\n",  # in the tool's own machine
    )
    deeds = [
        (Moment(date(2026, 11, 19)), ToolDeed("fit", station="12")),
        (Moment(date(2026, 11, 20)), ToolDeed("takeout")),
        (Moment(date(2026, 11, 20)), ToolDeed("sharpen", mm=F(1, 5), why="burr")),
        (Moment(date(2026, 11, 20)), ToolDeed("fit", machine="PB-1", station="3")),
        (at(23, 10), ToolDeed("scrap")),
        (at(24, 10), ToolDeed("replace")),
    ]
    for moment, deed in deeds:
        with other_desk.recorder() as recorder:
            event = tool_room.new_event(recorder, "RD-10", deed, moment)
            tool_room.record_event(recorder, event)
    assert taken == 6
    assert desk.dump() == other_desk.dump()


@pytest.mark.parametrize(
    "file", ["machine,shift,date,by", "machine,shift,date,by,hits\r\n\r\n,,,,"]
)
def test_a_header_without_rows_is_no_fault(desk: Any, file: str) -> None:
    before = desk.dump()
    assert desk.take("shifts", file) == 0
    assert desk.dump() == before


@pytest.mark.parametrize(
    "file",
    [
        b"\xef\xbb\xbfmachine,shift,date,by,hits\r\nTP-1,day,2026-11-24,Dana,5\r\n",
        b"machine,shift,date,by,hits\rTP-1,day,2026-11-24,Dana,5\r",
        b"machine,shift,date,by,hits\nTP-1,day,2026-11-24,Dana,5",
        b'\n "machine" ,shift'.replace(b'" ,', b'",') + b",date,by,hits\n\n"
        b' TP-1 , day,2026-11-24,"Dana", "5"\n,,,,\n',
    ],
    ids=["byte order mark and CRLF", "CR", "no last line end", "blanks and blank rows"],
)
def test_a_file_is_the_same_by_whatever_program_it_was_written(
    desk: Any, other_desk: Any, file: bytes
) -> None:
    other_desk.take("shifts", "machine,shift,date,by,hits\nTP-1,day,2026-11-24,Dana,5\n")
    assert desk.take("shifts", file) == 1
    assert desk.dump() == other_desk.dump()


def test_a_file_written_to_the_disk_is_read_back_as_bytes(
    desk: Any, other_desk: Any, tmp_path: Any
) -> None:
    path = tmp_path / "stops.csv"
    text = "machine,from,to,cause,planned,by\nTP-1,2026-11-24T10:00,,Öl läuft aus,no,Jürgen\n"
    path.write_bytes(text.encode("utf-8-sig"))
    assert desk.take("stops", path.read_bytes()) == 1
    assert desk.store.rows("SELECT cause, entry.by FROM stop JOIN entry ON entry.id = entry") == [
        ("Öl läuft aus", "Jürgen")
    ]


def test_a_formula_is_text(desk: Any) -> None:
    file = 'task,at,by,note\nTP-1/monthly,2026-11-24,Dana,"=HYPERLINK(""x"",""y"")"\n'
    desk.take("completions", file)
    assert desk.store.rows("SELECT note FROM entry") == [('=HYPERLINK("x","y")',)]


def test_who_is_named_for_the_file_stands_for_rows_that_do_not_say_who(desk: Any) -> None:
    desk.take("tool-counts", "tool,at,hits\nRD-10,2026-11-23,5\n", by="Dana")
    desk.take(
        "tool-counts", "tool,at,hits,by\nRD-10,2026-11-24,5,\nSQ-5,2026-11-24,5,Lee\n", by="Kim"
    )
    assert desk.store.rows("SELECT entry.by FROM entry ORDER BY id") == [
        ("Dana",),
        ("Kim",),
        ("Lee",),
    ]


def test_rows_done_are_told_every_thousand_rows_and_at_the_end(desk: Any) -> None:
    times = (f"2026-11-{1 + n // 1440:02}T{n // 60 % 24:02}:{n % 60:02}" for n in range(2500))
    rows = "".join(f"RD-10,{time},5,Dana\n" for time in times)
    told: list[tuple[int, int]] = []
    taken = desk.take(
        "tool-counts",
        "tool,at,hits,by\n" + rows,
        progress=lambda done, total: told.append((done, total)),
    )
    assert taken == 2500
    assert told == [(0, 2500), (1000, 2500), (2000, 2500), (2500, 2500)]


def test_a_shift_is_confirmed_wherever_it_stands_in_the_file(desk: Any) -> None:
    """30,000 can be, 60,000 in all cannot but for the row that is confirmed."""
    header, plain = "machine,shift,date,by,hits,confirmed\n", "TP-1,day,2026-11-24,Dana,30000,\n"
    confirmed = "TP-1,day,2026-11-24,Lee,30000,yes\n"
    assert desk.take("shifts", header + confirmed + plain) == 2
    other_day = "2026-11-23"
    file = (header + plain + confirmed).replace("2026-11-24", other_day)
    assert desk.take("shifts", file) == 2
