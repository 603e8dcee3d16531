"""The power law of a mended machine's failures: published values, a library, and its limits."""

from math import log
from random import Random

import numpy as np
import pytest
import surpyval
from hypothesis import assume, given
from hypothesis import strategies as st

from pmtrack.statistics.estimate import Estimate, TooFew
from pmtrack.statistics.growth_factors import mtbf_factors
from pmtrack.statistics.histories import History
from pmtrack.statistics.power_law import (
    Growth,
    PowerLaw,
    cramer_von_mises,
    grouped_power_law,
    power_law,
)
from tests.build import reference
from tests.statistics.samples import published_failures, rising
from tests.statistics.test_trend import MODARRES

NIST = published_failures("nist-improvement-test.csv", 1500)
HANDBOOK = published_failures("mil-hdbk-189-individual.csv", 300)
GROWTH_AGES = (
    2.7, 10.3, 12.5, 30.6, 57.0, 61.3, 80.0, 109.5, 125.0, 128.6, 143.8, 167.9, 229.2, 296.7,
    320.6, 328.2, 366.2, 396.7, 421.1, 438.2, 501.2, 620.0,
)  # fmt: skip


def fitted(history: History, confidence: float = 0.9) -> Growth:
    """The fit of failures that have one."""
    found = power_law(history, confidence)
    assert isinstance(found, Growth)
    return found


def test_the_law_freed_of_bias_agrees_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.2 (2003 and later): growth slope
    0.516494, a 0.2913003, MTBF 310.234 h; failures expected from 1500 to 2000 h worked out apart
    from this code."""
    law = fitted(NIST).modified
    assert 1 - law.slope == pytest.approx(0.516494, abs=1e-6)
    assert law.factor == pytest.approx(0.2913003, abs=1e-7)
    assert law.mtbf(1500) == pytest.approx(310.234, abs=1e-3)
    assert law.expected(1500, 2000) == pytest.approx(1.49234, abs=1e-4)


def test_the_likeliest_law_of_that_example_has_a_lower_mtbf() -> None:
    """The same data; slope, MTBF and the exact 80 % limits (Crow's factors 0.549104 and 2.135570)
    worked out apart from this code."""
    found = fitted(NIST, 0.8)
    assert found.law.slope == found.slope.value == pytest.approx(0.5372289, abs=1e-6)
    assert found.mtbf.value == pytest.approx(279.2106, abs=1e-3)
    assert (found.mtbf.low, found.mtbf.high) == pytest.approx((153.316, 596.274), abs=0.01)


def test_the_handbook_example_agrees() -> None:
    """MIL-HDBK-189, Reliability Growth Management, 1981, C: 27 failures in 300 h; the limits from
    its factors and from chi-square with 54 degrees."""
    found = fitted(HANDBOOK)
    assert found.slope.value == pytest.approx(0.7163393, abs=1e-6)
    assert found.law.factor == pytest.approx(0.4538419, abs=1e-6)
    assert 1 / found.mtbf.value == pytest.approx(0.0644705, abs=1e-6)
    assert found.mtbf.value == pytest.approx(15.51096, abs=1e-4)
    assert (found.mtbf.low, found.mtbf.high) == pytest.approx((9.867, 26.086), abs=1e-3)
    assert found.modified.slope == pytest.approx(0.6898082, abs=1e-6)
    assert (found.slope.low, found.slope.high) == pytest.approx((0.505632, 0.957152), abs=1e-5)
    strays = cramer_von_mises(HANDBOOK, found.modified.slope)
    assert strays == pytest.approx(0.0910611, abs=1e-6)


@pytest.mark.parametrize(
    ("failures", "confidence", "low", "high", "within"),
    [
        (27, 0.9, 0.6361467, 1.6817864, 1e-6),  # MIL-HDBK-189, 1981, C
        (23, 0.8, 0.6762, 1.5744, 1e-4),  # the same, table
        (10, 0.8, 0.549104, 2.135570, 1e-6),  # worked out apart from this code
    ],
)
def test_factors_for_a_set_end_agree_with_published_ones(
    failures: int, confidence: float, low: float, high: float, within: float
) -> None:
    found = mtbf_factors(failures, confidence, ends_at_failure=False)
    assert found == pytest.approx((low, high), abs=within)


@pytest.mark.parametrize("failures", [5, 12])
def test_factors_for_an_end_at_a_failure_are_those_of_drawn_products(failures: int) -> None:
    """The quantiles of n^2 / (gamma n x gamma n - 1), from 400,000 draws."""
    chance = np.random.default_rng(1)
    drawn = chance.gamma(failures, size=400_000) * chance.gamma(failures - 1, size=400_000)
    expected = failures**2 / np.quantile(drawn, [0.95, 0.05])
    found = mtbf_factors(failures, 0.9, ends_at_failure=True)
    assert found == pytest.approx(tuple(expected), rel=0.01)


def test_three_systems_laid_over_one_another_agree() -> None:
    """Crow, AMSAA Technical Report 138, 1975: three systems, each to 200 h; printed 0.615 and
    0.461 (from memory), the rest worked out apart from this code. One system has a third of the
    failures of all three."""
    rows = reference("three-systems-tr138.csv")
    singles = []
    for system in ("S1", "S2", "S3"):
        ages = tuple(float(row["failure_h"]) for row in rows if row["system"] == system)
        singles.append(fitted(History(ages, 200)).slope.value)
    assert singles == pytest.approx([0.508537, 0.567354, 0.886965], abs=1e-6)
    pooled = fitted(published_failures("three-systems-tr138.csv", 200))
    assert pooled.slope.value == pytest.approx(0.615336, abs=1e-6)
    assert pooled.law.factor / 3 == pytest.approx(0.460547, abs=1e-6)
    assert pooled.mtbf.value * 3 == pytest.approx(27.0855, abs=1e-3)


def test_a_watch_that_ends_at_a_failure_agrees() -> None:
    """Documentation of the library reliability 0.9.0: Reliability growth, example 1 (slope
    0.61421, factor 0.42394, MTBF 45.883, cumulative 28.18182); ROCOF, the example after
    Reliability Engineering and Risk Analysis, 5.11 (slope 1.588, factor 3.703e-05)."""
    found = fitted(History(GROWTH_AGES, GROWTH_AGES[-1], ends_at_failure=True))
    assert found.slope.value == pytest.approx(0.61421, rel=1e-5)
    assert found.law.factor == pytest.approx(0.42394, rel=2e-5)
    assert found.mtbf.value == pytest.approx(45.883, rel=1e-5)
    assert 620 / found.law.expected(0, 620) == pytest.approx(28.18182)
    # 0.61421 / 44 times 28.144 and 58.124, the chi-square quantiles with 42 degrees
    assert (found.slope.low, found.slope.high) == pytest.approx((0.39287, 0.81137), abs=2e-5)
    worse = fitted(MODARRES)
    assert worse.slope.value == pytest.approx(1.588053, abs=1e-6)
    assert worse.law.factor == pytest.approx(3.703e-05, rel=1e-3)


def test_failures_counted_by_intervals_agree() -> None:
    """MIL-HDBK-189, 1981, grouped example: five intervals of 20 h; chi-square worked out apart
    from this code."""
    rows = reference("mil-hdbk-189-grouped.csv")
    ends = [float(row["interval_end_h"]) for row in rows]
    counts = [int(row["failures"]) for row in rows]
    law = grouped_power_law(ends, counts)
    assert isinstance(law, PowerLaw)
    assert (law.slope, law.factor) == pytest.approx((0.752851, 1.529306), abs=1e-5)
    assert 1 / law.mtbf(100) == pytest.approx(0.3688969, abs=1e-5)
    assert law.mtbf(100) == pytest.approx(2.710784, abs=1e-5)
    assert 20 / law.expected(80, 100) == pytest.approx(2.639426, abs=1e-5)
    expected = [law.expected(end - 20, end) for end in ends]
    assert expected == pytest.approx([14.587, 9.994, 8.775, 8.066, 7.577], abs=1e-3)
    off = sum((count - e) ** 2 / e for count, e in zip(counts, expected, strict=True))
    assert off == pytest.approx(5.4504, abs=1e-4)


@pytest.mark.parametrize("history", [NIST, HANDBOOK], ids=["nist", "handbook"])
def test_the_fit_is_that_of_a_reference_library(history: History) -> None:
    """surpyval 0.25, Crow-AMSAA: expected failures (t / alpha) ^ beta."""
    ages = np.array([*history.failures, history.end])
    model = surpyval.CrowAMSAA.fit(ages, c=[0] * len(history.failures) + [1])
    alpha, beta = model.params
    law = fitted(history).law
    assert law.slope == pytest.approx(float(beta), rel=1e-5)
    assert law.factor == pytest.approx(float(alpha**-beta), rel=1e-4)


@pytest.mark.parametrize(("ends_at_failure", "most"), [(False, 0.98), (True, 0.94)])
def test_true_mtbf_and_slope_lie_inside_their_limits_as_often_as_stated(
    ends_at_failure: bool, most: float
) -> None:
    """90 % limits; three standard errors of 500 draws are 4 %. Slope 1.4; to the end at 1000 h a
    mean of 9 failures, or else the first 9. At a set end the count can only be whole, so that the
    limits of the MTBF hold it more often. Fewer than 5 are drawn again: 5 % of the draws."""
    chance, held_mtbf, held_slope = Random(11), 0, 0
    for _ in range(500):
        history, mtbf = drawn(chance, ends_at_failure)
        found = fitted(history)
        held_mtbf += inside(found.mtbf, mtbf)
        held_slope += inside(found.slope, 1.4)
    assert 0.86 <= held_mtbf / 500 <= most
    assert held_slope / 500 == pytest.approx(0.9, abs=0.04)


def inside(found: Estimate, true: float) -> bool:
    """Whether the true value lies between the limits."""
    return found.low is not None and found.high is not None and found.low <= true <= found.high


def drawn(chance: Random, ends_at_failure: bool) -> tuple[History, float]:
    """Failures by 9 (t / 1000) ^ 1.4, at least five of them, and the true MTBF at their end."""
    law = PowerLaw(9, 1000, 1.4)
    while True:
        ages: list[float] = []
        expected = chance.expovariate(1)
        while len(ages) < 9 if ends_at_failure else expected < 9:
            ages.append(1000 * (expected / 9) ** (1 / 1.4))
            expected += chance.expovariate(1)
        if len(ages) >= 5:
            end = ages[-1] if ends_at_failure else 1000.0
            return History(tuple(ages), end, ends_at_failure), law.mtbf(end)


@pytest.mark.parametrize(
    ("history", "failures"),
    [
        (History((), 100), 0),
        (History((1.0, 2.0, 3.0), 100), 3),
        (History((1.0, 2.0, 3.0, 100.0), 100, ends_at_failure=True), 4),
        (History((100.0, 100.0, 100.0, 100.0), 100), 4),  # all at the very end: no slope
        (History((99.99, 99.99, 99.99, 100.0), 100), 4),  # a slope above 10,000
    ],
)
def test_too_few_failures_give_no_law(history: History, failures: int) -> None:
    found = power_law(history)
    assert isinstance(found, TooFew)
    assert (found.failures, found.needed) == (failures, 4)


@pytest.mark.parametrize("counts", [[1, 1, 1], [0, 0, 9], [9, 0, 0], [0, 0, 0]])
def test_too_few_counted_failures_give_no_law(counts: list[int]) -> None:
    found = grouped_power_law([10, 20, 30], counts)
    assert isinstance(found, TooFew)
    assert found.failures == sum(counts)


@given(st.integers(5, 40), st.floats(0.3, 4), st.floats(1e-3, 1e3), st.randoms())
def test_the_fit_follows_the_unit(failures: int, slope: float, unit: float, chance: Random) -> None:
    history = rising(chance, failures, slope)
    assume(history.failures[0] < 900)
    other = fitted(History(tuple(age * unit for age in history.failures), 1000 * unit))
    plain = fitted(history)
    assert other.slope.value == pytest.approx(plain.slope.value)
    assert other.mtbf.value == pytest.approx(plain.mtbf.value * unit)
    assert plain.law.expected(0, 1000) == pytest.approx(failures)
    assert inside(plain.mtbf, plain.mtbf.value)
    assert inside(plain.slope, plain.slope.value)


@given(st.integers(5, 30), st.floats(0.5, 3), st.randoms())
def test_fine_intervals_give_the_law_of_the_ages(
    failures: int, slope: float, chance: Random
) -> None:
    """Cut every hour of 1000, the failures moved to the middle of their hour."""
    hours = [min(999, int(age)) for age in rising(chance, failures, slope).failures]
    counts = [hours.count(hour) for hour in range(1000)]
    assume(min(hours) >= 5 and len(set(hours)) > 2 and min(hours) < 900)
    grouped = grouped_power_law([hour + 1.0 for hour in range(1000)], counts)
    ages = fitted(History(tuple(hour + 0.5 for hour in hours), 1000)).law
    assert isinstance(grouped, PowerLaw)
    assert log(grouped.slope / ages.slope) == pytest.approx(0, abs=0.02)
