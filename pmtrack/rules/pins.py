"""Jobs that a person fixed to a day."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Pin:
    """The job `key` of a task fixed to a day, with the entry that says so and its reason."""

    entry: int
    task: str
    key: str
    day: date
    why: str = ""
