"""Plans of a shop of one machine in June 2026, small enough to work out by hand.

1 June 2026 is a Monday; the made shop works Monday to Friday, one shift of 510 minutes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
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


@dataclass(frozen=True)
class Given:
    """What a plan is made on; dates as month and day."""

    today: str = "06-02"
    last: str = "06-19"
    where: Shop = field(default_factory=shop)
    hours: int | None = None
    notice: Mapping[str, int] = field(default_factory=dict)
    before: Sequence[PlacedJob] = ()
    pins: Mapping[str, str] = field(default_factory=dict)
    taken: Mapping[str, int] = field(default_factory=dict)

    @property
    def shop(self) -> Shop:
        """The shop with its crew and its firms."""
        firms = tuple(Supplier(code, code, days) for code, days in self.notice.items())
        crew = None if self.hours is None else Fraction(self.hours)
        return replace(self.where, crew_hours=crew, suppliers=firms)


def planned(*jobs: tuple[Task, str], **known: object) -> Plan:
    """The best plan of tasks, each with the day on which it was done last; `known` as in Given."""
    given = Given(**known)  # type: ignore[arg-type]
    quarter = Quarter("June", day("06-01"), day(given.last))
    draft = Draft(
        shop=given.shop,
        ground=Ground(day(given.today), quarter, Workdays.of(given.where)),
        chains=[_chain(task, since, given.today, given.where) for task, since in jobs],
        coverers=coverers([task for task, _ in jobs]),
        taken={day(on).toordinal(): float(minutes) for on, minutes in given.taken.items()},
        before=given.before,
        pins={name: frozenset({day(on).toordinal()}) for name, on in given.pins.items()},
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
