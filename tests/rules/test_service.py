"""Out of service and back by turns: what is refused, and which entry is named."""

import pytest

from pmtrack.rules.service import ServiceChange, turn_fault
from tests.build import ZONE, at

OUT, BACK, LATER_OUT = (
    ServiceChange(4, at("06-01T06:00"), True),
    ServiceChange(5, at("06-08T07:30"), False),
    ServiceChange(6, at("06-15T06:00"), True),
)


def new(when: str, out: bool) -> ServiceChange:
    return ServiceChange(9, at(when), out)


@pytest.mark.parametrize(
    ("changes", "made", "fault"),
    [
        ([], 9, None),
        ([OUT, BACK, LATER_OUT], None, None),
        ([OUT, new("06-02T06:00", False)], 9, None),
        (
            [OUT, new("06-02T06:00", True)],
            9,
            "DS-1 is out of service since 2026-06-01T06:00 (entry 4); 'pmtrack back DS-1' ends it, "
            "and if it is wrong, cross out entry 4 first",
        ),
        (
            [OUT, BACK, new("06-09T06:00", False)],
            9,
            "DS-1 is in service since 2026-06-08T07:30 (entry 5); if that is wrong, cross out "
            "entry 5 first",
        ),
        (
            [new("06-09T06:00", False)],
            9,
            "DS-1 is in service and was not out before; nothing to bring back",
        ),
        (  # entered late, before one that stands
            [new("05-31T06:00", True), OUT, BACK],
            9,
            "DS-1 goes out of service at 2026-06-01T06:00 (entry 4) without coming back in "
            "between; if that is wrong, cross out entry 4 first",
        ),
        (
            [OUT, new("06-03T06:00", False), BACK],
            9,
            "DS-1 comes back into service at 2026-06-08T07:30 (entry 5) without having gone out "
            "in between; if that is wrong, cross out entry 5 first",
        ),
        (  # the one between is being crossed out
            [OUT, LATER_OUT],
            None,
            "without it DS-1 goes out of service at 2026-06-15T06:00 (entry 6) without coming back "
            "since 2026-06-01T06:00 (entry 4); cross out entry 6 first",
        ),
        (
            [BACK, LATER_OUT],
            None,
            "without it DS-1 comes back into service at 2026-06-08T07:30 (entry 5) without having "
            "gone out; cross out entry 5 first",
        ),
    ],
)
def test_out_and_back_take_turns_and_an_entry_that_stands_is_named(
    changes: list[ServiceChange], made: int | None, fault: str | None
) -> None:
    assert turn_fault("DS-1", changes, made, ZONE) == fault
