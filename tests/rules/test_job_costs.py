"""What a planned job and a breakdown cost, worked by hand."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from pmtrack.rules.job_costs import Rates, job_costs, rates_of
from pmtrack.rules.shop import Machine, Supplier
from tests.build import shop, task

PRESS = Machine("TP-1", "Turret punch press", hourly_rate=Fraction(90))
SHOP = replace(
    shop(),
    crew_rate=Fraction(60),
    suppliers=(
        Supplier("press-service", "Press", callout_cost=Fraction(450)),
        Supplier("other", ""),
    ),
)
LOST = Fraction(3, 2)  # scheduled hours of a breakdown

CASES = [  # machine down, firm, crew rate; own work, call-out, standing; breakdown; in money
    # 40 min x 60; a breakdown: 1.5 h x (90 + 60)
    (False, None, 60, (40, 0, 0), 225, True),
    (True, None, 60, (40, 0, 60), 225, True),
    # a firm's call-out in place of the crew's time
    (True, "press-service", 60, (0, 450, 60), 225, True),
    # a firm whose call-out is not told counts as our own time
    (False, "other", 60, (40, 0, 0), 225, True),
    # no rate of the crew: all in hours, one of the machine like one of a person
    (True, "press-service", None, (Fraction(2, 3), 0, Fraction(2, 3)), 3, False),
]


@pytest.mark.parametrize("case", CASES)
def test_what_a_job_of_40_minutes_and_a_breakdown_cost(case: tuple[Any, ...]) -> None:
    down, crew, rate, parts, failure, money = case
    where = replace(SHOP, crew_rate=None if rate is None else Fraction(rate))
    found = job_costs(where, PRESS, task("1 month", minutes=40, machine_down=down, crew=crew), LOST)
    assert found is not None
    assert (found.crew, found.callout, found.standing) == parts
    assert found.planned == sum(parts)
    assert found.failure == failure
    assert found.rates.money is money


def test_a_job_without_minutes_has_no_costs() -> None:
    assert job_costs(SHOP, PRESS, task("1 month"), LOST) is None
    assert job_costs(SHOP, PRESS, task("1 month", minutes=0), LOST) is None


def test_a_machine_whose_hour_has_no_worth_counts_in_hours() -> None:
    hours = Rates(Fraction(1), Fraction(1), money=False)
    assert rates_of(SHOP, replace(PRESS, hourly_rate=None)) == hours
