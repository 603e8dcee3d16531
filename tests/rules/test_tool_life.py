"""When a tool's wear comes to so many hits, by hand. June 2026 begins on a Monday.

8,000 hits a day in its first week are 40,000 by Friday 5 June; an uneven week of 8, 12, 8, 12 and
10 thousand has a rate of 10,000 and a spread of 2,000 a day.
"""

from fractions import Fraction

import pytest

from pmtrack.rules.facts import ToolCount, ToolEvent
from pmtrack.rules.tool_life import Life, life_of
from tests.build import day
from tests.rules.test_wear import FACTORS, PLAIN, counted, event, record

EVEN = [counted(f"06-0{n}", 8000) for n in range(1, 6)]
UNEVEN = [counted(f"06-0{n}", made) for n, made in enumerate((8000, 12000, 8000, 12000, 10000), 1)]
SHARPENED = event("06-03T20:00", "sharpen", "0.2")  # 24,000 are made by then


def lived(*facts: ToolCount | ToolEvent, on: str = "06-05", out: bool = False) -> Life:
    """A tool's life as of the end of a day."""
    return life_of(record(*facts), FACTORS, day(on), (PLAIN, out))


@pytest.mark.parametrize(
    ("hits", "on"),
    [
        (60_000, "06-10"),  # 20,000 to go at 8,000: the third working day
        (40_001, "06-08"),
        (40_000, "06-05"),  # made
        (32_001, "06-05"),
        (32_000, "06-04"),
        (1, "06-01"),
    ],
)
def test_the_day_on_which_so_much_is_worn(hits: int, on: str) -> None:
    life = lived(*EVEN)
    assert life.wear == 40_000
    assert life.day_of(Fraction(hits)) == day(on)


@pytest.mark.parametrize(("hits", "on"), [(16_000, "06-05"), (8_001, "06-05"), (8_000, "06-04")])
def test_a_life_begins_with_its_edge(hits: int, on: str) -> None:
    life = lived(*EVEN, SHARPENED)
    assert [life.start, life.wear] == [24_000, 16_000]
    assert life.day_of(Fraction(hits)) == day(on)


def test_what_is_made_has_no_way_to_go() -> None:
    life = lived(*EVEN)
    assert life.passage(Fraction(40_000)) is None
    passage = life.passage(Fraction(40_001))
    assert passage is not None
    assert passage.since == day("06-05")
    assert passage.remaining == 1


def test_without_an_entry_or_a_machine_no_day_is_told() -> None:
    nothing, out = lived(), lived(*UNEVEN, out=True)
    for life in (nothing, out):
        assert life.day_of(Fraction(75_000)) is None
        assert life.range_of(Fraction(75_000)) is None
    assert nothing.wear == 0
    assert nothing.passage(Fraction(1)) is None
    assert out.day_of(Fraction(1)) is None  # not even what is made


@pytest.mark.parametrize(
    ("hits", "on", "days"),
    [
        # T = 2.5; 1.2816 x 2,000 x sqrt(25,000) / 10,000^1.5 = 0.405: 2.09 to 2.91, the third day
        (75_000, "06-05", ("06-10", "06-10")),
        (75_000, "06-10", ("06-10", "06-10")),
        (75_000, "06-11", None),  # the day has passed
        # T = 10; 0.811: 9.19 to 10.81, the tenth to the eleventh, over a weekend
        (150_000, "06-05", ("06-19", "06-22")),
        (150_000, "06-19", ("06-19", "06-22")),
        (50_000, "06-05", None),  # made
    ],
)
def test_the_range_of_a_day_still_to_come(hits: int, on: str, days: tuple[str, str] | None) -> None:
    expected = days and (day(days[0]), day(days[1]))
    assert lived(*UNEVEN, on=on).range_of(Fraction(hits)) == expected


@pytest.mark.parametrize(
    ("facts", "on", "gained", "days"),
    [
        (EVEN, "06-05", 40_000, 5),  # the first of all counts from the working day before it
        # on 3 July the span of 20 working days begins on Monday 8 June: the rate runs from the last
        # day before it, 4 June, over 4 working days to the 10th and 17 more to 3 July
        (
            [counted("05-29", 1000), counted("06-04", 3000), counted("06-10", 6000),
             counted("07-03", 12000)],
            "07-03", 18_000, 21,
        ),
        # an entry of the span's first day is inside it
        (
            [counted("06-04", 3000), counted("06-08", 500), counted("07-03", 12000)],
            "07-03", 12_500, 21,
        ),
    ],
)  # fmt: skip
def test_the_rate_looks_at_the_last_span_alone(
    facts: list[ToolCount], on: str, gained: int, days: int
) -> None:
    life = lived(*facts, on=on)
    assert [life.standing.rate.gained, life.standing.rate.days] == [gained, days]
    assert life.wear == sum(fact.hits for fact in facts)
