"""The shop as of the end of a day: what the rules need, read from the store when asked for."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import cached_property

from pmtrack.errors import Refused
from pmtrack.rules.base import coverers, instant_of, last_done_base, latest
from pmtrack.rules.due import TaskDue, task_due
from pmtrack.rules.facts import Base, Deferral, MeterEntry, Moment
from pmtrack.rules.metered import gains
from pmtrack.rules.rate import (
    Recent,
    Standing,
    per_working_day,
    rate_day,
    span_start,
    standing,
)
from pmtrack.rules.shop import Interval, Meter, Task
from pmtrack.rules.shoptime import ONE_DAY, boundary
from pmtrack.rules.situation import Calendars, MeterView, Situation, UsageBase
from pmtrack.rules.usage import ZERO, Tally
from pmtrack.rules.workdays import Workdays
from pmtrack.store import history
from pmtrack.store.codec import to_text
from pmtrack.store.database import Store
from pmtrack.store.description import StoredShop, load_shop
from pmtrack.store.tallies import MeterTallies

_LONGEST_SHIFT = timedelta(days=1)


class View:
    """Everything the rules can be asked about one day; nothing is read twice."""

    def __init__(self, store: Store, day: date, stored: StoredShop | None = None) -> None:
        self.store = store
        self.day = day
        self.stored = stored or load_shop(store)
        self.shop = self.stored.shop
        self._standings: dict[tuple[str, str], Standing] = {}
        self._bases: dict[str, Base | None] = {}
        self._completions: dict[str, Base | None] = {}
        self._machine_days: dict[str, tuple[Workdays, bool]] = {}

    @cached_property
    def workdays(self) -> Workdays:
        """The shop's working days."""
        return Workdays.of(self.shop)

    @cached_property
    def covered_by(self) -> dict[str, tuple[str, ...]]:
        """For each task, the tasks that cover it."""
        return coverers(self.stored.tasks)

    @cached_property
    def _tasks(self) -> dict[str, Task]:
        return {task.name: task for task in self.stored.tasks}

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """All tasks, retired ones too, and the one-off jobs raised by this day."""
        first = self.stored.first_applied
        return tuple(t for t in self.stored.tasks if not t.once or first[t.name] <= self.day)

    def task(self, name: str) -> Task:
        """The task or one-off job of that name; Refused if there is none."""
        if name not in self._tasks:
            known = [t for t in self._tasks if t.startswith(name.split("/")[0] + "/")]
            hint = f"; tasks there: {', '.join(known)}" if known else "; see 'pmtrack today --all'"
            raise Refused(f"no task '{name}'{hint}")
        return self._tasks[name]

    def midnight(self, day: date) -> datetime:
        """The instant at which a date begins."""
        return boundary(day, time(0), self.shop.zone)

    def calendars(self, machine: str) -> Calendars:
        """The working days that bear on a machine's tasks."""
        return Calendars(self.workdays, self.machine_days(machine)[0], self.shop.zone)

    def machine_days(self, code: str) -> tuple[Workdays, bool]:
        """The working days of a machine's meters, and whether it is out of service."""
        if code not in self._machine_days:
            spans = history.out_of_service(self.store, code, self.day)
            days = self.workdays.without(
                (first, after or self.day + ONE_DAY) for first, after in spans
            )
            self._machine_days[code] = days, bool(spans and spans[-1][1] is None)
        return self._machine_days[code]

    # --- meters

    def meter(self, machine: str, name: str) -> "MeterHistory":
        """The history of a meter up to this day."""
        record = self.stored.machine(machine)
        return MeterHistory(self, machine, (record and record.meter(name)) or Meter(name))

    def standing(self, machine: str, name: str) -> Standing:
        """How a meter stands at the end of this day."""
        if (machine, name) not in self._standings:
            self._standings[machine, name] = self.meter(machine, name).standing()
        return self._standings[machine, name]

    # --- tasks

    def base(self, task: Task) -> Base | None:
        """From when the intervals of a task run, as of this day."""
        if task.name not in self._bases:
            names = (task.name, *self.covered_by.get(task.name, ()))
            known = [self._last_completion(name) for name in names]
            known += [last_done_base(self._tasks[name], self.day) for name in names]
            self._bases[task.name] = latest(known, self.shop)
        return self._bases[task.name]

    def _last_completion(self, name: str) -> Base | None:
        if name not in self._completions:
            self._completions[name] = history.last_completion(self.store, name, self.day)
        return self._completions[name]

    def deferral(self, task: Task) -> Deferral | None:
        """The deferral that stands: the latest one, unless the task was done after it."""
        found, base = history.last_deferral(self.store, task.name, self.day), self.base(task)
        if found and base and instant_of(base.moment, self.shop) > found.at:
            return None
        return found

    def situation(self, task: Task) -> Situation:
        """What bears on a task on this day."""
        machine = self.stored.machine(task.machine)
        situation = Situation(
            day=self.day,
            first_applied=self.stored.first_applied[task.name],
            base=self.base(task),
            deferral=self.deferral(task),
            in_service=machine.in_service if machine else None,
            out_of_service=self.machine_days(task.machine)[1],
            retired_on=self.stored.retired_on.get(task.name),
        )
        return replace(situation, meters=self._meter_views(task, situation.base))

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


class MeterHistory:
    """One meter's entries up to the end of a view's day."""

    def __init__(self, view: View, machine: str, meter: Meter) -> None:
        self._view = view
        self._machine = machine
        self._meter = meter
        self._tallies = MeterTallies(view.store, machine, meter.name)
        self._midnight = to_text(view.midnight(view.day + ONE_DAY))
        self._latest = to_text(view.midnight(view.day + ONE_DAY) + _LONGEST_SHIFT)

    def recent(self, day: date) -> Recent:
        """The entries that usage and rate on `day` rest on."""
        last = self._tallies.last(self._latest, self._view.day)
        if last is None:
            return Recent(Tally(), (), True, self._meter.wraps_at)
        days = self._view.machine_days(self._machine)[0]
        first = span_start(rate_day(day, last[0].day, days), days)
        earlier = self._tallies.last(to_text(self._view.midnight(first)), self._view.day)
        since = to_text(self._view.midnight(earlier[0].day)) if earlier else ""
        opening = self._tallies.last(since, self._view.day) if since else None
        return Recent(
            opening=opening[1] if opening else Tally(),
            entries=tuple(self._tallies.entries(since, self._latest, self._view.day)),
            from_first=opening is None,
            wraps_at=self._meter.wraps_at,
        )

    def gains(self, first: date, last: date = date.max) -> list[MeterEntry]:
        """What each entry of the days from first to last added to usage, in time order."""
        since, last = to_text(self._view.midnight(first)), min(last, self._view.day)
        end = to_text(self._view.midnight(last + ONE_DAY) + _LONGEST_SHIFT)
        before = self._tallies.last(since, self._view.day)
        entries = self._tallies.entries(since, end, self._view.day)
        made = gains(before[1] if before else Tally(), entries, self._meter.wraps_at)
        return [gain for gain in made if first <= gain.day <= last]

    def standing(self) -> Standing:
        """How the meter stands at the end of the view's day."""
        days = self._view.machine_days(self._machine)[0]
        expected = per_working_day(self._view.shop, self._meter.expected)
        return standing(self.recent(self._view.day), self._view.day, days, expected)

    def at_end_of(self, day: date) -> Tally | None:
        """The tally after the entries of days up to `day`."""
        midnight = self._view.midnight(day + ONE_DAY)
        found = self._tallies.last(to_text(midnight), day)
        tally = found[1] if found else None
        night = self._tallies.entries(to_text(midnight), to_text(midnight + _LONGEST_SHIFT), day)
        for entry in night:
            tally = (tally or Tally()).then(entry, self._meter.wraps_at)
        return tally

    def at(self, moment: Moment) -> Tally | None:
        """The tally at a moment; None before the first entry."""
        if moment.at is None:
            return self.at_end_of(moment.day)
        return self._tallies.through(to_text(moment.at))

    def level(self) -> Fraction:
        """Usage before the first entry, as known at the end of the view's day."""
        tally = self.at_end_of(self._view.day)
        return tally.level if tally else ZERO

    def usage_at(self, base: Base) -> Fraction | None:
        """Usage at a base: as read then, or as entered; None before the first entry."""
        return self._usage_at(base, self.at_end_of(self._view.day) or Tally())

    def _usage_at(self, base: Base, latest: Tally) -> Fraction | None:
        if self._meter.name in base.readings:
            return base.readings[self._meter.name]
        tally = self.at(base.moment)
        return latest.level + tally.usage if tally else None

    def at_base(self, base: Base, amount: Fraction, now: Standing) -> UsageBase:
        """Usage at a base, and the day on which `amount` more was reached.

        A base older than the first entry is taken to have the level before that entry.
        """
        if now.usage is None:
            return UsageBase(base.readings.get(self._meter.name, ZERO))
        latest = self.at_end_of(self._view.day) or Tally()
        level, known = latest.level, self._usage_at(base, latest)
        usage = level if known is None else known
        target = usage + amount
        reached = self.reached_on(target - level) if now.usage >= target else None
        # read off a counter that nobody has read since: its level is 0
        off_dial = bool(base.readings.get(self._meter.name)) and latest.offset is None
        return UsageBase(usage, known is None, reached, off_dial)

    def reached_on(self, usage: Fraction) -> date | None:
        """The day of the last crossing: usage since the level came to `usage` and stayed there."""
        found = self._tallies.last(self._midnight, self._view.day)
        tally = found[1] if found else Tally()
        crossed = None
        for entry in self._tallies.entries(self._midnight, self._latest, self._view.day):
            before, tally = tally, tally.then(entry, self._meter.wraps_at)
            if tally.usage >= usage > before.usage:
                crossed = entry.day
        if crossed or (found and found[1].usage < usage):
            return crossed
        return self._tallies.first_after(self._tallies.last_below(usage, self._midnight))
