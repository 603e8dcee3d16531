"""Factors that turn the MTBF at the end of a watch into its exact limits, under a power law.

Crow, Confidence interval procedures for the Weibull process, Technometrics 24, 1982 (value from
memory). With n failures, L = sum ln(end / age), and z = n^2 MTBF estimated / MTBF true:

- of a watch that ends at a set time, the count has, given L, chances in proportion to
  z^n / (n! (n - 1)!), n from 1 on;
- of a watch that ends at a failure, z is the product of two gamma variables, shapes n and n - 1.
"""

from collections.abc import Callable
from functools import cache
from math import exp, lgamma, log, sqrt

from pmtrack.statistics.roots import root

SMALLEST, LARGEST = -12.0, 3.0  # of ln(z / n^2), wide enough from 4 failures on


@cache
def mtbf_factors(failures: int, confidence: float, ends_at_failure: bool) -> tuple[float, float]:
    """Lower and upper factor on the maximum-likelihood MTBF; kept, as they take a while."""
    tail = (1 - confidence) / 2
    if ends_at_failure:
        return (
            _factor(failures, lambda z: _product_above(failures, z) - tail),
            _factor(failures, lambda z: _product_above(failures, z) - (1 - tail)),
        )
    return (
        _factor(failures, lambda z: _count_up_to(failures, z) - tail),
        _factor(failures, lambda z: _count_up_to(failures - 1, z) - (1 - tail)),
    )


def _factor(failures: int, excess: Callable[[float], float]) -> float:
    """MTBF true / estimated at the z where a chance, which falls with z, is as wanted."""
    square = failures**2
    return exp(-root(lambda x: excess(square * exp(x)), SMALLEST, LARGEST))


def _count_up_to(failures: int, z: float) -> float:
    """Chance of at most so many failures, given L."""
    most = max(failures, int(4 * sqrt(z))) + 40
    logs = [n * log(z) - lgamma(n + 1) - lgamma(n) for n in range(1, most + 1)]
    top = max(logs)
    terms = [exp(term - top) for term in logs]
    return sum(terms[:failures]) / sum(terms)


def _product_above(failures: int, z: float) -> float:
    """Chance that the product of the two gamma variables is above z."""
    from scipy.integrate import quad
    from scipy.special import gammaincc, gammaincinv

    def given(share: float) -> float:
        """The chance, where the second variable has this share of its law below it."""
        return float(gammaincc(failures, z / gammaincinv(failures - 1, share)))

    return float(quad(given, 0, 1, epsabs=1e-10)[0])
