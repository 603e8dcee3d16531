"""Parts to have on hand by week: sums by part and unit, in-house apart from each outside firm."""

from datetime import date, timedelta
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.parts_needed import PartNeeded, parts_by_week
from pmtrack.rules.plan import PlacedJob
from pmtrack.rules.shop import Part
from tests.build import day, task


def job(on: str, *parts: Part, code: str = "service", crew: str | None = None) -> PlacedJob:
    """A job on a day, with what it needs."""
    when = day(on)
    made = task("1 month", code=code, crew=crew, parts=parts)
    return PlacedJob(f"TP-1/{code}#{on}", made, when, when, (when, when), 1)


def told(found: list[PartNeeded]) -> list[tuple[str, str, str, str, str | None, str]]:
    """Monday, part, quantity, unit, firm and the codes of the jobs."""
    return [
        (str(p.monday)[5:], p.name, str(p.quantity), p.unit, p.firm,
         " ".join(j.task.code for j in p.jobs))
        for p in found
    ]  # fmt: skip


OIL, RAG = Part("oil", Fraction("2.5"), "l"), Part("rag")


def test_a_part_of_several_jobs_is_summed_and_names_them() -> None:
    """Monday 4 to Sunday 10 January: 2.5 and 2.5 litres are 5; then a week with one job."""
    jobs = [job("2027-01-10", OIL, code="b"), job("2027-01-04", OIL, RAG, code="a"),
            job("2027-01-11", OIL, code="c")]  # fmt: skip
    assert told(parts_by_week(jobs)) == [
        ("01-04", "oil", "5", "l", None, "a b"),
        ("01-04", "rag", "1", "", None, "a"),
        ("01-11", "oil", "5/2", "l", None, "c"),
    ]


@pytest.mark.parametrize(
    ("parts", "lines"),
    [
        ([Part("oil", Fraction(1), "l"), Part("oil", Fraction(2), "can")],
         [("oil", "2", "can"), ("oil", "1", "l")]),
        ([Part("oil", Fraction(1), "l"), Part("oil", Fraction(2), "l")], [("oil", "3", "l")]),
        # thirds add up exactly
        ([Part("seal", Fraction(1, 3), "kit")] * 3, [("seal", "1", "kit")]),
        ([], []),
    ],
)  # fmt: skip
def test_parts_are_the_same_by_name_and_unit(
    parts: list[Part], lines: list[tuple[str, str, str]]
) -> None:
    found = parts_by_week([job("2027-01-04", *parts)])
    assert [(p.name, str(p.quantity), p.unit) for p in found] == lines
    assert all(len(p.jobs) == 1 for p in found)  # a job is named once


def test_what_an_outside_firm_needs_stands_apart() -> None:
    jobs = [job("2027-01-04", OIL, code="a", crew="press"), job("2027-01-05", OIL, code="b"),
            job("2027-01-06", OIL, code="c", crew="laser")]  # fmt: skip
    assert told(parts_by_week(jobs)) == [
        ("01-04", "oil", "5/2", "l", None, "b"),
        ("01-04", "oil", "5/2", "l", "laser", "c"),
        ("01-04", "oil", "5/2", "l", "press", "a"),
    ]


@pytest.mark.parametrize(
    ("on", "week"),
    [
        # ISO 8601: week 1 holds the year's first Thursday; 1 January 2027 is a Friday
        ("2027-01-01", "2026-W53"),
        ("2027-01-03", "2026-W53"),
        ("2027-01-04", "2027-W01"),
        ("2027-03-31", "2027-W13"),
        ("2024-12-30", "2025-W01"),
    ],
)
def test_the_week_is_written_by_iso_8601(on: str, week: str) -> None:
    assert [part.week for part in parts_by_week([job(on, RAG)])] == [week]


PARTS = st.builds(
    Part,
    st.sampled_from(["oil", "rag", "seal"]),
    st.fractions(min_value=0, max_value=100, max_denominator=1000),
    st.sampled_from(["", "l"]),
)
JOBS = st.lists(
    st.builds(
        lambda offset, parts, crew: job(
            str(date(2027, 1, 1) + timedelta(days=offset)), *parts, crew=crew
        ),
        st.integers(0, 89),
        st.lists(PARTS, max_size=4),
        st.sampled_from([None, "press", "laser"]),
    ),
    max_size=12,
)


@given(JOBS)
def test_nothing_is_lost_and_nothing_told_twice(jobs: list[PlacedJob]) -> None:
    """Over all weeks each part is as much as the jobs say; each line is one of its kind."""
    found = parts_by_week(jobs)
    needed: dict[tuple[str, str], Fraction] = {}
    for part in (part for one in jobs for part in one.task.parts):
        of = (part.name, part.unit)
        needed[of] = needed.get(of, Fraction(0)) + part.quantity
    summed = {
        of: sum((p.quantity for p in found if (p.name, p.unit) == of), Fraction(0)) for of in needed
    }
    assert summed == needed
    lines = [(p.monday, p.firm, p.name, p.unit) for p in found]
    assert len(set(lines)) == len(lines)
    assert [p.monday for p in found] == sorted(p.monday for p in found)
    for line in found:
        assert line.monday.weekday() == 0
        for one in line.jobs:
            assert line.monday <= one.day < line.monday + timedelta(days=7)
            assert one.task.crew == line.firm


@given(JOBS, st.randoms())
def test_the_order_of_the_jobs_does_not_matter(jobs: list[PlacedJob], random: Random) -> None:
    shuffled = list(jobs)
    random.shuffle(shuffled)
    quantities = [[(p.week, p.name, p.unit, p.quantity, p.firm) for p in parts_by_week(some)]
                  for some in (jobs, shuffled)]  # fmt: skip
    assert quantities[0] == quantities[1]
