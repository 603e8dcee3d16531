"""Wear of tools, worked by hand.

June 2026 begins on a Monday. RD-10 is sharpened every 60,000 wear hits, 0.2 of 3.0 mm each time.
"""

from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from math import ceil, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.dates import parse_moment
from pmtrack.rules.facts import ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.shop import Material, Program, Shop, Tool
from pmtrack.rules.shoptime import end_of_day
from pmtrack.rules.tool_events import fitted, is_scrapped, last_station
from pmtrack.rules.tool_life import window_start
from pmtrack.rules.wear import ToolWear, is_far_from_order, is_fresh, mm_left, tool_wear
from pmtrack.rules.wear_hits import Factors, ToolRecord, counted_between, wear_entries
from pmtrack.rules.workdays import Workdays
from tests.build import DAY, NIGHT, ONE_DAY, ZONE, at, calendars, day, shop, weekday_counts

RD_10 = Tool(
    code="RD-10",
    machine="TP-1",
    sharpen_every=Fraction(60000),
    grind=Fraction("0.2"),
    grindable=Fraction("3.0"),
    replace_notice=10,
    price=Fraction(85),
)
MATERIALS = {
    "mild": Material("mild"),
    "stainless": Material("stainless", wear=Fraction(2), thickness=Fraction("1.25")),  # 2.5
    "aluminum": Material("aluminum", wear=Fraction("0.6")),
}
PROGRAMS = {
    "DOOR": Program("DOOR", "stainless", {"RD-10": Fraction(14), "SQ-5": Fraction(4)}),
    "LID": Program("LID", None, {"RD-10": Fraction(5)}),
    "OTHER": Program("OTHER", None, {"SQ-5": Fraction(3)}),
}
FACTORS = Factors(PROGRAMS, MATERIALS)
PLAIN = calendars().machine


def counted(on: str, hits: int, material: str | None = None, clock: str = "12:00") -> ToolCount:
    """Hits of RD-10 since the row before."""
    return ToolCount(1, "RD-10", day(on), at(f"{on}T{clock}"), Fraction(hits), material)


def log(on: str, program: str, parts: int, scrap: int = 0, **more: str) -> ShiftLog:
    """A day shift's parts on TP-1, or another machine."""
    made = ShiftLog(2, "TP-1", "day", day(on), at(f"{on}T14:30"), Fraction(parts), Fraction(scrap))
    machine, material = more.get("machine", "TP-1"), more.get("material")
    return replace(made, program=program, machine=machine, material=material)


def event(when: str, kind: str, mm: str = "", machine: str = "", station: str = "") -> ToolEvent:
    """What was done to RD-10, on a date or at a shop time."""
    moment = parse_moment(f"2026-{when}", ZONE)
    instant: datetime = moment.at or end_of_day(moment.day, (DAY, NIGHT), ZONE)
    cut = Fraction(mm) if mm else None
    return ToolEvent(3, "RD-10", moment, instant, kind, cut, None, machine or None, station or None)


def record(*facts: ToolCount | ShiftLog | ToolEvent, tool: Tool = RD_10) -> ToolRecord:
    """A tool with all that was entered for it."""
    return ToolRecord(
        tool,
        tuple(fact for fact in facts if isinstance(fact, ToolCount)),
        tuple(fact for fact in facts if isinstance(fact, ShiftLog)),
        tuple(fact for fact in facts if isinstance(fact, ToolEvent)),
    )


def wear(kept: ToolRecord, on: str, where: Shop | None = None, out: bool = False) -> ToolWear:
    """How a tool stands on a day."""
    return tool_wear(kept, FACTORS, day(on), (Workdays.of(where or shop()), out))


# ---- wear hits


def test_a_log_without_parts_wears_nothing() -> None:
    nothing = ShiftLog(2, "TP-1", "day", day("06-01"), at("06-01T14:30"), program="LID")
    assert wear_entries(record(nothing), FACTORS) == []
    seven = replace(nothing, parts=Fraction(7))  # at 5 hits, and no scrap
    assert [entry.value for entry in wear_entries(record(seven), FACTORS)] == [35]


@pytest.mark.parametrize(
    ("facts", "hits"),
    [
        ([], 0),
        ([counted("06-01", 1000)], 1000),  # no material: 1
        ([counted("06-01", 1000, "mild")], 1000),
        ([counted("06-01", 1000, "stainless")], 2500),  # 2 x 1.25
        ([counted("06-01", 1000, "aluminum")], 600),
        ([counted("06-01", 1000, "gone from the file")], 1000),
        ([log("06-01", "LID", 100)], 500),  # 5 a part
        ([log("06-01", "LID", 100, scrap=7)], 535),  # good and scrap
        ([log("06-01", "LID", 100, material="stainless")], 1250),
        ([log("06-01", "DOOR", 100)], 3500),  # 14 x 100 in the program's stainless
        ([log("06-01", "DOOR", 100, material="aluminum")], 840),  # the log's goes before it
        ([log("06-01", "OTHER", 100)], 0),  # does not use the tool
        ([log("06-01", "LID", 0)], 0),
        # on a day with rows counted for the tool itself the program's hits are not added
        ([counted("06-01", 1000), log("06-01", "LID", 100)], 1000),
        ([counted("06-01", 1000), log("06-01", "LID", 100), log("06-02", "LID", 100)], 1500),
        ([counted("06-01", 0), log("06-01", "LID", 100)], 0),  # counted: none
        ([counted("06-01", 300), counted("06-01", 200, clock="13:00")], 500),
        # on a machine that never had the tool the program is not punched with it
        ([log("06-01", "LID", 100, machine="TP-2")], 0),
        ([log("06-01", "LID", 100, machine="TP-2"), event("06-03", "fit", machine="TP-2")], 500),
    ],
)
def test_wear_hits_are_hits_weighed_by_the_material(
    facts: list[ToolCount | ShiftLog | ToolEvent], hits: int
) -> None:
    kept = record(*facts)
    assert sum(entry.value for entry in wear_entries(kept, FACTORS)) == hits
    assert wear(kept, "06-05").wear_hits == hits


def test_wear_entries_are_in_time_order() -> None:
    kept = record(counted("06-02", 1), counted("06-01", 2), log("06-03", "LID", 1))
    assert [entry.value for entry in wear_entries(kept, FACTORS)] == [2, 1, 5]


@pytest.mark.parametrize(
    ("sharpened", "hits"),
    [
        ("06-02T12:00", 500),  # at the instant of a count: that count was before
        ("06-02T11:59", 900),
        ("06-02", 500),  # a date counts at its end
        ("06-01T12:00", 900),
        ("06-01", 900),
        ("05-31", 1000),
        ("06-03", 0),
    ],
)
def test_wear_runs_from_the_last_sharpening(sharpened: str, hits: int) -> None:
    """100 on Monday, 400 on Tuesday, 500 on Wednesday, each counted at noon."""
    counts = [counted("06-01", 100), counted("06-02", 400), counted("06-03", 500)]
    assert wear(record(*counts, event(sharpened, "sharpen", "0.2")), "06-05").wear_hits == hits


def test_a_sharpening_given_as_a_date_comes_after_its_night_shift() -> None:
    """A night shift of Tuesday ends on Wednesday at 06:00 and belongs to Tuesday."""
    night = ToolCount(1, "RD-10", day("06-02"), at("06-03T06:00"), Fraction(300))
    by_date = record(night, counted("06-03", 50), event("06-02", "sharpen", "0.2"))
    assert wear(by_date, "06-05").wear_hits == 50
    at_ten = record(night, counted("06-03", 50), event("06-02T22:00", "sharpen", "0.2"))
    assert wear(at_ten, "06-05").wear_hits == 350


def test_wear_starts_anew_at_a_replacement_and_at_nothing_else() -> None:
    counts = [counted("06-01", 100), counted("06-02", 400)]
    assert wear(record(*counts, event("06-01", "replace")), "06-05").wear_hits == 400
    for kind in ("fit", "takeout", "scrap"):
        assert wear(record(*counts, event("06-01", kind)), "06-05").wear_hits == 500


# ---- when it is to be sharpened

STEADY = [counted(str(e.day)[5:], 2000) for e in weekday_counts("05-04", *[2000] * 25)]
FRIDAY = "06-05"  # the day of the last of them


def test_the_day_to_sharpen_is_worked_as_that_of_a_usage_interval() -> None:
    """50,000 of 60,000 at 2000 a day: the 5th working day after Friday 5 June."""
    found = wear(record(*STEADY), FRIDAY)
    assert [found.wear_hits, found.per_day] == [50000, 2000]
    assert found.used == Fraction(5, 6)
    assert found.sharpen_on == day("06-12")
    assert found.sharpen_range == (day("06-12"), day("06-12"))  # no spread at all
    assert wear(record(*STEADY), FRIDAY, shop("06-08..06-10")).sharpen_on == day("06-17")


def test_the_range_of_that_day_is_that_of_a_first_passage() -> None:
    """1000 and 3000 in turn: r = 2000, s = 1000 x sqrt(20 / 19), 10,000 to go."""
    counts = [replace(c, hits=Fraction(1000 + n % 2 * 2000)) for n, c in enumerate(STEADY[1:])]
    counts.append(counted("05-04", 2000))
    found = wear(record(*counts), FRIDAY)
    assert [found.wear_hits, found.per_day] == [50000, 2000]
    half = 1.2816 * 1000 * sqrt(20 / 19) * sqrt(10000) / 2000**1.5
    first, last = (PLAIN.nth_after(day(FRIDAY), ceil(5 + sign * half)) for sign in (-1, 1))
    assert found.sharpen_range == (first, last)
    assert (first, last) == (day("06-11"), day("06-16"))


def test_a_rate_comes_from_all_hits_whichever_side_of_a_sharpening() -> None:
    kept = record(*STEADY, event(FRIDAY, "sharpen", "0.2"))
    found = wear(kept, FRIDAY)
    assert [found.wear_hits, found.per_day] == [0, 2000]
    assert found.sharpen_on == PLAIN.nth_after(day(FRIDAY), 30)


@pytest.mark.parametrize(
    ("hits", "state", "reached"),
    [
        (29000, "ok", False),
        (30000, "ok", False),  # half is gone, but no day is near
        (54000, "soon", False),
        (59999, "soon", False),
        (60000, "due", True),
        (66000, "due", True),
        (66001, "overdue", True),
    ],
)
def test_a_tool_stands_by_its_hits(hits: int, state: str, reached: bool) -> None:
    """All in one count before the span of the rate, so that no rate brings the day near."""
    quiet = [counted(str(e.day)[5:], 0) for e in weekday_counts("05-05", *[0] * 24)]
    found = wear(record(counted("05-04", hits), *quiet), FRIDAY)
    assert found.per_day == 0  # nothing was gained in the last 20 working days
    assert found.state == state
    assert found.sharpen_on == (day("05-04") if reached else None)
    assert is_fresh(RD_10, found.wear_hits) is (hits < 30000)
    assert found.sharpen_range is None


@pytest.mark.parametrize(
    ("every", "state", "why"),
    [
        (60000, "soon", "half is gone and the day is in 7 days"),
        (60001, "ok", "the 6th working day is in 10"),
        (100001, "ok", "less than half is gone"),
    ],
)
def test_a_tool_is_announced_when_its_day_is_near(every: int, state: str, why: str) -> None:
    tool = replace(RD_10, sharpen_every=Fraction(every))
    assert wear(record(*STEADY, tool=tool), FRIDAY).state == state, why


def test_a_date_that_came_and_went_has_no_range() -> None:
    """Expected on Friday 12 June; nobody has counted since the 5th."""
    for on, known in (("06-12", True), ("06-15", False)):
        found = wear(record(*STEADY), on)
        assert found.sharpen_on == day("06-12")
        assert (found.sharpen_range is not None) is known


def test_the_day_on_which_it_was_worn_is_the_crossing_since_the_sharpening() -> None:
    counts = [counted("06-01", 70000), counted("06-02", 40000), counted("06-03", 30000)]
    assert wear(record(*counts), FRIDAY).sharpen_on == day("06-01")
    kept = record(*counts, event("06-01", "sharpen", "0.2"))
    found = wear(kept, FRIDAY)
    assert (found.sharpen_on, found.state) == (day("06-03"), "overdue")
    assert found.wear_hits == 70000


def test_a_tool_without_hits_has_no_dates() -> None:
    found = wear(record(), FRIDAY)
    assert [found.state, found.wear_hits, found.used] == ["ok", 0, 0]
    dates = (found.per_day, found.sharpen_on, found.sharpen_range, found.end_of_life)
    assert dates == (None, None, None, None)
    assert found.order_by is None


def test_while_its_machine_is_out_of_service_a_tool_has_no_dates() -> None:
    found = wear(record(*STEADY), FRIDAY, out=True)
    dates = (found.sharpen_on, found.sharpen_range, found.end_of_life, found.order_by)
    assert dates == (None, None, None, None)
    assert found.wear_hits == 50000


# ---- what is left of it


@pytest.mark.parametrize(
    ("grindable", "grind", "events", "left", "sharpenings"),
    [
        ("3.0", "0.2", [], "3.0", 15),  # in binary fractions 3.0 // 0.2 is 14
        ("0.3", "0.1", [], "0.3", 3),  # and 0.3 // 0.1 is 2
        ("4.0", "0.25", [], "4.0", 16),  # common practice, no source: 4.0 mm at 0.25 mm
        ("3.0", "0.2", ["0.2"], "2.8", 14),
        ("3.0", "0.2", ["0.3", "0.1", "0.2"], "2.4", 12),
        ("3.0", "0.2", ["0.3"], "2.7", 13),  # 13.5, rounded down
        ("0.5", "0.2", ["0.5"], "0", 0),
        ("0.5", "0.2", ["0.7"], "0", 0),  # never below 0
    ],
)
def test_sharpenings_left_are_counted_in_exact_decimals(
    grindable: str, grind: str, events: list[str], left: str, sharpenings: int
) -> None:
    tool = replace(RD_10, grindable=Fraction(grindable), grind=Fraction(grind))
    kept = record(*(event("06-01", "sharpen", mm) for mm in events), tool=tool)
    assert mm_left(kept) == Fraction(left)
    assert wear(kept, FRIDAY).sharpenings_left == sharpenings


def test_a_replacement_is_a_new_tool() -> None:
    kept = record(event("06-01", "sharpen", "0.8"), event("06-02", "replace"))
    assert mm_left(kept) == 3
    assert mm_left(record(*kept.events, event("06-03", "sharpen", "0.3"))) == Fraction("2.7")


def test_end_of_life_order_day_and_cost() -> None:
    """0.5 mm left is 2 sharpenings: 3 x 60,000 less the 50,000 made, at 2000 a day: 65 days."""
    tool = replace(RD_10, grindable=Fraction("0.5"))
    found = wear(record(*STEADY, tool=tool), FRIDAY)
    assert found.sharpenings_left == 2
    assert found.end_of_life == PLAIN.nth_after(day(FRIDAY), 65) == day("09-04")
    assert found.order_by == day("08-25")  # ten days before
    # 85 over 3 runs of 60,000 wear hits, for 1,000 of them
    assert found.cost_per_1000 == Fraction(85, 180)


def test_over_a_whole_life_the_first_run_needs_no_sharpening() -> None:
    """4.0 mm at 0.25 mm, 80,000 hits a run: 17 x 80,000 = 1,360,000 hits (arithmetic)."""
    tool = replace(
        RD_10,
        sharpen_every=Fraction(80000),
        grindable=Fraction(4),
        grind=Fraction("0.25"),
        price=Fraction(1360),
    )
    assert wear(record(*STEADY, tool=tool), FRIDAY).cost_per_1000 == 1


def test_a_tool_ground_away_ends_with_its_last_run() -> None:
    """Nothing left to grind: 60,000 less 50,000 at 2000 a day, as its sharpening day."""
    tool = replace(RD_10, grindable=Fraction("0.1"))
    found = wear(record(*STEADY, tool=tool), FRIDAY)
    assert (found.sharpenings_left, found.end_of_life) == (0, day("06-12"))
    # and once the run is made, on the day it was
    over = record(counted("06-01", 59000), counted("06-02", 1000), tool=tool)
    assert wear(over, FRIDAY).end_of_life == day("06-02")


@pytest.mark.parametrize(
    ("lacks", "left", "known_end", "order", "cost"),
    [
        ("grindable", None, False, False, False),
        ("grind", None, False, False, False),
        ("replace_notice", 15, True, False, True),
        ("price", 15, True, True, False),
    ],
)
def test_what_the_shop_file_does_not_say_is_not_known(
    lacks: str, left: int | None, known_end: bool, order: bool, cost: bool
) -> None:
    tool = replace(RD_10, **{lacks: None})  # type: ignore[arg-type]
    found = wear(record(*STEADY, tool=tool), FRIDAY)
    assert found.sharpenings_left == left
    told = (found.end_of_life, found.order_by, found.cost_per_1000)
    assert [value is not None for value in told] == [known_end, order, cost]
    assert (found.mm_left is None) == (lacks == "grindable")


def test_a_notice_longer_than_the_calendar_is_ordered_on_its_first_day() -> None:
    tool = replace(RD_10, replace_notice=10**6)
    found = wear(record(*STEADY, tool=tool), FRIDAY)
    assert found.order_by == day("0001-01-01")


# ---- where it is


@pytest.mark.parametrize(
    ("kinds", "place", "scrapped"),
    [
        ([], None, False),
        (["fit 12"], ("TP-1", "12"), False),
        (["fit 12", "takeout"], None, False),
        (["fit 12", "sharpen", "fit 7"], ("TP-1", "7"), False),
        (["fit 12", "sharpen"], ("TP-1", "12"), False),
        (["fit 12", "scrap"], None, True),
        (["scrap", "replace"], None, False),
        (["scrap", "replace", "fit 3"], ("TP-1", "3"), False),
        (["replace", "scrap"], None, True),
    ],
)
def test_a_tool_is_where_it_was_fitted_last(
    kinds: list[str], place: tuple[str, str] | None, scrapped: bool
) -> None:
    events = []
    for number, text in enumerate(kinds, start=1):
        kind, _, station = text.partition(" ")
        machine = "TP-1" if station else ""
        events.append(event(f"06-0{number}", kind, machine=machine, station=station))
    assert fitted(events) == place
    assert is_scrapped(events) is scrapped
    found = wear(record(counted("05-29", 70000), *events), FRIDAY)
    assert found.fitted == place
    assert (found.state == "scrapped") is scrapped


def test_a_tool_fitted_without_a_place_has_an_empty_one() -> None:
    assert fitted([event("06-01", "fit")]) == ("", "")


# ---- the latest entries alone, with what went before them added up


def test_the_window_starts_on_the_last_day_before_the_span_of_the_rate() -> None:
    """The last 20 working days up to Friday 5 June begin on Monday 11 May."""
    days = [count.day for count in STEADY]
    assert window_start(days, day(FRIDAY), PLAIN) == day("05-08")
    assert window_start(days[5:], day(FRIDAY), PLAIN) == day("05-11")  # none before: the first
    # with no entry in the span, that of the last entry
    assert window_start(days, day("12-01"), PLAIN) == day("05-08")


@given(
    st.lists(st.integers(0, 9000), min_size=22, max_size=40),
    st.none() | st.integers(0, 39),
    st.integers(0, 30),
)
def test_a_record_cut_to_its_window_tells_the_same(
    hits: list[int], sharpened: int | None, later: int
) -> None:
    counts = [
        replace(counted(str(e.day)[5:], int(e.value)), entry=e.entry)
        for e in weekday_counts("04-01", *hits)
    ]
    events = []
    if sharpened is not None and sharpened < len(counts):
        events.append(event(str(counts[sharpened].day)[5:], "sharpen", "0.2"))
    on = counts[-1].day + later * ONE_DAY
    whole = record(*counts, *events)
    first = window_start([count.day for count in counts], on, PLAIN)
    cut = replace(
        record(*(count for count in counts if count.day >= first), *events),
        before=counted_between(whole, whole.base, first - ONE_DAY, FACTORS),
    )
    found, full = wear(cut, str(on)), wear(whole, str(on))
    assert found.wear_hits == full.wear_hits
    assert (found.per_day, found.state) == (full.per_day, full.state)
    if full.wear_hits < RD_10.sharpen_every:  # the day of a crossing may lie before the window
        assert found == full


@given(st.lists(st.integers(0, 20000), min_size=1, max_size=15), st.integers(0, 14), st.data())
def test_more_hits_never_bring_the_sharpening_later(
    hits: list[int], place: int, data: st.DataObject
) -> None:
    where, more = place % len(hits), data.draw(st.integers(1, 20000))
    days = [str(e.day)[5:] for e in weekday_counts("06-01", *hits)]
    fewer = record(*(counted(on, n) for on, n in zip(days, hits, strict=True)))
    hits[where] += more
    many = record(*(counted(on, n) for on, n in zip(days, hits, strict=True)))
    later, sooner = wear(fewer, days[-1]).sharpen_on, wear(many, days[-1]).sharpen_on
    assert later is None or (sooner is not None and sooner <= later)


def test_as_much_scrap_as_good_parts_is_punched_all_the_same() -> None:
    entries = wear_entries(record(log("06-01", "LID", 7, scrap=7)), FACTORS)
    assert [entry.value for entry in entries] == [70]  # 14 parts x 5


def test_a_tool_just_half_gone_and_near_its_day_is_told_soon() -> None:
    # 30,000 of 60,000 on Monday 1 June: at that rate the rest is gone the next working day
    assert wear(record(counted("06-01", 30_000)), "06-01").state == "soon"
    assert wear(record(counted("06-01", 29_999)), "06-01").state == "ok"


@pytest.mark.parametrize(("machine", "station"), [("TP-1", "T7"), ("TP-2", "T1"), ("TP-3", None)])
def test_the_station_that_a_tool_was_in_last(machine: str, station: str | None) -> None:
    events = [
        event("06-01", "fit", machine="TP-1", station="T12"),
        event("06-02", "takeout"),
        event("06-03", "fit", machine="TP-1", station="T7"),
        event("06-04", "takeout"),
        event("06-05", "fit", machine="TP-2", station="T1"),
    ]
    assert last_station(events, machine) == station


# ---- when to order


@pytest.mark.parametrize(
    ("left", "notice", "far"),
    [  # half an interval is half a week at an interval a week: 3.5 days
        (0, 10, False),
        (0, 4, False),
        (0, 3, True),
        (1, 10, True),  # a week and a half: 10.5 days
        (1, 11, False),
        (2, 17, True),
        (2, 18, False),
        (0, None, True),
        (None, 10, True),
    ],
)
def test_a_fresh_tool_is_far_from_order_while_enough_is_left(
    left: int | None, notice: int | None, far: bool
) -> None:
    assert is_far_from_order(replace(RD_10, replace_notice=notice), left) == far


@pytest.mark.parametrize(
    ("made", "to_order"),
    [(29999, False), (30000, True)],
)
def test_a_rate_of_a_day_does_not_order_a_fresh_tool(made: int, to_order: bool) -> None:
    """Half an interval in a day: 16 intervals are over in 45 days, the notice is 60.

    So many sharpenings last 108 days at an interval a week.
    """
    tool = replace(RD_10, replace_notice=60)
    told = wear(record(counted("06-01", made), tool=tool), "06-01")
    assert told.order_by is not None
    assert told.order_by < day("06-01")
    assert told.to_order == to_order


@pytest.mark.parametrize(("notice", "to_order"), [(7, False), (8, True), (9, True)])
def test_the_last_day_to_order_has_come(notice: int, to_order: bool) -> None:
    """6,000 on Monday the 1st and as much left on each working day: 54,000 end on Friday the 12th.

    7 days before it are the 5th, 8 days the 4th.
    """
    ground = event("05-29", "sharpen", "3.0")
    tool = replace(RD_10, replace_notice=notice)
    told = wear(record(ground, counted("06-01", 6000), tool=tool), "06-04")
    assert told.end_of_life == day("06-12")
    assert told.to_order == to_order
    assert not wear(
        record(ground, counted("06-01", 6000), tool=replace(tool, replace_notice=None)), "06-30"
    ).to_order


def test_a_scrapped_tool_has_no_day_to_come() -> None:
    made, scrap = counted("06-01", 6000), event("06-02T06:00", "scrap")
    told = wear(record(made, scrap), "06-03")
    assert (told.state, told.wear_hits, told.to_order) == ("scrapped", Fraction(6000), False)
    days = (told.sharpen_on, told.sharpen_range, told.end_of_life, told.order_by)
    assert days == (None, None, None, None)
    anew = wear(
        record(made, scrap, event("06-03T06:00", "replace"), counted("06-04", 6000)), "06-04"
    )
    assert anew.sharpen_on is not None
    assert anew.end_of_life is not None
