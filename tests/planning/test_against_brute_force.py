"""Plans of small random shops cost what the best of all plans costs, found by trying them all."""

from datetime import date

import pytest

from pmtrack.planning import choosing, solver
from pmtrack.planning.choosing import Chosen
from pmtrack.planning.drafting import chosen_ways
from pmtrack.rules.plan_steps import OWN
from tests.oracle.whole_plan import cost_of, optima
from tests.planning.small_shops import draft_of, small_case

EACH = 12


@pytest.mark.parametrize("batch", range(10))
def test_no_plan_is_cheaper(batch: int) -> None:
    for seed in range(batch * EACH, (batch + 1) * EACH):
        case = small_case(seed)
        chosen, _ = chosen_ways(draft_of(case), tolerance=0.0)
        found = optima(case)
        assert min(abs(chosen.cost - best) for best in found) < 1e-6, (seed, chosen.cost, found)
        priced = cost_of(case, own_days(chosen))
        assert abs(priced - chosen.cost) < 1e-6, (seed, priced, chosen.cost)


@pytest.mark.parametrize("batch", range(10))
def test_a_plan_made_firm_by_firm_is_as_near_as_it_says(
    batch: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As for a big shop: the firms' days first, few columns, a bound that still holds."""
    monkeypatch.setattr(choosing, "MANY", 0)
    monkeypatch.setattr(solver, "WHOLE_AT_ONCE", 0)
    for seed in range(1000 + batch * EACH, 1000 + (batch + 1) * EACH):
        assert_as_near_as_told(seed)


@pytest.mark.parametrize("batch", range(5))
def test_a_plan_with_its_visits_chosen_first_is_as_near_as_it_says(
    batch: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As for a small shop: visits while the rest takes fractions, then few columns and more."""
    monkeypatch.setattr(solver, "TINY", 0)
    for seed in range(2000 + batch * EACH, 2000 + (batch + 1) * EACH):
        assert_as_near_as_told(seed)


def assert_as_near_as_told(seed: int) -> None:
    """The plan costs what it says, and lies no farther above the best one than it says."""
    case = small_case(seed)
    chosen, _ = chosen_ways(draft_of(case), tolerance=0.01)
    found = optima(case)
    assert chosen.cost >= min(found) - 1e-6, (seed, chosen.cost, found)
    assert chosen.cost * (1 - chosen.gap) <= max(found) + 1e-6, (seed, chosen, found)
    priced = cost_of(case, own_days(chosen))
    assert abs(priced - chosen.cost) < 1e-6, (seed, priced, chosen.cost)


def own_days(chosen: Chosen) -> dict[str, list[date]]:
    """The days of the jobs of each task, by its code."""
    return {
        name.split("/")[1]: [date.fromordinal(step.head) for step in way if step.kind == OWN]
        for name, way in chosen.ways.items()
    }
