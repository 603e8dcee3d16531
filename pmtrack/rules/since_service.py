"""What happened between one service of a machine and the next: operating hours and failures."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from pmtrack.rules.mtbf import Failure
from pmtrack.rules.operating import YOUNGEST, OperatingClock, failure_ages


@dataclass(frozen=True)
class Round:
    """Operating hours from a service to the next one, and the ages of the failures on the way.

    `ended` is False for the round that still runs.
    """

    hours: float
    failures: tuple[float, ...]
    ended: bool = True


def rounds(
    clock: OperatingClock, failed: Sequence[Failure], services: Iterable[datetime], now: datetime
) -> tuple[Round, ...]:
    """The rounds that begin within the watch.

    What ran before the first service is left out: nobody knows how long ago the last one was. So
    is a round without operating time, as of two services on one day.
    """
    starts = sorted({one for one in services if clock.up and clock.up[0][0] <= one <= now})
    made = []
    for start, until in pairwise([*starts, now]):
        own = [failure for failure in failed if start <= failure.start < until]
        began = clock.at(start)
        ran = clock.at(until) - began
        ages = failure_ages(clock, own, began)
        length = max(float(max(ran, YOUNGEST)), *ages, 0.0)
        if ran or own:
            made.append(Round(length, ages, until != now))
    return tuple(made)
