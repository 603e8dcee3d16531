"""What machines made for each hour, and the hits that their downtime cost."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from pmtrack.rules.downtime import Downtime, ratio, together
from pmtrack.rules.usage import ZERO


@dataclass(frozen=True)
class Throughput:
    """What was made in a period, for each hour of it, and the hits that the downtime cost.

    `hits` is the usage gained, None for a machine that counts no hits; the rates of parts are of
    good parts.
    """

    downtime: Downtime
    hits: Fraction | None
    good_parts: Fraction
    scrap: Fraction

    @property
    def hits_per_scheduled_hour(self) -> Fraction | None:
        """Hits for each hour of the schedule."""
        return each_hour(self.hits, self.downtime.scheduled_hours)

    @property
    def hits_per_operating_hour(self) -> Fraction | None:
        """Hits for each hour in which the machine was up."""
        return each_hour(self.hits, self.downtime.operating_hours)

    @property
    def parts_per_scheduled_hour(self) -> Fraction | None:
        """Good parts for each hour of the schedule."""
        return each_hour(self.good_parts, self.downtime.scheduled_hours)

    @property
    def parts_per_operating_hour(self) -> Fraction | None:
        """Good parts for each hour in which the machine was up."""
        return each_hour(self.good_parts, self.downtime.operating_hours)

    @property
    def hits_lost_unplanned(self) -> Fraction | None:
        """Hits that the unplanned hours would have made at the rate of the operating hours."""
        rate = self.hits_per_operating_hour
        return None if rate is None else self.downtime.unplanned_hours * rate

    @property
    def hits_lost_planned(self) -> Fraction | None:
        """Hits that the planned hours would have made at the rate of the operating hours."""
        rate = self.hits_per_operating_hour
        return None if rate is None else self.downtime.planned_hours * rate


def each_hour(amount: Fraction | None, per: Fraction) -> Fraction | None:
    return None if amount is None else ratio(amount, per)


@dataclass(frozen=True)
class ShopThroughput:
    """What all machines made together.

    Hits for each hour are over the hours of the machines that count hits, parts over all hours;
    hits lost are the machines' own, added up.
    """

    machines: tuple[Throughput, ...]

    @property
    def _counting(self) -> list[Throughput]:
        return [machine for machine in self.machines if machine.hits is not None]

    @property
    def downtime(self) -> Downtime:
        """The hours of all machines."""
        return together(machine.downtime for machine in self.machines)

    @property
    def hits(self) -> Fraction | None:
        """Hits of all machines that count them; None if none does."""
        return _sum(machine.hits for machine in self._counting)

    @property
    def good_parts(self) -> Fraction:
        """Good parts of all machines; a part counts on each machine that logged it."""
        return sum((machine.good_parts for machine in self.machines), ZERO)

    @property
    def scrap(self) -> Fraction:
        """Scrap of all machines."""
        return sum((machine.scrap for machine in self.machines), ZERO)

    @property
    def hits_per_scheduled_hour(self) -> Fraction | None:
        """Hits for each scheduled hour of the machines that count hits."""
        hours = sum((m.downtime.scheduled_hours for m in self._counting), ZERO)
        return each_hour(self.hits, hours)

    @property
    def hits_per_operating_hour(self) -> Fraction | None:
        """Hits for each hour in which the machines that count hits were up."""
        hours = sum((m.downtime.operating_hours for m in self._counting), ZERO)
        return each_hour(self.hits, hours)

    @property
    def parts_per_scheduled_hour(self) -> Fraction | None:
        """Good parts for each scheduled machine hour."""
        return each_hour(self.good_parts, self.downtime.scheduled_hours)

    @property
    def parts_per_operating_hour(self) -> Fraction | None:
        """Good parts for each machine hour up."""
        return each_hour(self.good_parts, self.downtime.operating_hours)

    @property
    def hits_lost_unplanned(self) -> Fraction | None:
        """Hits that the machines lost to unplanned hours."""
        return _sum(machine.hits_lost_unplanned for machine in self._counting)

    @property
    def hits_lost_planned(self) -> Fraction | None:
        """Hits that the machines lost to planned hours."""
        return _sum(machine.hits_lost_planned for machine in self._counting)


def _sum(amounts: Iterable[Fraction | None]) -> Fraction | None:
    """The sum of what is known; None of nothing."""
    known = [amount for amount in amounts if amount is not None]
    return sum(known, ZERO) if known else None
