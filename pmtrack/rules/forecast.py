"""The jobs to come, chained: each counts as done on its planned day, the next runs from it."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction
from functools import cached_property
from heapq import heappop, heappush
from itertools import count

from pmtrack.rules import job_key
from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.rate import Rate, Standing
from pmtrack.rules.shop import Interval, Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.situation import Calendars, MeterView, RuleDue, Situation, UsageBase
from pmtrack.rules.usage import ZERO
from pmtrack.rules.usage_due import soon_days
from pmtrack.rules.windows import JobWindow, Windows
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
    window: JobWindow | None = field(default=None, compare=False)

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


Covered = Mapping[str, tuple[str, ...]]  # for each task, those that it settles when it is done


@dataclass(frozen=True)
class Chain:
    """One task on its way: how it stands on `day`, and so which job comes next."""

    task: Task
    situation: Situation
    calendars: Calendars
    done_before: int
    today: date
    windows: Windows = field(default_factory=Windows, compare=False)
    planned: Mapping[str, date] = field(default_factory=dict, compare=False)  # day by key

    @classmethod
    def of(
        cls,
        start: Starting,
        calendars: Calendars,
        windows: Windows,
        planned: Mapping[str, date] | None = None,
    ) -> "Chain":
        """The chain from where the task stands now; `planned` has the days of jobs planned before.

        `windows` is shared by the chains of a shop.
        """
        day, done_before = start.situation.day, start.done_before
        return cls(start.task, start.situation, calendars, done_before, day, windows, planned or {})

    @cached_property
    def window(self) -> JobWindow | None:
        """The window of the job that comes next, if any can be told."""
        return self.windows.of(self.task, self.situation, self.calendars)

    @property
    def earliest(self) -> date:
        """The first working day on which the next job may be done."""
        base = self.situation.base
        after = max(self.today, base.moment.day + ONE_DAY) if base else self.today
        return first_working_day(after, self.calendars.shop)

    @cached_property
    def job(self) -> PlannedJob | None:
        """The next job on its planned day, else the day to aim for; never before today."""
        window = self.window
        if window is None:
            return None
        key = self.key(window)
        planned = self.planned.get(key)  # of another job, perhaps, where one was skipped since
        if planned is None or planned < self.earliest:
            planned = window.work_by
        return PlannedJob(
            key=key,
            task=self.task,
            due_on=window.due_on,
            day=max(planned, self.earliest),
            rule=window.rule,
            base=self.situation.base,
            window=window,
        )

    def key(self, window: JobWindow) -> str:
        """What names the job: its place in the row of completions, or its date of the schedule."""
        if self.task.once:
            return self.task.name
        if self.task.on:
            return job_key.on_date(self.task.name, window.due_on)
        return job_key.in_row(self.task.name, self.done_before + 1)

    def done(self, day: date) -> "Chain":
        """The chain after the task was done, itself or by a job that covers it, on a day."""
        if self.situation.base and day <= self.situation.base.moment.day:
            return self
        situation = replace(
            self.situation,
            day=day,
            base=Base(Moment(day), f"planned for {day}"),
            deferral=None,
            meters={i: self._view_at(i, day) for i in self.task.every if not i.is_calendar},
        )
        return replace(self, situation=situation, done_before=self.done_before + 1)

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


def forecast(
    starting: Iterable[Starting],
    covered: Covered,
    calendars: Calendars,
    last: date,
    windows: Windows | None = None,
) -> list[PlannedJob]:
    """The jobs of one machine's tasks due by `last`, in order of their days.

    Each job is planned on its work-by day, or the first working day from today on if that is past.
    `windows` may be shared with the forecasts of the shop's other machines.
    """
    known = Windows() if windows is None else windows
    chains = [Chain.of(start, calendars, known) for start in starting]
    return run_until(chains, covered, lambda job: job.due_on > last)[0]


def run_until(
    chains: Iterable[Chain], covered: Covered, is_beyond: Callable[[PlannedJob], bool]
) -> tuple[list[PlannedJob], list[Chain]]:
    """The jobs of one machine's tasks before those that lie beyond, and the chains as they stand.

    A chain that waits beyond still moves when a job before that covers its task.
    """
    by_name = {chain.task.name: chain for chain in chains}
    ahead: list[tuple[tuple[date, int, str], int, PlannedJob]] = []
    turn = count()

    def wait(chain: Chain) -> None:
        if chain.job and not is_beyond(chain.job):
            heappush(ahead, (_order(chain.job, covered), next(turn), chain.job))

    for chain in by_name.values():
        wait(chain)
    jobs: list[PlannedJob] = []
    while ahead:
        job = heappop(ahead)[-1]
        if by_name[job.task.name].job is not job:
            continue  # a job that covers its task came before
        jobs.append(job)
        for name in (job.task.name, *covered.get(job.task.name, ())):
            before = by_name.get(name)
            if before and (after := before.done(job.day)) is not before:
                by_name[name] = after
                wait(after)
    return jobs, list(by_name.values())


def _order(job: PlannedJob, covered: Covered) -> tuple[date, int, str]:
    """By day; on one day, a job that covers others goes first."""
    return job.day, -len(covered.get(job.task.name, ())), job.task.name


def first_working_day(day: date, workdays: Workdays) -> date:
    """The first working day on or after a date."""
    return workdays.nth_after(day - timedelta(days=1), 1) or day
