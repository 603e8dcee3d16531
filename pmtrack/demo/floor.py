"""The shop floor as the year goes by: what all subjects of the history share."""

from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property

from pmtrack.demo.counters import Counter, opening_counters
from pmtrack.demo.diary import Diary
from pmtrack.demo.idle import IdleSpan, idle_spans
from pmtrack.demo.outages import Outages
from pmtrack.demo.people import operator
from pmtrack.demo.profile import RUN_WITH
from pmtrack.demo.year import Year
from pmtrack.rules.facts import Moment
from pmtrack.rules.shop import Shop
from pmtrack.rules.shoptime import local_date


@dataclass
class Floor:
    """The year, the diary, the counters and the machines that stand still."""

    year: Year
    diary: Diary
    outages: Outages = field(default_factory=Outages)

    @property
    def shop(self) -> Shop:
        """The shop file's records."""
        return self.year.shop

    @cached_property
    def counters(self) -> dict[str, dict[str, Counter]]:
        """The counters of each machine by meter."""
        return {m.code: opening_counters(self.year, m) for m in self.shop.machines}

    @cached_property
    def idle(self) -> tuple[IdleSpan, ...]:
        """When machines were out of service."""
        return idle_spans(self.year)

    def is_out(self, machine: str, day: date) -> bool:
        """Whether a machine is out of service on a date."""
        return any(s.machine == machine and s.holds(day) for s in self.idle)

    def stands_still(self, machine: str, day: date) -> bool:
        """Whether a machine, or the one it runs with, is out of service on a date."""
        return self.is_out(machine, day) or self.is_out(RUN_WITH.get(machine, machine), day)

    @cached_property
    def _places(self) -> dict[str, int]:
        return {m.code: place for place, m in enumerate(self.shop.machines)}

    def operator(self, machine: str, shift: int = 0) -> str:
        """Who runs a machine on the first or a later shift."""
        return operator(self._places[machine], shift)

    def moment(self, at: datetime) -> Moment:
        """An instant with its shop date."""
        return Moment(local_date(at, self.shop.zone), at)
