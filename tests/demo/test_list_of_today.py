"""What the demo of the sample shop shows on its day."""

from collections import Counter

import pytest

from pmtrack.actions.today import Today, today
from pmtrack.actions.view import View
from tests.demo.conftest import Demo


@pytest.fixture(scope="module")
def listed(whole: Demo) -> Today:
    return today(View(whole.store, whole.today), whole.now)


@pytest.mark.parametrize(
    ("state", "least", "most"),
    [
        ("overdue", 1, 4),
        ("due", 4, 9),
        ("soon", 6, 15),
        ("deferred", 1, 2),
        ("paused", 1, 2),
    ],
)
def test_the_list_is_interesting_but_no_disaster(
    listed: Today, state: str, least: int, most: int
) -> None:
    assert least <= Counter(item.state for item in listed.items)[state] <= most


def test_nothing_that_a_law_demands_is_overdue(listed: Today) -> None:
    assert not [i.task.name for i in listed.items if i.state == "overdue" and i.task.authority]


def test_a_few_tools_are_about_to_be_sharpened(listed: Today) -> None:
    assert 2 <= len(listed.tools) <= 5


def test_two_shifts_of_the_day_before_were_not_logged(listed: Today) -> None:
    assert [(m.machine, m.shift) for m in listed.missing] == [("PB-2", "late"), ("HP-1", "day")]


def test_no_meter_is_left_unread(whole: Demo) -> None:
    view = View(whole.store, whole.today)

    # DS-1 is out of service, its working days stand still
    stale = [
        (machine.code, meter.name)
        for machine in whole.shop.machines
        for meter in machine.meters
        if view.standing(machine.code, meter.name).stale
    ]

    assert stale == []


def test_one_finding_is_still_to_be_mended(listed: Today, whole: Demo) -> None:
    raised = whole.rows("SELECT name FROM task WHERE raised_by IS NOT NULL")
    done = whole.rows("SELECT task FROM completion WHERE task LIKE '%/job-%'")
    still = [item.task.name for item in listed.items if item.task.once]

    assert (len(raised), len(done), len(still)) == (3, 2, 1)
