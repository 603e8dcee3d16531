"""Usage intervals: when the count is expected to run out, and how they stand on a day."""

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from pmtrack.rules import intervals
from pmtrack.rules.first_passage import Passage
from pmtrack.rules.rate import Rate, days_unseen
from pmtrack.rules.shop import Interval, Task
from pmtrack.rules.situation import Calendars, MeterView, RuleDue, Situation, UsageBase
from pmtrack.rules.usage import ZERO
from pmtrack.rules.workdays import Workdays, work_by

SOON_DAYS = 7  # common practice: what runs out within a week is announced


def soon_days(task: Task) -> int:
    """How many days ahead a job is announced, whatever its share of the interval."""
    explicit = intervals.explicit_days(task.lead)
    return SOON_DAYS if explicit is None else explicit


def usage_due(
    task: Task, interval: Interval, situation: Situation, calendars: Calendars
) -> RuleDue:
    """A usage interval: by usage entered, or estimated where days are missing."""
    view = (situation.meters or {})[interval]
    assert situation.base is not None  # noqa: S101
    run = _Run.of(view, interval, situation, calendars.machine)
    due_on = None if situation.out_of_service else run.due_on(calendars.machine)
    by = work_by(due_on, situation.base.moment.day, calendars.shop) if due_on else None
    blind = run.stale and run.rate.per_day is None and not run.reached
    state = _usage_state(task, interval, run, due_on)
    if blind and state == "ok":
        state = "soon"
    return RuleDue(
        rule=interval,
        state=state,
        due_on=due_on,
        work_by=by,
        grace=intervals.grace_units(task, interval),
        lead=intervals.lead_units(task, interval),
        unit=interval.unit,
        used=None if blind else (run.usage - view.at_base.usage) / interval.amount,
        due_range=run.due_range(calendars.machine) if due_on else None,
        likely_range=run.likely_range(calendars.machine) if due_on else None,
        estimated=run.estimated,
        usage=run.usage,
        target=run.target,
        remark=_remark(run, view.at_base, blind, situation.out_of_service),
    )


def _running_from(situation: Situation) -> date:
    """A meter without entries runs from the base, or from when the machine went in service."""
    assert situation.base is not None  # noqa: S101
    start = situation.base.moment.day
    return max(start, situation.in_service) if situation.in_service else start


def _remark(run: "_Run", at_base: UsageBase, blind: bool, out: bool) -> str:
    remarks = []
    if out:
        remarks.append("the machine is out of service: no due date until it is back")
    if blind:
        remarks.append("nobody reads this meter and no rate is known: log it")
    elif run.stale:
        remarks.append("the meter has not been read for more than 3 working days")
    if at_base.assumed:
        remarks.append("usage at the base is assumed: it is older than the meter's first entry")
    if at_base.off_dial:
        remarks.append(
            "the meter's level is not known, since last_done was read off a dial and no dial "
            "reading is entered: log one once"
        )
    return "; ".join(remarks)


def is_overdue(
    task: Task, interval: Interval, past: Fraction, due_on: date | None, day: date
) -> bool:
    """Whether a job is too late on a day: by units past the target, or by a day past its due date.

    The latter counts where an authority demands the task.
    """
    by_day = bool(task.authority and due_on and day > due_on)
    return by_day or past > intervals.grace_units(task, interval)


def _usage_state(task: Task, interval: Interval, run: "_Run", due_on: date | None) -> str:
    lead = intervals.lead_units(task, interval)
    if is_overdue(task, interval, run.usage - run.target, due_on, run.day):
        return "overdue"
    if run.usage >= run.target:
        return "due"
    half_gone = run.usage >= run.target - interval.amount / 2
    near = due_on is not None and (due_on - run.day).days <= soon_days(task)
    return "soon" if run.usage >= run.target - lead or (half_gone and near) else "ok"


@dataclass(frozen=True)
class _Run:
    """The way from usage entered to the target: with what rate, counted from which day."""

    day: date
    entered: Fraction
    usage: Fraction
    target: Fraction
    since: date
    rate: Rate
    stale: bool
    estimated: bool
    reached_on: date | None

    @classmethod
    def of(
        cls, view: MeterView, interval: Interval, situation: Situation, workdays: Workdays
    ) -> "_Run":
        """The run of one interval, with the estimate for days not yet entered."""
        standing, at_base = view.standing, view.at_base
        assert situation.base is not None  # noqa: S101
        run = cls(
            day=situation.day,
            entered=at_base.usage if standing.usage is None else standing.usage,
            usage=ZERO,
            target=at_base.usage + interval.amount,
            since=standing.last_day or _running_from(situation),
            rate=standing.rate,
            stale=standing.stale,
            estimated=False,
            reached_on=at_base.reached_on,
        )
        unseen = days_unseen(run.since, run.day, workdays)
        known = run.rate.per_day is not None and unseen > 0
        usage = run.entered + (run.rate.per_day or ZERO) * unseen if known else run.entered
        return replace(run, usage=usage, estimated=known)

    @property
    def reached(self) -> bool:
        """Whether the usage entered has come to the target."""
        return self.entered >= self.target

    def _passage(self, workdays: Workdays) -> Passage:
        return Passage(self.since, self.target - self.entered, self.rate, workdays)

    def due_on(self, workdays: Workdays) -> date | None:
        """The day usage came to the target, or the working day on which it is expected to."""
        return self.reached_on if self.reached else self._passage(workdays).day

    def due_range(self, workdays: Workdays) -> tuple[date, date] | None:
        """The 80 % range of D; None once the target is passed, by entries or by the estimate."""
        passed = self.usage >= self.target
        return None if passed else self._passage(workdays).range(self.day)

    def likely_range(self, workdays: Workdays) -> tuple[date, date] | None:
        """The wider 80 % range of D; None where there is no range."""
        passed = self.usage >= self.target
        return None if passed else self._passage(workdays).likely_range(self.day)
