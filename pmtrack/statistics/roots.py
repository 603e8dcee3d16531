"""Where a function changes its sign."""

from collections.abc import Callable


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """The root between two points at which the function's signs differ (Brent's method)."""
    from scipy.optimize import brentq

    return float(brentq(function, low, high, xtol=1e-12))
