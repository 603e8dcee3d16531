"""Which intervals to change: for each task keep, shorten or lengthen, and on what that rests."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from pmtrack.actions.failing import Watch, watch
from pmtrack.actions.references import References
from pmtrack.actions.view import View
from pmtrack.errors import Refused
from pmtrack.rules.job_costs import JobCosts, job_costs
from pmtrack.rules.sensible import DAYS, length, sensible
from pmtrack.rules.shop import Interval, Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.since_service import Round
from pmtrack.rules.usage import ZERO
from pmtrack.statistics.age_replacement import Costs
from pmtrack.statistics.estimate import TooFew
from pmtrack.statistics.interval_advice import Verdict
from pmtrack.statistics.overhaul_interval import (
    Best,
    Brake,
    Move,
    best_interval,
    cost_per_hour,
    move,
)
from pmtrack.statistics.rounds_fit import RoundsFit, fit_rounds
from pmtrack.statistics.weibull import Weibull

DAILY = 1.0  # days; of checks as frequent as that the failures do not tell what they are worth


@dataclass(frozen=True)
class TaskAdvice:
    """A task with its interval that runs out first, which is `hours` of operating time."""

    watch: Watch
    task: Task
    interval: Interval
    hours: float | None

    @cached_property
    def rounds(self) -> tuple[Round, ...]:
        """From each time that it was done to the next."""
        return self.watch.rounds(self.task)

    @property
    def failures(self) -> int:
        """Failures of the machine since the first time that it was done."""
        return sum(len(one.failures) for one in self.rounds)

    @cached_property
    def fit(self) -> RoundsFit | TooFew:
        """How failures grow with the age since it was done, or why that is not known."""
        return fit_rounds([(one.hours, one.failures) for one in self.rounds])

    @cached_property
    def costs(self) -> JobCosts | None:
        """What the job costs, and a breakdown; None where either is not known."""
        found = job_costs(
            self.watch.view.shop, self.watch.machine, self.task, self.watch.lost_hours
        )
        return found if found and found.planned > 0 and found.failure > 0 else None

    @property
    def refusal(self) -> str | None:
        """Why there is no number; None where there is one."""
        if self.interval.unit in DAYS and length(self.interval) <= DAILY:
            return "a daily check looks for more than breakdowns: it is kept"
        if isinstance(self.fit, TooFew):
            return self.fit.why
        if self.hours is None:
            return f"its meter has no entries of {self.interval.unit}"
        if self.costs is None:
            return "no minutes in the shop file, or no breakdown within scheduled time: no costs"
        return None

    @property
    def _ratio(self) -> Costs:
        assert self.costs is not None  # noqa: S101
        return Costs(float(self.costs.planned), float(self.costs.failure))

    @cached_property
    def best(self) -> Best | None:
        """The cheapest interval in operating hours; None without a number."""
        if self.refusal or isinstance(self.fit, TooFew):
            return None
        return best_interval(self.fit, self._ratio)

    @cached_property
    def _move(self) -> Move | None:
        if self.best is None or self.hours is None or isinstance(self.fit, TooFew):
            return None
        return move(self.hours, self.best, self.fit.longest, bool(self.task.authority))

    @cached_property
    def advised(self) -> Interval | None:
        """The interval to change to, as people set it; None where it is kept, or not known."""
        if self._move is None or self.hours is None or self._move.verdict is Verdict.KEEP:
            return None
        return sensible(self.interval, self._move.interval / self.hours)

    @property
    def verdict(self) -> Verdict | None:
        """What to do; None where there is no number."""
        if self._move is None:
            return None
        return self._move.verdict if self.advised else Verdict.KEEP

    @property
    def brake(self) -> Brake | None:
        """Why it is kept, or goes a step only."""
        if self._move is None:
            return None
        if self._move.verdict is Verdict.KEEP or self.advised:
            return self._move.brake
        return Brake.TOO_FAR if self._move.brake is Brake.ONE_STEP else Brake.NEAR

    @property
    def advised_hours(self) -> float | None:
        """Operating hours of the advised interval."""
        if self.advised is None or self.hours is None:
            return None
        return self.hours * length(self.advised) / length(self.interval)

    @cached_property
    def _law(self) -> Weibull | None:
        """The law of the failures that costs rest on.

        Where the old fail less often than the new, a longer interval is not taken to spare any.
        """
        if isinstance(self.fit, TooFew):
            return None
        return self.fit.law if self.fit.law.shape >= 1 else self.fit.law_of(1.0)

    def cost_a_year(self, hours: float | None) -> float | None:
        """What job and breakdowns cost in a year at an interval, in money or hours."""
        if hours is None or self._law is None or self.costs is None:
            return None
        return cost_per_hour(self._law, self._ratio, hours) * self.watch.hours_a_year

    def failures_a_year(self, hours: float | None) -> float | None:
        """How often it fails in a year at an interval."""
        if hours is None or self._law is None:
            return None
        return self.watch.hours_a_year / hours * self._law.hazard_up_to(hours)

    @property
    def saved_a_year(self) -> float | None:
        """What the change saves in a year, in money or hours; None without a change."""
        now, then = self.cost_a_year(self.hours), self.cost_a_year(self.advised_hours)
        return None if now is None or then is None else now - then


def advice_of(watches: Iterable[Watch]) -> list[TaskAdvice]:
    """Each task with an interval of machines that are watched: what saves most comes first."""
    found = [
        task_advice(one, task)
        for one in watches
        for task in one.view.shop.tasks
        if task.machine == one.machine.code and task.every
    ]
    return sorted(found, key=lambda one: (one.advised is None, -(one.saved_a_year or 0.0)))


def advice_for(view: View, now: datetime, name: str) -> TaskAdvice:
    """The advice for one task; Refused where it has no interval or is retired."""
    task = References(view).task(name)
    if not task.every:
        raise Refused(f"{name} has no interval that could be changed: its dates are fixed")
    return task_advice(watch(view, now, References(view).machine(task.machine)), task)


def task_advice(watched: Watch, task: Task) -> TaskAdvice:
    """The advice for one task of a machine."""
    known = [(hours, interval) for interval in task.every if (hours := _hours(watched, interval))]
    if not known:
        return TaskAdvice(watched, task, task.every[0], None)
    hours, interval = min(known, key=lambda one: one[0])
    return TaskAdvice(watched, task, interval, hours)


def _hours(watched: Watch, interval: Interval) -> float | None:
    """Operating hours in which an interval runs out, at the pace of the watch."""
    ran = float(watched.clock.total)
    if interval.is_calendar:
        return length(interval) * ran / watched.days_in_service or None
    meter = watched.view.meter(watched.machine.code, interval.unit)
    before = meter.at_end_of(watched.period.first - ONE_DAY)
    after = meter.at_end_of(watched.view.day)
    gained = (after.usage if after else ZERO) - (before.usage if before else ZERO)
    return length(interval) * ran / float(gained) or None if gained > 0 else None
