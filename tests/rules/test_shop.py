"""What is looked up in the description of a shop."""

from dataclasses import replace
from fractions import Fraction

import pytest

from pmtrack.rules.shop import Machine, Material, Meter, Shift, Supplier
from tests.build import DAY, NIGHT, shop, task

FIRMS = (Supplier("press", "Outside press service"), Supplier("crane", "Crane inspection"))


@pytest.mark.parametrize(
    ("crew", "firm"),
    [
        ("crane", FIRMS[1]),
        ("press", FIRMS[0]),
        ("lift", None),  # not described
        (None, None),  # the shop's own crew
    ],
)
def test_the_firm_that_does_a_task(crew: str | None, firm: Supplier | None) -> None:
    assert replace(shop(), suppliers=FIRMS).firm_of(task("1 year", crew=crew)) == firm


def test_a_firm_of_which_nothing_is_told_needs_no_notice() -> None:
    assert Supplier("lift", "Lift inspection").notice == 0


def test_a_meter_is_found_by_its_name() -> None:
    hits, hours = Meter("hits"), Meter("hours")
    press = Machine("TP-1", "Turret press", meters=(hits, hours))
    assert [press.meter(name) for name in ("hours", "hits", "bends")] == [hours, hits, None]


def test_a_material_of_which_nothing_is_told_wears_as_the_usual_sheet_does() -> None:
    assert Material("mild").factor == 1
    assert Material("stainless", wear=Fraction(2)).factor == 2
    assert Material("thick", thickness=Fraction("1.25")).factor == Fraction("1.25")


@pytest.mark.parametrize(("name", "shift"), [("day", DAY), ("night", NIGHT), ("late", None)])
def test_the_shift_of_a_name(name: str, shift: Shift | None) -> None:
    assert shop(shifts=(DAY, NIGHT)).shift(name) == shift
