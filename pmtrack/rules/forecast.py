"""The jobs to come, chained: each counts as done on its planned day, the next runs from it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from pmtrack.rules.calendar_due import dates_of, first_unsettled
from pmtrack.rules.due import task_due
from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.rate import Rate, Standing
from pmtrack.rules.shop import Interval, Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.situation import Calendars, MeterView, RuleDue, Situation, UsageBase
from pmtrack.rules.usage import ZERO
from pmtrack.rules.usage_due import soon_days
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class PlannedJob:
    """A job on its planned day. `key` names it the same in every forecast until it is done."""

    key: str
    task: Task
    due_on: date
    day: date
    rule: RuleDue
    base: Base | None

    @property
    def lead_days(self) -> int:
        """How many days ahead it is announced."""
        return int(self.rule.lead) if self.rule.unit == "day" else soon_days(self.task)


@dataclass(frozen=True)
class Starting:
    """Where the forecast of one task starts: how it stands, and how often it was done before."""

    task: Task
    situation: Situation
    done_before: int


def forecast(
    starting: Iterable[Starting],
    covered: Mapping[str, tuple[str, ...]],
    calendars: Calendars,
    last: date,
) -> list[PlannedJob]:
    """The jobs of one machine's tasks due by `last`, in order of their days.

    `covered` names, for each task, those that it settles when it is done. Each job is planned on
    its work-by day, or the first working day from today on if that is past.
    """
    chains = {s.task.name: _Chain.of(s, calendars) for s in starting}
    jobs: list[PlannedJob] = []
    while True:
        ahead = [c for c in chains.values() if c.job and c.job.due_on <= last]
        if not ahead:
            return jobs
        chain = min(ahead, key=lambda c: c.order(covered))
        job = chain.job
        assert job is not None  # noqa: S101 - only such were listed
        jobs.append(job)
        for name in (job.task.name, *covered.get(job.task.name, ())):
            if name in chains:
                chains[name] = chains[name].done(job.day)


@dataclass(frozen=True)
class _Chain:
    """One task on its way: the job that comes next, if any can be told."""

    task: Task
    situation: Situation
    calendars: Calendars
    done_before: int
    today: date
    job: PlannedJob | None

    @classmethod
    def of(cls, start: Starting, calendars: Calendars) -> "_Chain":
        chain = cls(
            start.task, start.situation, calendars, start.done_before, start.situation.day, None
        )
        return replace(chain, job=chain._next())

    def order(self, covered: Mapping[str, tuple[str, ...]]) -> tuple[date, int, str]:
        """By day; on one day, a job that covers others goes first."""
        assert self.job is not None  # noqa: S101
        return self.job.day, -len(covered.get(self.task.name, ())), self.task.name

    def done(self, day: date) -> "_Chain":
        """The chain after the task was done, itself or by a job that covers it, on a day."""
        if self.situation.base and day <= self.situation.base.moment.day:
            return self
        base = Base(Moment(day), f"planned for {day}")
        situation = replace(
            self.situation,
            day=day,
            base=base,
            deferral=None,
            meters={i: self._view_at(i, day) for i in self.task.every if not i.is_calendar},
        )
        chain = replace(self, situation=situation, done_before=self.done_before + 1)
        return replace(chain, job=chain._next())

    def _view_at(self, interval: Interval, day: date) -> MeterView:
        """The meter as expected at the end of a day."""
        known = (self.situation.meters or {}).get(interval)
        if known is None:
            nothing = Standing(None, None, Rate(None), stale=True)
            return MeterView(nothing, UsageBase(ZERO))
        usage = self._usage_at(known, day)
        standing = replace(
            known.standing, usage=usage, estimate=None, last_day=day, stale=False, estimated_days=0
        )
        return MeterView(standing, UsageBase(usage))

    def _usage_at(self, view: MeterView, day: date) -> Fraction:
        standing = view.standing
        entered = view.at_base.usage if standing.usage is None else standing.usage
        since = standing.last_day or self.today
        days = self.calendars.machine.between(since, day)
        return entered + (standing.rate.per_day or ZERO) * days

    def _next(self) -> PlannedJob | None:
        if self.task.once and self.situation.base is not None:
            return None
        due = task_due(self.task, self.situation, self.calendars)
        dated = [r for r in due.rules if r.due_on is not None]
        if not dated:
            return None
        rule = min(dated, key=lambda r: r.due_on or date.max)
        assert rule.due_on is not None and rule.work_by is not None  # noqa: S101, PT018
        return PlannedJob(
            key=self._key(rule.due_on),
            task=self.task,
            due_on=rule.due_on,
            day=self._day(rule.work_by),
            rule=rule,
            base=self.situation.base,
        )

    def _day(self, by: date) -> date:
        """The planned day: not before today, nor before a deferral ends, and after the base."""
        deferral = self.situation.deferral
        if deferral and deferral.until > by:
            by = self.calendars.shop.last_through(deferral.until) or by
        base = self.situation.base
        earliest = max(self.today, base.moment.day + ONE_DAY) if base else self.today
        return max(by, first_working_day(earliest, self.calendars.shop))

    def _key(self, due_on: date) -> str:
        """What names the job: its place in the row of completions, or its date of the schedule."""
        if self.task.once:
            return self.task.name
        if self.task.on:
            return f"{self.task.name}@{due_on}"
        return f"{self.task.name}#{self.done_before + 1}"


def first_working_day(day: date, workdays: Workdays) -> date:
    """The first working day on or after a date."""
    return workdays.nth_after(day - timedelta(days=1), 1) or day


def settled_keys(start: Starting, calendars: Calendars) -> list[str]:
    """The keys of the jobs of a task that are done."""
    task, base = start.task, start.situation.base
    if task.once:
        return [task.name] if base else []
    if not task.on:
        return [f"{task.name}#{number}" for number in range(1, start.done_before + 1)]
    dates = dates_of(task, start.situation.first_applied, calendars.zone)
    settled = first_unsettled(task, dates, base.moment.day if base else None, calendars.shop)
    return [f"{task.name}@{dates[index]}" for index in range(settled)]
