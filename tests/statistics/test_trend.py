"""Trend tests of one mended machine: published values, a reference library, and false alarms."""

from itertools import accumulate
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from surpyval import recurrent

from pmtrack.statistics.histories import History
from pmtrack.statistics.trend import Trend, Verdict, laplace, military
from tests.build import reference
from tests.statistics.samples import evenly_failing, published_failures, rising

NIST = published_failures("nist-improvement-test.csv", 1500)
THREE = published_failures("three-systems-tr138.csv", 200)
MODARRES_GAPS = (
    104, 131, 1597, 59, 4, 503, 157, 6, 118, 173, 114, 62, 101, 216, 106,
    140, 1, 102, 3, 393, 96, 232, 89, 61, 37, 293, 7, 165, 87, 99,
)  # fmt: skip
MODARRES_AGES = tuple(float(age) for age in accumulate(MODARRES_GAPS))
MODARRES = History(MODARRES_AGES, MODARRES_AGES[-1], ends_at_failure=True)


def test_gaps_agree_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.2.1 (2003 and later)."""
    assert NIST.gaps == (5, 35, 3, 132, 214, 323, 35, 48, 504, 179)


def test_a_machine_that_gets_better_agrees_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook, 8.2.3.4 (2003 and later): chi-square 37.23 with 20 degrees, 1.1 %
    (printed results from memory); Laplace worked out apart from this code: -1.32695, lower tail
    0.09226. The chances here are two-sided."""
    found = military(NIST)
    assert found.verdict is Verdict.BETTER
    assert found.failures == 10
    assert found.statistic == pytest.approx(37.2281, abs=1e-4)
    assert found.chance == pytest.approx(2 * 0.01099, abs=2e-5)
    found = laplace(NIST)
    assert found.verdict is Verdict.NO_TREND
    assert found.statistic == pytest.approx(-1.32695, abs=1e-5)
    assert found.chance == pytest.approx(2 * 0.09226, abs=2e-5)


def test_three_machines_laid_over_one_another_agree_with_a_published_example() -> None:
    """Crow, AMSAA Technical Report 138, 1975: three systems, each to 200 h; statistics worked out
    apart from this code: 117.0092 with 72 degrees, upper tail 0.000635; Laplace -3.01204."""
    found = military(THREE)
    assert (found.verdict, found.failures) == (Verdict.BETTER, 36)
    assert found.statistic == pytest.approx(117.0092, abs=1e-4)
    assert found.chance == pytest.approx(2 * 0.000635, abs=2e-6)
    assert laplace(THREE).statistic == pytest.approx(-3.01204, abs=1e-5)


def test_a_machine_that_gets_worse_agrees_with_a_published_example() -> None:
    """Documentation of the library reliability 0.9.0, ROCOF, after Reliability Engineering and
    Risk Analysis, example 5.11: U = 2.409, worsening at 95 %. The watch ended at the last failure,
    which is left out of the mean."""
    found = laplace(MODARRES)
    assert (found.verdict, found.failures) == (Verdict.WORSE, 30)
    assert found.statistic == pytest.approx(2.409438, abs=1e-6)
    assert military(MODARRES).verdict is Verdict.WORSE


@pytest.mark.parametrize("history", [NIST, THREE], ids=["nist", "three"])
def test_the_tests_are_those_of_a_reference_library(history: History) -> None:
    """surpyval 0.25, for a watch that ends at a set time."""
    ages = np.array(history.failures)
    for found, expected in [
        (laplace(history), recurrent.laplace(ages, T=history.end)),
        (military(history), recurrent.mil_hdbk_189c(ages, T=history.end)),
    ]:
        assert found.statistic == pytest.approx(expected.statistic)
        assert found.chance == pytest.approx(expected.p_value)


def test_a_watch_that_ends_at_a_failure_agrees_with_a_reference_library() -> None:
    """surpyval 0.25, without an end of its own."""
    ages = np.array(MODARRES_AGES)
    assert laplace(MODARRES).chance == pytest.approx(recurrent.laplace(ages).p_value)
    expected = recurrent.mil_hdbk_189c(ages)
    assert military(MODARRES).statistic == pytest.approx(expected.statistic)
    assert military(MODARRES).chance == pytest.approx(expected.p_value)


@pytest.mark.parametrize("test", [laplace, military])
@pytest.mark.parametrize(
    ("history", "failures"),
    [
        (History((), 100), 0),
        (History((1.0, 2.0, 3.0), 100), 3),
        (History((1.0, 2.0, 3.0, 100.0), 100, ends_at_failure=True), 4),
    ],
)
def test_three_failures_free_to_come_at_any_age_are_too_few(
    test: type, history: History, failures: int
) -> None:
    assert test(history) == Trend(Verdict.TOO_FEW, failures)


def test_failures_that_come_in_a_rush_at_the_end_are_a_turn_to_the_worse() -> None:
    """Laplace by hand: mean age 92.5 of 100; sqrt(48) x 0.425 = 2.944."""
    found = laplace(History((80.0, 92.0, 98.0, 100.0), 100))
    assert found.statistic == pytest.approx(2.944, abs=1e-3)
    assert found.verdict is Verdict.WORSE


@pytest.mark.parametrize("failures", [4, 6, 12])
def test_a_machine_without_a_trend_gives_few_false_alarms(failures: int) -> None:
    """At 95 % one in twenty; three standard errors of 2000 draws are 1.5 %."""
    chance = Random(failures)
    drawn = [evenly_failing(chance, failures, 500) for _ in range(2000)]
    for test in (laplace, military):
        alarms = sum(test(history).verdict is not Verdict.NO_TREND for history in drawn)
        assert alarms / 2000 == pytest.approx(0.05, abs=0.015)


def test_a_machine_that_clearly_gets_worse_is_mostly_found() -> None:
    """20 failures by a power law with slope 2: never called better, called worse in over 80 %."""
    chance = Random(3)
    found = [military(rising(chance, 20, 2.0)).verdict for _ in range(300)]
    assert found.count(Verdict.WORSE) > 240
    assert Verdict.BETTER not in found


ages = st.lists(st.integers(1, 999), min_size=4, max_size=30).map(sorted)


@given(ages)
def test_the_course_of_failures_read_backwards_turns_the_laplace_verdict(found: list[int]) -> None:
    forward = laplace(History(tuple(map(float, found)), 1000))
    backward = laplace(History(tuple(1000.0 - age for age in reversed(found)), 1000))
    assert forward.statistic is not None
    assert backward.statistic == pytest.approx(-forward.statistic, abs=1e-9)
    turned = {Verdict.WORSE: Verdict.BETTER, Verdict.BETTER: Verdict.WORSE}
    assert backward.verdict is turned.get(forward.verdict, forward.verdict)


@pytest.mark.parametrize(
    ("failures", "end", "at_failure"),
    [
        ((5.0, 3.0), 10.0, False),  # not in order
        ((5.0, 12.0), 10.0, False),  # after the end
        ((0.0, 5.0), 10.0, False),  # at the start
        ((), 0.0, False),  # no watch
        ((5.0,), 10.0, True),  # the last failure is not the end
        ((), 10.0, True),
    ],
)
def test_a_history_that_cannot_be_is_refused(
    failures: tuple[float, ...], end: float, at_failure: bool
) -> None:
    with pytest.raises(ValueError, match=r"failure|start"):
        History(failures, end, at_failure)


def test_failures_at_the_same_age_are_taken() -> None:
    """MIL-HDBK-189, 1981, C: two failures at 16.5 h."""
    assert [row["failure_h"] for row in reference("mil-hdbk-189-individual.csv")].count("16.5") == 2
    assert len(published_failures("mil-hdbk-189-individual.csv", 300).failures) == 27
