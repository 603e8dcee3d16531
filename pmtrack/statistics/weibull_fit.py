"""A Weibull law fitted to lives, or the reason why there is none."""

from collections.abc import Iterable
from dataclasses import dataclass

from pmtrack.statistics.estimate import TooFew
from pmtrack.statistics.lives import FEWEST, Life, too_few
from pmtrack.statistics.weibull import Weibull
from pmtrack.statistics.weibull_likelihood import LARGEST, SMALLEST, Likelihood


@dataclass(frozen=True)
class LifeCurve:
    """The law under which these lives are likeliest, and the lives it rests on."""

    law: Weibull
    lives: tuple[Life, ...]

    @property
    def failures(self) -> int:
        """How many of the lives ended in a failure."""
        return sum(life.failed for life in self.lives)


def life_curve(lives: Iterable[Life]) -> LifeCurve | TooFew:
    """The maximum-likelihood fit, those still unfailed counted as cut short (right-censored).

    No fit without three failures at different amounts, nor where the likeliest shape lies outside
    0.05 to 50: such lives are all but equal, or have nothing in common (common practice, no
    source).
    """
    known = tuple(lives)
    if refusal := too_few(known):
        return refusal
    law = Likelihood(known).best()
    if law is None:
        why = f"no life curve fits: its shape would lie outside {SMALLEST:g} to {LARGEST:g}"
        return TooFew(sum(life.failed for life in known), FEWEST, why)
    return LifeCurve(law, known)
