"""Shop time against the tz database's days of change and the examples that RFC 5545 prints."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import Refused
from pmtrack.rules.shop import Shift
from pmtrack.rules.shoptime import boundary, end_of_day, local_date, shift_span, to_instant
from tests.build import DAY, NIGHT, ONE_DAY, ZONE, day, reference

CHANGES = reference("us-dst-changes.csv")
SPRING = [row for row in CHANGES if row["kind"] == "start"]
AUTUMN = [row for row in CHANGES if row["kind"] == "end"]
HOUR = timedelta(hours=1)


def name(row: dict[str, str]) -> str:
    """A row's place and date."""
    return f"{row['zone']} {row['local_date']}"


def change(row: dict[str, str]) -> tuple[ZoneInfo, date, datetime]:
    """The zone, the shop's date and the instant of a change of the clock."""
    instant = datetime.fromisoformat(row["utc_instant"])
    return ZoneInfo(row["zone"]), date.fromisoformat(row["local_date"]), instant


def utc(text: str) -> datetime:
    """An instant written in UTC."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


# ---- IANA tz database 2026f: when US clocks change, 2024 to 2030


@pytest.mark.parametrize("row", CHANGES, ids=name)
def test_hours_of_a_shift_over_a_change_of_the_clock_are_elapsed_hours(
    row: dict[str, str],
) -> None:
    """22:00 to 06:00 is 8 hours on the clock: 7 where it is put forward, 9 where it is put back."""
    zone, on, instant = change(row)
    start, end = shift_span(NIGHT, on - ONE_DAY, zone)
    assert start < instant < end
    moved = int(row["offset_after_h"]) - int(row["offset_before_h"])
    assert end - start == (8 - moved) * HOUR
    before, after = shift_span(DAY, on, zone)
    assert after - before == 8.5 * HOUR  # the day shift begins after the change
    assert instant - start == 4 * HOUR  # 22:00 to 02:00 by the clock before the change
    assert local_date(instant, zone) == on


@pytest.mark.parametrize("row", AUTUMN, ids=name)
def test_a_local_time_that_comes_twice_is_the_first_one(row: dict[str, str]) -> None:
    zone, on, instant = change(row)
    assert to_instant(datetime.combine(on, time(1, 30)), zone) == instant - HOUR / 2
    assert to_instant(datetime.combine(on, time(2)), zone) == instant + HOUR
    assert boundary(on, time(1, 30), zone) == instant - HOUR / 2


@pytest.mark.parametrize("row", SPRING, ids=name)
def test_a_local_time_that_does_not_exist_is_refused_with_the_next(row: dict[str, str]) -> None:
    zone, on, instant = change(row)
    with pytest.raises(Refused, match=rf"does not exist in {zone.key}.*write {on}T03:30"):
        to_instant(datetime.combine(on, time(2, 30)), zone)
    with pytest.raises(Refused, match=rf"write {on}T03:00"):
        to_instant(datetime.combine(on, time(2)), zone)
    assert to_instant(datetime.combine(on, time(3)), zone) == instant
    assert boundary(on, time(2, 30), zone) == instant + HOUR / 2  # a shift's scheduled time


def test_arizona_never_changes_its_clock() -> None:
    """America/Phoenix in the tz database: 22:00 to 06:00 is 8 hours every night of the year."""
    zone = ZoneInfo("America/Phoenix")
    for number in range(365):
        start, end = shift_span(NIGHT, day("2026-01-01") + number * ONE_DAY, zone)
        assert end - start == 8 * HOUR


# ---- RFC 5545 (2009), 3.3.5: the two printed examples


def test_the_printed_example_of_a_time_that_comes_twice() -> None:
    """TZID=America/New_York:20071104T013000 is 1:30 a.m. EDT, UTC-04:00."""
    found = to_instant(datetime.fromisoformat("2007-11-04T01:30"), ZONE)
    assert found == utc("2007-11-04T05:30")


def test_the_printed_example_of_a_time_that_does_not_exist() -> None:
    """TZID=America/New_York:20070311T023000 is 3:30 a.m. EDT, UTC-04:00."""
    assert boundary(day("2007-03-11"), time(2, 30), ZONE) == utc("2007-03-11T07:30")


@pytest.mark.parametrize(
    ("local", "instant"),
    [  # nine o'clock each week over both changes of 2026
        ("2026-03-01T09:00", "2026-03-01T14:00"),
        ("2026-03-08T09:00", "2026-03-08T13:00"),
        ("2026-03-15T09:00", "2026-03-15T13:00"),
        ("2026-10-25T09:00", "2026-10-25T13:00"),
        ("2026-11-01T09:00", "2026-11-01T14:00"),
        ("2026-11-08T09:00", "2026-11-08T14:00"),
    ],
)
def test_nine_in_the_morning_is_nine_on_the_wall(local: str, instant: str) -> None:
    assert to_instant(datetime.fromisoformat(local), ZONE) == utc(instant)


# ---- shifts and days


@pytest.mark.parametrize(
    ("start", "end", "first", "last"),
    [  # of 15 June 2026, in UTC-4
        ("06:00", "14:30", "2026-06-15T10:00", "2026-06-15T18:30"),
        (
            "14:30",
            "00:00",
            "2026-06-15T18:30",
            "2026-06-16T04:00",
        ),  # the midnight that ends the day
        ("22:00", "06:00", "2026-06-16T02:00", "2026-06-16T10:00"),
        ("06:00", "06:00", "2026-06-15T10:00", "2026-06-16T10:00"),  # round the clock
        ("00:00", "08:00", "2026-06-15T04:00", "2026-06-15T12:00"),
    ],
)
def test_a_shift_begins_on_its_date(start: str, end: str, first: str, last: str) -> None:
    shift = Shift("any", (0,), time.fromisoformat(start), time.fromisoformat(end))
    assert shift_span(shift, day("06-15"), ZONE) == (utc(first), utc(last))


@pytest.mark.parametrize(
    ("on", "shifts", "end"),
    [  # NIGHT runs Monday to Friday; 19 June 2026 is a Friday
        ("06-15", (DAY,), "2026-06-16T04:00"),  # midnight
        ("06-15", (DAY, NIGHT), "2026-06-16T10:00"),  # the end of its night shift
        ("06-19", (NIGHT, DAY), "2026-06-20T10:00"),
        ("06-20", (DAY, NIGHT), "2026-06-21T04:00"),  # none begins on a Saturday
        ("06-15", (), "2026-06-16T04:00"),
        ("10-31", (), "2026-11-01T04:00"),
        ("11-01", (), "2026-11-02T05:00"),  # the day of 25 hours
    ],
)
def test_a_day_ends_after_its_night_shift(on: str, shifts: tuple[Shift, ...], end: str) -> None:
    assert end_of_day(day(on), shifts, ZONE) == utc(end)


@pytest.mark.parametrize(
    ("instant", "on"),
    [
        ("2026-06-16T03:59:59", "2026-06-15"),
        ("2026-06-16T04:00:00", "2026-06-16"),
        ("2026-12-16T04:59:59", "2026-12-15"),
        ("2026-12-16T05:00:00", "2026-12-16"),
    ],
)
def test_the_date_of_an_instant_is_the_shops(instant: str, on: str) -> None:
    assert local_date(utc(instant), ZONE) == day(on)


# ---- laws

ZONES = st.sampled_from(["America/New_York", "Europe/Berlin", "UTC", "Australia/Lord_Howe"])
TIMES = st.builds(
    lambda on, minute: datetime.combine(on, time(minute // 60, minute % 60)),
    st.dates(date(1990, 1, 1), date(2040, 1, 1)),
    st.integers(0, 1439),
)


@given(TIMES, ZONES)
def test_a_local_time_is_shown_as_it_was_written_or_refused(local: datetime, key: str) -> None:
    zone = ZoneInfo(key)
    try:
        instant = to_instant(local, zone)
    except Refused:
        assert zone.utcoffset(local + ONE_DAY) != zone.utcoffset(local - ONE_DAY)
    else:
        assert instant.astimezone(zone).replace(tzinfo=None) == local
        for minutes in (30, 60):  # by so much a clock is put back
            earlier = instant - timedelta(minutes=minutes)
            assert earlier.astimezone(zone).replace(tzinfo=None) != local


@given(st.dates(date(2000, 1, 1), date(2040, 1, 1)), ZONES)
def test_days_follow_one_another_without_a_gap(on: date, key: str) -> None:
    zone = ZoneInfo(key)
    end = end_of_day(on, (), zone)
    assert end == boundary(on + ONE_DAY, time(0), zone)
    assert local_date(end, zone) == on + ONE_DAY
    assert local_date(end - timedelta(seconds=1), zone) == on
