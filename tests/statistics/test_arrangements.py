"""The reverse arrangement test of the gaps between failures."""

from itertools import accumulate, combinations, permutations
from random import Random

import pytest

from pmtrack.statistics.arrangements import arrangement_shares, reverse_arrangements
from pmtrack.statistics.histories import History
from pmtrack.statistics.trend import Trend, Verdict
from tests.statistics.samples import published_failures


def of_gaps(gaps: list[float]) -> History:
    """A machine that failed after each of these gaps."""
    ages = tuple(accumulate(gaps))
    return History(ages, ages[-1])


def test_the_count_agrees_with_a_published_example() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4 (2003 and later; printed result
    from memory): 33 of at most 45, one tie. Its chance one-sided, worked out apart from this code:
    0.03628; two-sided it is not sure at 95 %, yet it is at 90 %."""
    history = published_failures("nist-improvement-test.csv", 1500)
    found = reverse_arrangements(history)
    assert (found.statistic, found.failures) == (33, 10)
    assert found.chance == pytest.approx(2 * 0.03628, abs=2e-5)
    assert found.verdict is Verdict.NO_TREND
    assert reverse_arrangements(history, 0.9).verdict is Verdict.BETTER


@pytest.mark.parametrize(
    ("gaps", "critical"),
    [
        (4, (6, 6, None)),
        (5, (9, 9, 10)),
        (6, (12, 13, 14)),
        (7, (16, 17, 19)),
        (8, (20, 22, 24)),
        (9, (25, 27, 30)),
        (10, (31, 33, 36)),
        (11, (37, 39, 43)),
        (12, (43, 46, 51)),
    ],
)
def test_critical_counts_agree_with_the_exact_table(
    gaps: int, critical: tuple[int | None, ...]
) -> None:
    """Smallest count that is sure one-sided at 90, 95, 99 %; the tests of NIST/SEMATECH
    e-Handbook, 8.2.3.4, the exact values worked out apart from this code."""
    shares = arrangement_shares(gaps)
    for wrong, expected in zip((0.1, 0.05, 0.01), critical, strict=True):
        sure = [count for count in range(len(shares)) if sum(shares[count:]) <= wrong]
        assert (sure[0] if sure else None) == expected


def test_the_chances_are_those_of_all_orders_counted_out() -> None:
    orders = list(permutations(range(6)))
    counts = [sum(b > a for a, b in combinations(order, 2)) for order in orders]
    expected = [counts.count(count) / len(orders) for count in range(16)]
    assert arrangement_shares(6) == pytest.approx(expected)


def test_four_gaps_are_too_few_and_five_are_not() -> None:
    """In perfect order: 2 of 24 orders is 8.3 %, 2 of 120 is 1.7 %."""
    assert reverse_arrangements(of_gaps([1, 2, 3, 4])) == Trend(Verdict.TOO_FEW, 4)
    assert reverse_arrangements(of_gaps([1, 2, 3, 4, 5])).verdict is Verdict.BETTER
    worse = reverse_arrangements(of_gaps([5, 4, 3, 2, 1]))
    assert (worse.verdict, worse.statistic) == (Verdict.WORSE, 0)
    assert worse.chance == pytest.approx(2 / 120)
    assert reverse_arrangements(History((), 10)) == Trend(Verdict.TOO_FEW, 0)


def test_gaps_of_whatever_law_give_few_false_alarms() -> None:
    """At 95 % at most one in twenty; three standard errors of 1000 draws are 2.1 %."""
    chance = Random(5)
    drawn = [of_gaps([chance.weibullvariate(100, 0.6) for _ in range(9)]) for _ in range(1000)]
    alarms = sum(reverse_arrangements(h).verdict is not Verdict.NO_TREND for h in drawn)
    assert 10 < alarms <= 71
