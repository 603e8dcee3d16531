"""The text of a job as the technician reads it."""

from dataclasses import replace
from fractions import Fraction

import pytest

from pmtrack.exports.job_text import (
    STANDING_CAUTION,
    cautions_of,
    job_text,
    part_lines,
    step_lines,
)
from pmtrack.rules.shop import Machine, Part, Step, Supplier, Task

MACHINE = Machine(
    code="TP-1",
    name="Turret punch press",
    cautions=("Bleed the accumulators.", "Block the ram."),
    note="Hydraulic ram.",
)
TASK = Task(
    machine="TP-1",
    code="half-year",
    title="Outside service",
    minutes=240,
    crew="press-service",
    authority="29 CFR 1910.147",
    machine_down=True,
    steps=(
        Step("Change the fluid."),
        Step("Pump pressure", "pump-pressure", "bar", Fraction(150), Fraction(170)),
    ),
    parts=(Part("hydraulic oil", Fraction(180), "l"), Part("lint-free cloths")),
    cautions=("Hot oil.", "block the  ram."),
    note="Ask for the oil report.\nFile it.",
)
SUPPLIER = Supplier("press-service", "Outside press service", notice=21)


def test_the_whole_text_reads_from_cautions_to_notes() -> None:
    assert job_text(TASK, MACHINE, SUPPLIER, ["Every 6 months.", "Last done 2026-08-03."]) == (
        "TP-1 Turret punch press: Outside service\n"
        "\n"
        "CAUTIONS\n"
        "- Bleed the accumulators.\n"
        "- Block the ram.\n"
        "- Hot oil.\n"
        f"- {STANDING_CAUTION}\n"
        "\n"
        "WHY IT IS DUE\n"
        "Every 6 months.\n"
        "Last done 2026-08-03.\n"
        "\n"
        "JOB\n"
        "Task: TP-1/half-year\n"
        "Time: 240 min\n"
        "Crew: Outside press service (outside firm, notice 21 days)\n"
        "The machine is down for this job.\n"
        "Demanded by: 29 CFR 1910.147\n"
        "\n"
        "STEPS\n"
        "1. Change the fluid.\n"
        "2. Pump pressure: between 150 and 170 bar (record as pump-pressure)\n"
        "\n"
        "BRING\n"
        "- 180 l hydraulic oil\n"
        "- lint-free cloths\n"
        "\n"
        "NOTE\n"
        "Ask for the oil report.\n"
        "File it.\n"
        "Hydraulic ram."
    )


def test_a_bare_task_still_carries_the_standing_caution() -> None:
    text = job_text(Task("SH-1", "look", "Look it over"), Machine("SH-1", "Shear"), None, [])
    assert text == (
        "SH-1 Shear: Look it over\n\n"
        f"CAUTIONS\n- {STANDING_CAUTION}\n\n"
        "JOB\nTask: SH-1/look\nCrew: in-house"
    )


@pytest.mark.parametrize(
    "word",
    ["lockout/tagout", "maker's manual", "local codes", "electrical", "gas", "pressure", "lifting"],
)
def test_the_standing_caution_names_what_it_defers_to(word: str) -> None:
    assert word in STANDING_CAUTION.lower()
    assert "licensed" in STANDING_CAUTION


def test_each_caution_comes_once_machine_first() -> None:
    task = replace(TASK, cautions=("Hot oil.", "BLEED the accumulators.", " ", "Hot\noil."))
    assert cautions_of(task, MACHINE) == [
        "Bleed the accumulators.",
        "Block the ram.",
        "Hot oil.",
        STANDING_CAUTION,
    ]


@pytest.mark.parametrize(
    ("low", "high", "unit", "expected"),
    [
        (150, 170, "bar", "1. Reading: between 150 and 170 bar (record as r)"),
        ("0.5", None, "m/s", "1. Reading: at least 0.5 m/s (record as r)"),
        (None, 60, "C", "1. Reading: at most 60 C (record as r)"),
        (None, "0.05", "mm", "1. Reading: at most 0.05 mm (record as r)"),
        (None, "0.000001", "mm", "1. Reading: at most 0.000001 mm (record as r)"),
        ("0.05", "0.15", "mm", "1. Reading: between 0.05 and 0.15 mm (record as r)"),
        (-5, 0, "C", "1. Reading: between -5 and 0 C (record as r)"),
        (4, 4, "mm", "1. Reading: exactly 4 mm (record as r)"),
        (1500, None, "", "1. Reading: at least 1,500 (record as r)"),
        (None, None, "bar", "1. Reading: in bar (record as r)"),
        (None, None, "", "1. Reading (record as r)"),
    ],
)
def test_a_measured_step_tells_its_limits(
    low: int | str | None, high: int | str | None, unit: str, expected: str
) -> None:
    step = Step(
        "Reading",
        "r",
        unit,
        None if low is None else Fraction(low),
        None if high is None else Fraction(high),
    )
    assert step_lines(replace(TASK, steps=(step,))) == [expected]


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        (Part("filter"), "filter"),
        (Part("filter", Fraction(2)), "2 x filter"),
        (Part("way oil", Fraction("0.5"), "l"), "0.5 l way oil"),
        (Part("grease", Fraction(1), "kg"), "1 kg grease"),
    ],
)
def test_parts_are_counted_or_measured(part: Part, expected: str) -> None:
    assert part_lines(replace(TASK, parts=(part,))) == [expected]


@pytest.mark.parametrize(
    ("crew", "supplier", "expected"),
    [
        (None, None, "Crew: in-house"),
        ("welders", None, "Crew: welders"),
        ("s", Supplier("s", "Service", notice=0), "Crew: Service (outside firm)"),
        ("s", Supplier("s", "Service", notice=1), "Crew: Service (outside firm, notice 1 day)"),
    ],
)
def test_the_crew_is_named(crew: str | None, supplier: Supplier | None, expected: str) -> None:
    assert expected in job_text(replace(TASK, crew=crew), MACHINE, supplier, []).splitlines()
