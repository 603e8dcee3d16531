"""A slow second reading of the rules (`usage`, `due`, `wear`), and random shops to try it on.

The shops keep out of what the rules leave open: nothing is read or done in a night shift after
midnight, marked dials lean on no other, tasks of a meter without `expected` have a base.
"""

import random
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Any

from .shop import Plain, is_working, weekdays

FIRST = date(2026, 1, 5)  # a Monday, the first day with facts
DAY = timedelta(days=1)
SCHEDULES: list[list[tuple[str, Any, str, str]]] = [
    [("day", "mon-fri", "06:00", "14:30"), ("late", "mon-thu", "14:30", "23:00")],
    [("early", "mon-fri", "06:00", "14:00"), ("night", "mon-thu", "22:00", "06:00")],
    [("day", "tue-sat", "07:00", "15:30")],
    [("early", "mon-fri", "06:00", "15:00"), ("evening", ["mon", "wed"], "15:00", "00:00")],
    [("long", "fri-mon", "18:00", "06:00"), ("short", ["tue", "wed"], "08:00", "16:00")],
]
CLOSED: list[Plain] = [
    {"from": date(2026, 1, 15), "to": date(2026, 1, 19), "why": "stocktaking"},
    {"on": date(2026, 2, 16), "why": "holiday"},
    {"on": date(2026, 2, 27), "why": "holiday"},
    {"from": date(2026, 4, 3), "to": date(2026, 4, 6), "why": "spring"},
]
ZONES = ["America/New_York", "Europe/Berlin", "UTC", "Australia/Adelaide"]
PER_SHIFT = {"hits": (3000, 20000), "hours": (2, 8), "cycles": (10, 80)}
AMOUNTS = {"hits": (20000, 600000), "hours": (20, 400), "cycles": (100, 3000)}
LEVELS = {"hits": 9_900_000, "hours": 4000, "cycles": 70_000}
CALENDARS = ["5 days", "1 week", "10 days", "3 weeks", "1 month", "2 months", "6 months", "1 year"]
RULES = [
    "FREQ=MONTHLY;BYDAY=1MO",
    "FREQ=MONTHLY;BYMONTHDAY=31",
    "FREQ=MONTHLY;BYMONTHDAY=-1",
    "FREQ=WEEKLY;BYDAY=MO,TH",
    "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU",
    "FREQ=DAILY;INTERVAL=10",
    "FREQ=MONTHLY;BYDAY=-1FR;COUNT=3",
    "FREQ=WEEKLY;BYDAY=SU;UNTIL=20260315",
]


@dataclass
class Counter:
    """What stands on a machine's counter, and how the shop keeps its book."""

    way: str  # counts, dials, both or none
    shown: int
    wraps_at: int | None
    wrapped: bool = False
    seen: bool = False

    def run(self, amount: int) -> None:
        """Let the machine work."""
        self.shown += amount
        if self.wraps_at and self.shown >= self.wraps_at:
            self.shown, self.wrapped = self.shown - self.wraps_at, self.seen


@dataclass
class Scenario:
    """A shop, what happened in it, and the clock at the time of asking."""

    rng: random.Random
    shop: Plain
    now: datetime
    facts: list[Plain] = field(default_factory=list)
    counters: dict[tuple[str, str], Counter] = field(default_factory=dict)

    def add(self, kind: str, **columns: Any) -> None:
        """One more fact, with a recorder's name of its own to know it by."""
        self.facts.append({"kind": kind, "id": f"hand {len(self.facts)}", **columns})

    def chance(self, share: float) -> bool:
        """True so often."""
        return self.rng.random() < share

    def moment(self, day: date, hour: int) -> str:
        """A time of that day in the four hours from the given one on."""
        return f"{day}T{hour + self.rng.randint(0, 3):02}:{self.rng.randint(0, 59):02}"


def scenario(seed: int) -> Scenario:
    """The same shop and the same facts for the same seed."""
    rng = random.Random(seed)
    now = datetime.combine(FIRST + rng.randint(12, 62) * DAY, time(12, 0))
    made = Scenario(rng, random_shop(rng), now)
    made.add("applied", at=str(FIRST + rng.randint(-1, 8) * DAY))
    for machine in made.shop["machines"]:
        for name, meter in machine["meters"].items():
            way = rng.choice(["counts", "dials", "both", "both", "none"])
            counter = Counter(way, LEVELS[name], meter.get("wraps_at"))
            made.counters[machine["code"], name] = counter
    jobs, by_date = rng.randint(4, 8), rng.randint(6, 14)
    made.shop["tasks"] = [random_task(made, n, n >= jobs) for n in range(jobs + by_date)]
    for place, task in enumerate(made.shop["tasks"]):
        same = [t for t in made.shop["tasks"][:place] if t["machines"] == task["machines"]]
        if same and made.chance(0.5):
            task["covers"] = [rng.choice(same)["code"]]
    for machine in made.shop["machines"]:
        happen(made, machine)
    add_tool_facts(made)
    return made


def random_shop(rng: random.Random) -> Plain:
    """Shifts, closed days, machines with their meters, and tools on the first machine."""
    columns = ("name", "days", "start", "end")
    head: Plain = {"name": "Random shop", "timezone": rng.choice(ZONES), "crew_hours": 6}
    head["shifts"] = [dict(zip(columns, s, strict=True)) for s in rng.choice(SCHEDULES)]
    head["closed"] = rng.sample(CLOSED, k=rng.randint(0, 4))
    head |= {"starts": date(2026, 1, 12)} if rng.random() < 0.3 else {}
    machines: list[Plain] = []
    for code in ["M-1", "M-2", "M-3"][: rng.randint(1, 3)]:
        meters = {name: random_meter(rng, name) for name in rng.sample(list(AMOUNTS), k=2)}
        born = rng.choice([date(2020, 3, 4), date(2025, 12, 10), date(2026, 1, 2)])
        machines.append({"code": code, "name": code, "in_service": born, "meters": meters})
    tools: list[Plain] = [
        {"code": f"RD-{n}", "machine": "M-1", "kind": "round punch", "size": f"{n} mm"}
        | {"sharpen_every": rng.randint(3000, 60000), "grind": 0.2, "price": 85}
        | {"grindable": rng.choice([1, 1.2, 3]), "replace_notice": f"{rng.randint(0, 20)} days"}
        for n in (10, 20)
    ]
    tools[0]["die"] = {"sharpen_every": rng.randint(9000, 120000), "grind": 0.2, "grindable": 2}
    meter = rng.choice(list(machines[0]["meters"]))
    for n in (1, 2):
        every = rng.randint(*AMOUNTS[meter])
        part: Plain = {"code": f"NZ-{n}", "machine": "M-1", "counts": meter, "sharpen_every": every}
        tools.append(part | ({"grindable": 0, "replace_notice": "7 days"} if n == 1 else {}))
    return {
        "shop": head,
        "suppliers": [{"code": "outside", "name": "Outside", "notice": "21 days"}],
        "machines": machines,
        "tasks": [],
        "materials": [{"code": "mild"}, {"code": "hard", "wear": 1.7, "thickness": 1.25}],
        "tooling": tools,
        "programs": [
            {"code": "DOOR", "material": "hard", "hits": {"RD-10": 14, "RD-20": 3}},
            {"code": "LID", "hits": {"RD-10": 5}},
        ],
    }


def random_meter(rng: random.Random, name: str) -> Plain:
    """Expected in one of its forms, or not at all."""
    low, high = PER_SHIFT[name]
    amount = rng.randint(low, high)
    forms = [f"{amount} per shift", f"{2 * amount} per day", f"{8 * amount} per week"]
    meter: Plain = {"expected": rng.choice([*forms, f"{amount / 8} per hour"])}
    if rng.random() < 0.2:
        meter = {}
    if name == "hits":
        meter["fastest"] = "120 per minute"
        meter |= {"wraps_at": 10_000_000} if rng.random() < 0.6 else {}
    return meter


def slack(rng: random.Random, every: list[str], key: str) -> Plain:
    """`grace` or `lead` in one of its forms, fit for the task's intervals."""
    meters = [text for text in every if text.split()[1] in AMOUNTS]
    days = f"{rng.randint(0, 12)} days"
    forms: list[Any] = [f"{rng.choice(['5', '12.5', '30'])}%"]
    if key == "lead" or len(meters) < len(every):
        forms.append(days)
    for text in meters:
        forms.append(f"{AMOUNTS[text.split()[1]][0] // rng.randint(2, 20)} {text.split()[1]}")
        if len(meters) < len(every):
            forms.append([days, forms[-1]])
    return {key: rng.choice(forms)} if rng.random() < 0.35 else {}


def random_task(made: Scenario, number: int, by_date: bool) -> Plain:
    """A task of any kind, on one machine or on all that have its meters."""
    rng, machines = made.rng, made.shop["machines"]
    machine = rng.choice(machines)
    meters = rng.sample(list(machine["meters"]), k=0 if by_date else rng.choice([1, 1, 2]))
    every = [f"{rng.randint(*AMOUNTS[meter])} {meter}" for meter in meters]
    every += rng.sample(CALENDARS, k=rng.choice([0, 1, 1, 2]) if every else 1)
    rng.shuffle(every)
    alike = [m for m in machines if set(meters) <= set(m["meters"])]
    alike = alike if made.chance(0.3) else [machine]
    task: Plain = {"code": f"job-{number}", "title": f"Job {number}"}
    task["machines"] = [m["code"] for m in alike]
    if not meters and made.chance(0.6):
        task |= {"on": rng.choice(RULES)} | ({"starts": date(2025, 12, 31)} if number % 3 else {})
        every = ["1 month"]
    else:
        task["every"] = every if len(every) > 1 else every[0]
        task |= {"starts": FIRST + rng.randint(-20, 60) * DAY} if made.chance(0.3) else {}
    unsure = [1 for m in alike for name in meters if "expected" not in m["meters"][name]]
    if unsure or made.chance(0.6):
        task["last_done"] = {"on": FIRST - rng.choice([1, 7, 20, 50, 90, 160, 340]) * DAY}
        for name in meters if len(alike) == 1 and not unsure else []:
            if made.counters[machine["code"], name].way == "dials" and made.chance(0.5):
                task["last_done"][name] = LEVELS[name] - rng.randint(0, AMOUNTS[name][0])
    task |= {"authority": "a law"} if made.chance(0.25) else slack(rng, every, "grace")
    task |= slack(rng, every, "lead")
    task |= {"minutes": rng.randint(5, 240)} if made.chance(0.7) else {}
    return task | ({"crew": "outside"} if made.chance(0.3) else {})


def happen(made: Scenario, machine: Plain) -> None:
    """What was logged and done on one machine, in the order of its days."""
    rng, code = made.rng, machine["code"]
    idle = add_idle(made, code)
    jobs = [f"{code}/{t['code']}" for t in made.shop["tasks"] if code in t["machines"]]
    often = {job: rng.choice([0, 0.02, 0.05, 0.1]) for job in jobs}
    days = [FIRST + n * DAY for n in range((made.now.date() - FIRST).days)]
    quiet = rng.choice([0, 0, 2, 5, 12, 40])  # working days at the end without an entry
    for day in days:
        works, silent = is_working(made.shop, day), day > made.now.date() - quiet * DAY
        if made.chance(0.25) and not silent:
            read_dials(made, machine, day)
        for task in jobs:
            if made.chance(often[task]):
                complete(made, task, day, machine)
        if day not in idle and not silent and (works or made.chance(0.1)):
            log_shifts(made, machine, day)


def add_idle(made: Scenario, code: str) -> set[date]:
    """Sometimes a span out of service, which may still last."""
    if made.chance(0.6):
        return set()
    first = FIRST + made.rng.randint(0, 40) * DAY
    last = first + made.rng.randint(1, 25) * DAY
    if first >= made.now.date():
        return set()
    made.add("idle", machine=code, at=f"{first}T12:00")
    if last < made.now.date():
        made.add("back", machine=code, at=f"{last}T12:00")
    return {first + n * DAY for n in range((last - first).days + 1)}


def log_shifts(made: Scenario, machine: Plain, day: date) -> None:
    """The counts of a day's shifts; on a free day the first shift's, as overtime."""
    shifts = [s for s in made.shop["shop"]["shifts"] if day.weekday() in weekdays(s["days"])]
    for shift in shifts or made.shop["shop"]["shifts"][:1]:
        counts = {}
        for name in machine["meters"]:
            counter, amount = (
                made.counters[machine["code"], name],
                made.rng.randint(*PER_SHIFT[name]),
            )
            counter.run(amount * made.rng.choice([20, 20, 14, 21, 26]) // 20)
            if counter.way in ("counts", "both") and made.chance(0.85):
                counts[name] = amount
        columns: Plain = {"machine": machine["code"], "shift": shift["name"], "date": str(day)}
        if machine["code"] == "M-1" and made.chance(0.6):
            columns |= {"program": made.rng.choice(["DOOR", "LID"]), "scrap": 3}
            columns |= {"material": made.rng.choice(["mild", "hard", None])}
            columns["parts"] = made.rng.randint(10, 200)
        if counts or "program" in columns:
            made.add("shift", **columns, counts=counts)


def read_dials(made: Scenario, machine: Plain, day: date) -> None:
    """Readings of the morning, before the day's own counts; now and then a new counter."""
    for name in machine["meters"]:
        counter = made.counters[machine["code"], name]
        if counter.way not in ("dials", "both"):
            continue
        columns: Plain = {"machine": machine["code"], "at": made.moment(day, 8)}
        if counter.wrapped:
            columns["wrapped"] = True
        elif counter.seen and made.chance(0.06):
            columns["exchanged"], counter.shown = True, made.rng.choice([0, 12])
        made.add("dial", **columns, readings={name: counter.shown})
        counter.wrapped, counter.seen = False, True


def complete(made: Scenario, task: str, day: date, machine: Plain) -> None:
    """A job done in the afternoon, some known by the date only, some with dials read."""
    if made.chance(0.4):
        made.add("completion", task=task, at=str(day), readings={})
        return
    readings = {}
    for name in machine["meters"]:
        counter = made.counters[machine["code"], name]
        if counter.way != "none" and counter.wraps_at is None and made.chance(0.3):
            readings[name] = counter.shown
    made.add("completion", task=task, at=made.moment(day, 13), readings=readings)


def add_tool_facts(made: Scenario) -> None:
    """Tools fitted, hit, ground now and then, seldom replaced; nozzles put in and out by turns."""
    rng, days = made.rng, (made.now.date() - FIRST).days
    add_metered_facts(made, days)
    for day in (FIRST + n * DAY for n in range(1, days)):
        if made.chance(0.05):
            row: Plain = {"event": "sharpen", "mm": 0.1, "why": rng.choice(["planned", "chipped"])}
            made.add("tool-event", tool="RD-10.die", at=made.moment(day, 13), **row)
    for tool in (t for t in made.shop["tooling"] if "counts" not in t):
        code, left = tool["code"], float(tool["grindable"])
        made.add("tool-event", tool=code, at=f"{FIRST}T06:30", event="fit", station=code[-2:])
        for day in (FIRST + n * DAY for n in range(1, days)):
            if is_working(made.shop, day) and made.chance(0.2):
                stuff, hits = rng.choice(["hard", None]), rng.randint(100, 9000)
                at = made.moment(day, 8)
                made.add("tool-count", tool=code, at=at, hits=hits, material=stuff)
            if made.chance(0.06) and left >= 0.3:
                mm = rng.choice([0.1, 0.2, 0.3])
                left = round(left - mm, 1)
                row = {"event": "sharpen", "mm": mm, "why": rng.choice(["planned", "burr"])}
                made.add("tool-event", tool=code, at=made.moment(day, 13), **row)
            elif made.chance(0.02):
                left = float(tool["grindable"])
                made.add("tool-event", tool=code, at=made.moment(day, 13), event="replace")


def add_metered_facts(made: Scenario, days: int) -> None:
    """Two parts that count a meter take turns in one station, and are replaced when worn."""
    rng, codes = made.rng, ["NZ-1", "NZ-2"]
    made.add("tool-event", tool=codes[0], at=f"{FIRST}T06:40", event="fit", station="HEAD")
    for day in (FIRST + n * DAY for n in range(1, days)):
        if made.chance(0.15):
            at = made.moment(day, 12)
            made.add("tool-event", tool=codes[0], at=at, event="takeout")
            codes.reverse()
            made.add("tool-event", tool=codes[0], at=at, event="fit", station="HEAD")
        if made.chance(0.06):
            made.add("tool-event", tool=codes[0], at=made.moment(day, 17), event="replace")
        if made.chance(0.04):
            hits = rng.randint(1, 90)
            made.add("tool-count", tool=rng.choice(codes), at=made.moment(day, 8), hits=hits)
