"""Raw hits that reach the punches of a machine, by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest

from pmtrack.rules.allocated import Allocation, raw_hits
from pmtrack.rules.facts import ShiftLog, ToolCount, ToolEvent
from pmtrack.rules.wear_hits import ToolRecord
from tests.build import at, day
from tests.rules.test_wear import FACTORS, RD_10, counted, event, log, record

DIE = replace(RD_10, code="RD-10.die", die_of="RD-10")
IN_TP_2 = event("06-01T05:00", "fit", machine="TP-2", station="T1")


@pytest.mark.parametrize(
    ("facts", "hits"),
    [
        ([], 0),
        ([log("06-01", "DOOR", 100)], 1400),  # 14 a part, in stainless: not weighed
        ([log("06-01", "LID", 100, scrap=7)], 535),
        ([log("05-29", "LID", 100), log("06-01", "LID", 10)], 50),  # before the span: not
        ([log("06-01", "LID", 100), counted("06-01", 300, "stainless")], 300),
        ([counted("05-29", 300)], 0),
        ([log("06-01", "LID", 100, machine="TP-2"), IN_TP_2], 0),  # on another machine
        ([counted("06-02", 300), IN_TP_2], 0),
        ([counted("06-02", 300), replace(IN_TP_2, at=at("06-02T12:00"))], 0),  # at that very time
        ([counted("06-02", 300), replace(IN_TP_2, at=at("06-02T12:01"))], 300),  # only later
        ([counted("06-02", 300), replace(IN_TP_2, machine=None)], 300),  # in its own machine
    ],
)
def test_hits_are_those_of_the_machine_and_span_not_weighed(
    facts: list[ToolCount | ShiftLog | ToolEvent], hits: int
) -> None:
    assert raw_hits(record(*facts), FACTORS, "TP-1", day("06-01")) == hits


def test_hits_on_another_machine_are_that_machines() -> None:
    kept = record(log("06-01", "LID", 100, machine="TP-2"), counted("06-02", 30), IN_TP_2)
    assert raw_hits(kept, FACTORS, "TP-2", day("06-01")) == 530


def test_a_dies_hits_are_its_punchs_and_what_counts_a_meter_takes_none() -> None:
    logs = (log("06-01", "LID", 100),)
    metered = replace(RD_10, counts="hits")
    for tool in (DIE, metered):
        kept = ToolRecord(tool, (counted("06-02", 300),), logs)
        assert raw_hits(kept, FACTORS, "TP-1", day("06-01")) == 0


@pytest.mark.parametrize(
    ("hits", "allocated", "left", "share"),
    [(1000, 900, 100, Fraction(1, 10)), (1000, 1000, 0, 0), (900, 1000, -100, Fraction(-1, 9)),
     (0, 50, -50, None), (1, 1, 0, 0)],
)  # fmt: skip
def test_what_is_left_over(hits: int, allocated: int, left: int, share: Fraction | None) -> None:
    first, zero = day("06-01"), Fraction(0)
    found = Allocation("TP-1", first, first, Fraction(hits), zero, Fraction(allocated))
    assert [found.unallocated, found.share] == [left, share]


def test_programs_of_a_machine_that_never_had_the_tool_give_it_none() -> None:
    # LID's 500 hits on TP-3 were not made with it, and the 300 counted are TP-1's
    kept = record(log("06-01", "LID", 100, machine="TP-3"), counted("06-02", 300))
    assert raw_hits(kept, FACTORS, "TP-3", day("06-01")) == 0
