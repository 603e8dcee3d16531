"""The pictures of a report: well formed, the same every time, with axes, units and all words."""

from collections.abc import Callable
from datetime import date, timedelta
from xml.etree import ElementTree

import pytest

from pmtrack.pictures.cause_bars import CauseBar, CauseChart, cause_bars_svg
from pmtrack.pictures.failure_curve import FailureChart, failure_curve_svg
from pmtrack.pictures.on_time_line import MonthShare, OnTimeChart, floor_of, on_time_line_svg
from pmtrack.pictures.week_bars import Series, WeekChart, WeekSpan, week_bars_svg
from pmtrack.statistics.histories import History
from pmtrack.statistics.mcf import mean_cumulative
from tests.pictures.inlined import SVG

HOSTILE = "<script>alert(1)</script> & \"id='x'\" $\\frac{1}{0}$ \u202ebackwards"
MONDAY = date(2026, 11, 2)
SPANS = [
    WeekSpan(f"w{n}", MONDAY + timedelta(weeks=n), hours, 3.0 * n, 2.0, hours == 100.0)
    for n, hours in enumerate([100.0, 100.0, 0.0, 60.0])
]
HITS = Series(f"Hits a week {HOSTILE}", [400.0, 380.0, 0.0, None])
FLEET = [("TP-1", History((10.0, 60.0, 90.0), 100.0)), (HOSTILE[:20], History((50.0,), 100.0))]
MONTHS = [MonthShare(date(2026, 11, 1), 0.97, 1.0), MonthShare(date(2026, 12, 1), None, None),
          MonthShare(date(2027, 1, 1), 0.5, None)]  # fmt: skip

DRAWN: list[tuple[Callable[[], bytes], list[str]]] = [
    (lambda: week_bars_svg(WeekChart("t", HOSTILE, SPANS, [HITS])),
     ["Hours down", "machine hours", "down, unplanned", "in planned stops", "made", "w3", "2026"]),
    (lambda: week_bars_svg(WeekChart("t", HOSTILE, SPANS, [])), ["machine hours", "w0"]),
    (lambda: cause_bars_svg(CauseChart("t", HOSTILE, [CauseBar("leak", 4.5, 1, 0.75),
                                                      CauseBar(HOSTILE, 1.5, 2, 1.0)])),
     ["leak", "4.5 h in 1 stop; so far 75 % of all", "1.5 h in 2 stops; so far 100 % of all",
      "scheduled hours down, unplanned"]),
    (lambda: failure_curve_svg(
        FailureChart("t", HOSTILE, FLEET, mean_cumulative([h for _, h in FLEET]))),
     ["TP-1", "mean of all machines", "its 90 % limits", "at a steady pace", "failures so far",
      "operating hours since the watch began"]),
    (lambda: failure_curve_svg(FailureChart("t", HOSTILE, FLEET[:1], ())), ["TP-1"]),
    (lambda: on_time_line_svg(OnTimeChart("t", HOSTILE, MONTHS)),
     ["all jobs", "by law or standard", "jobs on time, %", "Nov", "Jan", "100", "40"]),
]  # fmt: skip
PICTURES = pytest.mark.parametrize(("draw", "words"), DRAWN)


@PICTURES
def test_a_picture_says_what_its_axes_and_lines_are(
    draw: Callable[[], bytes], words: list[str]
) -> None:
    picture = ElementTree.fromstring(draw())  # noqa: S314 - our own
    texts = [t for one in picture.iter(f"{SVG}text") for t in one.itertext()]
    assert set(words) <= set(texts), texts
    assert not any(element.tag == f"{SVG}script" for element in picture.iter())
    assert picture.findtext(f"{SVG}desc") == HOSTILE.replace("\u202e", "")


@PICTURES
def test_a_picture_is_the_same_every_time(draw: Callable[[], bytes], words: list[str]) -> None:
    assert draw() == draw()


def test_a_line_that_has_no_point_is_not_named() -> None:
    picture = on_time_line_svg(OnTimeChart("t", "d", [MonthShare(MONDAY, 0.9, None)]))
    assert b"all jobs" in picture
    assert b"by law or standard" not in picture


def test_planned_hours_are_hatched_and_so_told_apart_without_colour() -> None:
    picture = week_bars_svg(WeekChart("t", "d", SPANS, []))
    assert b"<pattern " in picture


@pytest.mark.parametrize(
    ("shares", "floor"),
    [((0.97, 1.0), 80), ((1.0, 1.0), 80), ((0.5, None), 40), ((0.04, 1.0), 0), ((None, 0.79), 60)],
)
def test_the_axis_of_shares_begins_one_ten_below_the_lowest(
    shares: tuple[float | None, float | None], floor: int
) -> None:
    # whole tens: 0.79 is in the seventies, and one ten lower is 60; never over 80
    assert floor_of([MonthShare(MONDAY, *shares)]) == floor
