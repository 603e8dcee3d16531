"""A straight line through points of which some stray far (Theil 1950, Sen 1968)."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isnan
from warnings import catch_warnings, simplefilter

from pmtrack.statistics.estimate import CONFIDENCE, Estimate

FEWEST = 8  # points; common practice, no source
FEWEST_PLACES = 3  # different places among them; common practice, no source


@dataclass(frozen=True)
class Line:
    """The median slope over all pairs of points with its limits, and the height at 0."""

    slope: Estimate
    at_zero: float
    points: int


@dataclass(frozen=True)
class TooFewPoints:
    """No line: the points there are, how many it takes, and the reason in a sentence."""

    points: int
    needed: int
    why: str


def robust_line(
    across: Sequence[float], up: Sequence[float], confidence: float = CONFIDENCE
) -> Line | TooFewPoints:
    """The line that up to 29 % of points may stray from without moving it far.

    A slope is an association, not yet a cause.
    """
    places = len(set(across))
    if len(across) < FEWEST or places < FEWEST_PLACES:
        why = (
            f"{len(across)} points at {places} different places, "
            f"{FEWEST} at {FEWEST_PLACES} are needed for a slope"
        )
        return TooFewPoints(len(across), FEWEST, why)
    # Here, as it takes half a second to import.
    from scipy.stats import theilslopes

    with catch_warnings():
        simplefilter("ignore", RuntimeWarning)  # where too many equal points set no limits
        found = theilslopes(up, across, confidence)
    slope = Estimate(float(found.slope), _known(found.low_slope), _known(found.high_slope))
    return Line(slope, float(found.intercept), len(across))


def _known(limit: float) -> float | None:
    return None if isnan(limit) else float(limit)
