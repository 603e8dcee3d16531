"""Plans of small random shops cost what the best of all plans costs, found by trying them all."""

from datetime import date

import pytest

from pmtrack.planning.drafting import chosen_ways
from pmtrack.rules.plan_steps import OWN
from tests.oracle.whole_plan import cost_of, optima
from tests.planning.small_shops import draft_of, small_case

EACH = 30


@pytest.mark.parametrize("batch", range(10))
def test_no_plan_is_cheaper(batch: int) -> None:
    for seed in range(batch * EACH, (batch + 1) * EACH):
        case = small_case(seed)
        chosen, _ = chosen_ways(draft_of(case), tolerance=0.0)
        found = optima(case)
        assert min(abs(chosen.cost - best) for best in found) < 1e-6, (seed, chosen.cost, found)
        days = {
            name.split("/")[1]: [date.fromordinal(s.head) for s in way if s.kind == OWN]
            for name, way in chosen.ways.items()
        }
        priced = cost_of(case, days)
        assert abs(priced - chosen.cost) < 1e-6, (seed, priced, chosen.cost)
