"""Wear parts that count a meter of their machine, worked by hand. June 2026 begins on a Monday."""

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import MeterEntry, ToolCount, ToolEvent
from pmtrack.rules.metered import Fitting, fittings, gains
from pmtrack.rules.plausible import most_in
from pmtrack.rules.shop import PerTime, Program, Tool
from pmtrack.rules.usage import Tally
from pmtrack.rules.wear import ToolWear, runs_in_life, tool_wear
from pmtrack.rules.wear_hits import Factors, ToolRecord, wear_entries
from pmtrack.rules.workdays import Workdays
from tests.build import at, count, day, dial, shop, weekday_counts
from tests.rules.test_wear import FACTORS, event, log

NOZZLE = Tool(
    code="NZ-1", machine="LC-1", sharpen_every=Fraction(80), grindable=Fraction(0),
    replace_notice=7, price=Fraction(26), counts="beam_hours",
)  # fmt: skip
FIT = event("06-01T05:00", "fit", machine="LC-1", station="head")
OUT = event("06-03T05:00", "takeout")
BACK = event("06-04T05:00", "fit", machine="LC-1", station="head")


def part(
    entries: list[MeterEntry], *events: ToolEvent, counts: tuple[ToolCount, ...] = ()
) -> ToolRecord:
    """A part with what its meter gained while it was in."""
    spans = fittings(events)
    kept = [e for e in gains(Tally(), entries, None) if any(span.holds(e) for span in spans)]
    return ToolRecord(NOZZLE, counts, (), events, gains=tuple(kept))


def wear(record: ToolRecord, on: str = "06-05") -> ToolWear:
    """How it stands on a day."""
    return tool_wear(record, FACTORS, day(on), (Workdays.of(shop()), False))


WEEK = weekday_counts("06-01", 8, 7, 6, 5, 4)  # Monday to Friday, each shift ends at 14:30


@pytest.mark.parametrize(
    ("events", "hours"),
    [
        ((), 0),  # never fitted
        ((FIT,), 30),
        ((FIT, OUT), 15),  # Monday and Tuesday
        ((FIT, OUT, BACK), 24),  # without Wednesday
        # what was entered for a shift belongs to the part that was in at its end
        ((event("06-01T14:30", "fit", machine="LC-1", station="head"),), 22),
        ((event("06-01T14:29", "fit", machine="LC-1", station="head"),), 30),
        ((FIT, event("06-02T14:30", "takeout")), 15),
        ((FIT, event("06-02T14:29", "takeout")), 8),
        ((event("06-01", "fit", machine="LC-1", station="head"),), 22),  # a date counts at its end
        ((FIT, event("06-03T20:00", "replace")), 9),  # the new one sits where the old one sat
        ((FIT, event("06-02T20:00", "scrap")), 15),
    ],
)
def test_a_part_wears_by_its_meter_while_it_is_fitted(
    events: tuple[ToolEvent, ...], hours: int
) -> None:
    assert wear(part(WEEK, *events)).wear_hits == hours


OUT_AGAIN = event("06-05T05:00", "takeout")


@pytest.mark.parametrize(
    ("events", "spans"),
    [
        ([], []),
        ([FIT], [(FIT, None)]),
        ([FIT, OUT, BACK, OUT_AGAIN], [(FIT, OUT), (BACK, OUT_AGAIN)]),
        ([FIT, BACK, OUT_AGAIN], [(FIT, BACK), (BACK, OUT_AGAIN)]),  # moved
        ([FIT, OUT, OUT_AGAIN, BACK], [(FIT, OUT), (BACK, None)]),
        ([OUT, BACK], [(BACK, None)]),
    ],
)
def test_a_part_is_fitted_from_one_event_to_the_next(
    events: list[ToolEvent], spans: list[tuple[ToolEvent, ToolEvent | None]]
) -> None:
    assert fittings(events) == [Fitting(start, end) for start, end in spans]


@pytest.mark.parametrize(
    ("span", "instant", "expected"),
    [
        (Fitting(FIT, OUT), "06-01T04:59", None),  # fitted at 05:00
        (Fitting(FIT, OUT), "06-01T05:00", None),
        (Fitting(FIT, OUT), "06-01T05:01", Fitting(FIT)),
        (Fitting(FIT, OUT), "06-03T04:59", Fitting(FIT)),  # taken out at 05:00
        (Fitting(FIT, OUT), "06-03T05:00", Fitting(FIT, OUT)),
        (Fitting(FIT), "06-03T05:00", Fitting(FIT)),
    ],
)
def test_what_was_known_of_a_fitting_at_an_instant(
    span: Fitting, instant: str, expected: Fitting | None
) -> None:
    assert span.until(at(instant)) == expected
    assert span.machine == "LC-1"


def test_rows_counted_for_the_part_replace_what_the_meter_gained_that_day() -> None:
    """20 by the card on Tuesday, whatever the material: 8 + 20 + 6 + 5 + 4, not 7 beside."""
    card = ToolCount(9, "NZ-1", day("06-02"), at("06-02T07:00"), Fraction(20), "stainless")
    assert wear(part(WEEK, FIT, counts=(card,))).wear_hits == 43


def test_a_dial_adds_what_it_finds_and_takes_back_what_was_counted_too_much() -> None:
    """100 read, 8 counted, 112 read: 4 unlogged. Then 5 counted, 114 read: 3 taken back."""
    entries = [
        dial("06-01T06:00", 100), count("06-01", 8), dial("06-02T06:00", 112),
        count("06-02", 5), dial("06-03T06:00", 114),
    ]  # fmt: skip
    assert [gain.value for gain in gains(Tally(), entries, None)] == [0, 8, 4, 5, -3]
    assert wear(part(entries, FIT)).wear_hits == 14


def test_a_counter_that_started_over_or_was_exchanged_wears_nobody() -> None:
    entries = [
        dial("06-01T06:00", 9990), dial("06-02T06:00", 10, "wrapped"),
        dial("06-03T06:00", 3, "exchanged"), dial("06-04T06:00", 9),
    ]  # fmt: skip
    found = gains(Tally(), entries, Fraction(10000))
    assert [gain.value for gain in found] == [0, 20, 0, 6]


def test_a_part_with_nothing_to_grind_is_replaced_at_its_interval() -> None:
    """24 of 80 after three days in four: 8, 7, 0 and 5 + 4 are 24 in 5 days, 4.8 a day."""
    found = wear(part(WEEK, FIT, OUT, BACK))
    assert [found.sharpenings_left, found.mm_left] == [0, 0]
    # 56 / 4.8 = 11.7: the 12th working day after Friday 5 June is Tuesday 23 June
    assert found.sharpen_on == found.end_of_life == day("06-23")
    assert found.order_by == day("06-16")
    assert found.cost_per_1000 == Fraction(26 * 1000, 80)


def test_the_day_it_was_worn_is_the_last_crossing() -> None:
    """85 on Tuesday, 79 by Wednesday's dial, 84 on Thursday."""
    entries = [
        dial("06-01T06:00", 0), count("06-01", 70), count("06-02", 15), dial("06-03T06:00", 79),
        count("06-04", 5),
    ]  # fmt: skip
    found = wear(part(entries, FIT))
    assert [found.wear_hits, found.state, found.sharpen_on] == [84, "due", day("06-04")]


def test_programs_do_not_wear_what_counts_a_meter() -> None:
    tool = replace(NOZZLE, code="RD-10", machine="TP-1")
    record = ToolRecord(tool, (), (log("06-01", "DOOR", 100),), (FIT,))
    assert [entry.value for entry in wear_entries(record, FACTORS)] == [0]


@given(
    st.lists(st.integers(0, 24), min_size=1, max_size=30),
    st.lists(st.integers(0, 29), max_size=6, unique=True),
)
def test_what_two_parts_by_turns_wear_is_all_that_the_meter_gained(
    hours: list[int], changes: list[int]
) -> None:
    """One goes out and the other in at the same instant: no hour twice, and none lost."""
    entries = weekday_counts("06-01", *hours)
    turns = sorted({entries[n].at for n in changes if n < len(entries)})
    one, other, inside = [FIT], list[ToolEvent](), True
    for instant in turns:
        deeds = ("takeout", "fit") if inside else ("fit", "takeout")
        for own, deed in zip((one, other), deeds, strict=True):
            told = replace(FIT if deed == "fit" else OUT, at=instant)
            if deed == "fit" or own:
                own.append(
                    replace(told, moment=replace(FIT.moment, day=instant.date(), at=instant))
                )
        inside = not inside
    total = sum(
        wear(part(entries, *events), str(entries[-1].day)).wear_hits for events in (one, other)
    )
    assert total == sum(hours)


# ---- a die and its punch


DIE = Tool(
    code="RD-10.die", machine="TP-1", sharpen_every=Fraction(150_000), grind=Fraction("0.2"),
    grindable=Fraction(2), die_of="RD-10",
)  # fmt: skip
PUNCH = Tool("RD-10", "TP-1", Fraction(60_000), grind=Fraction("0.2"), grindable=Fraction(3))


@given(
    st.lists(st.tuples(st.sampled_from(["DOOR", "LID"]), st.integers(0, 900)), max_size=20),
    st.none() | st.integers(0, 5000),
)
def test_a_die_gets_the_hits_of_its_punch(made: list[tuple[str, int]], counted: int | None) -> None:
    days = [str(entry.day)[5:] for entry in weekday_counts("06-01", *[1] * (len(made) or 1))]
    logs = tuple(log(on, *run) for on, run in zip(days, made, strict=False))
    rows: tuple[ToolCount, ...] = ()
    if counted is not None:
        rows = (ToolCount(1, "RD-10", day(days[0]), at(f"{days[0]}T12:00"), Fraction(counted)),)
    punch = ToolRecord(PUNCH, rows, logs)
    die = ToolRecord(DIE, rows, logs, moved=())
    assert wear_entries(die, FACTORS) == wear_entries(punch, FACTORS)


def test_a_die_is_ground_by_itself_and_goes_where_its_punch_goes() -> None:
    logs = (log("06-01", "LID", 1000), log("06-02", "LID", 400))  # 5 hits each
    fit = event("06-01T05:00", "fit", machine="TP-1", station="T12")
    own = event("06-01T20:00", "sharpen", "0.2")
    punch, die = (
        ToolRecord(PUNCH, (), logs, (fit,)),
        ToolRecord(DIE, (), logs, (own,), moved=(fit,)),
    )
    assert [wear(punch).wear_hits, wear(die).wear_hits] == [7000, 2000]
    assert wear(die).fitted == wear(punch).fitted == ("TP-1", "T12")
    assert [wear(die).mm_left, wear(punch).mm_left] == [Fraction("1.8"), 3]
    assert wear(replace(die, moved=(fit, event("06-03", "takeout")))).fitted is None


def test_sixty_hits_are_half_a_minute_at_120_a_minute() -> None:
    """60 hits in a 30 second job at 120 a minute (common practice, no source)."""
    assert most_in(PerTime(Fraction(120), "minute"), timedelta(seconds=30)) == 60
    factors = Factors({"P": Program("P", None, {"RD-10": Fraction(60)})}, {})
    record = ToolRecord(PUNCH, (), (log("06-01", "P", 1),))
    assert [entry.value for entry in wear_entries(record, factors)] == [60]


def test_the_arithmetic_of_a_tool_of_four_millimetres() -> None:
    """4.0 mm at 0.25 mm is 16 sharpenings; 17 x 80,000 = 1,360,000 hits (arithmetic)."""
    tool = replace(
        PUNCH, grind=Fraction("0.25"), grindable=Fraction(4), sharpen_every=Fraction(80_000)
    )
    assert runs_in_life(tool) == 17
    assert 17 * tool.sharpen_every == 1_360_000
    assert wear(ToolRecord(tool)).sharpenings_left == 16
