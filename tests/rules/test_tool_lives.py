"""Lives of a tool, worked by hand: what each wore, how it ended, in which material."""

from fractions import Fraction

import pytest

from pmtrack.rules.dates import parse_moment
from pmtrack.rules.facts import MeterEntry, ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.shop import Material, Program, Tool
from pmtrack.rules.shoptime import end_of_day
from pmtrack.rules.tool_families import families
from pmtrack.rules.tool_lives import lives_of
from pmtrack.rules.wear_hits import Factors, ToolRecord
from tests.build import DAY, ZONE, at, day
from tests.worn_tools import life, tool

FACTORS = Factors(
    {
        "DOOR": Program("DOOR", "mild", {"RD-10": Fraction(10)}),
        "TRIM": Program("TRIM", "stainless", {"RD-10": Fraction(10)}),
    },
    {"mild": Material("mild"), "stainless": Material("stainless", wear=Fraction(2))},
)


def event(when: str, kind: str, why: str | None = None) -> ToolEvent:
    """What was done to RD-10, on a date or at a shop time."""
    moment = parse_moment(f"2026-{when}", ZONE)
    return ToolEvent(
        1, "RD-10", moment, moment.at or end_of_day(moment.day, (DAY,), ZONE), kind, why=why
    )


def record(text: str, of: Tool | None = None) -> ToolRecord:
    """A book in lines: `06-01 hits 400 [material]`, `06-01 DOOR 30`, `06-01T13:00 sharpen burr`.

    Hits are counted at noon, programs logged at the end of the day shift, 14:30.
    """
    counts, logs, events = [], [], []
    for number, line in enumerate(filter(None, map(str.strip, text.split(";"))), start=1):
        when, what, *rest = line.split()
        if what == "hits":
            material = rest[1] if len(rest) > 1 else None
            noon = at(f"{when}T12:00")
            row = ToolCount(number, "RD-10", day(when), noon, Fraction(rest[0]), material)
            counts.append(row)
        elif what in FACTORS.programs:
            end, parts = at(f"{when}T14:30"), Fraction(rest[0])
            logs.append(ShiftLog(number, "TP-1", "day", day(when), end, parts, program=what))
        else:
            events.append(event(when, what, *rest))
    return ToolRecord(of or tool(), tuple(counts), tuple(logs), tuple(events))


LIVES = [  # the book, and each life: wear, how it ended, material
    ("", []),
    # nothing begins a life that is known: a tool fitted and worn, never sharpened
    ("06-01 fit; 06-02 hits 500", []),
    # the first known life begins with the first sharpening; what came before it is left out
    ("06-01 hits 900; 06-01T13:00 sharpen burr; 06-02 hits 400", [(400, "running", None)]),
    ("06-01 sharpen planned; 06-02 hits 400; 06-03 hits 100; 06-03T13:00 sharpen burr;"
     "06-04 hits 70; 06-05T09:00 sharpen planned; 06-05 hits 9",
     [(500, "burr", None), (70, "planned", None), (9, "running", None)]),
    # a count at the very instant of the sharpening still belongs to the life that ends
    ("06-01 replace; 06-02 hits 30; 06-02T12:00 sharpen chipped; 06-03 hits 5",
     [(30, "chipped", None), (5, "running", None)]),
    # a sharpening entered for a day counts at its end, so that day's hits end with it
    ("06-01 sharpen planned; 06-02 hits 30; 06-02 sharpen burr", [(30, "burr", None)]),
    # a replacement ends a life as planned unless it says why
    ("06-01 replace; 06-02 hits 30; 06-02 replace; 06-03 hits 40; 06-03 replace chipped;"
     "06-04 hits 1", [(30, "planned", None), (40, "chipped", None), (1, "running", None)]),
    # scrapped: no life until there is a new one, whatever was counted between
    ("06-01 replace; 06-02 hits 30; 06-02 scrap chipped; 06-03 hits 7; 06-04 replace;"
     "06-05 hits 8", [(30, "chipped", None), (8, "running", None)]),
    ("06-01 replace; 06-02 hits 30; 06-02 scrap", [(30, "planned", None)]),
    # sharpened twice in a row: a life without wear tells nothing
    ("06-01 sharpen planned; 06-02 sharpen burr; 06-03 hits 6; 06-03 sharpen burr",
     [(6, "burr", None)]),
    # taken out and fitted again is one life
    ("06-01 sharpen planned; 06-01 fit; 06-02 hits 3; 06-02 takeout; 06-03 fit; 06-04 hits 4",
     [(7, "running", None)]),
    # 30 doors: 300 hits in mild; 20 trims: 200 hits, 400 wear hits in stainless: more than half
    ("06-01 sharpen planned; 06-02 DOOR 30; 06-03 TRIM 20", [(700, "running", "stainless")]),
    # 40 doors: 400 of 800 is half, not more
    ("06-01 sharpen planned; 06-02 DOOR 40; 06-03 TRIM 20", [(800, "running", None)]),
    # hits without a material are most: 600 of 900
    ("06-01 sharpen planned; 06-02 DOOR 30; 06-03 hits 600", [(900, "running", None)]),
    ("06-01 sharpen planned; 06-02 hits 100 stainless; 06-02T13:00 sharpen burr; 06-03 DOOR 3",
     [(200, "burr", "stainless"), (30, "running", "mild")]),
]  # fmt: skip


@pytest.mark.parametrize(("book", "expected"), LIVES)
def test_lives_of_a_tool(book: str, expected: list[tuple[int, str, str | None]]) -> None:
    found = lives_of(record(book), FACTORS)
    assert [(int(x.wear), x.end, x.material) for x in found] == expected
    assert [x.failed for x in found] == [end in ("burr", "chipped") for _, end, _ in expected]


def test_a_part_that_wears_by_a_meter_has_no_material() -> None:
    nozzle = tool(counts="hours", every=80)
    begun, hours = event("06-01", "replace"), Fraction(8)
    gains = (MeterEntry(5, at("06-02T14:30"), day("06-02"), hours),)
    kept = ToolRecord(nozzle, events=(begun,), gains=gains)
    (found,) = lives_of(kept, FACTORS)
    assert (found.wear, found.material) == (hours, None)


def test_a_life_is_a_share_of_the_interval_of_its_tool() -> None:
    assert life(45_000, "burr", tool(every=60_000)).share == Fraction(3, 4)


def test_tools_of_one_kind_and_unit_are_a_family() -> None:
    rd_10, rd_5, sq = tool(), tool("RD-5", 50_000), tool("SQ-5", kind="square punch")
    odd, nozzle = tool("X", kind=""), tool("N", 80, kind="nozzle", counts="hours")
    gone = life(1, "burr", tool("RD-9"))  # retired since
    stranger = life(1, "burr", tool("Z", kind="notching punch"))
    found = families([rd_10, sq, rd_5, odd, nozzle], [life(2, None, rd_5), gone, stranger])
    assert [(f.name, [t.code for t in f.tools], len(f.lives)) for f in found] == [
        ("round punch", ["RD-10", "RD-5"], 2),
        ("square punch", ["SQ-5"], 0),
        ("-", ["X"], 0),
        ("nozzle", ["N"], 0),
    ]
    assert [f.interval for f in found] == [None, 60_000, 60_000, 80]
    assert [f.failures for f in found] == [1, 0, 0, 0]


def test_a_kind_that_wears_by_two_units_is_two_families() -> None:
    pair = [tool(kind="tip", counts="litres"), tool(kind="tip", counts="hours")]
    assert [f.name for f in families(pair, [])] == ["tip by litres", "tip by hours"]


def test_an_interval_is_the_familys_only_if_retired_tools_had_it_too() -> None:
    assert families([tool()], [life(1, None, tool("RD-9", 90_000))])[0].interval is None
