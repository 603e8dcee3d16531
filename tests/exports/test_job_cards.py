"""Job cards, read back from their HTML."""

import re
import shlex
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.exports.card_style import CARD_STYLE
from pmtrack.exports.job_cards import JobCard, done_command, job_cards
from pmtrack.exports.job_text import STANDING_CAUTION
from pmtrack.rules.shop import Machine, Meter, Part, Step, Supplier
from tests.exports.html_tree import Element, read
from tests.exports.placed import placed

PRESS = Machine(
    code="TP-1",
    name="Turret punch press",
    meters=(Meter("hits"), Meter("hours")),
    cautions=("Bleed the accumulators.",),
    note="Hydraulic ram.",
)
SERVICE = Supplier("press-service", "Outside press service", notice=21)
MONTHLY = placed(
    "TP-1/monthly",
    "01-29",
    title="Monthly service",
    minutes=90,
    machine_down=True,
    authority="29 CFR 1910.217(e)(1)",
    steps=(
        Step("Grease the bearings."),
        Step("Pump pressure", "pump-pressure", "bar", Fraction(150), Fraction(170)),
        Step("Drift", "drift", "mm"),
    ),
    parts=(Part("hydraulic oil", Fraction(180), "l"), Part("cabinet filter", Fraction(2))),
    cautions=("Hot oil.",),
    note="File the oil report.",
)
CARD = JobCard(MONTHLY, PRESS, None, ("Due Fri 2027-01-29: every 1 month.",))
VISIT = JobCard(placed("AC-1/year", "02-16", "visit 1", crew="press-service"), PRESS, SERVICE)


def cards(*wanted: JobCard) -> list[Element]:
    """The cards, read back."""
    return read(job_cards(wanted)).all("article")


def facts(card: JobCard) -> dict[str, str]:
    """What the card tells of its job, by name."""
    lines = cards(card)[0].all("ul", "facts")[0].all("li")
    return {line.all("b")[0].text: line.all("span")[0].text for line in lines}


def boxes(element: Element) -> int:
    """How many boxes to tick it has."""
    return len(element.all("span", "box"))


def test_each_job_has_a_card_on_a_page_of_its_own() -> None:
    found = cards(CARD, VISIT)
    assert [card.all("h1")[0].text for card in found] == ["TP-1/monthly", "AC-1/year"]
    assert "article { break-after: page; }" in CARD_STYLE


@pytest.mark.parametrize("card", [CARD, VISIT, JobCard(VISIT.job, Machine("AC-1", ""))])
def test_cautions_come_before_anything_else(card: JobCard) -> None:
    first, *rest = (part for part in cards(card)[0].content if isinstance(part, Element))
    assert first.classes == ["cautions"]
    assert first.all("li")[-1].text == STANDING_CAUTION
    assert [part.classes for part in rest].count(["cautions"]) == 0


def test_the_cautions_of_machine_and_task_stand_framed() -> None:
    lines = cards(CARD)[0].all("section", "cautions")[0].all("li")
    assert [line.text for line in lines] == [
        "Bleed the accumulators.",
        "Hot oil.",
        STANDING_CAUTION,
    ]
    assert re.search(r"\.cautions \{ border: 3pt solid", CARD_STYLE)


def test_a_card_tells_what_is_known_of_the_job() -> None:
    assert facts(CARD) == {
        "Planned for": "Fri 2027-01-29",
        "Due": "Fri 2027-01-29",
        "May be done from": "Wed 27 Jan to Sun 31 Jan",
        "Why due": "Due Fri 2027-01-29: every 1 month.",
        "Demanded by": "§ 29 CFR 1910.217(e)(1): never after its due day",
        "Crew": "in-house",
        "Time": "90 min",
        "Machine": "DOWN for this job",
    }
    assert (
        cards(CARD)[0].all("header")[0].text
        == "TP-1/monthly TP-1 Turret punch press Monthly service"
    )


def test_a_card_tells_what_is_unusual() -> None:
    span = (date(2027, 1, 20), date(2027, 2, 9))
    job = replace(VISIT.job, pinned=True, due_range=span, why=("By usage.",), remarks=("Wide.",))
    assert facts(replace(VISIT, job=job)) == {
        "Planned for": "Tue 2027-02-16, fixed to this day",
        "Due": "Tue 2027-02-16",
        "Expected between": "Wed 20 Jan and Tue 9 Feb",
        "May be done from": "Sun 14 Feb to Thu 18 Feb",
        "Why due": "By usage.",
        "Crew": "Outside press service (outside firm, notice 21 days)",
        "Visit": "visit 1",
        "Remarks": "Wide.",
    }


def test_each_step_has_a_box_and_a_measured_one_its_limits_and_a_blank() -> None:
    rows = cards(CARD)[0].all("table", "steps")[0].all("tbody")[0].all("tr")
    assert [boxes(row) for row in rows] == [1, 1, 1]
    assert [len(row.all("span", "blank")) for row in rows] == [0, 1, 1]
    assert [[cell.text for cell in row.all("td")][1:] for row in rows] == [
        ["1.", "Grease the bearings.", ""],
        ["2.", "Pump pressure (record as pump-pressure)", "between 150 and 170 bar bar"],
        ["3.", "Drift (record as drift)", "mm"],
    ]


def test_each_part_has_a_box() -> None:
    lines = cards(CARD)[0].all("section", "parts")[0].all("li")
    assert [(line.text, boxes(line)) for line in lines] == [
        ("180 l hydraulic oil", 1),
        ("2 x cabinet filter", 1),
    ]


def test_the_record_asks_for_the_counters_of_the_machine_and_a_signature() -> None:
    record = cards(CARD)[0].all("section", "record")[0]
    lines = record.all("li")
    assert [line.text for line in lines] == [
        *("Minutes taken", "Counter hits", "Counter hours", "Date", "Name", "Signature")
    ]
    assert [len(line.all("span", "blank")) for line in lines] == [1] * 6
    assert len(record.all("div", "ruled")) == 3


def test_a_card_of_a_bare_job_leaves_out_what_there_is_not() -> None:
    found = cards(JobCard(placed("AC-1/year", "02-16"), Machine("AC-1", "Compressor")))[0]
    kinds = [part.classes for part in found.content if isinstance(part, Element)]
    assert kinds == [["cautions"], [], ["facts"], ["record"], ["command"]]


def test_the_card_gives_the_command_that_records_the_job() -> None:
    expected = (
        "pmtrack done TP-1/monthly --minutes __ --dial hits=__ --dial hours=__ "
        "--measure pump-pressure=__ --measure drift=__"
    )
    assert done_command(MONTHLY.task, PRESS) == expected
    assert cards(CARD)[0].all("code")[0].text == expected


@given(st.text(min_size=1, max_size=30))
def test_the_command_is_safe_to_type_into_a_shell(name: str) -> None:
    task = replace(MONTHLY.task, steps=(Step("Look", name),))
    assert shlex.split(done_command(task, Machine("TP-1", ""))) == [
        *("pmtrack", "done", "TP-1/monthly", "--minutes", "__", "--measure", f"{name}=__")
    ]


HOSTILE = '<script>alert("1")</script> & \x00\x1b[31m </td></table> \u202e'


def test_hostile_words_are_words() -> None:
    task = replace(
        MONTHLY.task,
        title=HOSTILE,
        authority=HOSTILE,
        steps=(Step(HOSTILE, HOSTILE, HOSTILE),),
        parts=(Part(HOSTILE),),
        cautions=(HOSTILE,),
        note=HOSTILE,
    )
    job = replace(MONTHLY, task=task, remarks=(HOSTILE,))
    found = cards(JobCard(job, replace(PRESS, name=HOSTILE), None, (HOSTILE,)))[0]
    bare = '<script>alert("1")</script> & [31m </td></table>'
    for part in ("cautions", "facts", "steps", "parts", "notes", "machine"):
        assert any(bare in element.text for element in found.all("", part)), part


@given(st.text(max_size=200))
def test_no_words_change_the_card_around_them(words: str) -> None:
    def marks(said: str) -> list[str]:
        task = replace(MONTHLY.task, title=said, parts=(Part(said),), steps=(Step(said, said),))
        card = replace(CARD, job=replace(MONTHLY, task=task), why=(f"since {said}",))
        return [element.name for element in read(job_cards([card])).all()]

    assert marks(words) == marks("Grease")
