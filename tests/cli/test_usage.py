"""How the meters stand, on lines of 80 columns."""

import re

import pytest

from tests.command import SMALL_SHOP, Command, assert_fits, trimmed


@pytest.fixture
def beam(run: Command) -> Command:
    """The small shop, its TP-1 with a meter that is read as beam_hours."""
    file = run.store.with_name("shop.yaml")
    file.write_text(re.sub(r"\bhours\b", "beam_hours", SMALL_SHOP.read_text()))
    run.done("apply", str(file))
    return run


# By Monday 14 December 11 working days are over: 27 and 30 November, 1 to 4 and 7 to 11 December.
# At the 9,000 hits and 11 hours a day that are expected: 8,120,000 + 99,000 and 12,345.6 + 121.
LATER = """\
Machine  Meter           Usage  Last entry  A day   Estimate  Unlogged
TP-1     hits        8,120,000  2026-11-25  9,000  8,219,000         -  STALE
TP-1     beam_hours   12,345.6  2026-11-25     11     12,467         -  STALE
PB-1     cycles              -  never         900          -         -  STALE"""


def test_names_are_whole_and_estimates_rounded(beam: Command) -> None:
    beam.done("log", "TP-1", "--dial", "hits=8120000", "--dial", "beam_hours=12345.6")
    told = beam.done("usage", now="2026-12-14T14:45")
    assert_fits(told)
    assert trimmed(told) == LATER.split("\n")


def test_what_is_small_keeps_its_decimals(beam: Command) -> None:
    beam.done("log", "TP-1", "--dial", "beam_hours=12.5")
    assert "12.5" in beam.done("usage", now="2026-12-14T14:45")


def test_a_name_too_long_for_a_line_goes_on_below(run: Command) -> None:
    name = "hours_of_the_vacuum_pump"
    file = run.store.with_name("shop.yaml")
    file.write_text(re.sub(r"\bhours\b", name, SMALL_SHOP.read_text()))
    run.done("apply", str(file))
    run.done("log", "TP-1", "--dial", "hits=8120000", "--dial", f"{name}=12345.6")
    told = run.done("usage", now="2026-12-14T14:45")
    assert_fits(told)
    assert all(part in told for part in ("STALE", "8,219,000", "12,345.6"))
    column = "".join(line[9:24].strip() for line in trimmed(told)[2:4])
    assert column == name
