"""Why a job of the plan moved, came or fell away, in plain words."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Self

from pmtrack.rules.job_key import task_of
from pmtrack.rules.plan import PlacedJob, Plan, UnfitJob
from pmtrack.rules.schedule_words import schedule_words
from pmtrack.rules.settled import Deed
from pmtrack.rules.shop import FixedSchedule, Task
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class Meanwhile:
    """What happened between two plans; all that a change can be explained by.

    `workdays` are those of the shop as it is now. `done` tells what settled each job since the
    plan before, by its key; `retired` the tasks no longer in the shop file; `out` the machines out
    of service; `put_off` through which day tasks are deferred; `rules` what made each task due
    when the plan before was saved, as `rule_text` writes it; `covered` what each task settles;
    `elsewhere` has the days of jobs, by key, in the saved plans of other quarters.
    """

    today: date
    workdays: Workdays
    done: Mapping[str, Deed] = field(default_factory=dict)
    retired: Collection[str] = ()
    out: Collection[str] = ()
    put_off: Mapping[str, date] = field(default_factory=dict)
    rules: Mapping[str, str] = field(default_factory=dict)
    covered: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    elsewhere: Mapping[str, date] = field(default_factory=dict)


@dataclass(frozen=True)
class Sides:
    """Two plans side by side: their jobs by key."""

    old: dict[str, PlacedJob]
    new: dict[str, PlacedJob]
    old_unfit: dict[str, UnfitJob]
    new_unfit: dict[str, UnfitJob]

    @classmethod
    def of(cls, before: Plan, after: Plan) -> Self:
        """The jobs of a plan and of the one that replaces it."""
        return cls(
            old={job.key: job for job in before.jobs},
            new={job.key: job for job in after.jobs},
            old_unfit={job.key: job for job in before.unfit},
            new_unfit={job.key: job for job in after.unfit},
        )

    def day_before(self, key: str) -> date | None:
        """The day that the plan before had for a job."""
        return self.old[key].day if key in self.old else None

    @cached_property
    def came(self) -> list[PlacedJob]:
        """The jobs on a day on which the plan before did not have them, in order of the days."""
        found = (job for key, job in self.new.items() if self.day_before(key) != job.day)
        return sorted(found, key=lambda job: (job.day, job.key))

    @cached_property
    def came_on(self) -> dict[date, list[PlacedJob]]:
        """Those jobs by their new day."""
        found: dict[date, list[PlacedJob]] = {}
        for job in self.came:
            found.setdefault(job.day, []).append(job)
        return found

    @cached_property
    def visits(self) -> tuple[dict[str, set[str]], dict[str, set[str]]]:
        """The tasks of each visit, before and now."""
        return _by_visit(self.old.values()), _by_visit(self.new.values())


def _by_visit(jobs: Iterable[PlacedJob]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for job in jobs:
        if job.visit:
            found.setdefault(job.visit, set()).add(job.task.name)
    return found


def rule_text(task: Task) -> str:
    """What makes a task due, in words: `6 months or 2000 hours`."""
    return " or ".join(
        schedule_words(rule.rule) if isinstance(rule, FixedSchedule) else rule.text
        for rule in task.rules
    )


def listed(names: Iterable[str]) -> str:
    """Names in a sentence."""
    return ", ".join(sorted(names))


def _told(day: date) -> str:
    return f"{day:%a} {day}"


class Reasons:
    """The reasons for the changes from one plan to the next."""

    def __init__(self, sides: Sides, meanwhile: Meanwhile) -> None:
        self._sides = sides
        self._meanwhile = meanwhile

    def moved(self, old: PlacedJob, new: PlacedJob) -> str:
        """Why a job has another day: the first reason that holds."""
        return (
            _by_pin(old, new)
            or self._day_impossible(old)
            or self._due_otherwise(old, new)
            or self._window_otherwise(old, new)
            or self._with_its_visit(old, new)
            or self._crowded_out(old)
            or "the rest of the plan fits better so"
        )

    def added(self, new: PlacedJob) -> str:
        """Why a job is in the plan that was not, or had no day."""
        if new.key in self._sides.old_unfit:
            return f"it fits now; before: {self._sides.old_unfit[new.key].reason}"
        if new.task.once:
            return "raised since the plan was saved"
        why = self._rule_changed(new.task) or self._other_job(new.task.name, new.day)
        why = why or ("pinned to its day" if new.pinned else None)
        due = f"due {_told(new.due_on)}"
        return f"{why}: {due}" if why else f"{due}, not in the saved plan"

    def dropped(self, key: str, task: Task) -> str:
        """Why a job is no longer in the plan."""
        if key in self._meanwhile.done:
            return self._done(key, task.name)
        if task.name in self._meanwhile.retired:
            return "retired: no longer in the shop file"
        if task.machine in self._meanwhile.out:
            return f"{task.machine} is out of service"
        if key in self._meanwhile.elsewhere:
            day = self._meanwhile.elsewhere[key]
            return f"planned for {_told(day)}, in the plan of another quarter"
        gone = self._sides.old.get(key)
        why = self._settled(gone) if gone else None
        if why:
            return why
        cause = self._rule_changed(task) or self._other_job(task.name, gone.day if gone else None)
        return f"{cause}: no longer due in the quarter" if cause else "no longer due in the quarter"

    # --- what keeps a job from its day

    def _day_impossible(self, old: PlacedJob) -> str | None:
        if old.day < self._meanwhile.today:
            return f"{_told(old.day)} passed without it"
        if old.day not in self._meanwhile.workdays:
            return f"{_told(old.day)} is no working day now"
        if old.task.machine in self._meanwhile.out:
            return f"{old.task.machine} is out of service"
        return None

    def _due_otherwise(self, old: PlacedJob, new: PlacedJob) -> str | None:
        """Its due date is another, and what made it so."""
        if old.due_on == new.due_on:
            return None
        by = min(old.day, new.day)  # what comes after the old day is no reason to leave it
        why = self._rule_changed(new.task) or self._other_job(new.task.name, by)
        if why is None and any(not interval.is_calendar for interval in new.task.every):
            why = "the meter was read since"
        due = f"due {_told(new.due_on)} now, not {_told(old.due_on)}"
        return f"{why}: {due}" if why else due

    def _window_otherwise(self, old: PlacedJob, new: PlacedJob) -> str | None:
        """It was put off, or its window is another, without the day that it had."""
        until = self._meanwhile.put_off.get(new.task.name)
        if until and old.day <= until:
            return f"put off through {_told(until)}"
        first, last = new.window
        if first <= old.day <= last:
            return None
        return f"it may be done from {_told(first)} to {_told(last)} now"

    def _with_its_visit(self, old: PlacedJob, new: PlacedJob) -> str | None:
        """It goes with other jobs of the same firm, which it did not, or which moved too."""
        olds, news = self._sides.visits
        now = news.get(new.visit or "", set()) - {new.task.name}
        before = olds.get(old.visit or "", set())
        if now - before:
            return f"to share a visit of {new.task.crew} with {listed(now - before)}"
        return f"the visit of {new.task.crew} moved, with {listed(now)}" if now else None

    def _crowded_out(self, old: PlacedJob) -> str | None:
        """Jobs came to its day that take the same hands or the same machine down."""
        came = self._sides.came_on.get(old.day, ())
        names = {job.task.name for job in came if _compete(job.task, old.task)}
        return f"to make room on {_told(old.day)} for {listed(names)}" if names else None

    # --- what changed a job's due date

    def _rule_changed(self, task: Task) -> str | None:
        was, now = self._meanwhile.rules.get(task.name), rule_text(task)
        return f"its interval is {now} now, not {was}" if was and now and was != now else None

    def _other_job(self, name: str, before: date | None) -> str | None:
        """The job before it in its chain was done, moved or settled on another day than planned."""
        if name in self._off_plan:
            return self._done(self._off_plan[name], name)
        coming = self._settling.get(name, ())
        earlier = [job for job in coming if before is None or job.day < before]
        if not earlier:
            return None
        return f"{earlier[-1].task.name} is planned for {_told(earlier[-1].day)} before it"

    @cached_property
    def _settling(self) -> dict[str, list[PlacedJob]]:
        """For each task the jobs that settle it on a day that is new for them, by day."""
        found: dict[str, list[PlacedJob]] = {}
        for job in self._sides.came:
            own = (job.task.name,) if job.key in self._sides.old else ()
            for name in (*own, *self._meanwhile.covered.get(job.task.name, ())):
                found.setdefault(name, []).append(job)
        return found

    @cached_property
    def _off_plan(self) -> dict[str, str]:
        """For each task the key of its latest job that was done, unless done on its planned day."""
        found: dict[str, str] = {}
        days = {key: deed.base.moment.day for key, deed in self._meanwhile.done.items()}
        for key in sorted(days, key=lambda key: (days[key], key)):
            found[task_of(key)] = key
        return {
            name: key for name, key in found.items() if self._sides.day_before(key) != days[key]
        }

    def _done(self, key: str, name: str) -> str:
        """When a job was done, by what if not by itself, and when it was planned if otherwise."""
        deed, planned = self._meanwhile.done[key], self._sides.day_before(key)
        on = deed.base.moment.day
        by = "done" if deed.task == name else f"settled by {deed.task}, done"
        return f"{by} on {_told(on)}" + (
            f", not on {_told(planned)}" if planned and planned != on else ""
        )

    def _settled(self, gone: PlacedJob) -> str | None:
        """A later date of its schedule was done with it, or a job that covers it is planned."""
        name = gone.task.name
        last = self._off_plan.get(name)
        if gone.task.on and last and self._meanwhile.done[last].base.moment.day >= gone.window[0]:
            return self._done(last, name)
        coming = self._settling.get(name, ())
        able = [job for job in coming if job.task.name != name and job.day <= gone.window[1]]
        job = min(able, key=lambda job: abs(job.day - gone.day), default=None)
        return f"settled by {job.task.name} on {_told(job.day)}" if job else None


def _by_pin(old: PlacedJob, new: PlacedJob) -> str | None:
    if new.pinned:
        return "pinned to its new day"
    return "released from its pin" if old.pinned else None


def _compete(one: Task, other: Task) -> bool:
    """Whether two jobs take the same hands, or the same machine down."""
    down = one.machine == other.machine and one.machine_down and other.machine_down
    return down or one.crew == other.crew
