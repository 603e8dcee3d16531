"""What a tool's wear is made of: programs, rows counted for it, as arithmetic. Worked by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest

from pmtrack.rules.facts import ToolCount
from pmtrack.rules.shop import Tool
from pmtrack.rules.wear_shares import Made, WearShare, counted_shares, program_shares, share_line
from tests.rules.test_wear import FACTORS, RD_10, counted

DIE = replace(RD_10, code="RD-10.die", die_of="RD-10")
NOZZLE = replace(RD_10, code="NZ-1", counts="hours")


def made(text: str) -> list[Made]:
    """Parts of programs, written `LID 100, DOOR mild 20`."""
    rows = [row.split() for row in text.split(", ") if row]
    return [(row[0], row[1] if len(row) > 2 else None, Fraction(row[-1])) for row in rows]


@pytest.mark.parametrize(
    ("rows", "shares"),
    [
        ("", []),
        ("LID 100", [("LID", None, 100, 500)]),  # 5 hits a part, no material
        ("LID 100, LID 20", [("LID", None, 120, 600)]),
        ("DOOR 10", [("DOOR", "stainless", 10, 350)]),  # 14 a part x 2.5
        # what a log says goes before the program's own material
        ("DOOR 10, DOOR mild 5", [("DOOR", "mild", 5, 70), ("DOOR", "stainless", 10, 350)]),
        ("LID 0", []),
        ("OTHER 10", [("OTHER", None, 10, 0)]),  # it does not use the tool
    ],
)
def test_programs_made(rows: str, shares: list[tuple[object, ...]]) -> None:
    found = program_shares(RD_10, FACTORS, made(rows))
    told: list[tuple[object, ...]]
    told = [(one.source, one.material, one.amount, one.wear) for one in found]
    assert told == shares


@pytest.mark.parametrize(
    ("tool", "rows", "shares"),
    [
        (RD_10, [], []),
        (RD_10, [counted("06-01", 0)], []),
        (RD_10, [counted("06-01", 40), counted("06-02", 2)],
         [("counted for the tool itself", None, 42, 42)]),
        (RD_10, [counted("06-01", 40, "stainless"), counted("06-02", 2, "mild")],
         [("counted for the tool itself", "mild", 2, 2),
          ("counted for the tool itself", "stainless", 40, 100)]),
        (DIE, [counted("06-01", 7)], [("counted for RD-10", None, 7, 7)]),
        # the material does not bear on what wears by a meter
        (NOZZLE, [counted("06-01", 40, "stainless")],
         [("counted for the tool itself", "stainless", 40, 40)]),
    ],
)  # fmt: skip
def test_rows_counted_for_a_tool_by_material(
    tool: Tool, rows: list[ToolCount], shares: list[tuple[object, ...]]
) -> None:
    found = counted_shares(tool, FACTORS, rows)
    told: list[tuple[object, ...]]
    told = [(one.source, one.material, one.amount, one.wear) for one in found]
    assert told == shares


@pytest.mark.parametrize(
    ("share", "unit", "line"),
    [
        (WearShare("LID", Fraction(310), Fraction(4)), "wear hits",
         "LID: 310 parts x 4 hits = 1,240"),
        (WearShare("DOOR", Fraction(310), Fraction(4), Fraction(5, 2), "stainless"), "wear hits",
         "DOOR: 310 parts x 4 hits x 2.5 (stainless) = 3,100"),
        (WearShare("counted", Fraction(310)), "wear hits", "counted: 310 hits"),
        (WearShare("meter", Fraction(31)), "hours", "meter: 31 hours"),
        (WearShare("counted", Fraction(10), None, Fraction(2), "stainless"), "wear hits",
         "counted: 10 hits x 2 (stainless) = 20"),
    ],
)  # fmt: skip
def test_a_share_told_as_arithmetic(share: WearShare, unit: str, line: str) -> None:
    assert share_line(share, unit) == line
