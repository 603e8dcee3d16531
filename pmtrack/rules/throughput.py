"""What machines made for each hour, and what their downtime cost in hits, parts and money."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from pmtrack.rules.downtime import Downtime, ratio, together
from pmtrack.rules.usage import ZERO


@dataclass(frozen=True)
class Lost:
    """What hours down would have made and earned; None where that is not known."""

    hits: Fraction | None = None
    parts: Fraction | None = None
    money: Fraction | None = None


@dataclass(frozen=True)
class Made:
    """What one machine made in a period.

    `hits` is the usage gained, None for a machine that counts no hits; `hourly_rate` is the money
    that an hour of operating time is worth.
    """

    downtime: Downtime
    hits: Fraction | None
    good_parts: Fraction
    scrap: Fraction
    hourly_rate: Fraction | None = None

    def lost(self, hours: Fraction) -> Lost:
        """What so many hours would have made at the rate of the operating hours.

        Parts are good ones, None for a machine whose parts nobody logged.
        """
        each = self.downtime.operating_hours
        parts = self.good_parts if self.good_parts or self.scrap else None
        return Lost(
            hits=_times(each_hour(self.hits, each), hours),
            parts=_times(each_hour(parts, each), hours),
            money=_times(self.hourly_rate, hours),
        )


def each_hour(amount: Fraction | None, per: Fraction) -> Fraction | None:
    """The amount for each hour; None where there is none, or no hour."""
    return None if amount is None else ratio(amount, per)


def _times(rate: Fraction | None, hours: Fraction) -> Fraction | None:
    return None if rate is None else rate * hours


def total(amounts: Iterable[Fraction | None]) -> Fraction | None:
    """The sum of what is known; None of nothing."""
    known = [amount for amount in amounts if amount is not None]
    return sum(known, ZERO) if known else None


def lost_together(losses: Iterable[Lost]) -> Lost:
    """Several losses as one."""
    each = list(losses)
    return Lost(
        total(lost.hits for lost in each),
        total(lost.parts for lost in each),
        total(lost.money for lost in each),
    )


@dataclass(frozen=True)
class Throughput:
    """What one machine or several made together.

    Hits for each hour are over the hours of the machines that count hits, parts over all hours;
    what was lost is the machines' own, added up. A part counts on each machine that logged it.
    """

    machines: tuple[Made, ...]

    @cached_property
    def downtime(self) -> Downtime:
        """The hours of the machines."""
        return together(machine.downtime for machine in self.machines)

    @property
    def hits(self) -> Fraction | None:
        """Hits of the machines that count them; None if none does."""
        return total(machine.hits for machine in self.machines)

    @property
    def good_parts(self) -> Fraction:
        """Good parts."""
        return sum((machine.good_parts for machine in self.machines), ZERO)

    @property
    def scrap(self) -> Fraction:
        """Parts scrapped."""
        return sum((machine.scrap for machine in self.machines), ZERO)

    @property
    def scrap_share(self) -> Fraction | None:
        """Scrap of all parts made (ISO 22400-2: scrap ratio, 1 less the quality ratio)."""
        return ratio(self.scrap, self.good_parts + self.scrap)

    @property
    def hits_per_scheduled_hour(self) -> Fraction | None:
        """Hits for each hour of the schedule."""
        return each_hour(self.hits, self._counting.scheduled_hours)

    @property
    def hits_per_operating_hour(self) -> Fraction | None:
        """Hits for each hour in which the machines were up."""
        return each_hour(self.hits, self._counting.operating_hours)

    @property
    def parts_per_scheduled_hour(self) -> Fraction | None:
        """Good parts for each hour of the schedule."""
        return each_hour(self.good_parts, self.downtime.scheduled_hours)

    @property
    def parts_per_operating_hour(self) -> Fraction | None:
        """Good parts for each hour in which the machines were up."""
        return each_hour(self.good_parts, self.downtime.operating_hours)

    @cached_property
    def lost_unplanned(self) -> Lost:
        """What the hours down without a plan would have made: lost to breakdowns."""
        return lost_together(m.lost(m.downtime.unplanned_hours) for m in self.machines)

    @cached_property
    def lost_planned(self) -> Lost:
        """What the hours in planned stops would have made: lost to maintenance and set-up."""
        return lost_together(m.lost(m.downtime.planned_hours) for m in self.machines)

    @cached_property
    def _counting(self) -> Downtime:
        """The hours of the machines that count hits."""
        return together(m.downtime for m in self.machines if m.hits is not None)
