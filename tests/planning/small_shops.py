"""Small random shops, in the oracle's plain words, and as the planner is given them."""

import random
from datetime import date, timedelta
from fractions import Fraction

from pmtrack.planning.drafting import Draft
from pmtrack.rules.base import coverers
from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.forecast import Chain, Starting
from pmtrack.rules.plan import PlacedJob, Quarter
from pmtrack.rules.plan_steps import Ground
from pmtrack.rules.shop import Shop, Supplier, Task
from pmtrack.rules.situation import Calendars, Situation
from pmtrack.rules.windows import Windows
from pmtrack.rules.workdays import Workdays
from tests.build import shop as made_shop
from tests.build import task as made_task
from tests.oracle.plan import Instance
from tests.oracle.shop import Plain

FIRST = date(2026, 6, 1)  # a Monday
SHIFT = 510  # minutes of the made shop's only shift
DAY = timedelta(days=1)
SHORT = ("6 days", "8 days", "1 week", "2 weeks")
LONG = ("2 weeks", "3 weeks", ["12 days", "2 weeks"])


def small_case(seed: int) -> Instance:
    """A shop of two to five tasks and a quarter of two or three weeks, tight in many ways."""
    chance = random.Random(seed)
    today = FIRST - chance.randrange(4) * DAY
    shop: Plain = {"shop": {"shifts": [{"days": "mon-fri", "start": "06:00", "end": "14:30"}]}}
    closed = FIRST + chance.randrange(14) * DAY
    if chance.random() < 0.5:
        until = closed + chance.randrange(3) * DAY
        shop["shop"]["closed"] = [{"from": str(closed), "to": str(until)}]
    shop["shop"] |= {"crew_hours": chance.choice([2, 3, 4, 8]), "shift_minutes": SHIFT}
    shop["suppliers"] = [{"code": f"firm-{n}", "notice": chance.choice([0, 2, 6])} for n in (1, 2)]
    codes = [f"job-{n}" for n in range(chance.randrange(2, 6))]
    shop["tasks"] = [_task(chance, codes, number) for number in range(len(codes))]
    for task in shop["tasks"]:
        if any(task["code"] in other.get("covers", ()) for other in shop["tasks"]):
            task["machines"] = ["TP-1"]  # as the one that covers it
    done = {t["code"]: today - chance.randrange(1, 18) * DAY for t in shop["tasks"]}
    case = Instance(shop, today, FIRST + chance.choice([9, 11, 14]) * DAY, done, first=FIRST)
    if chance.random() < 0.5:
        case.taken = {day: float(chance.choice([0, 60, 200])) for day in case.open_days[:4]}
    some = [code for code in codes if not case.coverers(code)]
    if chance.random() < 0.4:
        case.saved = {code: frozenset(chance.sample(case.open_days[:12], 3)) for code in some[:2]}
    if chance.random() < 0.4:
        case.pins = {some[-1]: chance.choice(case.open_days[:12])}
    return case


def _task(chance: random.Random, codes: list[str], number: int) -> Plain:
    task: Plain = {
        "code": codes[number],
        "machines": [chance.choice(["TP-1", "TP-1", "PB-1"])],
        "every": chance.choice(LONG if number > 1 else SHORT),
        "minutes": chance.choice([20, 60, 90, 130, 300, 520]),
    }
    if number and chance.random() < 0.4:
        task |= {"machines": ["TP-1"], "covers": [codes[number - 1]]}
    if chance.random() < 0.5:
        task["grace"] = chance.choice(["1 days", "2 days", "3 days", "20%"])
    if chance.random() < 0.2:
        task |= {"authority": "an inspectorate", "lead": chance.choice(["1 days", "3 days"])}
    if chance.random() < 0.4:
        task["crew"] = chance.choice(["firm-1", "firm-1", "firm-2"])
    task["machine_down"] = chance.random() < 0.5
    return task


def draft_of(case: Instance) -> Draft:
    """The same shop as the planner is given it."""
    closed = [f"{c['from']}..{c['to']}" for c in case.shop["shop"].get("closed", [])]
    where = made_shop(*closed)
    workdays = Workdays.of(where)
    tasks = tuple(_as_task(case, plain) for plain in case.shop["tasks"])
    calendars, windows = Calendars(workdays, workdays, where.zone), Windows()
    shop = Shop(
        where.name,
        where.timezone,
        where.shifts,
        where.closed,
        crew_hours=Fraction(case.shop["shop"]["crew_hours"]),
        suppliers=tuple(
            Supplier(s["code"], s["code"], s["notice"]) for s in case.shop["suppliers"]
        ),
        tasks=tasks,
    )
    return Draft(
        shop=shop,
        ground=Ground(case.today, Quarter("short", FIRST, case.last), workdays),
        chains=[Chain.of(_starting(case, task), calendars, windows) for task in tasks],
        coverers=coverers(tasks),
        taken={day.toordinal(): minutes for day, minutes in case.taken.items()},
        before=[_saved(task, day) for task in tasks for day in case.saved.get(task.code, ())],
        pins={
            task.name: frozenset({case.pins[task.code].toordinal()})
            for task in tasks
            if task.code in case.pins
        },
    )


def _as_task(case: Instance, plain: Plain) -> Task:
    every = plain["every"] if isinstance(plain["every"], str) else ", ".join(plain["every"])
    known = {key: plain[key] for key in plain if key not in ("every", "machines", "code")}
    known["covers"] = tuple(plain.get("covers", ()))
    return made_task(
        every, code=plain["code"], machine=plain["machines"][0], title=plain["code"], **known
    )


def _starting(case: Instance, task: Task) -> Starting:
    base = Base(Moment(case.done[task.code]), "entry 1")
    return Starting(task, Situation(day=case.today, first_applied=FIRST, base=base), 1)


def _saved(task: Task, day: date) -> PlacedJob:
    return PlacedJob(f"{task.name}#{day}", task, day, day, (day, day), 0)
