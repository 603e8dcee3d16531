"""The Weibull law of lives: how many outlive an amount, and what most of them reach.

Formulas: NIST/SEMATECH e-Handbook of Statistical Methods, 8.1.6.2 and 8.4.1.
"""

from dataclasses import dataclass
from math import exp, gamma, log, log1p

FURTHEST = 600.0  # logarithm of a hazard that a float still holds, either way


@dataclass(frozen=True)
class Weibull:
    """Shape (above 1 wears out, 1 fails by chance, below 1 fails young) and scale.

    The scale is in units of the meter: the amount that 63.2 % do not outlive.
    """

    shape: float
    scale: float

    def reliability(self, amount: float) -> float:
        """Share that outlives an amount."""
        return exp(-self.hazard_up_to(amount))

    def hazard_up_to(self, amount: float) -> float:
        """Failures expected up to an amount, were each mended at once to the state before it."""
        if amount <= 0:
            return 0.0
        exponent = self.shape * log(amount / self.scale)
        return exp(max(-FURTHEST, min(FURTHEST, exponent)))

    def hazard(self, amount: float) -> float:
        """Failures per unit of the meter among those that reached an amount above 0."""
        return self.shape / amount * self.hazard_up_to(amount)

    def life(self, failed: float) -> float:
        """Amount by which a share has failed; B10 is that of 0.1."""
        return float(self.scale * hazard_at(failed) ** (1 / self.shape))

    @property
    def mean(self) -> float:
        """Mean life, in units of the meter."""
        return self.scale * gamma(1 + 1 / self.shape)


def hazard_at(failed: float) -> float:
    """Hazard summed up by the time that a share has failed: -ln(1 - share)."""
    return -log1p(-failed)
