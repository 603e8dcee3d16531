"""The reverse arrangement test: do the times between failures grow, whatever law they follow?

NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4.
"""

from itertools import accumulate, combinations
from math import factorial

from pmtrack.statistics.histories import History
from pmtrack.statistics.trend import SURE, Trend, Verdict, judged


def reverse_arrangements(history: History, confidence: float = SURE) -> Trend:
    """Counts the pairs of gaps of which the later is longer: many where better, few where worse.

    Too few where not even gaps in perfect order would be sure enough. Equal gaps count as not
    longer.
    """
    gaps = history.gaps
    if 2 / factorial(len(gaps)) > 1 - confidence:
        return Trend(Verdict.TOO_FEW, len(gaps))
    count = sum(later > earlier for earlier, later in combinations(gaps, 2))
    shares = arrangement_shares(len(gaps))
    return judged(len(gaps), count, (sum(shares[count:]), sum(shares[: count + 1])), confidence)


def arrangement_shares(gaps: int) -> list[float]:
    """Chance of each count of reverse arrangements of so many gaps, all orders equally likely."""
    shares = [1.0]
    for size in range(2, gaps + 1):
        sums = list(accumulate(shares + [0.0] * (size - 1)))
        shares = [(s - (sums[i - size] if i >= size else 0.0)) / size for i, s in enumerate(sums)]
    return shares
