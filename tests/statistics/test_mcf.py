"""The mean cumulative function of a fleet: published values, a library, and its laws."""

from itertools import pairwise
from math import exp
from random import Random

import numpy as np
import pytest
import surpyval
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.statistics.histories import History
from pmtrack.statistics.kaplan_meier import product_limit
from pmtrack.statistics.lives import Life
from pmtrack.statistics.mcf import MeanCount, mean_cumulative
from tests.build import reference
from tests.statistics.samples import evenly_failing

FIVE = [
    History((5, 10, 15), 17),
    History((6, 13, 17), 19),
    History((12, 20, 25), 26),
    History((13, 15), 24),
    History((16, 22, 25), 28),
]


def engines() -> list[History]:
    """The valve seats of 41 engines; the row with event 0 is the end of the watch."""
    rows = reference("valve-seat-replacements.csv")
    ends = {row["engine"]: float(row["age_days"]) for row in rows if row["event"] == "0"}
    replaced: dict[str, list[float]] = {engine: [] for engine in ends}
    for row in rows:
        if row["event"] == "1":
            replaced[row["engine"]].append(float(row["age_days"]))
    return [History(tuple(replaced[engine]), end) for engine, end in ends.items()]


def by_age(steps: tuple[MeanCount, ...]) -> dict[float, MeanCount]:
    """The steps by their age."""
    return {step.age: step for step in steps}


@pytest.mark.parametrize(
    ("age", "at_risk", "mean"),
    [
        (61, 41, 0.024390),
        (139, 41, 0.219512),
        (298, 41, 0.463415),
        (404, 40, 0.683537),
        (497, 40, 0.808537),
        (573, 40, 0.958537),
        (581, 38, 0.984852),
        (586, 34, 1.014264),
        (604, 22, 1.059719),
        (646, 13, 1.320465),
        (653, 9, 1.542688),
    ],
)
def test_the_valve_seats_agree(age: float, at_risk: int, mean: float) -> None:
    """Nelson, Confidence limits for recurrence data, Technometrics 37, 1995: its data; the means
    worked out apart from this code, the library surpyval 0.25 agrees."""
    step = by_age(mean_cumulative(engines()))[age]
    assert step.at_risk == at_risk
    assert step.mean.value == pytest.approx(mean, abs=1e-6)


def test_all_48_replacements_of_41_engines_are_counted() -> None:
    """Nelson, Technometrics 37, 1995."""
    assert len(engines()) == 41
    assert sum(step.failures for step in mean_cumulative(engines())) == 48


def test_five_systems_agree_with_a_published_example() -> None:
    """Documentation of the library reliability 0.9.0, Mean cumulative function, example 1: the
    means. Its variances take failures of one system as independent; the robust ones (Lawless and
    Nadeau, 1995) worked out apart from this code: 0.048 at 6 and 0.145185 at the end."""
    steps = by_age(mean_cumulative(FIVE))
    expected = {
        5: 0.2, 6: 0.4, 10: 0.6, 12: 0.8, 13: 1.2, 15: 1.6, 16: 1.8, 17: 2.0,
        20: 2.33333, 22: 2.66667, 25: 3.66667,
    }  # fmt: skip
    assert {age: step.mean.value for age, step in steps.items()} == pytest.approx(
        expected, abs=1e-5
    )
    assert steps[17].at_risk == 5  # one system both fails and another ends
    assert steps[6].variance == pytest.approx(0.048, abs=1e-6)
    assert steps[25].variance == pytest.approx(0.145185, abs=1e-6)


def test_the_limits_agree_by_hand() -> None:
    """At 6: mean 0.4, deviation sqrt(0.048) = 0.219089; 1.644854 x 0.219089 / 0.4 = 0.900924."""
    mean = by_age(mean_cumulative(FIVE, 0.9))[6].mean
    expected = (0.4 / exp(0.900924), 0.4 * exp(0.900924))
    assert (mean.low, mean.high) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize("fleet", [FIVE, engines()], ids=["five", "engines"])
def test_means_and_limits_are_those_of_a_reference_library(fleet: list[History]) -> None:
    """surpyval 0.25, 90 % on the logarithm."""
    rows = [(age, i, 0) for i, h in enumerate(fleet) for age in h.failures]
    rows = sorted([*rows, *((h.end, i, 1) for i, h in enumerate(fleet))])
    ages, systems, ends = (np.array(column) for column in zip(*rows, strict=True))
    model = surpyval.NonParametricCounting.fit(ages, i=systems, c=ends)
    steps = mean_cumulative(fleet, 0.9)
    at = [step.age for step in steps]
    assert [step.mean.value for step in steps] == pytest.approx(list(model.mcf(at)))
    limits = [(step.mean.low, step.mean.high) for step in steps]
    assert np.array(limits, dtype=float) == pytest.approx(model.mcf_cb(at, alpha_ci=0.1))


def test_one_machine_alone_has_no_limits() -> None:
    (step,) = mean_cumulative([History((5,), 10)])
    assert (step.mean.value, step.mean.low, step.mean.high) == (1, None, None)


def test_a_fleet_without_failures_has_no_step() -> None:
    assert mean_cumulative([History((), 10), History((), 20)]) == ()


@given(st.lists(st.tuples(st.integers(1, 60), st.booleans()), min_size=1, max_size=20))
def test_systems_that_end_at_their_first_failure_make_the_product_limit_curve(
    ended: list[tuple[int, bool]],
) -> None:
    """Each step up of the mean is the share that the curve of lives loses there."""
    fleet = [History((age,) if failed else (), age) for age, failed in ended]
    curve = product_limit(Life(age, failed) for age, failed in ended)
    means = [0.0, *(step.mean.value for step in mean_cumulative(fleet))]
    left = 1.0
    for (before, after), step in zip(pairwise(means), curve, strict=True):
        left *= 1 - (after - before)
        assert step.alive.value == pytest.approx(left, abs=1e-9)


@given(st.lists(st.lists(st.integers(1, 99), max_size=6).map(sorted), min_size=2, max_size=8))
def test_machines_watched_as_long_give_the_plain_mean(fleet: list[list[int]]) -> None:
    """The count of failures by machines; its variance is that of a mean, n in the divisor."""
    steps = mean_cumulative(History(tuple(ages), 100) for ages in fleet)
    for step in steps:
        counts = [sum(age <= step.age for age in ages) for ages in fleet]
        mean = sum(counts) / len(counts)
        assert step.mean.value == pytest.approx(mean)
        spread = sum((count - mean) ** 2 for count in counts) / len(counts) ** 2
        assert step.variance == pytest.approx(spread, abs=1e-9)
        assert step.mean.low is not None
        assert step.mean.high is not None
        assert step.mean.low <= step.mean.value <= step.mean.high


def test_the_true_mean_lies_inside_its_limits_about_as_often_as_stated() -> None:
    """20 machines, each with its own count from 0 to 10, so a mean of 5; 90 % limits. Robust limits
    of few machines are a little narrow: 84 to 94 % of 400 draws."""
    chance, held = Random(2), 0
    for _ in range(400):
        fleet = [evenly_failing(chance, chance.randint(0, 10), 100) for _ in range(20)]
        end = mean_cumulative(fleet)[-1].mean
        held += end.low is not None and end.high is not None and end.low <= 5 <= end.high
    assert 0.84 <= held / 400 <= 0.94
