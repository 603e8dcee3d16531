"""Failures of one machine, and the mean time between them with its 90 % bounds."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from pmtrack.rules.facts import Stop
from pmtrack.rules.spans import stretch

TAIL = 0.05  # left out on each side of the two-sided 90 % bounds


@dataclass(frozen=True)
class Failure:
    """Unplanned stops that ran into one another: from the first begin to the last end.

    While any of them runs, `running` is true and `end` is the instant asked about.
    """

    start: datetime
    end: datetime
    running: bool
    stops: tuple[Stop, ...]

    def end_by(self, limit: datetime) -> datetime:
        """The end; of one that still runs, not later than `limit`."""
        return min(self.end, limit) if self.running else self.end


def failures(stops: Iterable[Stop], now: datetime) -> list[Failure]:
    """The failures of one machine begun by `now`, in order; an end after `now` is not known yet.

    A stop that begins at the very end of another is a new failure: the other no longer runs.
    """
    result: list[Failure] = []
    for stop in sorted((s for s in stops if not s.planned and s.span.start <= now), key=_order):
        if result and (result[-1].running or stop.span.start < result[-1].end):
            result[-1] = _with(result[-1], stop, now)
        else:
            result.append(Failure(*stretch(stop.span, now), _runs(stop, now), (stop,)))
    return result


def _order(stop: Stop) -> tuple[datetime, bool, float, int]:
    """By begin; of those begun at once, the longest first, so that it takes in the others."""
    start, end = stop.span.start, stop.span.end
    length = 0.0 if end is None else (end - start).total_seconds()
    return start, end is not None, -length, stop.entry


def _with(failure: Failure, stop: Stop, now: datetime) -> Failure:
    """The failure with one more stop that began while it ran."""
    end = max(failure.end, stretch(stop.span, now)[1])
    return Failure(failure.start, end, failure.running or _runs(stop, now), (*failure.stops, stop))


def _runs(stop: Stop, now: datetime) -> bool:
    return stop.span.end is None or stop.span.end > now


def mtbf_bounds(operating_hours: Fraction, failed: int) -> tuple[float, float | None]:
    """Hours that hold the true MTBF with 90 % confidence, at a constant rate of failure.

    2T / chi2(0.95; 2n+2) and 2T / chi2(0.05; 2n), for a period that ends at a set time
    (NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1). Without a failure there is only
    the lower one; without operating hours each is 0.
    """
    # Here, as it takes 0.2 s to import.
    from scipy.special import chdtri

    doubled = 2 * float(operating_hours)
    low = doubled / float(chdtri(2 * failed + 2, TAIL))
    high = doubled / float(chdtri(2 * failed, 1 - TAIL)) if failed else None
    return low, high
