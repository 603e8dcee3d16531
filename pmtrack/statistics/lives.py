"""Lives of wear parts: how much each had run when it failed, or when it was last seen unfailed."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite

from pmtrack.statistics.estimate import TooFew

FEWEST = 3  # different amounts at failure; common practice, no source


@dataclass(frozen=True)
class Life:
    """One life in units of its meter (wear hits, hours); `failed` is false if it was cut short.

    Cut short is a planned sharpening, or a part still in use: until then it had not failed.
    Raises ValueError for an amount that is not above 0: it says nothing of wear.
    """

    amount: float
    failed: bool

    def __post_init__(self) -> None:
        if not (isfinite(self.amount) and self.amount > 0):
            raise ValueError(f"a life of {self.amount} is none")


def too_few(lives: Iterable[Life]) -> TooFew | None:
    """Why no life curve is fitted to these lives; null if there are enough failures."""
    amounts = [life.amount for life in lives if life.failed]
    different = len(set(amounts))
    if different >= FEWEST:
        return None
    return TooFew(
        len(amounts),
        FEWEST,
        f"failures at {different} different amounts, {FEWEST} are needed for a life curve",
    )
