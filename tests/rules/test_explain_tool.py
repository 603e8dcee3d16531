"""The lines that tell why a tool stands where it does; the arithmetic in them worked by hand.

June 2026 begins on a Monday. RD-10 is sharpened every 60,000 wear hits, 0.2 of 3.0 mm each time,
and costs 85.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from pmtrack.rules.explain_tool import ToolStory, explain_tool, remarks
from pmtrack.rules.facts import ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_life import life_of
from pmtrack.rules.wear import wear_of
from pmtrack.rules.wear_hits import ToolRecord
from pmtrack.rules.wear_shares import WearShare, counted_shares
from tests.build import day
from tests.rules.test_wear import FACTORS, PLAIN, RD_10, counted, event, record

FIT = event("06-01T05:00", "fit", machine="TP-1", station="T1")
SHARPENED = replace(event("06-01T05:30", "sharpen", "0.2"), why="burr")
WEEK = [counted(f"06-0{n}", 8000) for n in range(1, 6)]  # 40,000 by Friday 5 June
BLADE = replace(RD_10, code="BL-1", grindable=Fraction(0), grind=None)
DIE = replace(RD_10, code="RD-10.die", die_of="RD-10")
WITHOUT_MM = replace(RD_10, grindable=None, price=None)


def story(kept: ToolRecord, on: str = "06-05", out: bool = False, split: int = 0) -> ToolStory:
    """A tool's story; its wear as one share, or as so many parts of a program and the rest."""
    life = life_of(kept, FACTORS, day(on), (PLAIN, out))
    shares = counted_shares(kept.tool, FACTORS, kept.counts)
    if split:
        one = WearShare("LID", Fraction(split), Fraction(5))
        shares = [one, WearShare("counted", life.wear - one.wear)]
    return ToolStory(wear_of(kept, life), kept, life, tuple(shares))


def told(*facts: ToolCount | ShiftLog | ToolEvent, tool: Tool = RD_10, **more: int) -> list[str]:
    """The lines on a tool as of 5 June."""
    kept = record(*facts, tool=tool)
    return explain_tool(story(kept, out=bool(more.get("out")), split=more.get("split", 0)))


def test_a_tool_in_use_from_its_edge_to_its_cost() -> None:
    assert told(FIT, SHARPENED, *WEEK) == [
        "sharpen every 60,000 wear hits: soon",
        "  since Mon 2026-06-01 (entry 3, sharpened by 0.2 mm, burr)",
        "  counted for the tool itself: 40,000 hits",
        "  40,000 wear hits",
        "  40,000 / 60,000 = 66.7 % of the interval",
        "  soon from 54,000, or half gone and 7 days before the day; due at 60,000, "
        "overdue above 66,000",
        "  rate 8,000 wear hits a working day (40,000 in the last 5 with entries)",
        # 20,000 left at 8,000 a day: the third working day after Friday 5 June is Wednesday 10
        "  (60,000 - 40,000) / 8,000 = 2.5, so working day 3 after 2026-06-05: Wed 2026-06-10",
        "  80 % range 2026-06-10 to 2026-06-10",  # every day the same: no spread
        "what is left of it",
        "  3 - 0.2 mm ground in 1 sharpening(s) since new = 2.8 mm; / 0.2 = 14 sharpenings left",
        "  end of life at (14 + 1) x 60,000 = 900,000 wear hits from its last edge",
        # 860,000 at 8,000: 107.5, so the 108th: 21 weeks after 5 June are 105, then 3 days
        "  (900,000 - 40,000) / 8,000 = 107.5, so working day 108 after 2026-06-05: Wed 2026-11-04",
        "  less 10 days of notice: order by Sun 2026-10-25",
        "cost of 1,000 wear hits: 0.089",  # 85 / (16 x 60,000) x 1,000
        "  85 / (16 run(s) x 60,000) x 1,000",
    ]


@pytest.mark.parametrize(
    ("tool", "facts", "line"),
    [
        (RD_10, (), "  since the first entry: it was never sharpened or replaced"),
        (RD_10, (), "  nothing entered since: 0 wear hits"),
        (RD_10, (), "  no entry yet, so no day"),
        (RD_10, (event("06-01T05:00", "replace"),), "  since Mon 2026-06-01 (entry 3, replaced)"),
        (DIE, (), "  takes the hits of its punch, RD-10"),
        (replace(RD_10, counts="bends"), (),
         "  counts bends of its machine while it is fitted"),
        (BLADE, (), "replace every 60,000 wear hits: ok"),
        (BLADE, (), "nothing to grind: it is replaced"),
        (BLADE, (), "  85 / (1 run(s) x 60,000) x 1,000"),
        (RD_10, (event("06-01T05:00", "sharpen", "0.125"),),
         "  since Mon 2026-06-01 (entry 3, sharpened by 0.125 mm)"),
        # Monday 1 June it made all of its interval
        (RD_10, (counted("06-01", 60_000),), "  reached on Mon 2026-06-01"),
        (RD_10, (counted("06-01", 0),), "  at that rate no day is expected"),
        (RD_10, (replace(SHARPENED, length=Fraction("204.8")),),
         "  measured 204.8 mm on 2026-06-01 (entry 3)"),
        # counted on a Saturday alone, which is no working day
        (RD_10, (counted("06-06", 100),), "  no rate is known, so no day"),
        (replace(RD_10, grind=None), (), "  3 - 0 mm ground in 0 sharpening(s) since new = 3 mm"),
    ],
)  # fmt: skip
def test_what_is_told_of_a_tool(
    tool: Tool, facts: tuple[ToolCount | ToolEvent, ...], line: str
) -> None:
    assert line in told(*facts, tool=tool)


def test_mm_are_told_to_a_thousandth_days_and_money_to_a_hundredth() -> None:
    """35,000 of 60,000 at 7,000 a day: 3.571 days. 3.375 mm at 0.125 are 27 grinds, 28 runs."""
    fine = replace(
        RD_10, grind=Fraction("0.125"), grindable=Fraction("3.375"), price=Fraction("84.25")
    )
    first = event("06-01T05:30", "sharpen", "0.125")
    lines = told(first, *(counted(f"06-0{n}", 7000) for n in range(1, 6)), tool=fine)
    for line in (
        "(60,000 - 35,000) / 7,000 = 3.57, so working day 4 after 2026-06-05: Thu 2026-06-11",
        "3.375 - 0.125 mm ground in 1 sharpening(s) since new = 3.25 mm; / 0.125 = 26 sharpenings "
        "left",
        "84.25 / (28 run(s) x 60,000) x 1,000",
    ):
        assert f"  {line}" in lines


def test_several_shares_are_added_up() -> None:
    # 2,000 parts x 5 = 10,000 of the 40,000
    assert "  10,000 + 30,000 = 40,000 wear hits" in told(*WEEK, split=2000)


def test_a_machine_out_of_service_has_no_day() -> None:
    lines = told(*WEEK, out=1)
    assert lines.count("  TP-1 is out of service: no day is expected") == 2  # edge, end of life
    assert not any("so working day" in line or "order by" in line for line in lines)


def test_a_scrapped_tool_has_no_day() -> None:
    lines = told(*WEEK, event("06-05T20:00", "scrap"))
    assert [line.strip() for line in lines].count("scrapped: no day is expected") == 2
    assert not any("so working day" in line or "order by" in line for line in lines)


def test_without_mm_or_price_nothing_is_told_of_life_and_cost() -> None:
    lines = told(*WEEK, tool=WITHOUT_MM)
    assert not any("left" in line or "cost" in line or "grind" in line for line in lines)


@pytest.mark.parametrize(
    ("tool", "facts", "said"),
    [
        (RD_10, (FIT,), []),
        (RD_10, (), ["RD-10 is in no station"]),
        (DIE, (), ["RD-10 is in no station"]),  # it goes with its punch
        (RD_10, (event("06-02T05:00", "scrap"),), []),
    ],
)
def test_what_to_check_of_its_place(
    tool: Tool, facts: tuple[ToolEvent, ...], said: list[str]
) -> None:
    assert remarks(story(record(*facts, tool=tool))) == said
