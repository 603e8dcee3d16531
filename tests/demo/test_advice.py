"""What the failures of the demo's year tell: its machines do fail more long after a service."""

import pytest

from pmtrack.actions.advice import TaskAdvice, advice_of
from pmtrack.actions.failing import Watch, watches_of
from pmtrack.actions.pm_pays import pays_of
from pmtrack.actions.three_things import things_of
from pmtrack.actions.view import View
from pmtrack.rules.sensible import DAYS, length
from pmtrack.rules.worth import Matter, first_things
from pmtrack.statistics.interval_advice import Verdict
from pmtrack.statistics.trend import Verdict as Way
from tests.demo.conftest import Demo


@pytest.fixture(scope="module")
def watches(whole: Demo) -> list[Watch]:
    """All machines over the year."""
    return watches_of(View(whole.store, whole.today), whole.now)


@pytest.fixture(scope="module")
def advised(watches: list[Watch]) -> list[TaskAdvice]:
    """The advice for every task."""
    return advice_of(one for one in watches if one.failures)


def test_the_services_of_the_demo_hold_failures_back(watches: list[Watch]) -> None:
    found = pays_of(watches)
    assert found.trend.verdict is Way.WORSE
    assert found.trend.chance is not None
    assert found.trend.chance < 0.001
    first, *_, last = found.by_share
    assert first.rate.high is not None
    assert last.rate.low is not None
    assert last.rate.low > first.rate.high


def test_advice_rests_on_failures_and_leaves_law_and_daily_checks_alone(
    advised: list[TaskAdvice],
) -> None:
    changed = [one for one in advised if one.advised]
    assert {one.verdict for one in changed} == {Verdict.SHORTEN, Verdict.LENGTHEN}
    for one in changed:
        assert one.failures >= 6
        assert one.interval.unit not in DAYS or length(one.interval) > 1
        assert not (one.task.authority and one.verdict is Verdict.LENGTHEN)


def test_three_things_of_more_than_one_sort_are_backed_by_a_command(
    watches: list[Watch], advised: list[TaskAdvice]
) -> None:
    things = first_things(things_of(watches[0].view, watches, advised))
    assert len(things) == 3
    assert {one.matter for one in things} >= {Matter.INTERVAL, Matter.CAUSE}
    assert {one.evidence.split()[0] for one in things} <= {"advice", "report", "why", "trend"}
