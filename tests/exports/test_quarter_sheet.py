"""The quarter's sheet, read back from its HTML."""

import re
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.exports.job_text import STANDING_CAUTION
from pmtrack.exports.quarter_sheet import quarter_sheet
from pmtrack.exports.sheet_facts import QuarterSheet
from pmtrack.exports.sheet_fit import SIZES, type_size
from pmtrack.exports.sheet_style import SHEET_STYLE
from pmtrack.rules.load import WeekLoad
from pmtrack.rules.plan import PlacedJob, Quarter, UnfitJob, visits_of
from pmtrack.rules.shop import Closure, Supplier
from pmtrack.rules.workdays import Workdays
from tests.build import shop
from tests.exports.html_tree import Element, read
from tests.exports.placed import placed

SERVICE = Supplier("press-service", "Outside press service", notice=21)
VISIT = "press-service 2027-Q1 visit 1"
WORKDAYS = Workdays.of(shop())
JOBS = (
    placed("TP-1/weekly", "01-04", minutes=30, authority="29 CFR 1910.217(e)(1)"),
    placed("TP-1/monthly", "01-04", minutes=90, machine_down=True),
    replace(placed("LC-1/weekly", "01-05"), pinned=True),
    replace(placed("LC-1/window", "01-05"), due_range=(date(2027, 1, 2), date(2027, 1, 9))),
    placed("PB-1/half-year", "02-16", VISIT, crew=SERVICE.code, minutes=240),
    placed("SH-1/year", "02-16", VISIT, crew=SERVICE.code, minutes=150),
    placed("TP-1/weekly", "03-31", minutes=30),
)
SHEET = QuarterSheet(
    shop="Quillback Sheet Works",
    quarter=Quarter("2027-Q1", date(2027, 1, 1), date(2027, 3, 31)),
    made_on=date(2026, 11, 25),
    jobs=JOBS,
    visits=tuple(visits_of(JOBS, [SERVICE], WORKDAYS)),
    closures=(
        Closure(date(2026, 12, 24), date(2027, 1, 1), "winter shutdown"),
        Closure(date(2027, 2, 15), date(2027, 2, 15)),
    ),
    loads=(
        WeekLoad(date(2027, 1, 4), 4, Fraction(2), Fraction(30)),
        WeekLoad(date(2027, 2, 15), 2, Fraction(0), Fraction(24)),
        WeekLoad(date(2027, 3, 29), 1, Fraction(1, 2), Fraction(18)),
    ),
)


def sheet(**fields: object) -> Element:
    """The sheet with other fields, read back."""
    return read(quarter_sheet(replace(SHEET, **fields)))  # type: ignore[arg-type]


def cell(document: Element, day: str) -> Element:
    """The cell of a day, written like `4 Jan`."""
    found = [
        cell
        for cell in document.all("table", "grid")[0].all("td")
        for heading in cell.all("div", "date")
        if heading.all("b")[0].text == day
    ]
    assert len(found) == 1, f"{day} stands in {len(found)} cells"
    return found[0]


def row(document: Element, week: str) -> Element:
    """The row of a week, written like `W01`."""
    rows = document.all("table", "grid")[0].all("tbody")[0].all("tr")
    return next(row for row in rows if row.all("th")[0].all("b")[0].text == week)


def jobs_in(element: Element) -> list[str]:
    """The machines' jobs in it, as they read."""
    return [group.text for group in element.all("span", "jobs")]


@pytest.mark.parametrize(
    ("day", "jobs"),
    [
        ("4 Jan", ["TP-1 ▼monthly, §weekly"]),
        ("5 Jan", ["LC-1 ●weekly, ~window"]),
        ("6 Jan", []),
        ("16 Feb", ["PB-1 half-year", "SH-1 year"]),
        ("31 Mar", ["TP-1 weekly"]),
    ],
)
def test_every_job_stands_on_its_day(day: str, jobs: list[str]) -> None:
    assert jobs_in(cell(sheet(), day)) == jobs


def test_the_grid_holds_each_job_once() -> None:
    groups = jobs_in(sheet().all("table", "grid")[0])
    assert sum(group.count(",") + 1 for group in groups) == len(JOBS)


def test_a_visit_is_one_box_with_the_firm_and_all_its_jobs() -> None:
    document = sheet()
    boxes = document.all("div", "visit")
    assert len(boxes) == 1
    assert boxes[0].text.startswith("Outside press service")
    assert jobs_in(boxes[0]) == ["PB-1 half-year", "SH-1 year"]
    assert boxes[0] in cell(document, "16 Feb").all()


def test_calls_name_the_last_day_to_book() -> None:
    # 21 days before Tuesday 16 February; 240 + 150 minutes are 6.5 h
    calls = sheet().all("section", "calls")[0].all("tbody")[0].all("tr")
    assert [[part.text for part in call.all("td")] for call in calls] == [
        [
            "Tue 26 Jan",
            "Tue 16 Feb",
            "Outside press service: PB-1 half-year SH-1 year (6.5 h)",
        ]
    ]


@pytest.mark.parametrize(
    ("made_on", "late"), [(date(2027, 1, 26), False), (date(2027, 1, 27), True)]
)
def test_a_call_that_is_late_is_told(made_on: date, late: bool) -> None:
    assert ("has passed: call at once" in sheet(made_on=made_on).text) is late


@pytest.mark.parametrize(
    ("day", "kind", "said"),
    [
        ("28 Dec", "outside", "not in 2027-Q1"),
        ("1 Jan", "closed", "Closed: winter shutdown"),
        ("15 Feb", "closed", "Closed"),
        ("2 Apr", "outside", "not in 2027-Q1"),
    ],
)
def test_a_day_without_work_says_why(day: str, kind: str, said: str) -> None:
    found = cell(sheet(), day)
    assert found.classes == [kind]
    assert [remark.text for remark in found.all("div", "said")] == [said]


def test_every_week_of_the_quarter_has_a_row_and_every_working_weekday_a_cell() -> None:
    # 1 January 2027 is the Friday of week 53 of 2026, 31 March the Wednesday of week 13
    rows = sheet().all("table", "grid")[0].all("tbody")[0].all("tr")
    weeks = ["W53", *(f"W{number:02}" for number in range(1, 14))]
    assert [row.all("th")[0].all("b")[0].text for row in rows] == weeks
    assert {len(row.all("div", "date")) for row in rows} == {5}


def test_the_head_of_the_grid_is_one_that_comes_again_on_each_page() -> None:
    head = sheet().all("table", "grid")[0].all("thead")
    assert len(head) == 1
    assert "2027-Q1 · Quillback Sheet Works" in head[0].text
    assert ".grid thead { display: table-header-group; }" in SHEET_STYLE


def test_a_job_on_a_free_weekday_has_a_column_of_its_own() -> None:
    document = sheet(jobs=(*JOBS, placed("AC-1/year", "01-09")))
    assert jobs_in(cell(document, "9 Jan")) == ["AC-1 year"]
    assert cell(document, "16 Jan").text == "16 Jan No shift"
    assert "Saturday" in document.all("thead")[0].text


def test_a_job_beyond_the_quarter_is_shown_all_the_same() -> None:
    late = replace(placed("AC-1/year", "03-30"), day=date(2027, 4, 7))
    assert jobs_in(cell(sheet(jobs=(late,), visits=()), "7 Apr")) == ["AC-1 year"]


def test_a_mark_is_told_in_words_in_the_key_and_at_the_job() -> None:
    document = sheet()
    key = document.all("th", "key")[0].text
    signs = {mark.text: mark.attributes["title"] for mark in document.all("abbr")}
    assert set(signs) == {"§", "▼", "●", "~"}
    for sign, meaning in signs.items():
        assert f"{sign} {meaning}" in key
    assert "boxed visit of an outside firm" in key


def test_nothing_is_told_by_colour() -> None:
    colours = re.findall(r"#([0-9a-f]+)\b", SHEET_STYLE)
    assert colours
    assert all(len(colour) == 3 and len(set(colour)) == 1 for colour in colours)
    assert not re.search(r"rgb|hsl|\b(red|green|blue|orange|yellow)\b", SHEET_STYLE)


@pytest.mark.parametrize(
    ("jobs", "hours", "crew", "said", "bar"),
    [
        # the widest bar of the sheet is 30 h
        (4, 15, 30, "15 h of 30 h 4 jobs", {"fill": "width:50.0%", "free": "width:50.0%"}),
        (
            1,
            30,
            24,
            "30 h of 24 h OVER by 6 h 1 job",
            {"fill": "width:80.0%", "over": "width:20.0%"},
        ),
        (2, 6, None, "6 h 2 jobs", {"fill": "width:20.0%"}),
        (2, 0, 0, "0 h of 0 h 2 jobs", {}),
    ],
)
def test_a_week_shows_its_hours_against_the_crews(
    jobs: int, hours: int, crew: int | None, said: str, bar: dict[str, str]
) -> None:
    available = None if crew is None else Fraction(crew)
    load = WeekLoad(date(2027, 1, 4), jobs, Fraction(hours), available)
    other = WeekLoad(date(2027, 1, 11), 1, Fraction(1), Fraction(30))
    found = row(sheet(loads=(load, other)), "W01").all("td", "load")[0]
    assert found.text == said
    pieces = found.all("div", "bar")[0].all("span")
    assert {piece.classes[0]: piece.attributes["style"] for piece in pieces} == bar


def test_a_week_without_jobs_says_so() -> None:
    assert row(sheet(), "W05").all("td", "load")[0].text == "no jobs"


def test_the_hours_of_a_day_are_those_of_its_own_jobs() -> None:
    assert cell(sheet(), "4 Jan").all("div", "date")[0].all("span")[0].text == "2 h"
    assert cell(sheet(), "16 Feb").all("div", "date")[0].all("span")[0].text == ""


def test_what_does_not_fit_is_listed_with_reason_and_cure() -> None:
    task = replace(JOBS[0].task, code="alignment")
    unfit = UnfitJob(
        "k", task, "crew", "4.5 h are missing in week 7", "Raise crew_hours.", date(2027, 2, 17)
    )
    document = sheet(unfit=(unfit,))
    assert [line.text for line in document.all("section", "unfit")[0].all("li")] == [
        "TP-1/alignment (§ demanded by law or standard), due Wed 17 Feb: "
        "4.5 h are missing in week 7. Cure: Raise crew_hours."
    ]
    assert "1 job without a day (see below)" in document.all("header")[0].text


def test_a_remark_is_told_once_for_all_its_jobs() -> None:
    jobs = tuple(replace(job, remarks=("the range is wide",)) for job in JOBS[2:4])
    lines = sheet(jobs=jobs, notes=("Left out as daily: TP-1/daily.",)).all("section", "remarks")
    assert [line.text for line in lines[0].all("li")] == [
        "Left out as daily: TP-1/daily.",
        "LC-1/weekly on Tue 5 Jan, LC-1/window on Tue 5 Jan: the range is wide.",
    ]


def test_the_caution_stands_on_a_sheet_without_anything_else() -> None:
    document = sheet(jobs=(), visits=(), loads=())
    assert [part.classes for part in document.all("section")] == [["caution"]]
    assert STANDING_CAUTION in document.text


def test_the_same_plan_in_another_order_is_the_same_sheet() -> None:
    other = replace(SHEET, jobs=JOBS[::-1], visits=SHEET.visits[::-1], loads=SHEET.loads[::-1])
    assert quarter_sheet(other) == quarter_sheet(SHEET)


def many(count: int) -> tuple[PlacedJob, ...]:
    """So many jobs, over the working days of January."""
    days = (f"01-{number:02}" for _ in range(count) for number in (5, 6, 7, 12, 13, 14))
    return tuple(
        placed(f"M-{number}/a-rather-long-code", day)
        for number, day in zip(range(count), days, strict=False)
    )


def test_the_type_shrinks_as_the_sheet_fills_but_stays_legible() -> None:
    sizes = [type_size(replace(SHEET, jobs=many(count), visits=())) for count in (0, 150, 5000)]
    assert sizes[0] == SIZES[0]
    assert sizes[0] > sizes[1] > sizes[2]
    assert sizes[2] == SIZES[-1] == 6.5


def test_no_type_is_smaller_than_six_and_a_half_points() -> None:
    points = [float(size) for size in re.findall(r"font-size: ([\d.]+)pt", SHEET_STYLE)]
    shares = [float(size) for size in re.findall(r"font-size: ([\d.]+)em", SHEET_STYLE)]
    assert min(points) >= 6.5
    assert min(shares) >= 1
    assert min(SIZES) >= 6.5


HOSTILE = '<script>alert("1")</script> & \x00\x1b[31m </td></table> \u202e'


def test_hostile_words_are_words() -> None:
    task = replace(JOBS[4].task, machine=HOSTILE, code=HOSTILE, title=HOSTILE)
    job = replace(JOBS[4], task=task, remarks=(HOSTILE,))
    document = sheet(
        shop=HOSTILE,
        jobs=(job,),
        visits=tuple(visits_of([job], [Supplier(SERVICE.code, HOSTILE)], WORKDAYS)),
        unfit=(UnfitJob(HOSTILE, task, "crew", HOSTILE, HOSTILE),),
        closures=(Closure(date(2027, 2, 15), date(2027, 2, 15), HOSTILE),),
        notes=(HOSTILE,),
    )
    bare = '<script>alert("1")</script> & [31m </td></table>'
    for part in ("firm", "jobs", "unfit", "remarks", "said", "range"):
        assert any(bare in element.text for element in document.all("", part)), part


PRINTED = st.text(st.characters(categories=("L", "M", "N", "P", "S", "Zs")), max_size=60)


@given(PRINTED, PRINTED)
def test_what_can_be_printed_reads_as_it_was_typed(code: str, words: str) -> None:
    job = replace(JOBS[0], task=replace(JOBS[0].task, code=code))
    document = sheet(jobs=(job,), visits=(), notes=("It says", words))
    assert jobs_in(cell(document, "4 Jan")) == [" ".join(f"TP-1 §{code}".split())]
    notes = [line.text for line in document.all("section", "remarks")[0].all("li")]
    assert notes == ["It says", *([" ".join(words.split())] if words.strip() else [])]


@given(st.text(max_size=200))
def test_no_words_change_the_sheet_around_them(words: str) -> None:
    def marks(code: str) -> list[str]:
        task = replace(JOBS[0].task, code=code, title=code)
        job = replace(JOBS[0], task=task, remarks=(f"about {code}",))
        written = quarter_sheet(replace(SHEET, shop=code, jobs=(job,), visits=()))
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\ud800-\udfff\u202a-\u202e]", written)
        return [element.name for element in read(written).all()]

    assert marks(words) == marks("weekly")
