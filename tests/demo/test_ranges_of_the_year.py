"""How far the expected days of the demo's year could be relied on."""

import pytest

from pmtrack.actions.backtest import Backtest, backtest
from pmtrack.actions.view import View
from tests.demo.conftest import Demo


@pytest.fixture(scope="module")
def told(whole: Demo) -> Backtest:
    """All meters of the demo, replayed."""
    return backtest(View(whole.store, whole.today), None, lambda done, total: None)


def test_the_year_tells_where_the_ranges_are_too_narrow(told: Backtest) -> None:
    near, middle, far = told.bands
    assert near.due.verdict != "too narrow"
    assert [middle.due.verdict, far.due.verdict] == ["too narrow", "too narrow"]
    for band in (middle, far):
        assert band.likely.held.inside > band.due.held.inside * 1.1


def test_every_meter_has_cases_of_its_year(told: Backtest) -> None:
    assert len(told.meters) > 20
    for meter in told.meters:
        assert all(band.outcome.cases for band in meter.bands), (meter.machine, meter.meter)


def test_progress_is_told_meter_by_meter(whole: Demo) -> None:
    seen = list[tuple[int, int]]()
    machine = whole.shop.machines[0]
    backtest(
        View(whole.store, whole.today), machine.code, lambda done, total: seen.append((done, total))
    )
    number = len(machine.meters)
    assert seen == [(n, number) for n in range(1, number + 1)]
