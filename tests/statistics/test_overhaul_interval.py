"""The cheapest interval of a service: worked values, limits, and how fast advice comes near it."""

from math import log, sqrt
from random import Random
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.statistics.age_replacement import Costs
from pmtrack.statistics.estimate import Estimate, TooFew
from pmtrack.statistics.interval_advice import Verdict
from pmtrack.statistics.overhaul_interval import (
    Best,
    Brake,
    Move,
    best_interval,
    cost_per_hour,
    move,
)
from pmtrack.statistics.rounds_fit import RoundsFit, fit_rounds
from pmtrack.statistics.weibull import Weibull
from tests.statistics.simulated_rounds import simulated

KEEP, SHORTEN, LENGTHEN = Verdict.KEEP, Verdict.SHORTEN, Verdict.LENGTHEN
COSTS = Costs(1, 5)


def known(shape: float, low: float, high: float, scale: float = 1000) -> RoundsFit:
    """A fit of 100 failures; its rounds are such that other shapes keep the scale."""
    return RoundsFit(
        Weibull(shape, scale), Estimate(shape, low, high), 100, (scale,) * 100, (1.0, 1.0)
    )


def test_the_cheapest_interval_is_that_of_minimal_repair() -> None:
    """Barlow and Hunter, Operations Research 8, 1960 (value from memory): planned 1, failure 5,
    scale 1000, shape 2.5 give 446.6584 and 0.003731412 an hour. As a failure is taken to leave the
    age as it was, age replacement (493.0470) comes later."""
    best = best_interval(known(2.5, 2.5, 2.5), COSTS)
    assert best.interval == pytest.approx(446.6584, abs=1e-4)
    assert best.low == pytest.approx(446.6584)
    assert best.high == pytest.approx(446.6584)
    assert best.at_failure == pytest.approx(493.0470, abs=1e-3)
    assert cost_per_hour(Weibull(2.5, 1000), COSTS, 446.6584) == pytest.approx(0.003731412)


def test_the_range_is_that_of_the_shapes_and_of_how_many_failures_came() -> None:
    # 1000 x (1 / (5 x (k - 1)))^(1/k): k 2 gives 447.21, k 1.5 542.88, k 4 508.13
    best = best_interval(known(2.0, 1.5, 2.0), COSTS)
    assert best.high == pytest.approx(542.88, abs=0.01)
    few = RoundsFit(Weibull(2, 1000), Estimate(2, 2, 2), 100, (1000,) * 100, (0.25, 4.0))
    found = best_interval(few, COSTS)
    # a quarter of the failures doubles the interval, four times as many halve it: sqrt(4)
    assert found.low == pytest.approx(223.607, abs=1e-3)
    assert found.high == pytest.approx(894.427, abs=1e-3)


def test_a_shape_that_may_be_one_leaves_the_range_open() -> None:
    assert best_interval(known(2.0, 0.9, 2.5), COSTS).high is None
    without = best_interval(known(0.8, 0.7, 0.95), COSTS)
    assert (without.interval, without.low, without.high) == (None, None, None)
    unlikely = best_interval(known(0.95, 0.7, 1.5), COSTS)
    assert (unlikely.interval, unlikely.high) == (None, None)
    # the shortest of all shapes up to 1.5 is that of 1.5: 542.88
    assert unlikely.low == pytest.approx(542.88, abs=0.01)


MOVES = [  # present, cheapest, its range, longest seen, by law; the move
    (100, Best(109, 105, 120, None), 100, False, Move(KEEP, 100, Brake.NEAR)),
    (100, Best(60, 40, 90, None), 100, False, Move(SHORTEN, 60)),
    (100, Best(60, 40, 90, None), 100, True, Move(SHORTEN, 60)),
    (100, Best(60, 40, 100, None), 100, False, Move(KEEP, 100, Brake.UNSURE)),
    (100, Best(60, 40, None, None), 100, False, Move(KEEP, 100, Brake.UNSURE)),
    (100, Best(150, 100, 300, None), 100, False, Move(KEEP, 100, Brake.UNSURE)),
    (100, Best(150, 120, 300, None), 130, False, Move(LENGTHEN, 150)),
    # a quarter beyond the longest, or beyond the present one if none was as long
    (100, Best(150, 120, None, None), 110, False, Move(LENGTHEN, 137.5, Brake.ONE_STEP)),
    (100, Best(150, 120, None, None), 90, False, Move(LENGTHEN, 125, Brake.ONE_STEP)),
    # nothing is gained by the service, for all that is known
    (100, Best(None, None, None, None), 100, False, Move(LENGTHEN, 125, Brake.ONE_STEP)),
    (100, Best(None, 120, None, None), 100, False, Move(LENGTHEN, 125, Brake.ONE_STEP)),
    (100, Best(None, 90, None, None), 100, False, Move(KEEP, 100, Brake.UNSURE)),
    # the law is never stretched
    (100, Best(150, 120, 300, None), 130, True, Move(KEEP, 100, Brake.LAW)),
    (100, Best(None, None, None, None), 100, True, Move(KEEP, 100, Brake.LAW)),
]


@pytest.mark.parametrize(("present", "best", "longest", "law", "expected"), MOVES)
def test_what_to_do_with_the_present_interval(
    present: float, best: Best, longest: float, law: bool, expected: Move
) -> None:
    assert move(present, best, longest, law) == expected


@given(
    st.floats(1, 1e4),
    st.lists(st.floats(1, 1e5), min_size=3, max_size=3).map(sorted),
    st.sampled_from([(True, True), (True, False), (False, False)]),
    st.floats(1, 1e4),
)
def test_by_law_no_interval_ever_grows(
    present: float, told: list[float], known: tuple[bool, bool], longest: float
) -> None:
    low, value, high = told
    best = Best(value if known[0] else None, low, high if known[1] else None, None)
    found = move(present, best, longest, by_law=True)
    assert found.verdict is not LENGTHEN
    assert found.interval <= present


# --- simulated shops, the best interval known

LAWS = [  # shape, interval at present, costs, rounds that bring some 20 failures; scale 100
    (2.5, 150, Costs(1, 1), 8),
    (2.0, 120, Costs(1, 4), 15),
    (3.0, 60, Costs(2, 1), 90),
]


def strays(shape: float, interval: float, costs: Costs, rounds: int) -> float:
    """Half of 60 shops with so many rounds are at most so far off the best, on the logarithm."""
    draw = Random(f"shops {shape} {rounds}")
    ratio = costs.planned / (costs.failure * (shape - 1))
    truth, off = 100 * ratio ** (1 / shape), []
    for _ in range(60):
        fit = fit_rounds(simulated(draw, rounds, Weibull(shape, 100), interval))
        value = None if isinstance(fit, TooFew) else best_interval(fit, costs).interval
        off.append(9.0 if value is None else abs(log(value / truth)))
    return median(off)


@pytest.mark.parametrize(("shape", "interval", "costs", "rounds"), LAWS)
def test_the_cheapest_interval_comes_near_as_history_grows(
    shape: float, interval: float, costs: Costs, rounds: int
) -> None:
    """After some 20, 80 and 320 failures: four times the history about halves how far off it is."""
    off = [strays(shape, interval, costs, rounds * times) for times in (1, 4, 16)]
    assert off[0] < 0.3
    assert off[2] < 0.08
    assert off[0] > off[1] > off[2]
    assert sqrt(off[0] / off[2]) == pytest.approx(2, abs=1)


def moves(shape: float, present: float, rounds: int) -> list[Verdict]:
    """What 100 shops are told whose failures cost five times the service; too few: keep."""
    draw = Random(f"moves {shape} {present} {rounds}")
    told = []
    for _ in range(100):
        fit = fit_rounds(simulated(draw, rounds, Weibull(shape, 100), present))
        enough = isinstance(fit, RoundsFit)
        best = best_interval(fit, COSTS) if isinstance(fit, RoundsFit) else None
        longest = fit.longest if isinstance(fit, RoundsFit) else 0
        told.append(move(present, best, longest).verdict if enough and best else KEEP)
    return told


def test_an_interval_twice_too_long_is_shortened_soon_and_hardly_ever_lengthened() -> None:
    # shape 2.5: the best is 100 x (1 / 7.5)^0.4 = 44.7
    after = {rounds: moves(2.5, 90, rounds) for rounds in (6, 12, 24)}
    assert all(told.count(LENGTHEN) <= 2 for told in after.values())
    shortened = [told.count(SHORTEN) for told in after.values()]
    assert shortened == sorted(shortened)
    assert shortened[-1] >= 90


def test_the_best_interval_is_changed_for_the_worse_seldom() -> None:
    """Each end of the range is passed 1 time in 10; three standard errors of 100 are 9 %."""
    told = moves(2.5, 44.7, 120)
    assert told.count(SHORTEN) <= 19
    assert told.count(LENGTHEN) <= 19


def test_where_age_does_not_matter_hardly_any_interval_is_shortened() -> None:
    told = moves(1.0, 100, 60)
    assert told.count(SHORTEN) <= 10
