"""Every form that the shop file takes, and the record that comes of it."""

from collections.abc import Callable
from datetime import date, time
from fractions import Fraction
from typing import Any

import pytest

from pmtrack.rules.shop import (
    Allowance,
    Closure,
    FixedSchedule,
    Interval,
    LastDone,
    Machine,
    Material,
    Meter,
    Part,
    PerTime,
    Program,
    Shift,
    Shop,
    Step,
    Supplier,
    Task,
    Tool,
)
from pmtrack.shopfile import read_shop

Look = Callable[[Shop], Any]

WEEKLY_TP = Task(
    machine="TP-1",
    code="weekly",
    title="Clean and lubricate",
    every=(Interval(Fraction(1), "week", "1 week"),),
    starts=date(2026, 1, 5),
)


def test_good_file_becomes_these_records(base: str) -> None:
    shop, faults = read_shop(base.encode(), "shop.yaml")

    assert faults == []
    assert shop == Shop(
        name="Quillback Sheet Works",
        timezone="America/New_York",
        shifts=(
            Shift("day", (0, 1, 2, 3, 4), time(6), time(14, 30)),
            Shift("late", (0, 1, 2, 3), time(14, 30), time(23)),
        ),
        closed=(
            Closure(date(2026, 11, 26), date(2026, 11, 26), "holiday"),
            Closure(date(2026, 12, 24), date(2027, 1, 1)),
        ),
        crew_hours=Fraction(6),
        suppliers=(Supplier("press-service", "Outside press service", 21, Fraction(450)),),
        machines=(
            Machine(
                "TP-1",
                "Turret punch press",
                date(2019, 3, 4),
                (
                    Meter(
                        "hits",
                        PerTime(Fraction(120), "minute"),
                        PerTime(Fraction(9000), "day"),
                        Fraction(10**7),
                    ),
                    Meter("hours", expected=PerTime(Fraction(11), "day")),
                ),
                ("Lock out and tag out before opening guards.",),
            ),
            Machine(
                "PB-1",
                "Press brake",
                meters=(Meter("hours"),),
                note="Maker's manual in the cabinet",
            ),
        ),
        tasks=(
            WEEKLY_TP,
            Task(
                machine="PB-1",
                code="weekly",
                title="Clean and lubricate",
                every=(Interval(Fraction(1), "week", "1 week"),),
                starts=date(2026, 1, 5),
            ),
            Task(
                machine="TP-1",
                code="half-year",
                title="Outside service",
                every=(
                    Interval(Fraction(6), "month", "6 months"),
                    Interval(Fraction(2000), "hours", "2000 hours"),
                ),
                starts=date(2026, 1, 5),
                last_done=LastDone(date(2026, 2, 2), {"hours": Fraction(4100)}),
                grace=(Allowance(Fraction(10), "%"),),
                lead=(Allowance(Fraction(28), "day"), Allowance(Fraction(150), "hours")),
                minutes=420,
                crew="press-service",
                covers=("weekly",),
                machine_down=True,
                steps=(
                    Step("Bleed the accumulators."),
                    Step("Pump pressure", "pressure", "bar", Fraction(150), Fraction(170)),
                ),
                parts=(Part("hydraulic oil", Fraction(180), "l"), Part("Lint-free cloths")),
            ),
            Task(
                machine="PB-1",
                code="lift-test",
                title="Yearly test",
                on=FixedSchedule("FREQ=YEARLY;BYMONTH=3;BYDAY=1MO"),
                starts=date(2026, 1, 5),
                authority="Rule 12 of the district",
            ),
        ),
        materials=(Material("mild", Fraction(1), Fraction(5, 4)),),
        tools=(
            Tool(
                code="RD-10",
                machine="TP-1",
                sharpen_every=Fraction(60000),
                kind="round punch",
                size="10 mm",
                grind=Fraction(1, 5),
                grindable=Fraction(3),
                replace_notice=10,
                price=Fraction(85),
            ),
        ),
        programs=(Program("KIOSK-DOOR", "mild", {"RD-10": Fraction(14)}),),
    )


def first_shift(shop: Shop) -> Shift:
    return shop.shifts[0]


def weekdays(shop: Shop) -> tuple[int, ...]:
    return shop.shifts[0].weekdays


def first_task(shop: Shop) -> Task:
    return shop.tasks[0]


def half_year(shop: Shop) -> Task:
    return shop.tasks[2]


def tool(shop: Shop) -> Tool:
    return shop.tools[0]


# old and new piece of the good file, where to look, what is to be found there
FORMS: list[tuple[str, str, Look, Any]] = [
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=YEARLY;BYDAY=53MO",
        lambda s: s.tasks[3].on,
        FixedSchedule("FREQ=YEARLY;BYDAY=53MO"),
    ),
    ("days: mon-fri", "days: sat", weekdays, (5,)),
    ("days: mon-fri", "days: [mon, wed]", weekdays, (0, 2)),
    ("days: mon-fri", "days: fri-mon", weekdays, (0, 4, 5, 6)),
    ("days: mon-fri", "days: [mon-wed, sat]", weekdays, (0, 1, 2, 5)),
    ("days: mon-fri", "days: [Mon - Wed, tue]", weekdays, (0, 1, 2)),
    ("days: mon-fri", "days: mon-sun", weekdays, (0, 1, 2, 3, 4, 5, 6)),
    ("days: mon-fri", "days: mon-mon", weekdays, (0,)),
    ('start: "06:00"', "start: 06:00", lambda s: first_shift(s).start, time(6)),
    ('end: "23:00"', "end: 05:59", lambda s: s.shifts[1].end, time(5, 59)),
    ('start: "14:30"', "start: 13:30", lambda s: s.shifts[1].start, time(13, 30)),
    (
        'start: "14:30", end: "23:00"',
        'start: "08:00", end: "16:30"',  # staggered
        lambda s: s.shifts[1].start,
        time(8),
    ),
    ('end: "23:00"', 'end: "00:00"', lambda s: s.shifts[1].end, time(0)),
    ("  starts: 2026-01-05\n", "", lambda s: first_task(s).starts, None),
    (
        "    every: 1 week\n",
        "    every: 1 week\n    starts: 2028-02-29\n",
        lambda s: [t.starts for t in s.tasks],
        [date(2028, 2, 29)] * 2 + [date(2026, 1, 5)] * 2,
    ),
    (
        "starts: 2026-01-05",
        'starts: "2150-12-31"',
        lambda s: first_task(s).starts,
        date(2150, 12, 31),
    ),
    ("  crew_hours: 6\n", "", lambda s: s.crew_hours, None),
    ("crew_hours: 6", "crew_hours: 7.5", lambda s: s.crew_hours, Fraction(15, 2)),
    ("crew_hours: 6", "crew_hours: 1000", lambda s: s.crew_hours, Fraction(1000)),
    ("crew_hours: 6", "crew_hours: 6", lambda s: s.crew_rate, None),
    ("crew_hours: 6", "crew_hours: 6\n  crew_rate: 54.5", lambda s: s.crew_rate, Fraction(109, 2)),
    ("crew_hours: 6", "crew_hours: 6\n  crew_rate: 0", lambda s: s.crew_rate, Fraction(0)),
    (
        "    in_service: 2019-03-04\n",
        "    kind: turret punching\n    hourly_rate: 85\n",
        lambda s: [(m.kind, m.hourly_rate) for m in s.machines],
        [("turret punching", Fraction(85)), (None, None)],
    ),
    ("notice: 21 days", "notice: 3 weeks", lambda s: s.suppliers[0].notice, 21),
    ("notice: 21 days", "notice: 1 day", lambda s: s.suppliers[0].notice, 1),
    (", notice: 21 days, callout_cost: 450", "", lambda s: s.suppliers[0].callout_cost, None),
    ("      hours:\n", "      hours: {}\n", lambda s: s.machines[1].meters, (Meter("hours"),)),
    ("      hours:\n", "      hours: ~\n", lambda s: s.machines[1].meters, (Meter("hours"),)),
    ("    meters:\n      hours:\n", "    meters: {}\n", lambda s: s.machines[1].meters, ()),
    (
        "11 per day",
        "55 per week",
        lambda s: s.machines[0].meters[1].expected,
        PerTime(Fraction(55), "week"),
    ),
    ("sharpen_every: 60000", 'sharpen_every: "60,000"', lambda s: tool(s).sharpen_every, 60000),
    ("grind: 0.2", "grind: 0.1", lambda s: tool(s).grind, Fraction(1, 10)),  # exact, no float
    ("grindable: 3.0", "grindable: 0", lambda s: tool(s).grindable, 0),
    ("size: 10 mm", "size: 10", lambda s: tool(s).size, "10"),
    ("size: 10 mm", "size: 10.50", lambda s: tool(s).size, "10.50"),
    ("replace_notice: 10 days, ", "", lambda s: tool(s).replace_notice, None),
    ("minutes: 420", "minutes: 0", lambda s: half_year(s).minutes, 0),
    ("minutes: 420", "minutes: 1,440", lambda s: half_year(s).minutes, 1440),
    ("machine_down: true", "machine_down: false", lambda s: half_year(s).machine_down, False),
    (
        "hours: 4100",
        "hours: 4100.5",
        lambda s: half_year(s).last_done,
        LastDone(date(2026, 2, 2), {"hours": Fraction(8201, 2)}),
    ),
    (", hours: 4100", "", lambda s: half_year(s).last_done, LastDone(date(2026, 2, 2))),
    (
        "grace: 10%",
        "grace: [5 days, 50 hours]",
        lambda s: half_year(s).grace,
        (Allowance(Fraction(5), "day"), Allowance(Fraction(50), "hours")),
    ),
    ("grace: 10%", "grace: 0 days", lambda s: half_year(s).grace, (Allowance(Fraction(0), "day"),)),
    (
        "every: 1 week",
        "every: [1  week]",
        lambda s: first_task(s).every,
        (Interval(Fraction(1), "week", "1 week"),),
    ),
    (
        "every: 1 week",
        "every: 1,500 hours",  # a meter of both machines, in a block line no list
        lambda s: [t.every for t in s.tasks[:2]],
        [(Interval(Fraction(1500), "hours", "1,500 hours"),)] * 2,
    ),
    ("{RD-10: 14}", "{RD-10: 0}", lambda s: s.programs[0].hits, {"RD-10": 0}),
    ("{RD-10: 14}", "{RD-10: 2.5}", lambda s: s.programs[0].hits, {"RD-10": Fraction(5, 2)}),
    ("material: mild, ", "", lambda s: s.programs[0].material, None),
    ("wear: 1, ", "", lambda s: s.materials[0].wear, 1),
    ("code: KIOSK-DOOR", "code: 101", lambda s: s.programs[0].code, "101"),
    ("code: KIOSK-DOOR", "code: 010", lambda s: s.programs[0].code, "010"),
    ("code: KIOSK-DOOR", "code: 1.10", lambda s: s.programs[0].code, "1.10"),
    ("code: KIOSK-DOOR", "code: 2026-01-05", lambda s: s.programs[0].code, "2026-01-05"),
    ("Press brake\n", "no\n", lambda s: s.machines[1].name, "no"),
    ("Press brake\n", "1:30\n", lambda s: s.machines[1].name, "1:30"),
    ("Press brake\n", "1_000\n", lambda s: s.machines[1].name, "1_000"),
    ("Press brake\n", '"true"\n', lambda s: s.machines[1].name, "true"),
    (
        "Press brake\n",
        '"  Bremse, 3 m: groß  "\n',
        lambda s: s.machines[1].name,
        "Bremse, 3 m: groß",
    ),
    (
        "note: Maker's manual in the cabinet",
        "note: |\n      First line.\n      Second line.",
        lambda s: s.machines[1].note,
        "First line.\nSecond line.",
    ),
    (
        "    title: Yearly test",
        "    title: >\n      Yearly\n      test",
        lambda s: s.tasks[3].title,
        "Yearly test",
    ),
    (
        "{measure: pressure, text: Pump pressure, unit: bar, min: 150, max: 170}",
        "{measure: pressure, min: -0.5}",
        lambda s: half_year(s).steps[1],
        Step("pressure", "pressure", low=Fraction(-1, 2)),
    ),
    (
        "min: 150, max: 170",
        "min: 150, max: 150",
        lambda s: half_year(s).steps[1].high,
        150,
    ),
    (
        "{part: hydraulic oil, quantity: 180, unit: l}",
        "Oil",
        lambda s: half_year(s).parts[0],
        Part("Oil"),
    ),
    ("    covers: [weekly]\n", "    covers: []\n", lambda s: half_year(s).covers, ()),
    (
        "from: 2026-12-24, to: 2027-01-01",
        "from: 2027-01-01, to: 2027-01-01",
        lambda s: s.closed[1],
        Closure(date(2027, 1, 1), date(2027, 1, 1)),
    ),
    (
        "programs:\n  - {code: KIOSK-DOOR, material: mild, hits: {RD-10: 14}}\n",
        "programs:\n",
        lambda s: s.programs,
        (),
    ),
    ("timezone: America/New_York", "timezone: UTC", lambda s: s.timezone, "UTC"),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29",
        lambda s: s.tasks[3].on,
        FixedSchedule("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29"),
    ),
]


@pytest.mark.parametrize(("old", "new", "look", "found"), FORMS)
def test_form_is_taken_and_becomes_the_record(
    shop_after: Callable[[str, str], Shop], old: str, new: str, look: Look, found: object
) -> None:
    assert look(shop_after(old, new)) == found


def test_rule_without_any_start_is_looked_up_from_the_earliest_day(base: str) -> None:
    undated = base.replace("  starts: 2026-01-05\n", "")
    for until, taken in (("19500101", True), ("19491231", False)):
        text = undated.replace("BYMONTH=3;BYDAY=1MO", f"UNTIL={until}")
        shop, _ = read_shop(text.replace("FREQ=YEARLY", "FREQ=DAILY").encode(), "shop.yaml")
        assert (shop is not None) == taken
