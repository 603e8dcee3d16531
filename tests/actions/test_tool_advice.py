"""What the lives of a family tell, and how often its limits hold the truth."""

from fractions import Fraction
from math import exp
from random import Random

import pytest

from pmtrack.actions.tool_advice import Study, ToolAdvice, costs_of, scaled
from pmtrack.rules.shop import Tool
from pmtrack.rules.tool_lives import ToolLife
from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.interval_advice import Advice, Brake, Verdict
from tests.worn_tools import lives, tool, worked

# four that failed and four cut short, in wear hits of a tool sharpened every 60,000
SEEN = lives(
    (30_000, "burr"), (42_000, "burr"), (48_000, "chipped"), (54_000, "burr"),
    (57_000, "planned"), (60_000, "planned"), (63_000, "planned"), (20_000, None),
)  # fmt: skip


def only(study: Study) -> ToolAdvice:
    """The advice for the one tool."""
    (found,) = study.advice
    return found


def test_too_few_failures_give_no_number() -> None:
    study = Study([tool()], lives((30_000, "burr"), (42_000, "chipped"), (60_000, "planned")))
    assert study.too_few is not None
    assert (study.too_few.failures, study.too_few.needed) == (2, 3)
    assert (study.curve, study.shape, study.b10, study.advice) == (None, None, None, [])
    assert [step.alive.value for step in study.steps] == pytest.approx([2 / 3, 1 / 3])


def test_no_life_at_all() -> None:
    study = Study([tool()], [])
    assert study.too_few is not None
    assert (study.longest, study.steps, study.advice) == (0, (), [])


def test_lives_cut_short_lengthen_the_curve() -> None:
    failed = [life for life in SEEN if life.failed]
    alone, all_of_them = Study([tool()], failed), Study([tool()], SEEN)
    assert alone.b10 is not None
    assert all_of_them.b10 is not None
    assert alone.scale is not None
    assert all_of_them.scale is not None
    assert all_of_them.scale.value > alone.scale.value
    assert all_of_them.failures == alone.failures == 4


def test_tools_of_other_intervals_tell_the_same_in_shares() -> None:
    """Twice the hits at twice the interval is the same share of it."""
    big = tool("RD-50", 120_000)
    halves = [SEEN[0], *(ToolLife(big, 2 * x.wear, x.began, x.ended) for x in SEEN[1:])]
    same, mixed = Study([tool()], SEEN), Study([tool(), big], halves)
    assert mixed.b10 == same.b10
    small, large = mixed.advice
    assert small == only(same)
    assert small.advice is not None
    assert large.advice is not None
    assert (small.advice.verdict, large.advice.verdict) == (Verdict.SHORTEN, Verdict.SHORTEN)


def test_dear_failures_shorten_the_interval_further() -> None:
    cheap, dear = (
        tool(regrind_cost=Fraction(10), failure_cost=Fraction(cost)) for cost in (30, 300)
    )
    first, second = Study([cheap, dear], SEEN).advice
    assert first.aim is not None
    assert second.aim is not None
    assert second.aim.age.value < first.aim.age.value
    assert (first.aim.by_costs, second.aim.by_costs) == (True, True)
    # at the least cost, hazard x area under the curve - share failed = cp / (cf - cp): 10 / 20
    curve = Study([cheap], SEEN).curve
    assert curve is not None
    age, law = first.aim.age.value, curve.law
    area = sum(law.reliability((n + 0.5) * age / 20_000) for n in range(20_000)) * age / 20_000
    assert law.hazard(age) * area - first.aim.failed == pytest.approx(0.5, abs=1e-6)


@pytest.mark.parametrize(("planned", "failure"), [(None, 50), (10, None), (0, 50), (10, 0)])
def test_costs_that_are_not_both_told_do_not_count(
    planned: int | None, failure: int | None
) -> None:
    told = {"regrind_cost": planned, "failure_cost": failure}
    costs = {key: None if n is None else Fraction(n) for key, n in told.items()}
    assert costs_of(tool("RD-10", 60_000, **costs)) is None


def test_early_failures_are_no_wear_out() -> None:
    """Half fail at once, the rest not at all: a shape far below 1."""
    study = Study(
        [tool()],
        lives((50, "chipped"), (400, "burr"), (3_000, "burr"), *[(60_000, "planned")] * 9),
    )
    assert study.shape is not None
    assert study.shape.value < 1
    assert not study.wears_out
    assert (only(study).aim, only(study).advice) == (None, None)


def test_few_failures_in_many_lives_lengthen_the_interval_by_a_step() -> None:
    """3 of 203 fail before the interval is used up, far fewer than one in ten."""
    many = lives((40_000, "burr"), (52_000, "burr"), (59_000, "burr"), *[(60_000, "planned")] * 200)
    # B10 lies beyond 80,000, but no life was longer than 60,000: at most 1.25 x 60,000
    assert only(Study([tool()], many)).advice == Advice(Verdict.LENGTHEN, 75_000, Brake.ONE_STEP)


def test_what_a_few_lives_would_lengthen_is_not_sure_yet() -> None:
    """One early burr among seven: B10 is above the interval, but its lower limit is not."""
    of = tool(every=40_000)
    few = [(35_000, "burr"), (58_000, "burr"), (62_000, "burr"), *[(62_000, "planned")] * 4]
    study = Study([of], lives(*few, of=of))
    assert study.b10 is not None
    assert study.b10.low is not None
    assert study.b10.low < 1 < 1.1 < study.b10.value
    advice = only(study).advice
    assert advice == Advice(Verdict.KEEP, 40_000, Brake.UNSURE)


def test_a_missing_limit_stays_missing_in_another_unit() -> None:
    assert scaled(Estimate(0.5, 0.25, None), 1000) == Estimate(500, 250, None)


SHAPE, SCALE, EVERY = 2.5, 100_000, 60_000
B10 = 40_651.0 / EVERY  # scale x (-ln 0.9)^(1/2.5): NIST/SEMATECH e-Handbook 8.1.6.2, recomputed
SHOPS, TOOLS, LIVES = 600, 4, 10


def simulated(draw: Random, of: Tool) -> list[ToolLife]:
    """A tool's lives: sharpened about when due unless a burr comes first; whole hits."""
    ends = []
    for _ in range(LIVES):
        burr, planned = draw.weibullvariate(SCALE, SHAPE), draw.uniform(0.94, 1.07) * EVERY
        ends.append((round(min(burr, planned)), "burr" if burr < planned else "planned"))
    return worked(of, ends)


def test_the_limits_of_b10_hold_the_known_one_as_often_as_stated() -> None:
    """600 shops of 4 tools with 10 lives each, of which 1 - exp(-0.6^2.5) fail: 24 %.

    90 % of 600 with a standard deviation of sqrt(600 x 0.9 x 0.1) = 7.3: 540 give or take 3 of it.
    On each side 5 % of 600 miss it, with a deviation of sqrt(600 x 0.05 x 0.95) = 5.3.
    """
    draw = Random("lives of tools")
    tools = [tool(f"RD-{n}") for n in range(TOOLS)]
    low = high = failed = 0
    for _ in range(SHOPS):
        study = Study(tools, [life for of in tools for life in simulated(draw, of)])
        assert len(study.lives) == TOOLS * LIVES
        assert study.b10 is not None
        failed += study.failures
        low += study.b10.low is not None and study.b10.low > B10
        high += study.b10.high is not None and study.b10.high < B10
    assert failed / (SHOPS * TOOLS * LIVES) == pytest.approx(1 - exp(-(0.6**2.5)), abs=0.02)
    assert abs((SHOPS - low - high) - 540) <= 3 * 7.3
    assert max(low, high) <= 30 + 3 * 5.3
