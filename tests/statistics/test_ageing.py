"""Failures by age since a service: bins of equal operating time, and the test that needs no law."""

from math import sqrt
from random import Random

import pytest

from pmtrack.statistics.ageing import Exposure, Group, ageing, by_age
from pmtrack.statistics.poisson import rate
from pmtrack.statistics.trend import Verdict
from pmtrack.statistics.weibull import Weibull
from tests.statistics.simulated_rounds import simulated

# two rounds to 100 and to 60: up to 60 two are watched, from there one
TWO = Group(((100.0, (10.0, 70.0, 90.0)), (60.0, (50.0,))))


@pytest.mark.parametrize(
    ("age", "hours"), [(0, 0), (30, 60), (60, 120), (80, 140), (100, 160), (500, 160)]
)
def test_the_hours_watched_up_to_an_age(age: float, hours: float) -> None:
    exposure = Exposure(TWO.watched)
    assert exposure.up_to(age) == pytest.approx(hours)
    assert (exposure.total, exposure.oldest) == (160, 100)


def test_bins_hold_the_same_operating_time() -> None:
    # 160 h in four: 40 h each, up to age 20, 40, 60 (two watched) and 100 (one)
    found = by_age([TWO], 4)
    assert [one.end for one in found] == pytest.approx([20, 40, 60, 100])
    assert [one.failures for one in found] == [1, 0, 1, 2]
    assert [one.hours for one in found] == [40] * 4
    assert found[3].rate == rate(2, 40)  # NIST/SEMATECH e-Handbook 8.4.5.1 by its own tests
    assert found[0].start == 0


def test_machines_are_put_together_by_shares_of_their_intervals() -> None:
    # one of 100 h intervals, one of 400 h; each one round of one interval: 500 h in all
    groups = [Group(((1.0, (0.9,)),), 100), Group(((1.0, (0.2, 0.6)),), 400)]
    found = by_age(groups, 2)
    assert [one.end for one in found] == pytest.approx([0.5, 1.0])
    assert [(one.hours, one.failures) for one in found] == [(250, 1), (250, 2)]


def test_without_rounds_there_are_no_bins() -> None:
    assert by_age([]) == ()
    assert by_age([Group(())]) == ()
    assert ageing([Group(())]).verdict is Verdict.TOO_FEW


def test_each_failure_counts_by_the_hours_watched_up_to_its_age() -> None:
    # ages 10, 50, 70, 90: 20, 100, 130, 150 of 160 h, mean 100/160 = 0.625
    found = ageing([TWO])
    assert found.failures == 4
    assert found.statistic == pytest.approx(sqrt(48) * 0.125)
    assert found.verdict is Verdict.NO_TREND


def test_three_failures_are_too_few() -> None:
    found = ageing([Group(((100.0, (10.0, 20.0, 30.0)),))])
    assert (found.verdict, found.failures) == (Verdict.TOO_FEW, 3)


@pytest.mark.parametrize(("shape", "verdict"), [(2.5, Verdict.WORSE), (0.5, Verdict.BETTER)])
def test_failures_that_grow_or_fall_with_age_are_seen(shape: float, verdict: Verdict) -> None:
    draw = Random("seen")
    groups = [Group(tuple(simulated(draw, 30, Weibull(shape, scale), 100))) for scale in (60, 90)]
    assert ageing(groups).verdict is verdict


def test_a_machine_that_fails_more_and_is_served_less_often_does_not_mislead() -> None:
    """Neither machine's failures depend on the age; a trend is seen at most 1 time in 20, three
    standard errors of 300 draws are 4 %."""
    draw, seen = Random("mislead"), 0
    for _ in range(300):
        groups = [
            Group(tuple(simulated(draw, 20, Weibull(1.0, 100), 50))),
            Group(tuple(simulated(draw, 5, Weibull(1.0, 20), 200))),
        ]
        seen += ageing(groups).verdict is not Verdict.NO_TREND
    assert seen / 300 <= 0.09
