"""A number with its limits, and the answer where there are too few failures for one."""

from dataclasses import dataclass

CONFIDENCE = 0.9  # two-sided, as for the mean time between failures


@dataclass(frozen=True)
class Estimate:
    """A value and the limits that hold the true one as often as the confidence asked for says.

    A limit is null where the failures set none.
    """

    value: float
    low: float | None
    high: float | None


@dataclass(frozen=True)
class TooFew:
    """No number: the failures seen, how many it takes, and the reason in a sentence."""

    failures: int
    needed: int
    why: str
