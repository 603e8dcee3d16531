"""The advice in words: a few in the table, its reasons in sentences."""

from fractions import Fraction

import pytest

from pmtrack.actions.tool_advice import Study
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_lives import ToolLife
from pmtrack.screens.life_words import reasons, summary
from tests.worn_tools import lives, tool

PLANNED = [(60_000.0, "planned")]
# half of the lives end early; B10 of the censored fit of scipy 1.17.1 is 40,349
BURRS = [(40_000, "burr"), (44_000, "burr"), (50_000, "burr"), (54_000, "burr"), *PLANNED * 4]
EARLY = [(50, "chipped"), (400, "burr"), (3_000, "burr"), *PLANNED * 9]
RARE = [(40_000, "burr"), (52_000, "burr"), (59_000, "burr"), *PLANNED * 200]
ALIKE = [(50_000, "burr")] * 3 + PLANNED
BIG = tool("RD-50", 70_000)
CHEAP = tool("RD-5", regrind_cost=Fraction(20), failure_cost=Fraction(20))
DEAR = tool("RD-6", regrind_cost=Fraction(20), failure_cost=Fraction(400))

WORDS = [  # tools, lives, the words of the table, and what the reasons say
    ([tool()], BURRS[:2] + PLANNED, "too few: 2 of 3", "At least 3, at different amounts"),
    ([tool()], ALIKE, "no life curve fits", "3 failures in 4 lives, but failures at 1 different"),
    ([tool()], EARLY, "no wear-out seen", "sharpening earlier gains nothing"),
    ([tool()], RARE, "lengthen to 75,000", "No tool has run that far yet"),
    ([tool(every=37_000)], BURRS, "keep", "Aimed at is B10: one life in ten"),
    ([tool()], BURRS, "shorten to 40,000", "The advice rests on 4 failures in 8 lives."),
    # 67.2 %: 40,349 of 60,000 is set as 40,000, 47,074 of 70,000 as 48,000, to the nearest 2,000
    ([tool(), BIG], BURRS, "shorten to 67-69 %", "4 failures in 8 lives"),
    ([CHEAP], BURRS, "not worth a planned sharpening", "waiting for the burr is cheaper"),
    ([CHEAP, DEAR], BURRS, "differs by tool", "a failure costs 20 times a planned sharpening"),
]  # fmt: skip


@pytest.mark.parametrize(("tools", "ends", "words", "reason"), WORDS)
def test_the_advice_in_words(
    tools: list[Tool], ends: list[tuple[float, str]], words: str, reason: str
) -> None:
    study = Study(tools, lives(*ends, of=tools[0]))
    assert summary(study) == words
    assert reason in " ".join(reasons(study))


def test_a_longer_interval_that_is_not_sure_yet_is_told() -> None:
    of = tool(every=40_000)
    few = [(35_000.0, "burr"), (58_000.0, "burr"), (62_000.0, "burr"), *[(62_000.0, "planned")] * 4]
    study = Study([of], lives(*few, of=of))
    assert summary(study) == "keep"
    told = " ".join(reasons(study))
    assert "A longer interval may do, but its lower limit is not above the present one" in told


def test_wear_out_that_is_not_certain_is_told() -> None:
    """Three failures anywhere: the shape may as well be 1."""
    spread: list[ToolLife] = lives((9_000, "burr"), (30_000, "burr"), (58_000, "burr"))
    assert any("Wear-out is not certain" in told for told in reasons(Study([tool()], spread)))
