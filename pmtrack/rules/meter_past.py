"""The past of a meter, to be looked at as it stood on any day with an entry."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from fractions import Fraction
from functools import cached_property
from itertools import accumulate
from math import ceil

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.rate import Recent, Standing, rate_day, span_start, standing
from pmtrack.rules.usage import ZERO, Tally, day_totals, fold
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class MeterPast:
    """Usage of a meter at the end of each day with an entry, in day order.

    Days out of service are no working days, as though they had been known ahead: to idle a
    machine is a decision, not an error of a forecast.
    """

    days: tuple[date, ...]
    totals: tuple[Fraction, ...]
    from_dial: bool  # the first day begins with a dial reading, which is no increment
    workdays: Workdays
    expected: Fraction | None = None  # on a working day

    @classmethod
    def of(
        cls,
        entries: list[MeterEntry],
        wraps_at: Fraction | None,
        workdays: Workdays,
        expected: Fraction | None,
    ) -> "MeterPast":
        """The past that all entries of a meter tell; they come in time order."""
        tally, totals = Tally(), dict[date, Fraction]()
        for piece in _pieces(entries):
            totals |= day_totals(piece, tally, wraps_at)
            *_, tally = fold(piece, tally, wraps_at)
        first = next((entry for entry in entries if entry.day == min(totals)), None)
        from_dial = first is not None and first.is_dial
        return cls(tuple(totals), tuple(totals.values()), from_dial, workdays, expected)

    @cached_property
    def _entries(self) -> tuple[MeterEntry, ...]:
        """One made entry a day: what usage gained."""
        before = (ZERO, *self.totals)
        noon = (datetime.combine(day, time(12), UTC) for day in self.days)
        gains = [total - earlier for earlier, total in zip(before, self.totals, strict=False)]
        return tuple(
            MeterEntry(n, at, day, gain, is_dial=self.from_dial and n == 0)
            for n, (at, day, gain) in enumerate(zip(noon, self.days, gains, strict=True))
        )

    def standing(self, place: int) -> Standing:
        """How the meter stood at the end of a day with an entry, from entries up to then."""
        day = self.days[place]
        first = span_start(rate_day(day, day, self.workdays), self.workdays)
        start = max(bisect_left(self.days, first) - 1, 0)
        opening = Tally(self.totals[start - 1]) if start else Tally()
        recent = Recent(opening, self._entries[start : place + 1], from_first=start == 0)
        return standing(recent, day, self.workdays, self.expected)

    def reached(self, place: int, target: Fraction) -> date | None:
        """The day after that entry on which usage came to a target; None if it has not yet.

        Between two entries usage is taken to have grown evenly over the working days.
        """
        for now in range(place + 1, len(self.days)):
            if self.totals[now] >= target:
                return self._between(now, target)
        return None

    def _between(self, now: int, target: Fraction) -> date:
        start, end = self.days[now - 1], self.days[now]
        before = self.totals[now - 1]
        share = (target - before) / (self.totals[now] - before)
        count = ceil(share * self.workdays.between(start, end))
        return (self.workdays.nth_after(start, count) if count > 0 else None) or end


def _pieces(entries: list[MeterEntry]) -> Iterator[list[MeterEntry]]:
    """Entries cut where all days before are earlier than all days after.

    Order is lost by night alone, so that a piece is short, and quick to be put in order.
    """
    earliest = list(accumulate((entry.day for entry in reversed(entries)), min))[::-1]
    start, latest = 0, date.min
    for place, entry in enumerate(entries):
        if place > start and latest < earliest[place]:
            yield entries[start:place]
            start = place
        latest = max(latest, entry.day)
    if entries:
        yield entries[start:]
