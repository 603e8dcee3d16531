"""Does PM pay? Failures by age since the last service, and output in weeks with more downtime."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from pmtrack.actions.advice import TaskAdvice, task_advice
from pmtrack.actions.failing import Watch
from pmtrack.rules.dates import monday_of
from pmtrack.rules.downtime import weekly
from pmtrack.statistics.ageing import AgeBin, Group, ageing, by_age
from pmtrack.statistics.robust_slope import Line, TooFewPoints, robust_line
from pmtrack.statistics.trend import Trend
from pmtrack.store import history

SERVICE_DAYS = 27.5  # a job that stops the machine less often is a service; common practice
HITS = "hits"
_DAY_OF_WEEK = 6


@dataclass(frozen=True)
class WeekOutput:
    """A whole week: unplanned hours in 100 scheduled ones, and output a scheduled hour."""

    monday: date
    down: float
    output: float


@dataclass(frozen=True)
class MachineServed:
    """A machine by its most frequent service, if it has one that was done."""

    watch: Watch
    service: TaskAdvice | None
    weeks: tuple[WeekOutput, ...]
    made: str | None

    @property
    def group(self) -> Group | None:
        """Its rounds from service to service, ages in operating hours."""
        if self.service is None or not self.service.rounds:
            return None
        return Group(tuple((one.hours, one.failures) for one in self.service.rounds))

    @property
    def shares(self) -> Group | None:
        """The same with ages as shares of the service's interval."""
        group, hours = self.group, self.service.hours if self.service else None
        if group is None or hours is None:
            return None
        watched = tuple(
            (length / hours, tuple(age / hours for age in ages)) for length, ages in group.watched
        )
        return Group(watched, hours)

    @cached_property
    def line(self) -> Line | TooFewPoints:
        """Change of output, in % of the mean, for each unplanned hour in 100 scheduled ones."""
        mean = sum(week.output for week in self.weeks) / len(self.weeks) if self.weeks else 0.0
        if not mean:
            return robust_line((), ())
        return robust_line(
            [week.down for week in self.weeks],
            [100 * week.output / mean for week in self.weeks],
        )


@dataclass(frozen=True)
class PmPays:
    """The machines asked about."""

    machines: tuple[MachineServed, ...]

    @cached_property
    def by_share(self) -> tuple[AgeBin, ...]:
        """Failures an operating hour by share of the service interval gone, all together."""
        return by_age(self._shares)

    @cached_property
    def trend(self) -> Trend:
        """Whether failures come more often the longer ago the service was."""
        return ageing(self._shares)

    @property
    def _shares(self) -> list[Group]:
        return [one.shares for one in self.machines if one.shares is not None]


def pays_of(watches: Iterable[Watch]) -> PmPays:
    """What the services of machines are seen to do."""
    return PmPays(tuple(_served(one) for one in watches))


def _served(watched: Watch) -> MachineServed:
    made = HITS if watched.machine.meter(HITS) else "good parts"
    weeks = tuple(_weeks(watched, _hits(watched) if made == HITS else _parts(watched)))
    return MachineServed(watched, service_of(watched), weeks, made if weeks else None)


def service_of(watched: Watch) -> TaskAdvice | None:
    """The most frequent job that stops the machine, of those four weeks apart or more."""
    least = SERVICE_DAYS * float(watched.clock.total) / watched.days_in_service
    known = [
        task_advice(watched, task)
        for task in watched.view.shop.tasks
        if task.machine == watched.machine.code and task.machine_down and task.every
    ]
    services = [(one.hours, one) for one in known if one.hours is not None and one.hours >= least]
    return min(services, key=lambda pair: pair[0])[1] if services else None


def _hits(watched: Watch) -> dict[date, float]:
    meter = watched.view.meter(watched.machine.code, HITS)
    return _by_week(
        (gain.day, float(gain.value))
        for gain in meter.gains(watched.period.first, watched.period.last)
    )


def _parts(watched: Watch) -> dict[date, float]:
    of, first = watched.machine.code, watched.period.first
    logs = history.shift_logs(watched.view.store, of, first, watched.last)
    return _by_week((log.day, float(log.parts)) for log in logs)


def _by_week(made: Iterable[tuple[date, float]]) -> dict[date, float]:
    found: dict[date, float] = defaultdict(float)
    for day, amount in made:
        found[monday_of(day)] += amount
    return found


def _weeks(watched: Watch, made: dict[date, float]) -> Iterable[WeekOutput]:
    """The whole weeks in which something was made; the present one is not over yet."""
    if not any(made.values()):
        return
    view, period = watched.view, watched.period
    for week in weekly(watched.stops, view.shop, view.workdays, period):
        scheduled = float(week.downtime.scheduled_hours)
        whole = week.last - week.first == timedelta(days=_DAY_OF_WEEK) and week.last < view.day
        if scheduled and whole and week.monday in made:
            down = 100 * float(week.downtime.unplanned_hours) / scheduled
            yield WeekOutput(week.monday, down, made[week.monday] / scheduled)
