"""A shop whose machines fail by known laws: eight years of stops and services, imported as rows.

It works every day from 06:00 to 22:00. A service takes an hour (50 for the crew, 100 for the
machine), a breakdown an hour too; so the cheapest interval is that at which one failure is expected
for each (shape - 1), 1 at a shape of 2: the scale itself.
"""

from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from pmtrack.statistics.weibull import Weibull
from tests.command import Command
from tests.statistics.simulated_rounds import failing

FIRST = datetime.fromisoformat("2018-01-01T06:00")  # shop time
YEARS = 8
OPEN = 16  # hours a day
ROUND = timedelta(days=30)
BEGAN, NOW = "2018-01-01T05:00", "2026-01-05T08:00"

SHOP = """\
shop:
  name: Quillback Sheet Works
  timezone: UTC
  shifts: [{name: day, days: mon-sun, start: "06:00", end: "22:00"}]
  RATE
suppliers:
  - {code: lift-inspector, name: Lift inspector, notice: 21 days, callout_cost: 300}
machines:
  - {code: WEARS, name: Press that wears out, hourly_rate: 100}
  - {code: STEADY, name: Press that does not, hourly_rate: 100}
  - {code: SELDOM, name: Press that seldom fails, hourly_rate: 100}
tasks:
  - {code: service, machines: [WEARS, STEADY, SELDOM], title: Service, every: 1 month, minutes: 60,
     machine_down: true}
  - {code: by-law, machines: [STEADY], title: Stopping time measured, every: 1 month, minutes: 60,
     machine_down: true, authority: 29 CFR 1910.217(e)(1)}
  - {code: oil, machines: [STEADY], title: Oil topped up, every: 1 week, minutes: 60}
  - {code: look, machines: [WEARS], title: Look round, every: 1 day, minutes: 5}
  - {code: untimed, machines: [WEARS], title: Bolts tightened, every: 1 month}
  - {code: fixed, machines: [WEARS], title: Meeting, on: FREQ=WEEKLY;BYDAY=MO, minutes: 5}
  - {code: lift, machines: [SELDOM], title: Lift inspected, every: 1 year, minutes: 60,
     crew: lift-inspector}
"""
LAWS = {"WEARS": Weibull(2, 20 * OPEN), "STEADY": Weibull(1, 40 * OPEN)}


def store(folder: Path, rate: str = "crew_rate: 50") -> Command:
    """The command line on such a shop with its history."""
    run = Command(folder / "pmtrack.db")
    (folder / "shop.yaml").write_text(SHOP.replace("RATE", rate), "utf-8")
    (folder / "stops.csv").write_text("\n".join(_stops()), "utf-8")
    (folder / "done.csv").write_text("\n".join(_done()), "utf-8")
    for told in (
        run("apply", str(folder / "shop.yaml"), now=BEGAN),
        run("import", "stops", str(folder / "stops.csv"), now=NOW),
        run("import", "completions", str(folder / "done.csv"), now=NOW),
    ):
        assert told.status == 0, told.err
    return run


def _served() -> list[datetime]:
    """When the machines were served."""
    return [FIRST + n * ROUND for n in range(YEARS * 365 // 30 + 1)]


def _done() -> list[str]:
    tasks = ["WEARS/service", "WEARS/untimed", "STEADY/service", "STEADY/by-law", "SELDOM/service"]
    inspected = "SELDOM/lift,2025-01-20T09:00,Dana"
    oiled = (FIRST + timedelta(weeks=n) for n in range(YEARS * 52))
    weekly = (f"STEADY/oil,{at:%Y-%m-%dT%H:%M},Dana" for at in oiled)
    rows = (f"{task},{at:%Y-%m-%dT%H:%M},Dana" for at in _served() for task in tasks)
    return ["task,at,by", inspected, *weekly, *rows]


def _stops() -> list[str]:
    rows = ["machine,from,to,cause,planned,by"]
    for machine, law in LAWS.items():
        draw = Random(machine)
        for began in _served()[:-1]:
            for age in failing(draw, law, ROUND.days * OPEN):
                rows.append(_stop(machine, began, age))
    return [*rows, _stop("SELDOM", FIRST, 1000), _stop("SELDOM", FIRST, 2000)]


def _stop(machine: str, began: datetime, age: float) -> str:
    days, hours = divmod(age, OPEN)
    start = began + timedelta(days=days, minutes=int(hours * 60))
    end = start + timedelta(hours=1)
    return f"{machine},{start:%Y-%m-%dT%H:%M},{end:%Y-%m-%dT%H:%M},seal leak,no,Dana"
