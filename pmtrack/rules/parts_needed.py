"""Parts and consumables to have on hand, week by week."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.rules.dates import monday_of, week_name
from pmtrack.rules.load import TaskOnDay
from pmtrack.rules.usage import ZERO


@dataclass(frozen=True)
class PartNeeded:
    """So much of a part for the jobs of a week, from its Monday on.

    `firm` is the code of the outside firm that does these jobs and may bring the part; None where
    the shop's own crew needs it on hand.
    """

    monday: date
    name: str
    unit: str
    quantity: Fraction
    firm: str | None
    jobs: tuple[TaskOnDay, ...]

    @property
    def week(self) -> str:
        """The ISO 8601 week, like 2027-W03."""
        return week_name(self.monday)


def parts_by_week(jobs: Iterable[TaskOnDay]) -> list[PartNeeded]:
    """What the jobs need, summed by week, part and unit, in-house apart from each outside firm.

    In order of the weeks; in each what the shop needs on hand, then what each firm's jobs need.
    """
    amounts: dict[tuple[date, str, str, str], Fraction] = {}
    needing: dict[tuple[date, str, str, str], list[TaskOnDay]] = {}
    for job in sorted(jobs, key=lambda job: (job.day, job.task.name)):
        for part in job.task.parts:
            line = (monday_of(job.day), job.task.crew or "", part.name, part.unit)
            amounts[line] = amounts.get(line, ZERO) + part.quantity
            if all(known is not job for known in needing.setdefault(line, [])):
                needing[line].append(job)
    return [
        PartNeeded(monday, name, unit, amount, firm or None, tuple(needing[line]))
        for line, amount in sorted(amounts.items())
        for monday, firm, name, unit in (line,)
    ]
