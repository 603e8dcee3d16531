"""A file with several faults tells them all, in the order of its lines."""

from collections.abc import Callable

import pytest

from pmtrack.shopfile import read_shop

SPOILED = """\
shop:
  name: Quillback Sheet Works
  timezone: America/Nowhere_Near
  shifts:
    - {name: day, days: mon-fri, start: "06:00"}
  crew_hours: 6
  crew_hours: 7
machines:
  - code: TP-1
    meters: {hits: {fastest: fast}}
tasks:
  - code: monthly
    machines: [TP-1, TP-2]
    titel: Monthly service
    every: 500 hours
    crew: nobody
    note: *same
"""


def test_faults_of_every_kind_come_together_in_line_order() -> None:
    zone = "write America/Noronha if that is meant, or another IANA name"
    rate = "'fast' is no rate; write a number per minute, hour, shift, day, week"
    units = "write hits, or count in days, weeks, months or years"
    crew = "add it under suppliers, or leave crew out for in-house work"

    assert read_shop(SPOILED.encode(), "shop.yaml") == (
        None,
        [
            f"shop.yaml:3: shop.timezone: 'America/Nowhere_Near' is no time zone; {zone}",
            'shop.yaml:5: shop.shifts[0].end: is missing; write end: "14:30" or the like',
            "shop.yaml:7: shop.crew_hours: stands twice, first on line 6; keep one",
            "shop.yaml:9: machines[0].name: is missing; write name: and what people call it",
            f"shop.yaml:10: machines[0].meters.hits.fastest: {rate}",
            "shop.yaml:12: tasks[0].title: is missing; write title: and what is to be done",
            "shop.yaml:13: tasks[0].machines[1]: no machine has the code 'TP-2'; "
            "write TP-1 if that is meant, or add it under machines",
            "shop.yaml:14: tasks[0].titel: is no key here; write title",
            f"shop.yaml:15: tasks[0].every: 'hours' is no meter of TP-1; {units}",
            f"shop.yaml:16: tasks[0].crew: no supplier has the code 'nobody'; {crew}",
            "shop.yaml:17: tasks[0].note: alias *same is not taken; write the value out",
        ],
    )


MACHINE_MEND = "write TP-1 if that is meant, or add it under machines"

# old and new piece of the good file, and the several faults that follow
SEVERAL = [
    (  # a task on machines that cannot be told hides no other task's covers
        "[TP-1, PB-1]",
        "[]",
        ["29: tasks[0].machines: is empty; write at least one entry"],
    ),
    (
        "code: PB-1\n",
        "code: TP-1\n",
        [
            "22: machines[1].code: 'TP-1' is already a machine on line 15; "
            "give this one another code",
            f"29: tasks[0].machines[1]: no machine has the code 'PB-1'; {MACHINE_MEND}",
            f"50: tasks[2].machines[0]: no machine has the code 'PB-1'; {MACHINE_MEND}",
        ],
    ),
    (  # each machine of the task is named with the meters that it has
        "    every: 1 week",
        "    every: 2 fortnights",
        [
            "31: tasks[0].every: 'fortnights' is no meter of TP-1; "
            "write one of hits, hours, or count in days, weeks, months or years",
            "31: tasks[0].every: 'fortnights' is no meter of PB-1; "
            "write hours, or count in days, weeks, months or years",
        ],
    ),
    (
        "    every: 1 week\n",
        "    every: 1 week\n    covers: [half-year]\n",
        [
            "32: tasks[0].covers[0]: PB-1 has no task 'half-year'; "
            "write lift-test, or take it out, or add it for PB-1",
            "32: tasks[0].covers: a circle on TP-1: weekly covers half-year covers weekly; "
            "take one of them out",
        ],
    ),
    (
        "  crew_hours: 6",
        "  ? {a: !x b}\n  : 6\n  crew_hours: six",
        [
            "10: shop: a list or mapping stands as a key; write a text as key",
            "10: shop.a: tag !x is not taken; write the value without it, or in quotes",
            "12: shop.crew_hours: 'six' is not a number; write it like 41200 or 7.5",
        ],
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), SEVERAL)
def test_one_slip_tells_all_that_follows_from_it_and_no_more(
    faults_after: Callable[[str, str], list[str]], old: str, new: str, told: list[str]
) -> None:
    assert faults_after(old, new) == [f"shop.yaml:{fault}" for fault in told]


def test_each_circle_of_covered_tasks_is_told_once() -> None:
    links = {"a": "b", "b": "c", "c": "a", "d": "e", "e": "d", "f": "a"}
    tasks = "".join(
        f"  - {{code: {code}, machines: [M], title: t, every: 1 day, covers: [{covered}]}}\n"
        for code, covered in links.items()
    )
    shifts = '[{name: day, days: sat, start: "06:00", end: "14:30"}]'
    shop = f"shop: {{name: n, timezone: UTC, shifts: {shifts}}}\nmachines: [{{code: M, name: m}}]\n"
    _, faults = read_shop(f"{shop}tasks:\n{tasks}".encode(), "s.yaml")

    assert faults == [
        "s.yaml:4: tasks[0].covers: a circle on M: a covers b covers c covers a; "
        "take one of them out",
        "s.yaml:7: tasks[3].covers: a circle on M: d covers e covers d; take one of them out",
    ]
