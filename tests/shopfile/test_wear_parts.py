"""Dies and wear parts that count a meter: taken as written, and every slip told."""

from collections.abc import Callable
from fractions import Fraction

import pytest

from pmtrack.rules.shop import Shop, Tool

PRICE = "replace_notice: 10 days, price: 85}"
DIE = "die: {sharpen_every: 150000, grind: 0.25, grindable: 2, replace_notice: 14 days, price: 70}"
PROGRAM = "hits: {RD-10: 14}"


def test_a_die_becomes_a_tool_of_its_own_after_its_punch(
    shop_after: Callable[[str, str], Shop],
) -> None:
    shop = shop_after(PRICE, f"replace_notice: 10 days, price: 85, {DIE}}}")
    punch, die = shop.tools
    assert punch.code == "RD-10"
    assert die == Tool(
        code="RD-10.die",
        machine="TP-1",
        sharpen_every=Fraction(150_000),
        kind="round punch, die",
        size="10 mm",
        grind=Fraction(1, 4),
        grindable=Fraction(2),
        replace_notice=14,
        price=Fraction(70),
        die_of="RD-10",
    )


def test_a_part_may_count_a_meter_and_tell_its_costs(
    shop_after: Callable[[str, str], Shop],
) -> None:
    shop = shop_after(
        f"{PRICE}\nprograms:\n  - {{code: KIOSK-DOOR, material: mild, {PROGRAM}}}",
        "counts: hours, regrind_cost: 12.5, failure_cost: 110}",
    )
    (tool,) = shop.tools
    assert (tool.counts, tool.unit) == ("hours", "hours")
    assert (tool.regrind_cost, tool.failure_cost) == (Fraction("12.5"), Fraction(110))


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (PRICE, "counts: bends}", ("58: tooling[0].counts", "TP-1 has no meter 'bends'",
                                   "or add it under the meters of TP-1")),
        (PRICE, "counts: hour}", ("58: tooling[0].counts", "write hours if that is meant", "")),
        (PRICE, "counts: hours}", ("60: programs[0].hits.RD-10",
                                   "'RD-10' wears by hours of its machine", "leave it out")),
        (PRICE, "die: {grind: 0.2}}", ("58: tooling[0].die.sharpen_every", "is missing", "60000")),
        (PRICE, "die: ~}", ("58: tooling[0].die", "is empty", "leave it out")),
        (PRICE, "die: {sharpen_every: 9, mm: 2}}", ("58: tooling[0].die.mm", "no key here", "")),
        (PRICE, "regrind_cost: -1}", ("58: tooling[0].regrind_cost", "is below 0", "")),
        (PROGRAM, "hits: {RD-10.die: 14}", ("60: programs[0].hits.RD-10.die",
                                            "no tool has the code 'RD-10.die'", "write RD-10")),
    ],
)  # fmt: skip
def test_a_slip_is_told_with_its_mend(
    faults_after: Callable[[str, str], list[str]], old: str, new: str, told: tuple[str, str, str]
) -> None:
    [fault] = [fault for fault in faults_after(old, new) if f":{told[0]}: " in fault]
    assert told[1] in fault
    assert told[2] in fault


def test_no_other_tool_may_have_the_code_of_a_die(
    faults_after: Callable[[str, str], list[str]],
) -> None:
    other = "  - {code: RD-10.die, machine: TP-1, sharpen_every: 9}"
    assert faults_after(PRICE, f"{DIE}}}\n{other}") == [
        "shop.yaml:59: tooling[1].code: 'RD-10.die' is the die of the tool on line 57; "
        "give this one another code"
    ]
