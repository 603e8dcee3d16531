"""What was done to a tool: whether it can have been, and who sat in a station when."""

from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction

import pytest

from pmtrack.rules.facts import Moment, ToolEvent
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_places import Stay, fault, shared, stays

TOOL = Tool("RD-10", "TP-1", Fraction(60_000), grind=Fraction("0.2"), grindable=Fraction(1))


def events(text: str) -> list[ToolEvent]:
    """`fit T1, sharpen 0.4, takeout`: one deed a day from 1 June on, the number its entry."""
    found = []
    for number, deed in enumerate(text.split(", "), start=1):
        name, *what = deed.split()
        at = datetime(2026, 6, number, 12, tzinfo=UTC)
        told = ToolEvent(
            entry=number,
            tool=TOOL.code,
            moment=Moment(at.date(), at),
            at=at,
            event=name,
            mm=Fraction(what[0]) if name == "sharpen" else None,
            why="planned" if name == "sharpen" else None,
            machine="TP-1" if name == "fit" else None,
            station=what[0] if name == "fit" else None,
        )
        found.append(told)
    return found


@pytest.mark.parametrize(
    ("deeds", "entry", "reason"),
    [
        ("fit T1, takeout, fit T2", None, ""),
        ("fit T1, fit T2", 2, "already in station T1"),
        ("takeout", 1, "not fitted"),
        ("fit T1, scrap, takeout", 3, "is scrapped"),
        ("scrap, sharpen 0.2", 2, "is scrapped"),
        ("scrap, replace, sharpen 0.2", None, ""),
        ("sharpen 0.4, sharpen 0.4, sharpen 0.2", None, ""),  # 1.0 of 1.0 mm
        ("sharpen 0.4, sharpen 0.4, sharpen 0.4", 3, "has 0.2 mm left"),
        ("sharpen 0.875, sharpen 0.225", 2, "has 0.125 mm left to grind, not 0.225;"),
        ("sharpen 0.8, replace, sharpen 0.8", None, ""),  # a new one has its 1.0 mm again
        ("sharpen 0", 1, "how much was ground off"),
        ("fit T1, replace, takeout", None, ""),  # the new one sits where the old one sat
    ],
)
def test_the_first_deed_that_cannot_have_been(deeds: str, entry: int | None, reason: str) -> None:
    found = fault(TOOL, events(deeds))
    assert (found[0].entry if found else None) == entry
    assert found is None or reason in found[1]


@pytest.mark.parametrize(
    ("deeds", "reason"),
    [
        ("fit T1", "goes with its punch; say 'fit RD-10'"),
        ("takeout", "goes with its punch; say 'takeout RD-10'"),
        ("sharpen 0.2, replace, scrap", ""),
    ],
)
def test_a_die_is_ground_and_replaced_but_moves_with_its_punch(deeds: str, reason: str) -> None:
    found = fault(replace(TOOL, code="RD-10.die", die_of="RD-10"), events(deeds))
    assert (found is None) == (reason == "")
    assert found is None or reason in found[1]


@pytest.mark.parametrize(
    ("deeds", "days"),
    [
        ("fit T1", [("T1", 1, None)]),
        ("fit T1, takeout, fit T2, scrap", [("T1", 1, 2), ("T2", 3, 4)]),
        ("fit T1, sharpen 0.2, takeout", [("T1", 1, 3)]),
        ("sharpen 0.2", []),
    ],
)
def test_where_a_tool_sat(deeds: str, days: list[tuple[str, int, int | None]]) -> None:
    found = [(s.station, s.start.day, s.end.day if s.end else None) for s in stays(events(deeds))]
    assert found == days


def stay(station: str, first: int, last: int | None) -> Stay:
    """A stay at TP-1 from one day of June to another."""
    ends = datetime(2026, 6, last, tzinfo=UTC) if last else None
    return Stay("TP-1", station, datetime(2026, 6, first, tzinfo=UTC), ends)


@pytest.mark.parametrize(
    ("mine", "other", "meet"),
    [
        (("T1", 1, 5), ("T1", 5, 9), False),  # out at noon, the other in at noon
        (("T1", 1, 6), ("T1", 5, 9), True),
        (("T1", 1, None), ("T1", 5, 9), True),
        (("T1", 9, None), ("T1", 5, 9), False),
        (("T1", 1, None), ("T2", 1, None), False),
        (("T1", 6, 7), ("T1", 5, 9), True),
    ],
)
def test_two_tools_in_one_station(
    mine: tuple[str, int, int | None], other: tuple[str, int, int | None], meet: bool
) -> None:
    assert (shared([stay(*mine)], [stay(*other)]) is not None) is meet
    assert (shared([stay(*other)], [stay(*mine)]) is not None) is meet


@pytest.mark.parametrize(
    ("deed", "changed", "reason"),
    [
        ("fit T1", {"station": " "}, "say the station"),
        ("fit T1", {"station": None}, "say the station"),
        ("sharpen 0.2", {"mm": None}, "say how much was ground off"),
        ("sharpen 0.2", {"why": "dull"}, "say why it was sharpened"),
        ("sharpen 0.2", {"length": Fraction(0)}, "say the length that was measured"),
        ("sharpen 0.2", {"length": Fraction(1)}, None),
        ("replace", {"why": "dull"}, "say what ended it"),
        ("scrap", {"why": "dull"}, "say what ended it"),
        ("scrap", {"why": "chipped"}, None),
    ],
)
def test_a_deed_that_is_told_badly(
    deed: str, changed: dict[str, object], reason: str | None
) -> None:
    found = fault(TOOL, [replace(events(deed)[0], **changed)])  # type: ignore[arg-type]
    assert (found is None) if reason is None else (found is not None and reason in found[1])


@pytest.mark.parametrize("deed", ["fit T1", "takeout"])
def test_a_die_goes_with_its_punch(deed: str) -> None:
    found = fault(replace(TOOL, code="RD-10.die", die_of="RD-10"), events(deed))
    assert found is not None
    assert found[1] == f"RD-10.die goes with its punch; say '{deed.split()[0]} RD-10'"
