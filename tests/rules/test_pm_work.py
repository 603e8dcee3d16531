"""Hours and cost of the maintenance done, worked by hand."""

from fractions import Fraction

import pytest

from pmtrack.rules.pm_work import (
    Rates,
    WorkTotals,
    done_work,
    tally_work,
    work_together,
)
from pmtrack.rules.shop import Supplier, Task
from tests.build import day, task

OWN = task("1 week", minutes=20)
UNTIMED = task("1 week")
FIRM = task("6 months", minutes=420, crew="press-service")
OTHER_FIRM = task("1 year", minutes=60, crew="crane-inspector")
RATES = Rates(
    Fraction(60), {"press-service": Supplier("press-service", "Press", 21, Fraction(450))}
)


@pytest.mark.parametrize(
    ("done", "hours", "cost", "why"),
    [
        ([(OWN, 3, 30)], Fraction(1, 2), 30, "half an hour at 60"),
        ([(OWN, 3, None)], Fraction(1, 3), 20, "as planned where nobody entered minutes"),
        ([(OWN, 3, 0)], 0, 0, "entered as 0 is 0"),
        ([(UNTIMED, 3, None)], 0, 0, "of unknown length"),
        ([(FIRM, 3, 240)], 4, 450, "a firm costs its call-out, not the crew's rate"),
        ([(FIRM, 3, 60), (FIRM, 3, 60)], 2, 450, "two jobs of one visit"),
        ([(FIRM, 3, 60), (FIRM, 4, 60)], 2, 900, "two visits"),
        ([(OTHER_FIRM, 3, None)], 1, 0, "a firm of which no cost is known"),
        ([(OWN, 3, 60), (FIRM, 3, 60), (OTHER_FIRM, 3, 60)], 3, 510, "all on one day"),
    ],
)
def test_what_work_took_and_cost(
    done: list[tuple[Task, int, int | None]], hours: Fraction | int, cost: int, why: str
) -> None:
    rows = [(job, day(f"06-{number:02}"), minutes) for job, number, minutes in done]
    found = tally_work(done_work(rows, RATES))
    assert found == WorkTotals(len(done), Fraction(hours), Fraction(cost)), why


def test_a_visit_to_two_machines_is_shared_by_its_jobs() -> None:
    """Three jobs of one visit for 450: 150 each, two of them on TP-1."""
    brake = task("6 months", machine="PB-1", minutes=60, crew="press-service")
    found = done_work([(job, day("06-03"), None) for job in (FIRM, FIRM, brake)], RATES)
    assert [work.machine for work in found] == ["TP-1", "TP-1", "PB-1"]
    assert [work.cost for work in found] == [Fraction(150)] * 3


def test_without_a_rate_no_cost_is_known() -> None:
    found = tally_work(done_work([(OWN, day("06-03"), 30), (FIRM, day("06-03"), 60)], Rates()))
    assert found == WorkTotals(2, Fraction(3, 2), None)


def test_machines_together() -> None:
    some = [WorkTotals(2, Fraction(3), Fraction(10)), WorkTotals(1, Fraction(1), None)]
    assert work_together(some) == WorkTotals(3, Fraction(4), Fraction(10))
    assert work_together([]) == WorkTotals()
