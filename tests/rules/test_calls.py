"""The calls to make: by when to book which firm, late ones first.

Today is Thursday 10 December 2026.
"""

from dataclasses import replace

import pytest

from pmtrack.rules.calls import Call, calls_to_make
from pmtrack.rules.plan import PlacedJob, UnfitJob, Visit, day_to_book
from pmtrack.rules.shop import Supplier
from pmtrack.rules.workdays import Workdays
from tests.build import day, shop, task

PRESS = Supplier("press", "Outside press service", notice=21)
LASER = Supplier("laser", "Laser alignment", notice=7)
TODAY = day("12-10")
WORKDAYS = Workdays.of(shop("12-24..2027-01-01"))  # Monday to Friday, shut over the holidays


def visit(firm: Supplier, on: str) -> Visit:
    """A visit for one job."""
    when = day(on)
    job = PlacedJob("k", task("1 year", crew=firm.code), when, when, (when, when), 7)
    return Visit(f"{firm.code} {on}", firm, when, (job,), day_to_book(firm, when, WORKDAYS))


def unfit(kind: str, crew: str | None, last: str | None, code: str = "service") -> UnfitJob:
    """A job without a day, to be done by that date."""
    window = (day("12-01"), day(last)) if last else None
    return UnfitJob(f"{code}#1", task("1 year", code=code, crew=crew), kind, "why", "cure",
                    window=window)  # fmt: skip


def told(calls: list[Call]) -> list[tuple[str, str, str, bool, bool]]:
    """Firm, day, day to book by, overdue and placed of each call."""
    return [(c.firm.code, str(c.day)[5:], str(c.book_by)[5:], c.overdue, c.placed) for c in calls]


@pytest.mark.parametrize(
    ("on", "book_by", "overdue"),
    [
        # 21 days before the visit
        ("2027-01-04", "12-14", False),
        ("12-31", "12-10", False),  # today is the last day to book
        ("12-30", "12-09", True),
        ("12-10", "11-19", True),  # the visit is today
    ],
)
def test_a_visit_is_booked_by_its_firms_notice(on: str, book_by: str, overdue: bool) -> None:
    found = calls_to_make([visit(PRESS, on)], [], [PRESS], TODAY, WORKDAYS)
    assert told(found) == [("press", str(day(on))[5:], book_by, overdue, True)]
    assert found[0].jobs == visit(PRESS, on).jobs


@pytest.mark.parametrize(
    ("on", "book_by"),
    [
        ("2027-01-14", "12-23"),  # 21 days before are the 24th, the first day of the shutdown
        ("2027-01-22", "12-23"),  # 1 January, its last day
        ("2027-01-25", "01-04"),  # the first day after it
        ("2027-01-31", "01-08"),  # Sunday the 10th
    ],
)
def test_nobody_calls_on_a_day_on_which_the_shop_is_closed(on: str, book_by: str) -> None:
    found = calls_to_make([visit(PRESS, on)], [], [PRESS], TODAY, WORKDAYS)
    assert told(found) == [("press", on[5:], book_by, False, True)]
    wanted = calls_to_make([], [unfit("notice", "press", on)], [PRESS], TODAY, WORKDAYS)
    assert told(wanted) == [("press", on[5:], book_by, False, False)]


def test_a_visit_of_yesterday_needs_no_call() -> None:
    assert calls_to_make([visit(PRESS, "12-09")], [], [PRESS], TODAY, WORKDAYS) == []


def test_calls_come_late_ones_first_then_by_the_day_to_book_by() -> None:
    """The laser firm wants 7 days, so its earlier visit is booked later than the press's."""
    visits = [visit(LASER, "12-29"), visit(PRESS, "2027-01-06"), visit(PRESS, "12-22"),
              visit(LASER, "12-14")]  # fmt: skip
    assert told(calls_to_make(visits, [], [PRESS, LASER], TODAY, WORKDAYS)) == [
        ("press", "12-22", "12-01", True, True),
        ("laser", "12-14", "12-07", True, True),
        ("press", "01-06", "12-16", False, True),
        ("laser", "12-29", "12-22", False, True),
    ]


def test_jobs_that_the_notice_keeps_out_want_a_call_for_their_last_day() -> None:
    """Two by 18 December and one by the 21st; 21 days before are 27 and 30 November."""
    jobs = [unfit("notice", "press", "12-21", "c"), unfit("notice", "press", "12-18", "a"),
            unfit("notice", "press", "12-18", "b")]  # fmt: skip
    found = calls_to_make([], jobs, [PRESS], TODAY, WORKDAYS)
    assert told(found) == [
        ("press", "12-18", "11-27", True, False),
        ("press", "12-21", "11-30", True, False),
    ]
    assert [[job.task.code for job in call.jobs] for call in found] == [["a", "b"], ["c"]]
    assert found[0].firm.name == "Outside press service"


@pytest.mark.parametrize(
    ("due_on", "earliest", "wanted"),
    [
        ("12-30", "2027-01-04", ["12-30"]),  # by its due date
        (None, "2027-01-04", ["01-04"]),  # else as early as can be
        (None, None, []),
    ],
)
def test_a_job_without_a_last_day_is_called_for_by_what_is_known(
    due_on: str | None, earliest: str | None, wanted: list[str]
) -> None:
    job = replace(
        unfit("notice", "press", None),
        due_on=day(due_on) if due_on else None,
        earliest=day(earliest) if earliest else None,
    )
    assert [call[1] for call in told(calls_to_make([], [job], [PRESS], TODAY, WORKDAYS))] == wanted


@pytest.mark.parametrize(
    ("kind", "crew"),
    [("crew", None), ("closed", "press"), ("shift", "press"), ("unknown", None), ("notice", None)],
)
def test_what_no_call_can_cure_makes_none(kind: str, crew: str | None) -> None:
    assert calls_to_make([], [unfit(kind, crew, "12-18")], [PRESS], TODAY, WORKDAYS) == []


def test_a_firm_that_is_gone_from_the_shop_file_goes_by_its_code() -> None:
    found = calls_to_make([], [unfit("notice", "gone", "12-18")], [PRESS], TODAY, WORKDAYS)
    assert found[0].firm == Supplier("gone", "gone")
    assert not found[0].overdue  # nothing is known of its notice
