"""What is news for people in the changes from one plan to the next.

A job is known by its place in the row of its task's jobs. One left out or done between moves all
later ones up by one place; where the task keeps the same days, that is no news for anybody.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from pmtrack.rules.plan import Plan
from pmtrack.rules.replanning import PlanChange

Days = set[tuple[str, date | None]]


def news(before: Plan, after: Plan, changes: Iterable[PlanChange]) -> list[PlanChange]:
    """The changes by the days that each task has, and those of a whole task told once."""
    had: Days = {(job.task.name, job.day) for job in before.jobs}
    has: Days = {(job.task.name, job.day) for job in after.jobs}
    known = list(changes)
    dated = {change.name for change in known if change.key != change.name}
    told = (
        _by_days(change, had, has)
        for change in known
        if change.kind == "visit" or change.key != change.name or change.name not in dated
    )
    found = [change for change in told if change is not None]
    return sorted(found, key=lambda c: (c.kind == "visit", c.day or c.was or date.max, c.name))


def _by_days(change: PlanChange, had: Days, has: Days) -> PlanChange | None:
    """The change as far as its task loses the day before or gains the day now."""
    if change.kind not in ("moved", "added", "dropped"):
        return change
    was = None if (change.name, change.was) in has else change.was
    day = None if (change.name, change.day) in had else change.day
    if was == change.was and day == change.day:
        return change
    if was is None and day is None:
        return None
    return replace(change, kind="dropped" if day is None else "added", was=was, day=day)
