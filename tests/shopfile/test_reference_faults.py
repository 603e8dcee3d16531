"""Meters, codes and keys that do not fit one another."""

from collections.abc import Callable

import pytest

# old and new piece of the good file; then line and place of the fault, what is wrong, the mend
CASES = [
    (
        "      hours:\n",
        "      days:\n",
        (
            "25: machines[1].meters.days",
            "'days' is a calendar unit",
            "write another name, like hours",
        ),
    ),
    (
        "      hours:\n",
        "      Shift: {}\n",
        (
            "25: machines[1].meters.Shift",
            "'Shift' is a word of the import files",
            "write another name, like hits",
        ),
    ),
    (
        "      hours:\n",
        "      arc-hours: {}\n",
        (
            "25: machines[1].meters.arc-hours",
            "'arc-hours' is no name for a meter",
            "write up to 40 letters, digits and _ and begin with a letter",
        ),
    ),
    (
        "      hours:\n",
        "      on: {}\n",
        (
            "25: machines[1].meters.on",
            "'on' is a word of the import files",
            "write another name, like hits",
        ),
    ),
    (
        "wraps_at: 10000000",
        "wraps_at: 0",
        (
            "19: machines[0].meters.hits.wraps_at",
            "'0' is not above 0",
            "write a number like 41200 or 7.5",
        ),
    ),
    (
        "fastest: 120",
        "fastes: 120",
        ("19: machines[0].meters.hits.fastes", "is no key here", "write fastest"),
    ),
    (
        "every: [6 months, 2000 hours]",
        "every: [6 months, 2000 hour]",
        (
            "35: tasks[1].every[1]",
            "'hour' is no meter of TP-1",
            "write hours if that is meant, or count in days, weeks, months or years",
        ),
    ),
    (
        "    every: 1 week",
        "    every: 500 hits",
        (
            "31: tasks[0].every",
            "'hits' is no meter of PB-1",
            "write hours, or count in days, weeks, months or years",
        ),
    ),
    (
        "grace: 10%",
        "grace: 20 bends",
        (
            "37: tasks[1].grace",
            "'bends' is no meter of TP-1",
            "write one of hits, hours, or count in days",
        ),
    ),
    (
        "hours: 4100",
        "hour: 4100",
        (
            "38: tasks[1].last_done.hour",
            "'hour' is no meter of TP-1",
            "write hours if that is meant, or take it out",
        ),
    ),
    (
        "    every: 1 week\n",
        "    every: 1 week\n    on: FREQ=WEEKLY\n",
        ("32: tasks[0].on", "stands beside every", "keep one of the two"),
    ),
    (
        "    every: 1 week\n",
        "",
        ("28: tasks[0]", "says neither every nor on", "write every: 1 month or the like"),
    ),
    (
        "    authority: Rule 12 of the district",
        "    authority: Rule 12\n    grace: 1 day",
        ("54: tasks[2].grace", "stands beside authority, which allows none", "take grace out"),
    ),
    (
        "code: lift-test\n    machines: [PB-1]",
        "code: weekly\n    machines: [PB-1]",
        (
            "49: tasks[2].code",
            "'PB-1/weekly' is already a task on line 28",
            "give this one another code",
        ),
    ),
    (
        "[TP-1, PB-1]",
        "[TP-1, TP-1]",
        ("29: tasks[0].machines[1]", "'TP-1' is already in this list on line 29", "keep one"),
    ),
    (
        "name: late,",
        "name: day,",
        (
            "6: shop.shifts[1].name",
            "'day' is already a shift on line 5",
            "give this one another name",
        ),
    ),
    (
        "  - {code: mild, wear: 1, thickness: 1.25}\n",
        "  - {code: mild}\n  - {code: mild}\n",
        (
            "56: materials[1].code",
            "'mild' is already a material on line 55",
            "give this one another code",
        ),
    ),
    (
        "crew: press-service",
        "crew: pres-service",
        (
            "39: tasks[1].crew",
            "no supplier has the code 'pres-service'",
            (
                "write press-service if that is meant, or add it under suppliers, or leave crew "
                "out for in-house work"
            ),
        ),
    ),
    (
        "crew: press-service",
        "crew: brewery",
        (
            "39: tasks[1].crew",
            "no supplier has the code 'brewery'",
            "write press-service, or add it under suppliers, or leave crew out for in-house work",
        ),
    ),
    (
        "machine: TP-1,",
        "machine: TP-9,",
        (
            "57: tooling[0].machine",
            "no machine has the code 'TP-9'",
            "write TP-1 if that is meant, or add it under machines",
        ),
    ),
    (
        "material: mild,",
        "material: copper,",
        (
            "60: programs[0].material",
            "no material has the code 'copper'",
            "write mild, or add it under materials",
        ),
    ),
    (
        "{RD-10: 14}",
        "{RD-11: 14}",
        (
            "60: programs[0].hits.RD-11",
            "no tool has the code 'RD-11'",
            "write RD-10 if that is meant, or add it under tooling",
        ),
    ),
    (
        "    machines: [PB-1]",
        "    machines: [PB-2]",
        (
            "50: tasks[2].machines[0]",
            "no machine has the code 'PB-2'",
            "write PB-1 if that is meant, or add it under machines",
        ),
    ),
    (
        "covers: [weekly]",
        "covers: [weekley]",
        (
            "40: tasks[1].covers[0]",
            "TP-1 has no task 'weekley'",
            "write weekly if that is meant, or take it out, or add it for TP-1",
        ),
    ),
    (
        "covers: [weekly]",
        "covers: [half-year]",
        ("40: tasks[1].covers[0]", "'half-year' is the task itself", "take it out"),
    ),
    (
        "covers: [weekly]",
        "covers: [lift-test]",
        (
            "40: tasks[1].covers[0]",
            "TP-1 has no task 'lift-test'",
            "write weekly, or take it out, or add it for TP-1",
        ),
    ),
    (
        "unit: bar, min: 150, max: 170",
        "unit: bar, min: 170, max: 150",
        ("45: tasks[1].steps[1].max", "is below min", "write the smaller limit under min"),
    ),
    (
        "      - Bleed the accumulators.",
        "      - {measure: pressure}",
        (
            "45: tasks[1].steps[1].measure",
            "'pressure' is already measured in this task, on line 44",
            "give it another name",
        ),
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), CASES)
def test_misfit_is_told_with_line_place_and_mend(
    faults_after: Callable[[str, str], list[str]], old: str, new: str, told: tuple[str, str, str]
) -> None:
    where, wrong, mend = told
    ending = f"; {mend}" if mend else ""
    assert faults_after(old, new) == [f"shop.yaml:{where}: {wrong}{ending}"]
