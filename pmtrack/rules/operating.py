"""The age of a machine in operating hours: scheduled time in which it was not down."""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from functools import cached_property
from itertools import accumulate

from pmtrack.rules.facts import Stop
from pmtrack.rules.mtbf import Failure, failures
from pmtrack.rules.spans import Period, Stretch, hours, joined, stretch, without

YOUNGEST = Fraction(1, 10)  # hours; a failure at the very start of a watch is put here


@dataclass(frozen=True)
class OperatingClock:
    """Stretches in which the machine was up, in order and apart; it stands still between them."""

    up: tuple[Stretch, ...]

    @cached_property
    def _before(self) -> list[Fraction]:
        """Hours run before each stretch, and after the last."""
        return list(accumulate((hours([one]) for one in self.up), initial=Fraction(0)))

    @property
    def total(self) -> Fraction:
        """Operating hours of the whole watch."""
        return self._before[-1]

    def at(self, instant: datetime) -> Fraction:
        """Operating hours run from the start of the watch up to an instant."""
        place = bisect_right(self.up, instant, key=lambda one: one[0])
        if place == 0:
            return Fraction(0)
        start, end = self.up[place - 1]
        return self._before[place - 1] + hours([(start, min(instant, end))])


def operating_clock(stops: Iterable[Stop], period: Period) -> OperatingClock:
    """The clock of one machine over a period: its shifts up to now, less all its stops."""
    down = joined(stretch(stop.span, period.now) for stop in stops)
    return OperatingClock(tuple(without(period.scheduled, down)))


def failures_in(stops: Iterable[Stop], period: Period) -> list[Failure]:
    """The failures of one machine that began in a period."""
    return [failure for failure in failures(stops, period.now) if period.holds(failure.start)]


def failure_ages(
    clock: OperatingClock, failed: Iterable[Failure], start: Fraction = Fraction(0)
) -> tuple[float, ...]:
    """Operating hours from a start to each failure, in order; never quite 0."""
    return tuple(
        float(max(clock.at(failure.start) - start, YOUNGEST))
        for failure in sorted(failed, key=lambda failure: failure.start)
    )
