"""Short makers of planned jobs for tests of sheets and cards."""

from dataclasses import replace
from datetime import date, timedelta

from pmtrack.rules.plan import PlacedJob
from pmtrack.rules.shop import Task


def placed(name: str, day: str, visit: str | None = None, **fields: object) -> PlacedJob:
    """`TP-1/weekly` on a day of 2027, due on it, with a window of two days about it.

    `fields` are those of the task; `crew` is the firm of a visit.
    """
    machine, code = name.split("/")
    task = replace(Task(machine, code, f"{code} of {machine}"), **fields)  # type: ignore[arg-type]
    on = date.fromisoformat(f"2027-{day}")
    around = (on - timedelta(days=2), on + timedelta(days=2))
    return PlacedJob(f"{name}#{day}", task, on, on, around, lead=1, visit=visit)
