"""Quantiles of the laws that limits are made of."""

from statistics import NormalDist


def normal(confidence: float) -> float:
    """Deviations to either side that hold a normal value with this confidence (0.9: 1.645)."""
    return NormalDist().inv_cdf((1 + confidence) / 2)


def chi_square(degrees: float, below: float) -> float:
    """The value that a chi-square variable stays below with this chance."""
    # Here, as it takes 0.2 s to import.
    from scipy.special import chdtri

    return float(chdtri(degrees, 1 - below))


def chi_square_chance(degrees: float, value: float) -> float:
    """The chance that a chi-square variable stays below this value."""
    from scipy.special import chdtr

    return float(chdtr(degrees, value))
