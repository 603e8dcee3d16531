"""How well a Weibull law explains lives, some of them cut short.

With l the logarithm of each life, r failures and S the sum of their logarithms, and the law told
by its shape k, an amount t (x = ln t) and the hazard w summed up to it, the log-likelihood is
r ln k + r ln w - r k x + (k - 1) S - w sum(exp(k (l - x))). For given t and w it has one maximum
in k, as its slope in k always falls.
"""

from collections.abc import Sequence
from math import exp, log
from typing import TYPE_CHECKING, Any

from pmtrack.statistics.lives import Life
from pmtrack.statistics.roots import root
from pmtrack.statistics.weibull import Weibull

if TYPE_CHECKING:
    import numpy as np

SMALLEST, LARGEST = 0.05, 50.0  # shapes beyond which a fit is no life curve
STEEPEST = 600.0  # exponent that a float still holds


class Likelihood:
    """The lives as logarithms, measured from the longest so that units do not matter."""

    def __init__(self, lives: Sequence[Life]) -> None:
        import numpy as np

        self.unit = max(life.amount for life in lives)
        self._logs = np.log([life.amount / self.unit for life in lives])
        self._failures = sum(life.failed for life in lives)
        self._sum = float(self._logs[[life.failed for life in lives]].sum())

    def best(self) -> Weibull | None:
        """The law that explains the lives best; null if none between the outer shapes does."""
        if not self._shape_slope(SMALLEST) > 0 > self._shape_slope(LARGEST):
            return None
        shape = root(self._shape_slope, SMALLEST, LARGEST)
        return Weibull(shape, self.unit * exp(self._log_scale(shape)))

    def of_shape(self, shape: float) -> float:
        """The highest log-likelihood that any law of this shape has."""
        return self._of(shape, self._log_scale(shape), 0.0)

    def of_point(self, amount: float, hazard: float, near: float) -> float:
        """The highest log-likelihood of any law whose hazard sums up to so much at an amount.

        `near` is a shape from which to look.
        """
        x, v = log(amount / self.unit), log(hazard)

        def slope(shape: float) -> float:
            gaps = self._logs - x
            grown = float((gaps * self._grown(shape * gaps)).sum())
            return self._failures * (1 / shape - x) + self._sum - hazard * grown

        low = high = near
        while slope(low) < 0:
            low /= 2
        while slope(high) > 0:
            high *= 2
        return self._of(root(slope, low, high) if low < high else near, x, v)

    def _of(self, shape: float, x: float, v: float) -> float:
        """The log-likelihood, but for what does not depend on the law."""
        grown = float(self._grown(shape * (self._logs - x)).sum())
        fixed = self._failures * (log(shape) + v - shape * x) + (shape - 1) * self._sum
        return fixed - exp(v) * grown

    def _shape_slope(self, shape: float) -> float:
        """How fast the log-likelihood grows with the shape, at the best scale for each."""
        weights = self._grown(shape * self._logs)
        mean = float((weights * self._logs).sum() / weights.sum())
        return self._failures * (1 / shape - mean) + self._sum

    def _log_scale(self, shape: float) -> float:
        """Logarithm of the best scale for a shape: sum(t^k) / r, to the power of 1/k."""
        return log(float(self._grown(shape * self._logs).sum()) / self._failures) / shape

    def _grown(self, exponents: "np.ndarray[Any, Any]") -> "np.ndarray[Any, Any]":
        import numpy as np

        grown: np.ndarray[Any, Any] = np.exp(np.minimum(exponents, STEEPEST))
        return grown
