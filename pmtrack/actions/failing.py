"""What is known of one machine's failures: its operating hours, its stops, its services."""

from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cached_property

from pmtrack.actions.arrival import first_in_shop
from pmtrack.actions.machine_stops import machine_stops
from pmtrack.actions.on_time import deeds
from pmtrack.actions.references import References
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.base import instant_of
from pmtrack.rules.facts import DaysOut, Stop
from pmtrack.rules.mtbf import Failure
from pmtrack.rules.operating import (
    OperatingClock,
    failure_ages,
    failures_in,
    operating_clock,
)
from pmtrack.rules.shop import Machine, Task
from pmtrack.rules.shoptime import ONE_DAY, end_of_day
from pmtrack.rules.since_service import Round, rounds
from pmtrack.rules.spans import Period, common, hours, period_of
from pmtrack.rules.usage import ZERO
from pmtrack.store.first_day import first_day

Dates = tuple[date | None, date | None]


@dataclass(frozen=True)
class Watch:
    """A machine over the dates of a period, as of now."""

    view: View
    machine: Machine
    period: Period
    stops: tuple[Stop, ...]

    @cached_property
    def clock(self) -> OperatingClock:
        """Its operating hours."""
        return operating_clock(self.stops, self.period)

    @cached_property
    def failures(self) -> list[Failure]:
        """Its unplanned stops; those that ran into one another are one."""
        return failures_in(self.stops, self.period)

    @cached_property
    def ages(self) -> tuple[float, ...]:
        """Operating hours from the start of the watch to each failure."""
        return failure_ages(self.clock, self.failures)

    @cached_property
    def lost_hours(self) -> Fraction:
        """Mean scheduled hours that a failure takes; 0 without one."""
        if not self.failures:
            return ZERO
        down = [(failure.start, failure.end_by(self.period.end)) for failure in self.failures]
        return hours(common(down, self.period.scheduled)) / len(down)

    @property
    def last(self) -> date:
        """The last date watched: of the period, or the present one."""
        return min(self.period.last, self.view.day)

    @property
    def days(self) -> int:
        """Dates watched."""
        return max((self.last - self.period.first).days + 1, 1)

    @property
    def days_in_service(self) -> int:
        """Dates watched on which the machine is not out of service at their end."""
        out = sum(_days_shared(days, self.period.first, self.last) for days in self.period.out)
        return max(self.days - out, 1)

    @property
    def hours_a_year(self) -> float:
        """Operating hours of a year like the one watched."""
        return float(self.clock.total) / self.days * 365.2425

    def services(self, task: Task) -> list[datetime]:
        """When a task was done, or one that covers it."""
        return [instant_of(deed.base.moment, self.view.shop) for deed in deeds(self.view, task)]

    def rounds(self, task: Task) -> tuple[Round, ...]:
        """From each time that a task was done to the next."""
        ahead = min(self.period.now, self.period.end)
        return rounds(self.clock, self.failures, self.services(task), ahead)


def _days_shared(out: DaysOut, first: date, last: date) -> int:
    """How many of the dates from first to last lie in a span of days out of service."""
    after = min(out.back or date.max, last + ONE_DAY)
    return max((after - max(out.first, first)).days, 0)


def watch(view: View, now: datetime, machine: Machine, dates: Dates = (None, None)) -> Watch:
    """A machine on the dates from first to last; else since the store knows of it, up to now.

    It is watched while it is in the shop. Raises Refused where the dates end before they begin.
    """
    first = dates[0] or known_since(view, machine)
    last = dates[1] or view.day
    gone = view.stored.gone_on.get(machine.code)
    if last < first:
        raise Refused(f"the period ends on {last}, before it begins on {first}")
    if gone is not None:
        last = max(min(last, gone - ONE_DAY), first)
    first = first_in_shop(view, machine, first)
    period = period_of(view.shop, view.workdays, first, last, now)
    period = period.of_machine(view.days_out(machine.code))
    return Watch(view, machine, period, tuple(machine_stops(view, machine.code)))


def watches_of(
    view: View, now: datetime, only: str | None = None, dates: Dates = (None, None)
) -> list[Watch]:
    """All machines of the shop, or one; Refused where there is none of that code."""
    machines = view.shop.machines if only is None else [References(view).machine(only)]
    return [watch(view, now, machine, dates) for machine in machines]


def as_of(view: View, now: datetime) -> datetime:
    """Now, or the end of the view's day if that came before."""
    return min(now, end_of_day(view.day, view.shop.shifts, view.shop.zone))


def known_since(view: View, machine: Machine) -> date:
    """The day from which stops of a machine are known: that of its first task.

    Where stops or shifts from before it were brought in: the first day of any of the shop's.
    """
    known = [
        view.stored.first_applied[task.name]
        for task in view.stored.tasks
        if task.machine == machine.code
    ]
    applied = min(known, default=view.day)
    own, any_of_shop = first_day(view.store, machine.code), first_day(view.store)
    if own is None or any_of_shop is None or own >= applied:
        return applied
    return max(any_of_shop, min(machine.in_service or any_of_shop, own))
