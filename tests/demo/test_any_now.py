"""The demo works on any day: weekend, holiday, shutdown, other years, and the clock's change."""

from collections.abc import Callable

import pytest

from pmtrack.actions.today import today
from pmtrack.actions.view import View
from pmtrack.rules.worklist import LISTED
from pmtrack.store.codec import to_text
from tests.demo.conftest import Demo

NOWS = [
    "2026-11-25T06:05",  # Wednesday, the day shift has just begun
    "2026-11-26T11:00",  # the holiday after it
    "2026-12-29T09:00",  # within the winter shutdown
    "2027-08-15T12:00",  # a Sunday, a year with other closed days
    "2024-02-29T23:59",  # long before the closed days that the file lists, on the late shift
    "2029-03-12T05:00",  # long after them, the Monday after the clock was put forward
]


@pytest.fixture(params=NOWS)
def demo(request: pytest.FixtureRequest, small: Callable[[str], Demo]) -> Demo:
    return small(request.param)


def test_any_day_gives_a_year_of_believable_facts(demo: Demo) -> None:
    _no_fact_lies_after_now(demo)
    _facts_were_entered_in_order(demo)
    _history_reaches_back_a_year(demo)
    _work_falls_on_days_that_work(demo)
    _the_list_is_that_of_a_decent_crew(demo)


def _no_fact_lies_after_now(demo: Demo) -> None:
    now, today_ = to_text(demo.now), demo.today.isoformat()

    assert demo.rows("SELECT id FROM entry WHERE at > ? OR recorded_at > ?", now, now) == []
    assert demo.rows("SELECT id FROM entry WHERE day > ?", today_) == []
    assert demo.rows("SELECT entry FROM stop WHERE started > ? OR ended > ?", now, now) == []
    assert demo.rows("SELECT entry FROM dial WHERE at > ?", now) == []


def _facts_were_entered_in_order(demo: Demo) -> None:
    entered = [at for (at,) in demo.rows("SELECT recorded_at FROM entry ORDER BY id")]

    assert entered == sorted(entered)


def _history_reaches_back_a_year(demo: Demo) -> None:
    ((applied,),) = demo.rows("SELECT DISTINCT first_applied FROM task WHERE raised_by IS NULL")
    ((first,),) = demo.rows("SELECT min(day) FROM shift_log")

    assert 364 <= (demo.today - demo.today.fromisoformat(applied)).days <= 376
    assert (demo.today - demo.today.fromisoformat(first)).days >= 360


def _work_falls_on_days_that_work(demo: Demo) -> None:
    closed = [(c.first.isoformat(), c.last.isoformat()) for c in demo.shop.closed]
    days = {day for (day,) in demo.rows("SELECT DISTINCT day FROM shift_log")}
    days |= {
        day
        for (day,) in demo.rows(
            "SELECT DISTINCT day FROM entry WHERE kind = 'completion' AND whole_day = 0"
        )
    }

    assert not [day for day in days if any(first <= day <= last for first, last in closed)]
    assert not [day for day in days if demo.today.fromisoformat(day).weekday() == 6]
    saturdays = [day for day in days if demo.today.fromisoformat(day).weekday() == 5]
    assert len(saturdays) <= 7


def _the_list_is_that_of_a_decent_crew(demo: Demo) -> None:
    listed = today(View(demo.store, demo.today), demo.now)
    states = [item.state for item in listed.items]

    assert states.count("overdue") <= 5
    assert not [i for i in listed.items if i.state == "overdue" and i.task.authority]
    assert set(states) <= set(LISTED)
    assert len(listed.missing) <= 2


def test_the_same_now_gives_the_same_facts(small: Callable[[str], Demo]) -> None:
    first, second = (_facts(small("2026-06-10T14:40")) for _ in range(2))

    assert first == second


def _facts(demo: Demo) -> list[object]:
    tables = ("entry", "shift_log", "count", "dial", "completion", "measurement", "stop", "restart")
    others = ("deferral", "job", "service_change", "tool_count", "tool_event", "void", "tally")
    return [demo.rows(f"SELECT * FROM {table}") for table in (*tables, *others)]  # noqa: S608
