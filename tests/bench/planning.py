"""How long a quarter's plan takes, and how near it is to the best: 20 machines, then 2,000.

Run: python tests/bench/planning.py [MACHINES ...]. The shops are invented, the same on every run:
weekly to half-yearly tasks, some by usage, some demanded by an authority, the half-yearly ones by
outside firms and covering the monthly ones; the crew's hours leave about a third free.
"""

import random
import sys
import time
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from fractions import Fraction
from unittest import mock

from pmtrack.planning import drafting
from pmtrack.planning.choosing import Chosen, choose
from pmtrack.planning.drafting import Draft, make_plan
from pmtrack.planning.network import Limits, Network
from pmtrack.rules.base import coverers
from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.forecast import Chain, Starting
from pmtrack.rules.plan import Plan, Quarter
from pmtrack.rules.plan_steps import Ground
from pmtrack.rules.rate import Rate, Standing
from pmtrack.rules.shop import Shop, Supplier, Task
from pmtrack.rules.situation import Calendars, MeterView, Situation, UsageBase
from pmtrack.rules.windows import Windows
from pmtrack.rules.workdays import Workdays
from tests.build import shop as made_shop
from tests.build import task as made_task
from tests.build import views

SIZES = (20, 2000)
SECONDS = {20: 1.0, 2000: 60.0}  # wanted; more is told, and is no fault
GAP = 0.02  # at most
QUARTER = Quarter("2027-Q1", date(2027, 1, 1), date(2027, 3, 31))
TODAY = date(2026, 12, 30)
CLOSED = ("2027-01-01", "2027-01-18", "2027-02-15..2027-02-16")
USED = 0.65  # share of the crew's hours that the jobs take
MACHINES_A_FIRM = 50
A_HOUR = Fraction(60, 400)  # days in which a machine makes one
# code, interval, minutes, share of the machines that have it
ROUTINES = (
    ("weekly", "1 week", 15, 0.14),
    ("fortnight", "2 weeks", 20, 0.5),
    ("monthly", "1 month", 45, 1.0),
    ("quarterly", "3 months", 90, 1.0),
    ("guard", "3 months", 30, 0.2),
    ("half-year", "6 months", 60, 1.0),
    ("service", "400 hours", 60, 0.4),
)


def main() -> int:
    """Plan each shop and tell the figures; 1 if a plan may be far from the best."""
    sizes = [int(text) for text in sys.argv[1:]] or list(SIZES)
    print("machines   jobs   ways s   solving s   total s    gap   visits  unfit")
    return int(not all([_bench(size) for size in sizes]))


def _bench(size: int) -> bool:
    draft, solving = big_draft(size), list[float]()

    def timed(networks: Sequence[Network], limits: Limits, tolerance: float) -> Chosen:
        start = time.perf_counter()
        chosen = choose(networks, limits, tolerance)
        solving.append(time.perf_counter() - start)
        return chosen

    start = time.perf_counter()
    with mock.patch.object(drafting, "choose", timed):
        plan = make_plan(draft)
    total = time.perf_counter() - start
    slow = total > SECONDS.get(size, total)
    print(
        f"{size:8} {len(plan.jobs):6} {total - sum(solving):8.1f} {sum(solving):11.1f} "
        f"{total:9.1f} {plan.gap:6.2%} {_visits(plan):8} {len(plan.unfit):6}"
        f"{f'  over {SECONDS[size]:.0f} s' if slow else ''}",
        flush=True,
    )
    return plan.gap <= GAP


def _visits(plan: Plan) -> int:
    return len({job.visit for job in plan.jobs if job.visit})


def big_draft(size: int) -> Draft:
    """An invented shop of so many machines, as its plan is made from it."""
    chance = random.Random(size)
    where = made_shop(*CLOSED)
    workdays = Workdays.of(where)
    calendars, windows = Calendars(workdays, workdays, where.zone), Windows()
    tasks = [task for number in range(size) for task in _tasks(number, chance)]
    chains = [Chain.of(_starting(task, chance), calendars, windows) for task in tasks]
    firms = {task.crew for task in tasks if task.crew}
    suppliers = tuple(Supplier(firm, firm, notice=7) for firm in sorted(firms))
    shop = Shop(
        where.name,
        where.timezone,
        where.shifts,
        where.closed,
        crew_hours=_crew_hours(tasks, workdays),
        suppliers=suppliers,
        tasks=tuple(tasks),
    )
    return Draft(shop, Ground(TODAY, QUARTER, workdays), chains, coverers(tasks))


def _tasks(number: int, chance: random.Random) -> Iterable[Task]:
    for code, every, minutes, share in ROUTINES:
        if chance.random() < share:
            outside = code == "half-year"
            yield made_task(
                every,
                machine=f"M{number:04}",
                code=code,
                title=code.capitalize(),
                minutes=minutes,
                crew=f"firm-{number // MACHINES_A_FIRM:02}" if outside else None,
                covers=("monthly",) if outside else (),
                authority="an inspectorate" if code == "guard" else None,
                machine_down=minutes >= 60,
            )


def _starting(task: Task, chance: random.Random) -> Starting:
    """Done last at some time within its interval."""
    days = {"week": Fraction(7), "month": Fraction(30)}.get(task.every[0].unit, A_HOUR)
    done = TODAY - timedelta(days=chance.randrange(1, int(task.every[0].amount * days)))
    per_day = Fraction(chance.randrange(40, 160), 10)
    used = per_day * max((TODAY - done).days * 5 // 7, 0)
    meter = MeterView(
        Standing(used, None, Rate(per_day), stale=False, last_day=TODAY), UsageBase(Fraction(0))
    )
    situation = Situation(
        day=TODAY,
        first_applied=date(2026, 1, 2),
        base=Base(Moment(done), "entry 1"),
        meters=views(task, {"hours": meter}),
    )
    return Starting(task, situation, 1)


def _crew_hours(tasks: Iterable[Task], workdays: Workdays) -> Fraction:
    """As many as leave the jobs of the quarter their share of the crew's hours."""
    in_quarter = {"weekly": 13.0, "fortnight": 6.5, "monthly": 2.7, "service": 1.5}
    minutes = sum(
        (task.minutes or 0) * in_quarter.get(task.code, 1.0) for task in tasks if not task.crew
    )
    days = workdays.between(QUARTER.first - timedelta(days=1), QUARTER.last)
    return Fraction(round(minutes / 60 / days / USED, 1)).limit_denominator(10)


if __name__ == "__main__":
    sys.exit(main())
