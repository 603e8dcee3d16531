"""How failures grow with the age since a service: published fits, and the limits of the shape."""

from itertools import groupby
from math import log
from random import Random

import pytest

from pmtrack.statistics.estimate import TooFew
from pmtrack.statistics.rounds_fit import FEWEST, Watched, fit_rounds
from pmtrack.statistics.weibull import Weibull
from tests.build import reference
from tests.statistics.simulated_rounds import fitted, simulated


def test_three_machines_give_the_published_power_law() -> None:
    """Crow, AMSAA Technical Report 138, 1975: three systems, each to 200 h, slope 0.615, factor
    0.461 (value from memory; recomputed to six places). Each system is a round of 200 h."""
    rows = reference("three-systems-tr138.csv")
    watched: list[Watched] = [
        (200.0, [float(row["failure_h"]) for row in group])
        for _, group in groupby(rows, key=lambda row: row["system"])
    ]
    found = fitted(watched)
    assert (found.failures, len(found.lengths)) == (36, 3)
    assert found.law.shape == pytest.approx(0.615336, abs=1e-6)
    assert found.law.scale**-found.law.shape == pytest.approx(0.460547, abs=1e-6)


def test_rounds_of_one_length_have_the_shape_of_a_formula() -> None:
    """Failures over the sum of ln(length / age): 6 / (ln 10 + ln 5 + ln 4 + ln 2 + ln 2 + 0)."""
    watched: list[Watched] = [(100, (10, 20)), (100, (25, 50)), (100, (50, 100))]
    found = fitted(watched)
    assert found.law.shape == pytest.approx(6 / log(10 * 5 * 4 * 2 * 2), rel=1e-9)
    assert 3 * found.law.hazard_up_to(100) == pytest.approx(6)  # as many as came


def test_rounds_of_several_lengths_expect_as_many_failures_as_came() -> None:
    watched: list[Watched] = [(50, (20, 45)), (120, (60, 90, 115)), (80, (70,)), (30, ())]
    found = fitted(watched)
    expected = sum(found.law.hazard_up_to(length) for length, _ in watched)
    assert expected == pytest.approx(6)
    other = found.law_of(2.0)
    assert other.shape == 2.0
    assert sum(other.hazard_up_to(length) for length, _ in watched) == pytest.approx(6)


@pytest.mark.parametrize(
    ("watched", "failures", "why"),
    [
        ([(100, (10, 20, 30, 40, 50))] * 1, 5, "5 failures between such jobs, at least 6"),
        ([(100, ())] * 9, 0, "0 failures between such jobs, at least 6"),
        ([], 0, "0 failures between such jobs, at least 6"),
        ([(100, (10, 20, 30)), (90, (10, 20, 30))], 6, "2 rounds from job to job, at least 3"),
        ([(100, (100,))] * 6, 6, "no law fits failures that all come at one age"),
    ],
)
def test_too_little_gives_no_number(watched: list[Watched], failures: int, why: str) -> None:
    found = fit_rounds(watched)
    assert isinstance(found, TooFew)
    assert (found.failures, found.needed) == (failures, FEWEST)
    assert why in found.why


def test_the_longest_is_what_three_rounds_have_reached() -> None:
    lengths = (100, 400, 90, 110, 120)
    found = fitted([(length, (40, 80)) for length in lengths])
    assert found.longest == 110


def test_the_limits_of_the_shape_hold_it_as_often_as_stated() -> None:
    """80 % limits of 400 histories of 12 rounds; three standard errors are 6 %."""
    draw, held = Random("shapes"), 0
    for _ in range(400):
        shape = fitted(simulated(draw, 12, Weibull(2.0, 100), 150)).shape
        assert shape.low is not None
        assert shape.high is not None
        held += shape.low <= 2.0 <= shape.high
    assert held / 400 == pytest.approx(0.8, abs=0.06)
