"""What names a job, in plans, pins and calendars: its task, and which of the task's jobs it is.

A job of a schedule is named by its date, one of an interval by its place in the row of jobs; a
one-off job is called like its task.
"""

from datetime import date

_DATE, _PLACE = "@", "#"  # neither is in a task's name


def on_date(task: str, day: date | None) -> str:
    """The job that a fixed schedule has on a date."""
    return f"{task}{_DATE}{day}"


def in_row(task: str, place: int) -> str:
    """The job of an interval that is the first, second, ... since pmtrack knows the task."""
    return f"{task}{_PLACE}{place}"


def place_in_row(task: str, key: str) -> int | None:
    """Which job of the row the key names; None where it names none of that task."""
    place = key.removeprefix(f"{task}{_PLACE}")
    return int(place) if place.isdecimal() else None


def task_of(key: str) -> str:
    """The name of the task whose job a key names."""
    return key.partition(_DATE)[0].partition(_PLACE)[0]
