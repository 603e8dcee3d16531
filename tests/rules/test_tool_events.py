"""What is read off a tool's events, in order of time."""

from fractions import Fraction

import pytest

from pmtrack.rules.tool_events import ground, last_edge, since_new
from pmtrack.rules.tool_places import scrapped_at
from tests.build import at
from tests.rules.test_tool_places import events


@pytest.mark.parametrize(
    ("deeds", "edge", "mm", "since"),
    [
        ("fit T1", None, "0", [1]),
        ("sharpen 0.2, fit T1", 1, "0.2", [1, 2]),
        ("sharpen 0.2, sharpen 0.3", 2, "0.5", [1, 2]),
        ("sharpen 0.2, replace", 2, "0", []),
        ("sharpen 0.2, replace, sharpen 0.4, takeout", 3, "0.4", [3, 4]),
        ("replace, scrap", 1, "0", [2]),
    ],
)
def test_an_edge_and_what_was_ground_off(
    deeds: str, edge: int | None, mm: str, since: list[int]
) -> None:
    told = events(deeds)
    found = last_edge(told)
    assert (found.entry if found else None) == edge
    assert ground(told) == Fraction(mm)
    assert [event.entry for event in since_new(told)] == since


@pytest.mark.parametrize(
    ("deeds", "when", "entry"),
    [
        ("fit T1", "06-05T12:00", None),
        ("scrap", "06-05T12:00", 1),
        ("fit T1, scrap", "06-02T08:00", None),  # noon in UTC is 08:00: not yet at that instant
        ("fit T1, scrap", "06-02T08:01", 2),
        ("scrap, replace", "06-02T08:00", 1),
        ("scrap, replace", "06-02T08:01", None),
        ("scrap, replace, scrap", "06-04T12:00", 3),
    ],
)
def test_when_a_tool_is_scrapped(deeds: str, when: str, entry: int | None) -> None:
    found = scrapped_at(events(deeds), at(when))
    assert (found.entry if found else None) == entry
