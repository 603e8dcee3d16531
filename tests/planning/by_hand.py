"""Plans of a shop of one machine in June 2026, small enough to work out by hand.

1 June 2026 is a Monday; the made shop works Monday to Friday, one shift of 510 minutes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from pmtrack.planning.drafting import Draft, make_plan
from pmtrack.rules.base import coverers
from pmtrack.rules.forecast import Chain, Starting
from pmtrack.rules.plan import PlacedJob, Plan, Quarter
from pmtrack.rules.plan_steps import Ground
from pmtrack.rules.shop import Shop, Supplier, Task
from pmtrack.rules.situation import Situation
from pmtrack.rules.windows import Windows
from pmtrack.rules.workdays import Workdays
from tests.build import base, calendars, day, shop


def planned(
    *jobs: tuple[Task, str],
    today: str = "06-02",
    last: str = "06-19",
    where: Shop | None = None,
    hours: int | None = None,
    notice: Mapping[str, int] | None = None,
    before: Sequence[PlacedJob] = (),
    pins: Mapping[str, str] | None = None,
) -> Plan:
    """The best plan of tasks, each with the day on which it was done last."""
    made = where or shop()
    firms = tuple(Supplier(code, code, days) for code, days in (notice or {}).items())
    crew = None if hours is None else Fraction(hours)
    draft = Draft(
        shop=replace(made, crew_hours=crew, suppliers=firms),
        ground=Ground(day(today), Quarter("June", day("06-01"), day(last)), Workdays.of(made)),
        chains=[_chain(task, since, today, made) for task, since in jobs],
        coverers=coverers([task for task, _ in jobs]),
        before=before,
        pins={name: frozenset({day(on).toordinal()}) for name, on in (pins or {}).items()},
    )
    return make_plan(draft, tolerance=0.0)


def _chain(task: Task, since: str, today: str, where: Shop) -> Chain:
    situation = Situation(day=day(today), first_applied=day("01-02"), base=base(since))
    return Chain.of(Starting(task, situation, 1), calendars(where), Windows())


def days(plan: Plan) -> dict[str, list[str]]:
    """The days of each task, as month and day."""
    found: dict[str, list[str]] = {}
    for job in plan.jobs:
        found.setdefault(job.task.code, []).append(f"{job.day:%m-%d}")
    return found
