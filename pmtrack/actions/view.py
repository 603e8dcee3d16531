"""The shop as of the end of a day: what the rules need, read from the store when asked for."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from fractions import Fraction
from functools import cached_property

from pmtrack.actions.meter_history import MeterHistory
from pmtrack.errors import Refused
from pmtrack.rules.base import coverers, instant_of, last_done_base, latest
from pmtrack.rules.due import TaskDue, task_due
from pmtrack.rules.facts import Base, DaysOut, Deferral
from pmtrack.rules.rate import Standing, per_working_day
from pmtrack.rules.shop import Interval, Meter, PerTime, Shop, Task
from pmtrack.rules.shoptime import LONGEST_SHIFT, ONE_DAY, boundary
from pmtrack.rules.situation import Calendars, MeterView, Situation, UsageBase
from pmtrack.rules.usage import ZERO
from pmtrack.rules.workdays import Workdays
from pmtrack.store import history, last_jobs
from pmtrack.store.codec import to_text
from pmtrack.store.database import Store
from pmtrack.store.stored_shop import StoredShop, load_shop


class View:
    """Everything the rules can be asked about one day; nothing is read twice."""

    def __init__(self, store: Store, day: date, stored: StoredShop | None = None) -> None:
        self.store = store
        self.day = day
        self.stored = stored or load_shop(store)
        self.bare = self.stored.bare
        self._standings: dict[tuple[str, str], Standing] = {}
        self._bases: dict[str, Base | None] = {}
        self._completions: dict[str, Base | None] = {}
        self._deferrals: dict[str, Deferral | None] = {}
        self._expected: dict[PerTime | None, Fraction | None] = {}
        self._starts: dict[date, str] = {}
        self._ends: dict[date, tuple[str, str]] = {}
        self._meters: dict[tuple[str, str], MeterHistory] = {}
        self._coverers: dict[str, dict[str, tuple[str, ...]]] = {}
        self._machine_days: dict[str, tuple[Workdays, bool]] = {}
        self._days_out: dict[str, list[DaysOut]] = {}

    @property
    def shop(self) -> Shop:
        """The shop with all that its file describes; `bare` has its zone, shifts and closures."""
        return self.stored.shop

    @cached_property
    def workdays(self) -> Workdays:
        """The shop's working days."""
        return Workdays.of(self.bare)

    def coverers(self, task: Task) -> tuple[str, ...]:
        """The tasks that cover a task, directly or through another."""
        if task.machine not in self._coverers:
            self._coverers[task.machine] = coverers(self.stored.tasks_of(task.machine))
        return self._coverers[task.machine].get(task.name, ())

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """All tasks, retired ones too, and the one-off jobs raised by this day."""
        first = self.stored.first_applied
        return tuple(t for t in self.stored.tasks if not t.once or first[t.name] <= self.day)

    def task(self, name: str) -> Task:
        """The task or one-off job of that name; Refused if there is none."""
        found = self.stored.task(name)
        if found is None:
            known = [task.name for task in self.stored.tasks_of(name.split("/")[0])]
            hint = f"; tasks there: {', '.join(known)}" if known else "; see 'pmtrack today --all'"
            raise Refused(f"no task '{name}'{hint}")
        return found

    def midnight(self, day: date) -> datetime:
        """The instant at which a date begins."""
        return boundary(day, time(0), self.bare.zone)

    def per_working_day(self, expected: PerTime | None) -> Fraction | None:
        """What a meter is expected to run in a working day of the shop."""
        if expected not in self._expected:
            self._expected[expected] = per_working_day(self.bare, expected)
        return self._expected[expected]

    def start(self, day: date) -> str:
        """The midnight at which a date begins, as the store keeps instants."""
        if day not in self._starts:
            self._starts[day] = to_text(self.midnight(day))
        return self._starts[day]

    def ends(self, day: date) -> tuple[str, str]:
        """The midnight that ends a date, and an instant by which its night shift is over."""
        if day not in self._ends:
            midnight = self.midnight(day + ONE_DAY)
            self._ends[day] = to_text(midnight), to_text(midnight + LONGEST_SHIFT)
        return self._ends[day]

    @property
    def calendars_of_shop(self) -> Calendars:
        """The shop's working days, where no machine's bear on it."""
        return Calendars(self.workdays, self.workdays, self.bare.zone)

    def calendars(self, machine: str) -> Calendars:
        """The working days that bear on a machine's tasks."""
        return Calendars(self.workdays, self.machine_days(machine)[0], self.bare.zone)

    @cached_property
    def _ever_out(self) -> set[str]:
        return history.ever_out_of_service(self.store)

    def days_out(self, code: str) -> list[DaysOut]:
        """The spans of days on which a machine is out of service."""
        if code not in self._ever_out:
            return []
        if code not in self._days_out:
            self._days_out[code] = history.out_of_service(self.store, code, self.day)
        return self._days_out[code]

    def machine_days(self, code: str) -> tuple[Workdays, bool]:
        """The working days of a machine's meters, and whether it is out of service."""
        if code not in self._machine_days:
            self._machine_days[code] = self._without_spans_out(code)
        return self._machine_days[code]

    def _without_spans_out(self, code: str) -> tuple[Workdays, bool]:
        spans = self.days_out(code)
        days = self.workdays.without((s.first, s.back or self.day + ONE_DAY) for s in spans)
        return days, bool(spans and spans[-1].back is None)

    # --- many tasks

    def tasks_together(self, names: Sequence[str]) -> tuple[Task, ...]:
        """The tasks of those names; what bears on each is read with a query of each kind."""
        self.stored.read_tasks(names)
        self.know_last_deeds(names)
        tasks = tuple(map(self.task, names))
        metered = (task for task in tasks if any(not one.is_calendar for one in task.every))
        self.stored.read_machines({task.machine for task in metered})
        return tasks

    def know_last_deeds(self, names: Sequence[str]) -> None:
        """Read for all of some tasks when they were done and put off last."""
        unknown = [name for name in names if name not in self._bases]
        self._completions |= last_jobs.last_completions(self.store, unknown, self.day)
        self._deferrals |= last_jobs.last_deferrals(self.store, names, self.day)

    # --- meters

    def meter(self, machine: str, name: str) -> MeterHistory:
        """The history of a meter up to this day."""
        if (machine, name) not in self._meters:
            record = self.stored.machine(machine)
            meter = (record and record.meter(name)) or Meter(name)
            self._meters[machine, name] = MeterHistory(self, machine, meter)
        return self._meters[machine, name]

    def standing(self, machine: str, name: str) -> Standing:
        """How a meter stands at the end of this day."""
        if (machine, name) not in self._standings:
            self._standings[machine, name] = self.meter(machine, name).standing()
        return self._standings[machine, name]

    # --- tasks

    def base(self, task: Task) -> Base | None:
        """From when the intervals of a task run, as of this day."""
        if task.name not in self._bases:
            others = [self.task(name) for name in self.coverers(task)]
            known = [self._last_completion(one.name) for one in (task, *others)]
            known += [last_done_base(one, self.day) for one in (task, *others)]
            self._bases[task.name] = latest(known, self.bare)
        return self._bases[task.name]

    def know_bases(self, bases: Mapping[str, Base | None]) -> None:
        """Take the bases of some tasks as found by other means, so that none is read again."""
        self._bases.update(bases)

    def _last_completion(self, name: str) -> Base | None:
        if name not in self._completions:
            self._completions |= last_jobs.last_completions(self.store, [name], self.day)
        return self._completions[name]

    def deferral(self, task: Task) -> Deferral | None:
        """The deferral that stands: the latest one, unless the task was done after it."""
        found, base = self._last_deferral(task.name), self.base(task)
        if found and base and instant_of(base.moment, self.bare) > found.at:
            return None
        return found

    def _last_deferral(self, name: str) -> Deferral | None:
        if name not in self._deferrals:
            self._deferrals |= last_jobs.last_deferrals(self.store, [name], self.day)
        return self._deferrals[name]

    def situation(self, task: Task) -> Situation:
        """What bears on a task on this day."""
        base = self.base(task)
        meters = self._meter_views(task, base)
        machine = self.stored.machine(task.machine) if meters else None
        return Situation(
            day=self.day,
            first_applied=self.stored.applied_on(task.name),
            base=base,
            meters=meters,
            deferral=self.deferral(task),
            in_service=machine.in_service if machine else None,
            out_of_service=self.machine_days(task.machine)[1],
            retired_on=self.stored.retired_day(task.name),
        )

    def _meter_views(self, task: Task, base: Base | None) -> dict[Interval, MeterView]:
        return {
            interval: self._meter_view(task.machine, interval, base)
            for interval in task.every
            if not interval.is_calendar
        }

    def _meter_view(self, machine: str, interval: Interval, base: Base | None) -> MeterView:
        found = self.standing(machine, interval.unit)
        if base is None:
            return MeterView(found, UsageBase(found.usage or ZERO))
        at_base = self.meter(machine, interval.unit).at_base(base, interval.amount, found)
        return MeterView(found, at_base)

    def due(self, task: Task) -> TaskDue:
        """How a task stands on this day."""
        return task_due(task, self.situation(task), self.calendars(task.machine))
