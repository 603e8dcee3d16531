"""What the plan is chosen from: the ways of each task, and the limits of days."""

from collections.abc import Mapping
from dataclasses import dataclass

from pmtrack.rules.plan_steps import Step
from pmtrack.rules.shop import Task


@dataclass(frozen=True)
class Network:
    """One task's ways through the quarter; `coverers` names the tasks that settle it."""

    task: Task
    steps: tuple[Step, ...]
    coverers: tuple[str, ...] = ()
    pinned: tuple[int, ...] = ()


@dataclass(frozen=True)
class CrewDay:
    """In-house minutes of a day: how many there may be, and from how many on the day is heavy."""

    most: float
    heavy_from: float


@dataclass(frozen=True)
class Limits:
    """What the days (ordinals) hold, in minutes: of the crew, and of the shop's shifts."""

    crew: Mapping[int, CrewDay]
    shifts: Mapping[int, float]

    def crew_on(self, day: int) -> CrewDay:
        """The crew's minutes of a day; a day without an entry has none."""
        return self.crew.get(day, CrewDay(0.0, 0.0))
