"""Lengths measured after sharpenings, against the mm entered."""

from dataclasses import replace
from fractions import Fraction

import pytest

from pmtrack.rules.facts import ToolEvent
from pmtrack.rules.measured import length_remark, lengths
from tests.rules.test_wear import RD_10, event


def deeds(text: str) -> list[ToolEvent]:
    """`0.2=207.8, 0.2, replace`: one a day from 1 June on, mm and perhaps the length after."""
    found = []
    for number, deed in enumerate(text.split(", "), start=1):
        mm, _, length = deed.partition("=")
        kind = mm if mm in ("replace", "fit") else "sharpen"
        made = event(f"06-{number:02}", kind, mm if kind == "sharpen" else "")
        found.append(replace(made, entry=number, length=Fraction(length) if length else None))
    return found


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("0.2=207.8", None),  # one alone says nothing
        ("0.2=207.8, 0.2=207.6", None),
        ("0.2=207.8, 0.2=207.4", None),  # 0.4 lost, 0.2 entered: within a grind of 0.2
        ("0.2=207.8, 0.2=207.3", "0.5 mm less, but 0.2 mm were entered"),
        ("0.2=207.8, 0.2=208.1", "-0.3 mm less, but 0.2 mm were entered"),  # it cannot grow
        ("0.2=207.8, 0.2, 0.3=207.3", None),  # 0.5 lost, 0.2 + 0.3 entered
        ("0.2=207.8, 0.2, 0.3=207", "0.8 mm less, but 0.5 mm were entered"),
        ("0.2=207.8, replace, 0.2=207.9", None),  # a new one has its own length
        ("0.2=207.8, fit, 0.2=207.3", "0.5 mm less, but 0.2 mm were entered"),
        ("0.2=209, 0.2=207, 0.2=206.8", None),  # the last two agree
    ],
)
def test_two_lengths_are_held_against_the_mm_between_them(text: str, told: str | None) -> None:
    found = length_remark(RD_10, deeds(text))
    assert (found is None) == (told is None)
    assert told is None or told in str(found)


def test_lengths_are_told_to_a_thousandth() -> None:
    told = str(length_remark(RD_10, deeds("0.2=207.8752, 0.2=207.1251")))
    assert "measured 207.875 mm in entry 1 and 207.125 mm in entry 2, 0.75 mm less" in told
    told = str(length_remark(RD_10, deeds("0.2=207.9, 0.125=207.275")))
    assert "0.625 mm less, but 0.125 mm were entered" in told


def test_without_a_grind_the_last_mm_are_the_tolerance() -> None:
    tool = replace(RD_10, grind=None)
    assert length_remark(tool, deeds("0.2=207.8, 0.1=207.6")) is None
    assert length_remark(tool, deeds("0.2=207.8, 0.1=207.5")) is not None


def test_lengths_are_those_since_it_was_new() -> None:
    assert [e.entry for e in lengths(deeds("0.2=207.8, replace, 0.2, 0.2=207.6"))] == [4]
