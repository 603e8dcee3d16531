"""Availability, throughput and scrap against worked examples that others published."""

from fractions import Fraction

import pytest

from pmtrack.rules.downtime import Downtime
from pmtrack.rules.throughput import Made, Throughput

ZERO = Fraction(0)


def hours(scheduled: float, planned: float, unplanned: float, failed: int = 1) -> Downtime:
    """A machine's hours in minutes or hours, as the example has them."""
    lost = Fraction(str(unplanned))
    return Downtime(Fraction(str(scheduled)), Fraction(str(planned)), lost, failed, lost, lost)


def test_availability_and_performance_of_a_line() -> None:
    """Willmott and McCarthy, TPM: A Route to World-Class Performance (2001: authors and year from
    memory), page 127, in minutes: available 910, unplanned stops 115 and changeovers 12, so 783 up,
    86.0 %; standard cycle 3, 203 done, performance 77.7 % (203 / 261 = 77.78 %, printed cut)."""
    line = hours(910, 0, 115 + 12)
    assert line.operating_hours == 783
    assert float(line.share_up or 0) == pytest.approx(0.860, abs=5e-4)
    rate = Throughput((Made(line, None, Fraction(203), ZERO),)).parts_per_operating_hour
    assert float(3 * (rate or 0)) == pytest.approx(0.777, abs=1e-3)


def test_changeovers_planned_are_no_loss_of_availability() -> None:
    """The same line with its changeovers as planned stops, as ISO 22400-2 takes them out of the
    planned busy time: 783 / 898, and still 783 / 910 of the schedule."""
    line = hours(910, 12, 115)
    assert line.availability == Fraction(783, 898)
    assert line.share_up == Fraction(783, 910)


def test_availability_and_scrap_of_a_shift() -> None:
    """A public calculator page, quoted: run 420 of 480 min is 87.5 %; 400 made, 380 good is 95 %
    quality, so 5 % scrap; at an ideal cycle of 1 min, performance is 400 / 420 = 95.238 %."""
    shift = hours(480, 0, 60)
    made = Throughput((Made(shift, None, Fraction(380), Fraction(20)),))
    assert shift.availability == Fraction("0.875")
    assert made.scrap_share == Fraction("0.05")
    all_made = made.good_parts + made.scrap
    assert float(all_made / shift.operating_hours) == pytest.approx(0.95238, abs=1e-5)


@pytest.mark.parametrize(
    ("down", "expected"),
    [
        (10, 0.975610),  # achieved: MTTMA / (MTTMA + MMT) = 400 / 410
        (10 + 30, 0.909091),  # operational: MTTMA / (MTTMA + MMT + MLDT) = 400 / 440
    ],
)
def test_achieved_and_operational_availability(down: int, expected: float) -> None:
    """NASA Systems Engineering Handbook (edition of 1995: year from memory), quoted; the numbers
    are constructed: 400 h to a maintenance action of 10 h, planned or not, and 30 h of waiting."""
    planned, unplanned = down * 2, down * 3  # five actions, two of them planned
    machine = hours(5 * (400 + down), planned, unplanned, 3)
    assert float(machine.share_up or 0) == pytest.approx(expected, abs=1e-6)


def test_inherent_availability_of_a_textbook() -> None:
    """MTTF / (MTTF + MTTR) with 900 h and 100 h, a common textbook exercise: 0.9."""
    machine = hours(1000, 0, 100)
    assert machine.availability == Fraction(9, 10)
    assert machine.mtbf_hours == 900
    assert machine.mttr_hours == 100
