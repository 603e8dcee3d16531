"""A run before it starts, worked by hand.

RD-10 is sharpened every 60,000 wear hits; its grace ends at 66,000, it is near from 54,000 on.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.run_ahead import RunAhead, ToolInRun
from pmtrack.rules.shop import PerTime, Tool
from pmtrack.rules.wear import ToolWear
from tests.build import day

RD_10 = Tool("RD-10", "TP-1", Fraction(60000), grind=Fraction("0.2"), grindable=Fraction(3))
HERE = ("TP-1", "T12")


@dataclass(frozen=True)
class Stand:
    """How a tool stands before the run."""

    worn: float = 0
    fitted: tuple[str, str] | None = HERE
    left: int | None = 15
    state: str = "ok"
    tool: Tool = RD_10


FRESH = Stand()


def in_run(stand: Stand, parts: int, each: float, factor: float = 1) -> ToolInRun:
    """The tool in a run on TP-1 of so many parts, each of so many hits in a material."""
    worn = Fraction(stand.worn)
    wear = ToolWear(
        tool=stand.tool,
        as_of=day("06-05"),
        state=stand.state,
        wear_hits=worn,
        used=worn / stand.tool.sharpen_every,
        per_day=None,
        sharpen_on=None,
        sharpen_range=None,
        mm_left=None,
        sharpenings_left=stand.left,
        end_of_life=None,
        order_by=None,
        cost_per_1000=None,
        fitted=stand.fitted,
    )
    hits = Fraction(each)
    return ToolInRun(wear, "TP-1", parts, hits, hits * Fraction(factor))


def run(*tools: ToolInRun, fastest: PerTime | None = None) -> RunAhead:
    """A run of tools on TP-1."""
    return RunAhead("DOOR", tools[0].parts, None, "TP-1", tools, fastest)


def deeds(*tools: ToolInRun) -> list[str]:
    """What to do before the run, as `sharpen RD-10`."""
    return [f"{deed.kind} {deed.tool.code}" for deed in run(*tools).before]


@pytest.mark.parametrize(
    ("worn", "parts", "each", "factor", "lasts", "out_at", "past_at", "after"),
    [
        (0, 300, 14, 1, 4285, None, None, "ok"),  # 60,000 / 14 = 4285.7; 4,200 after
        (56000, 300, 14, 1, 285, 286, None, "due"),  # 4,000 / 14 = 285.7; 60,200 after
        (56000, 300, 14, 2, 142, 143, None, "due"),  # 28 wear hits a part; 64,400 after
        (56000, 300, 14, 2.5, 114, 115, 286, "overdue"),  # 10,000 / 35 = 285.7; 66,500
        (56000, 300, 14, Fraction(1, 2), 571, None, None, "soon"),  # 58,100 after
        (58000, 200, 10, 1, 200, None, None, "due"),  # just used up by the last part
        (58000, 201, 10, 1, 200, 201, None, "due"),
        (58000, 800, 10, 1, 200, 201, None, "due"),  # 66,000: the grace is not passed yet
        (58000, 801, 10, 1, 200, 201, 801, "overdue"),
        (60000, 1, 10, 1, 0, 1, None, "due"),
        (67000, 1, 10, 1, 0, 1, 1, "overdue"),  # past its grace before the first part
        (53000, 99, 10, 1, 700, None, None, "ok"),  # 53,990
        (53000, 100, 10, 1, 700, None, None, "soon"),  # 54,000
        (0, 1, 70000, 1, 0, 1, 1, "overdue"),  # one part takes more than the interval
        (59999.5, 3, Fraction(1, 4), 1, 2, 3, None, "due"),  # half a wear hit left
    ],
)
def test_at_which_part_a_tool_runs_out(  # noqa: PLR0913 - one row of the table
    worn: float, parts: int, each: float, factor: float,
    lasts: int, out_at: int | None, past_at: int | None, after: str,
) -> None:  # fmt: skip
    tool = in_run(Stand(worn), parts, each, factor)
    assert (tool.lasts_parts, tool.runs_out_at, tool.past_grace_at, tool.after) == (
        lasts, out_at, past_at, after,
    )  # fmt: skip


def test_hits_of_the_run_and_wear_hits_left() -> None:
    tool = in_run(Stand(56000), 300, 14, 2)
    assert [tool.hits, tool.wear_hits, tool.left] == [4200, 8400, 4000]
    assert in_run(Stand(61000), 300, 14).left == 0


@pytest.mark.parametrize(
    ("fitted", "station", "elsewhere"),
    [
        (("TP-1", "T12"), "T12", None),
        (("TP-2", "T1"), None, ("TP-2", "T1")),
        (None, None, None),
    ],
)
def test_where_a_tool_is_before_a_run_on_tp_1(
    fitted: tuple[str, str] | None, station: str | None, elsewhere: tuple[str, str] | None
) -> None:
    tool = in_run(Stand(fitted=fitted), 300, 14)
    assert (tool.station, tool.elsewhere) == (station, elsewhere)


@pytest.mark.parametrize(
    ("stand", "parts", "told"),  # ten hits a part: a sharpened RD-10 makes 6,000
    [
        (Stand(), 6000, []),
        (Stand(54000), 600, []),
        (Stand(54000), 601, ["sharpen"]),
        (Stand(60000), 1, ["sharpen"]),
        (Stand(54000, left=0), 600, []),
        (Stand(54000, left=0), 601, ["replace"]),
        (Stand(54000, left=None), 601, ["sharpen"]),  # nobody said how much can be ground off
        (Stand(54000, left=None, tool=replace(RD_10, grindable=Fraction(0))), 601, ["replace"]),
        (Stand(10, fitted=None), 5, ["fit"]),
        (Stand(54000, fitted=None), 601, ["sharpen", "fit"]),
        (Stand(10, fitted=("TP-2", "T1")), 5, ["takeout", "fit"]),
        (Stand(54000, fitted=("TP-2", "T1")), 601, ["sharpen", "takeout", "fit"]),
        (Stand(54000, fitted=("TP-2", "T1"), left=0), 601, ["replace", "takeout", "fit"]),
        (Stand(10, fitted=None, state="scrapped"), 5, ["replace", "fit"]),
        (Stand(10, fitted=None, left=0, state="scrapped"), 7000, ["replace", "fit"]),
    ],
)
def test_what_is_done_before_the_run(stand: Stand, parts: int, told: list[str]) -> None:
    tool = in_run(stand, parts, 10)
    assert deeds(tool) == [f"{kind} RD-10" for kind in told]
    assert run(tool).ready == (not told and tool.stop_after is None)
    assert tool.sharpen_first == ("sharpen" in told)
    assert tool.replace_first == ("replace" in told)


@pytest.mark.parametrize("worn", [10, 67000])
def test_a_scrapped_tool_makes_no_part_whatever_its_wear(worn: int) -> None:
    tool = in_run(Stand(worn, fitted=None, state="scrapped"), 300, 10)
    told = [tool.left, tool.lasts_parts, tool.runs_out_at, tool.past_grace_at, tool.after]
    assert told == [0, 0, 1, None, "scrapped"]


@pytest.mark.parametrize(
    ("worn", "parts", "first", "stop_after", "stops"),  # ten hits a part: 6,000 from sharpened on
    [
        (0, 6000, False, None, 0),
        (0, 6001, False, 6000, 1),  # new, and too short all the same
        (0, 18000, False, 6000, 2),
        (0, 18001, False, 6000, 3),
        # 3,000 left and 8,000 to make: one stop either way, so it is not ground for nothing
        (30000, 8000, False, 3000, 1),
        (30000, 9000, False, 3000, 1),
        (30000, 9001, True, 6000, 1),  # one stop in place of two
        (30000, 6000, True, None, 0),
        (60000, 12000, True, 6000, 1),
        (66001, 6001, True, 6000, 1),
    ],
)
def test_sharpened_first_where_it_saves_a_stop_in_the_run(
    worn: int, parts: int, first: bool, stop_after: int | None, stops: int
) -> None:
    tool = in_run(Stand(worn), parts, 10)
    assert (tool.sharpen_first, tool.stop_after, tool.stops) == (first, stop_after, stops)


def test_a_part_that_takes_more_than_a_whole_interval_is_told_as_such() -> None:
    for worn, first in ((0, False), (10, True)):
        tool = in_run(Stand(worn), 3, 60001)
        assert (tool.fresh_parts, tool.stops, tool.stop_after) == (0, None, 0)
        assert tool.sharpen_first is first
        assert not run(tool).ready
        assert not tool.short_of


@pytest.mark.parametrize(
    ("left", "parts", "short", "last_life"),  # 54,000 worn, ten hits a part
    [
        (2, 601, False, False),
        (1, 12001, True, False),  # sharpened after 600 and after 6,600: two
        (2, 12001, False, False),
        (2, 12601, True, False),  # sharpened first, after 6,000 and after 12,000: three
        (3, 12601, False, False),
        (None, 12601, False, False),
        (0, 600, False, True),
        (0, 601, False, False),  # replaced first
        (1, 600, False, False),
    ],
)
def test_when_the_sharpenings_do_not_suffice(
    left: int | None, parts: int, short: bool, last_life: bool
) -> None:
    tool = in_run(Stand(54000, left=left), parts, 10)
    assert (tool.short_of, tool.is_last_life) == (short, last_life)


def coded(code: str, stand: Stand, parts: int, each: float) -> ToolInRun:
    """A tool of that code."""
    return in_run(replace(stand, tool=replace(stand.tool, code=code)), parts, each)


def test_the_order_of_doing() -> None:
    """New ones come first, then those past their grace, then those used up soonest, then fits."""
    told = deeds(
        coded("LOOSE", Stand(0, fitted=None), 900, 10),
        coded("DUE-LATE", Stand(58000), 900, 3),  # out after 666, 60,700 after
        coded("DUE-SOON", Stand(59000), 900, 3),  # out after 333, 61,700 after
        coded("PAST-LATE", Stand(58000), 900, 10),  # past its grace after 800
        coded("PAST-SOON", Stand(58000), 900, 20),  # past its grace after 400
        coded("GONE", Stand(0, fitted=None, state="scrapped"), 900, 1),
        coded("AWAY", Stand(0, fitted=("TP-2", "T1")), 900, 1),
        coded("FINE", Stand(0), 900, 1),
    )
    assert told == [
        "replace GONE", "sharpen PAST-SOON", "sharpen PAST-LATE", "sharpen DUE-SOON",
        "sharpen DUE-LATE", "takeout AWAY", "fit LOOSE", "fit GONE", "fit AWAY",
    ]  # fmt: skip


def test_a_die_is_fitted_with_its_punch_and_its_hits_are_the_punchs() -> None:
    punch = in_run(Stand(0, fitted=None), 300, 14)
    set_die = replace(RD_10, code="RD-10.die", die_of="RD-10", sharpen_every=Fraction(150000))
    die = in_run(Stand(149000, fitted=None, tool=set_die), 300, 14)
    assert deeds(punch, die) == ["sharpen RD-10.die", "fit RD-10"]
    assert run(punch, die).hits == 4200


@pytest.mark.parametrize(
    ("parts", "each", "fastest", "seconds"),
    [
        (1, 60, PerTime(Fraction(120), "minute"), 30),  # common practice, no source
        (300, 41, PerTime(Fraction(120), "minute"), 6150),
        (1, 60, PerTime(Fraction(7200), "hour"), 30),
        (1, 60, PerTime(Fraction(50000), "shift"), None),  # as long as a shift is
        (1, 60, PerTime(Fraction(0), "minute"), None),
        (1, 60, None, None),
    ],
)
def test_the_least_press_time(
    parts: int, each: int, fastest: PerTime | None, seconds: int | None
) -> None:
    assert run(in_run(FRESH, parts, each), fastest=fastest).press_seconds == seconds


def test_stops_in_the_run_come_in_the_order_of_the_parts() -> None:
    tools = [coded("B", FRESH, 9000, 10), coded("A", FRESH, 9000, 20), coded("C", FRESH, 9000, 1)]
    assert [tool.code for tool in run(*tools).in_run] == ["A", "B"]
    assert not run(*tools).ready


AMOUNTS = st.fractions(min_value=Fraction(1, 100), max_value=70000, max_denominator=100)


@given(worn=st.integers(0, 70000), parts=st.integers(1, 20000), each=AMOUNTS)
def test_it_runs_out_at_the_first_part_that_passes_the_interval(
    worn: int, parts: int, each: Fraction
) -> None:
    """Up to the part before it is within its interval, from that part on it is past it."""
    tool = _exact(Stand(worn), parts, each)
    out_at = tool.runs_out_at
    if out_at is None:
        assert worn + parts * each <= 60000
    else:
        assert 1 <= out_at <= parts
        assert worn + out_at * each > 60000
        assert out_at == 1 or worn + (out_at - 1) * each <= 60000


def _exact(stand: Stand, parts: int, each: Fraction) -> ToolInRun:
    return replace(in_run(stand, parts, 1), hits_per_part=each, wear_per_part=each)


@given(
    worn=st.integers(0, 70000), parts=st.integers(1, 20000), more=st.integers(0, 20000),
    each=AMOUNTS,
)  # fmt: skip
def test_more_parts_never_ask_less(worn: int, parts: int, more: int, each: Fraction) -> None:
    small, large = (_exact(Stand(worn), n, each) for n in (parts, parts + more))
    assert large.lasts_parts == small.lasts_parts
    if small.runs_out_at:
        assert large.runs_out_at == small.runs_out_at
    if small.past_grace_at:
        assert large.past_grace_at == small.past_grace_at
    order = ["ok", "soon", "due", "overdue"]
    assert order.index(small.after) <= order.index(large.after)
    if small.stops is not None and large.stops is not None:
        assert small.sharpen_first + small.stops <= large.sharpen_first + large.stops


@given(worn=st.integers(0, 70000), parts=st.integers(1, 5000), each=st.integers(1, 30000))
def test_the_stops_are_those_of_a_run_made_part_by_part(worn: int, parts: int, each: int) -> None:
    """Sharpening before each part that would not fit, after the first deeds."""
    tool = in_run(Stand(worn), parts, each)
    wear, stops, first = (0 if tool.sharpen_first else worn), 0, None
    for part in range(1, parts + 1):
        if wear + each > 60000:
            wear, stops = 0, stops + 1
            first = part - 1 if first is None else first
        wear += each
    assert (tool.stops, tool.stop_after) == (stops, first)
