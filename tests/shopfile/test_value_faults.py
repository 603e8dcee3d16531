"""Keys, texts, codes and numbers that the shop file refuses."""

from collections.abc import Callable

import pytest

# old and new piece of the good file; then line and place of the fault, what is wrong, the mend
CASES = [
    (
        "    note: Maker",
        "    colour: Maker",
        (
            "26: machines[1].colour",
            "is no key here",
            "write one of code, name, kind, in_service, hourly_rate, meters, cautions, note",
        ),
    ),
    (
        "shop:\n",
        "werk: 1\nshop:\n",
        (
            "1: werk",
            "is no key here",
            "write one of shop, suppliers, machines, tasks, materials, tooling, programs",
        ),
    ),
    (
        "  timezone: America/New_York\n",
        "",
        ("1: shop.timezone", "is missing", "write timezone: America/New_York or the like"),
    ),
    (
        "{name: late, days: mon-thu, ",
        "{name: late, ",
        ("6: shop.shifts[1].days", "is missing", "write days: mon-fri or the like"),
    ),
    (
        "machine: TP-1, ",
        "",
        ("57: tooling[0].machine", "is missing", "write machine: TP-1 or the like"),
    ),
    (
        "sharpen_every: 60000,\n",
        "\n",
        ("57: tooling[0].sharpen_every", "is missing", "write sharpen_every: 60000 or the like"),
    ),
    (
        ", hits: {RD-10: 14}",
        "",
        ("60: programs[0].hits", "is missing", "write hits: {RD-10: 14} or the like"),
    ),
    (
        "{on: 2026-02-02, hours",
        "{hours",
        ("38: tasks[1].last_done.on", "is missing", "write on: 2026-01-05 or the like"),
    ),
    (
        "{measure: pressure, ",
        "{",
        (
            "45: tasks[1].steps[1].measure",
            "is missing",
            "write measure: and a name for the reading",
        ),
    ),
    (
        "{part: hydraulic oil, ",
        "{",
        ("47: tasks[1].parts[0].part", "is missing", "write part: and what to bring"),
    ),
    (
        "[TP-1, PB-1]",
        "TP-1",
        ("29: tasks[0].machines", "is no list", "write [TP-1], or each entry after a dash"),
    ),
    ("[TP-1, PB-1]", "[]", ("29: tasks[0].machines", "is empty", "write at least one entry")),
    (
        "[TP-1, PB-1]",
        "",
        ("29: tasks[0].machines", "is empty", "write machines: [TP-1] or the like"),
    ),
    (
        "[Lock out and tag out before opening guards.]",
        "Lock out",
        ("21: machines[0].cautions", "is no list", "write [Lock out], or each entry after a dash"),
    ),
    (
        "{RD-10: 14}",
        "RD-10",
        ("60: programs[0].hits", "holds no keys", "write names, each with its value"),
    ),
    ("{RD-10: 14}", "", ("60: programs[0].hits", "is empty", "write names, each with its value")),
    (
        "last_done: {on: 2026-02-02, hours: 4100}",
        "last_done:",
        ("38: tasks[1].last_done", "is empty", "write its keys, or leave it out"),
    ),
    (
        "last_done: {on: 2026-02-02, hours: 4100}",
        "last_done: 2026-02-02",
        ("38: tasks[1].last_done", "holds no keys", "write on with its value"),
    ),
    (
        "Quillback Sheet Works",
        "[a, b]",
        ("2: shop.name", "holds several values where one belongs", "write a text"),
    ),
    ("Quillback Sheet Works", "", ("2: shop.name", "is empty", "write a text")),
    ("Quillback Sheet Works", '""', ("2: shop.name", "is empty", "write a text")),
    (
        "Quillback Sheet Works",
        "true",
        ("2: shop.name", "'true' does not belong here", "put the word in quotes"),
    ),
    (
        "Quillback Sheet Works",
        "x" * 401,
        ("2: shop.name", "has 401 characters", "write at most 400"),
    ),
    (
        "Quillback Sheet Works",
        '"bell \\x07"',
        ("2: shop.name", "holds the control character U+0007", "delete it"),
    ),
    (
        "Maker's manual in the cabinet",
        "y" * 2001,
        ("26: machines[1].note", "has 2001 characters", "write at most 2000"),
    ),
    (
        "    title: Yearly test",
        "    title: |\n      Yearly\n      test",
        ("51: tasks[2].title", "runs over several lines", "write it on one, or fold it with >"),
    ),
    (
        "machine_down: true",
        "machine_down: yes",
        ("41: tasks[1].machine_down", "'yes' is neither true nor false", "write true or false"),
    ),
    (
        "machine_down: true",
        "machine_down: 1",
        ("41: tasks[1].machine_down", "'1' is neither true nor false", "write true or false"),
    ),
    (
        "minutes: 420",
        "minutes: 1.5",
        ("42: tasks[1].minutes", "'1.5' is no time", "write whole minutes like 45"),
    ),
    (
        "minutes: 420",
        "minutes: -5",
        ("42: tasks[1].minutes", "'-5' is no time", "write whole minutes like 45"),
    ),
    (
        "minutes: 420",
        "minutes: an hour",
        ("42: tasks[1].minutes", "'an hour' is not a number", "write it like 41200 or 7.5"),
    ),
    (
        "minutes: 420",
        "minutes: true",
        ("42: tasks[1].minutes", "'true' does not belong here", "write a number like 41200 or 7.5"),
    ),
    (
        "wear: 1,",
        "wear: 0,",
        ("55: materials[0].wear", "'0' is not above 0", "write a number like 41200 or 7.5"),
    ),
    (
        "sharpen_every: 60000",
        "sharpen_every: 060000",
        ("57: tooling[0].sharpen_every", "'060000' is not written plainly", "write 60000"),
    ),
    (
        "sharpen_every: 60000",
        "sharpen_every: 60_000",
        ("57: tooling[0].sharpen_every", "'60_000' is not written plainly", "write 60000"),
    ),
    (
        "sharpen_every: 60000",
        "sharpen_every: 0x1F",
        ("57: tooling[0].sharpen_every", "'0x1F' is not written plainly", "write 31"),
    ),
    (
        "sharpen_every: 60000",
        "sharpen_every: 6e4",
        ("57: tooling[0].sharpen_every", "'6e4' is not written plainly", "write 60000"),
    ),
    (
        "sharpen_every: 60000",
        "sharpen_every: 0o17",
        ("57: tooling[0].sharpen_every", "'0o17' is not written plainly", "write 15"),
    ),
    (
        "grind: 0.2",
        "grind: 0.1234567",
        ("58: tooling[0].grind", "'0.1234567' has more than 6 decimals", "round it"),
    ),
    (
        "price: 85",
        "price: 2000000000000",
        ("58: tooling[0].price", "'2000000000000' is too large", "at most 10^12"),
    ),
    (
        "crew_hours: 6",
        "crew_hours: 1001",
        ("10: shop.crew_hours", "'1001' is over 1000 hours a day", "write fewer"),
    ),
    (
        "crew_hours: 6",
        "crew_hours: 0",
        ("10: shop.crew_hours", "'0' is not above 0", "write a number like 41200 or 7.5"),
    ),
    (
        "crew_hours: 6",
        "crew_hours: 6\n  crew_rate: -1",
        ("11: shop.crew_rate", "'-1' is below 0", "write a number like 41200 or 7.5"),
    ),
    (
        "crew_hours: 6",
        "crew_hours: 6\n  crew_rate: $55",
        ("11: shop.crew_rate", "'$55' is not a number", "write it like 41200 or 7.5"),
    ),
    (
        "    in_service: 2019-03-04\n",
        "    in_service: 2019-03-04\n    hourly_rate: 85 EUR\n",
        ("18: machines[0].hourly_rate", "'85 EUR' is not a number", "write it like 41200 or 7.5"),
    ),
    (
        "    in_service: 2019-03-04\n",
        "    in_service: 2019-03-04\n    kind: yes\n    kind: punching\n",
        ("19: machines[0].kind", "stands twice, first on line 18", "keep one"),
    ),
    (
        "    in_service: 2019-03-04\n",
        "    in_service: 2019-03-04\n    kind: [punching]\n",
        ("18: machines[0].kind", "holds several values where one belongs", "write a text"),
    ),
    (
        "quantity: 180",
        "quantity: .inf",
        ("47: tasks[1].parts[0].quantity", "'.inf' is not a number", "write it like 41200 or 7.5"),
    ),
    (
        "callout_cost: 450",
        "callout_cost: -450",
        ("13: suppliers[0].callout_cost", "'-450' is below 0", "write a number like 41200 or 7.5"),
    ),
    (
        "RD-10: 14",
        "RD-10: -14",
        ("60: programs[0].hits.RD-10", "'-14' is below 0", "write a number like 41200 or 7.5"),
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), CASES)
def test_value_fault_is_told_with_line_place_and_mend(
    faults_after: Callable[[str, str], list[str]], old: str, new: str, told: tuple[str, str, str]
) -> None:
    where, wrong, mend = told
    ending = f"; {mend}" if mend else ""
    assert faults_after(old, new) == [f"shop.yaml:{where}: {wrong}{ending}"]
