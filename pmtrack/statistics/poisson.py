"""How often something happens at a constant rate: exact limits, and what a prior belief adds."""

from dataclasses import dataclass
from math import exp, log

from pmtrack.statistics.estimate import CONFIDENCE, Estimate
from pmtrack.statistics.quantiles import chi_square
from pmtrack.statistics.roots import root

SHAPES = (-5.0, 14.0)  # logarithms of the shapes between which a belief lies


def rate(events: int, exposure: float, confidence: float = CONFIDENCE) -> Estimate:
    """Events per unit of exposure (above 0), with exact limits (Garwood, Biometrika 28, 1936).

    They hold the true rate at least as often as stated. Without an event the lower one is 0.
    """
    if exposure <= 0:
        raise ValueError(f"an exposure of {exposure} gives no rate")
    tail = (1 - confidence) / 2
    low = chi_square(2 * events, tail) / 2 / exposure if events else 0.0
    high = chi_square(2 * events + 2, 1 - tail) / 2 / exposure
    return Estimate(events / exposure, low, high)


@dataclass(frozen=True)
class RateBelief:
    """What is believed of a rate: a gamma law, as if `events` had been seen in `exposure`.

    NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.5 and 8.4.6.
    """

    events: float
    exposure: float

    @property
    def mean(self) -> float:
        """The rate expected, events per unit of exposure."""
        return self.events / self.exposure

    def after(self, events: int, exposure: float) -> "RateBelief":
        """The belief once so many events were seen in so much exposure."""
        return RateBelief(self.events + events, self.exposure + exposure)

    def below(self, rate: float) -> float:
        """Chance that the true rate is below this one."""
        from scipy.special import gammainc

        return float(gammainc(self.events, self.exposure * rate))

    def quantile(self, below: float) -> float:
        """The rate that the true one is below with this chance."""
        from scipy.special import gammaincinv

        return float(gammaincinv(self.events, below)) / self.exposure

    def at_most(self, events: int, exposure: float) -> float:
        """Chance of at most so many events in so much exposure to come (negative binomial)."""
        from scipy.special import betainc

        known = self.exposure / (self.exposure + exposure)
        return float(betainc(self.events, events + 1, known))


def belief(usual_gap: float, short_gap: float, shorter: float = 0.05) -> RateBelief:
    """The belief that the mean gap between events is as likely above as below `usual_gap`.

    It is below `short_gap` with the chance `shorter`. Raises ValueError unless
    0 < short_gap < usual_gap.
    """
    from scipy.special import gammaincinv

    if not 0 < short_gap < usual_gap:
        raise ValueError("the short gap is not between 0 and the usual one")

    def excess(logarithm: float) -> float:
        """How much wider such a law of rates is spread than wanted; it falls with the shape."""
        high, middle = gammaincinv(exp(logarithm), [1 - shorter, 0.5])
        return float(log(high / middle)) - log(usual_gap / short_gap)

    shape = exp(root(excess, *SHAPES))
    return RateBelief(shape, float(gammaincinv(shape, 0.5)) * usual_gap)
