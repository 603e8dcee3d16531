"""The calendar of the invented year."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

import pytest

from pmtrack.actions.recorder import Dial
from pmtrack.demo.counters import Counter
from pmtrack.demo.outages import Outages
from pmtrack.demo.year import Year
from pmtrack.rules.shop import Meter
from tests.demo.conftest import read_sample

NOW = datetime(2026, 11, 25, 11, 5, tzinfo=UTC)  # Wednesday, 06:05 in the shop


@pytest.fixture(scope="module")
def year() -> Year:
    return Year(read_sample(), NOW)


def test_the_year_begins_on_the_last_working_day_a_year_back(year: Year) -> None:
    assert year.first == date(2025, 11, 25)
    # 365 days before Monday 30 November 2026 is Sunday 30 November 2025, after two closed days
    assert replace(year, now=NOW + timedelta(days=5)).first == date(2025, 11, 26)


@pytest.mark.parametrize(
    ("day", "by", "found"),
    [
        (date(2026, 11, 25), 1, date(2026, 11, 30)),  # over the holiday and the weekend
        (date(2026, 11, 25), 0, date(2026, 11, 25)),
        (date(2026, 11, 29), 0, date(2026, 11, 25)),
        (date(2026, 11, 29), -1, date(2026, 11, 25)),
        (date(2026, 11, 25), -2, date(2026, 11, 23)),
    ],
)
def test_days_are_moved_by_working_days(year: Year, day: date, by: int, found: date) -> None:
    assert year.moved(day, by) == found


@pytest.mark.parametrize(
    ("start", "minutes", "end"),
    [  # November: the shop is five hours behind UTC; Monday to Thursday 06:00 to 23:00
        ("2026-11-23T10:00", 60, "2026-11-23T11:00"),
        ("2026-11-23T14:00", 60, "2026-11-23T15:00"),  # the late shift goes on with it
        ("2026-11-23T22:30", 60, "2026-11-23T23:30"),  # nearly done: they stay
        ("2026-11-23T22:00", 240, "2026-11-24T09:00"),  # an hour by night, three in the morning
        ("2026-11-20T14:00", 240, "2026-11-23T09:30"),  # half an hour on Friday, then Monday
    ],
)
def test_a_repair_goes_on_in_the_next_shift(year: Year, start: str, minutes: int, end: str) -> None:
    zone = year.shop.zone
    begun, over = (datetime.fromisoformat(text).replace(tzinfo=zone) for text in (start, end))

    assert year.after_work(begun.astimezone(UTC), timedelta(minutes=minutes)) == over


def test_overtime_falls_on_saturdays_that_are_not_closed(year: Year) -> None:
    assert len(year.overtime) == 7
    assert all(day.weekday() == 5 and day not in year.workdays for day in year.overtime)
    assert [shift.name for shift in year.shifts(year.overtime[0])] == ["day"]


def test_a_counter_starts_over_and_says_so_once() -> None:
    counter = Counter(Meter("welds", wraps_at=Fraction(1000)), Fraction(990))

    counter.run(Fraction(25))

    assert counter.read() == Dial(Fraction(15), wrapped=True)
    assert counter.read() == Dial(Fraction(15))


def test_a_new_counter_shows_what_was_made_since_it_was_fitted() -> None:
    counter = Counter(Meter("hours"), Fraction(700))
    assert counter.exchange() == Dial(Fraction(0), exchanged=True)

    counter.run(Fraction(8))

    assert counter.read() == Dial(Fraction(8))


def test_a_job_waits_until_the_machine_is_free_for_all_of_it() -> None:
    outages = Outages()
    outages.add("TP-1", NOW + timedelta(hours=1), NOW + timedelta(hours=2))

    assert outages.free_from("TP-1", NOW, timedelta(minutes=60)) == NOW
    assert outages.free_from("TP-1", NOW, timedelta(minutes=61)) == NOW + timedelta(hours=2)
    assert outages.inside("TP-1", NOW, NOW + timedelta(minutes=90)) == timedelta(minutes=30)
