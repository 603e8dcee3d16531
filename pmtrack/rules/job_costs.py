"""What a planned job costs, and what a breakdown costs: in money, or in hours where none is given.

A job takes the crew's minutes, or the call-out of an outside firm, and the machine's hour if it has
to stand. A breakdown takes the machine's scheduled hours until it runs again, and one technician
for as long. In hours, an hour of the machine and one of a person count alike.
"""

from dataclasses import dataclass
from fractions import Fraction

from pmtrack.rules.shop import Machine, Shop, Task
from pmtrack.rules.usage import ZERO

_MINUTES = 60


@dataclass(frozen=True)
class Rates:
    """What an hour of the machine is worth and one of a technician costs; `money` or hours."""

    machine: Fraction
    crew: Fraction
    money: bool


@dataclass(frozen=True)
class JobCosts:
    """Costs of a planned job and of one breakdown, in money or in hours.

    `crew` and `callout` and `standing` are the parts of `planned`; `lost_hours` are the mean
    scheduled hours of a breakdown.
    """

    crew: Fraction
    callout: Fraction
    standing: Fraction
    lost_hours: Fraction
    rates: Rates

    @property
    def planned(self) -> Fraction:
        """Cost of one planned job."""
        return self.crew + self.callout + self.standing

    @property
    def failure(self) -> Fraction:
        """Cost of one breakdown: the machine's time, and the repair."""
        return self.lost_hours * (self.rates.machine + self.rates.crew)


def rates_of(shop: Shop, machine: Machine) -> Rates:
    """The shop's rates; hours unless both the machine's and the crew's are given."""
    if machine.hourly_rate is None or shop.crew_rate is None:
        return Rates(Fraction(1), Fraction(1), money=False)
    return Rates(machine.hourly_rate, shop.crew_rate, money=True)


def job_costs(shop: Shop, machine: Machine, task: Task, lost_hours: Fraction) -> JobCosts | None:
    """The costs of a task and of a breakdown of its machine; None where a job has no minutes."""
    if not task.minutes:
        return None
    rates, took = rates_of(shop, machine), Fraction(task.minutes, _MINUTES)
    callout = _callout(shop, task) if rates.money else None
    return JobCosts(
        crew=took * rates.crew if callout is None else ZERO,
        callout=callout or ZERO,
        standing=took * rates.machine if task.machine_down else ZERO,
        lost_hours=lost_hours,
        rates=rates,
    )


def _callout(shop: Shop, task: Task) -> Fraction | None:
    """What a visit of the task's firm costs; None in-house or where it is not known."""
    return next((firm.callout_cost for firm in shop.suppliers if firm.code == task.crew), None)
