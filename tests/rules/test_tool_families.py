"""Tools of one kind and unit as a family; each by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest

from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_families import families
from tests.rules.test_wear import RD_10
from tests.worn_tools import life

ROUND = replace(RD_10, kind="round punch")
BENDS = replace(ROUND, code="BT-1", counts="bends")
OTHER = replace(ROUND, code="RD-8", sharpen_every=Fraction(50_000))


@pytest.mark.parametrize(
    ("tools", "names", "units", "intervals"),
    [
        ([], [], [], []),
        ([ROUND], ["round punch"], ["wear hits"], [60_000]),
        ([RD_10], ["-"], ["wear hits"], [60_000]),  # the file tells no kind
        ([ROUND, OTHER], ["round punch"], ["wear hits"], [None]),  # 60,000 and 50,000
        ([ROUND, BENDS], ["round punch by wear hits", "round punch by bends"],
         ["wear hits", "bends"], [60_000, 60_000]),
        ([RD_10, replace(RD_10, counts="bends")], ["- by wear hits", "- by bends"],
         ["wear hits", "bends"], [60_000, 60_000]),
    ],
)  # fmt: skip
def test_a_family_is_of_one_kind_and_unit(
    tools: list[Tool], names: list[str], units: list[str], intervals: list[int | None]
) -> None:
    found = families(tools, [])
    assert [one.name for one in found] == names
    assert [one.unit for one in found] == units
    assert [one.interval for one in found] == intervals


def test_lives_are_told_apart_by_material() -> None:
    """Two in mild, one in stainless, one in nothing known."""
    made = [(900, "mild"), (500, "stainless"), (700, None), (800, "mild")]
    lives = [replace(life(hits, "burr", ROUND), material=code) for hits, code in made]
    (family,) = families([ROUND], lives)
    assert {code: [x.wear for x in own] for code, own in family.materials.items()} == {
        "mild": [900, 800],
        "stainless": [500],
    }
    assert list(family.materials) == ["mild", "stainless"]
    assert families([ROUND], [])[0].materials == {}
    many = [replace(lives[0], material=code) for code in "gecafdb"]
    assert "".join(families([ROUND], many)[0].materials) == "abcdefg"
