"""A good file of an invented shop, and ways to spoil it."""

from collections.abc import Callable

import pytest

from pmtrack.rules.shop import Shop
from pmtrack.shopfile import read_shop

BASE = """\
shop:
  name: Quillback Sheet Works
  timezone: America/New_York
  shifts:
    - {name: day, days: mon-fri, start: "06:00", end: "14:30"}
    - {name: late, days: mon-thu, start: "14:30", end: "23:00"}
  closed:
    - {on: 2026-11-26, why: holiday}
    - {from: 2026-12-24, to: 2027-01-01}
  crew_hours: 6
  starts: 2026-01-05
suppliers:
  - {code: press-service, name: Outside press service, notice: 21 days, callout_cost: 450}
machines:
  - code: TP-1
    name: Turret punch press
    in_service: 2019-03-04
    meters:
      hits: {fastest: 120 per minute, expected: 9000 per day, wraps_at: 10000000}
      hours: {expected: 11 per day}
    cautions: [Lock out and tag out before opening guards.]
  - code: PB-1
    name: Press brake
    meters:
      hours:
    note: Maker's manual in the cabinet
tasks:
  - code: weekly
    machines: [TP-1, PB-1]
    title: Clean and lubricate
    every: 1 week
  - code: half-year
    machines: [TP-1]
    title: Outside service
    every: [6 months, 2000 hours]
    lead: [28 days, 150 hours]
    grace: 10%
    last_done: {on: 2026-02-02, hours: 4100}
    crew: press-service
    covers: [weekly]
    machine_down: true
    minutes: 420
    steps:
      - Bleed the accumulators.
      - {measure: pressure, text: Pump pressure, unit: bar, min: 150, max: 170}
    parts:
      - {part: hydraulic oil, quantity: 180, unit: l}
      - Lint-free cloths
  - code: lift-test
    machines: [PB-1]
    title: Yearly test
    on: FREQ=YEARLY;BYMONTH=3;BYDAY=1MO
    authority: Rule 12 of the district
materials:
  - {code: mild, wear: 1, thickness: 1.25}
tooling:
  - {code: RD-10, machine: TP-1, kind: round punch, size: 10 mm, sharpen_every: 60000,
     grind: 0.2, grindable: 3.0, replace_notice: 10 days, price: 85}
programs:
  - {code: KIOSK-DOOR, material: mild, hits: {RD-10: 14}}
"""


def changed_text(old: str, new: str) -> str:
    """The good file with one piece replaced, which must stand in it exactly once."""
    assert BASE.count(old) == 1, old
    return BASE.replace(old, new)


@pytest.fixture
def base() -> str:
    """The good file."""
    return BASE


@pytest.fixture
def faults_after() -> Callable[[str, str], list[str]]:
    """The faults of the good file with one piece replaced."""

    def read(old: str, new: str) -> list[str]:
        shop, faults = read_shop(changed_text(old, new).encode(), "shop.yaml")
        assert (shop is None) == bool(faults)
        return faults

    return read


@pytest.fixture
def shop_after() -> Callable[[str, str], Shop]:
    """The shop of the good file with one piece replaced by something as good."""

    def read(old: str, new: str) -> Shop:
        shop, faults = read_shop(changed_text(old, new).encode(), "shop.yaml")
        assert faults == []
        assert shop is not None
        return shop

    return read
