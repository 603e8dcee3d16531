"""Stretches of time, and the shifts of a period."""

from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import DaysOut, Span
from pmtrack.rules.shop import Closure, Shift, Shop
from pmtrack.rules.spans import (
    Stretch,
    common,
    hours,
    joined,
    period_of,
    period_shifts,
    stretch,
    without,
)
from pmtrack.rules.workdays import Workdays

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)
LATER = datetime(2027, 6, 1, tzinfo=UTC)
EVERY_DAY = tuple(range(7))
DAY = Shift("day", (0, 1, 2, 3, 4), time(6), time(14, 30))
NIGHT = Shift("night", EVERY_DAY, time(21, 30), time(6))


def spans(text: str) -> list[Stretch]:
    """`1-3 5-8`: hours after noon."""
    pairs = (part.split("-") for part in text.split())
    return [(NOON + timedelta(hours=int(a)), NOON + timedelta(hours=int(b))) for a, b in pairs]


def shop_of(*shifts: Shift, zone: str = "UTC", closed: tuple[Closure, ...] = ()) -> Shop:
    return Shop("Quillback Sheet Works", zone, shifts, closed)


def shifts_between(shop: Shop, first: date, last: date, now: datetime = LATER) -> list[str]:
    """The shifts as `name day start-end`, in UTC."""
    return [
        f"{s.name} {s.day:%d} {s.start:%dT%H:%M}-{s.end:%dT%H:%M}"
        for s in period_shifts(shop, Workdays.of(shop), first, last, now)
    ]


@pytest.mark.parametrize(
    ("given_spans", "expected"),
    [
        ("", ""),
        ("1-3", "1-3"),
        ("5-8 1-3", "1-3 5-8"),
        ("1-3 2-5", "1-5"),
        ("1-3 3-5", "1-5"),  # touching is one stretch
        ("1-9 2-3 4-5", "1-9"),  # an inner one adds nothing
        ("2-2 4-3", ""),  # empty ones
    ],
)
def test_joined_stretches_hold_each_instant_once(given_spans: str, expected: str) -> None:
    assert joined(spans(given_spans)) == spans(expected)


@pytest.mark.parametrize(
    ("some", "others", "shared", "left"),
    [
        ("1-5", "", "", "1-5"),
        ("", "1-5", "", ""),
        ("1-5", "2-3", "2-3", "1-2 3-5"),
        ("1-5", "0-9", "1-5", ""),
        ("1-5", "5-9", "", "1-5"),  # the end itself is outside
        ("1-5", "0-1", "", "1-5"),
        ("1-3 4-8", "2-5 7-9", "2-3 4-5 7-8", "1-2 5-7"),
        ("1-9", "2-3 5-6", "2-3 5-6", "1-2 3-5 6-9"),
    ],
)
def test_stretches_are_cut_by_others(some: str, others: str, shared: str, left: str) -> None:
    assert common(spans(some), spans(others)) == spans(shared)
    assert without(spans(some), spans(others)) == spans(left)


pairs = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), max_size=8)


@given(pairs, pairs)
def test_what_is_common_and_what_is_left_make_up_the_whole(
    one: list[tuple[int, int]], other: list[tuple[int, int]]
) -> None:
    some, others = (
        joined((NOON + timedelta(hours=a), NOON + timedelta(hours=b)) for a, b in each)
        for each in (one, other)
    )
    in_some, in_others = ({hour for a, b in each for hour in range(a, b)} for each in (one, other))
    assert hours(some) == len(in_some)
    assert hours(common(some, others)) == len(in_some & in_others)
    assert hours(without(some, others)) == len(in_some - in_others)


def test_hours_are_exact() -> None:
    second = timedelta(seconds=1)
    assert hours([(NOON, NOON + second)]) == Fraction(1, 3600)
    assert hours([(NOON, NOON + 100 * second)] * 3) == Fraction(300, 3600)


@pytest.mark.parametrize(
    ("start", "end", "expected"),
    [
        (-3, -1, "-3--1"),
        (-3, None, "-3-0"),  # still running: up to now
        (-3, 2, "-3-0"),  # ends after now: running as far as is known
        (1, 2, "1-1"),  # later than now: empty
        (1, None, "1-1"),
    ],
)
def test_a_span_counts_up_to_now(start: int, end: int | None, expected: str) -> None:
    span = Span(NOON + timedelta(hours=start), None if end is None else NOON + timedelta(hours=end))
    found_start, found_end = stretch(span, NOON)
    hour = timedelta(hours=1)
    assert f"{(found_start - NOON) // hour}-{(found_end - NOON) // hour}" == expected


def test_shifts_are_those_of_the_dates_and_the_last_night_is_whole() -> None:
    # Thursday 4 June to Saturday 6 June 2026; the day shift has the weekend off.
    assert shifts_between(shop_of(DAY, NIGHT), date(2026, 6, 4), date(2026, 6, 6)) == [
        "day 04 04T06:00-04T14:30",
        "night 04 04T21:30-05T06:00",
        "day 05 05T06:00-05T14:30",
        "night 05 05T21:30-06T06:00",
        "night 06 06T21:30-07T06:00",
    ]


def test_closed_dates_have_no_shifts() -> None:
    shop = shop_of(DAY, NIGHT, closed=(Closure(date(2026, 6, 4), date(2026, 6, 5)),))
    assert shifts_between(shop, date(2026, 6, 3), date(2026, 6, 5)) == [
        "day 03 03T06:00-03T14:30",
        "night 03 03T21:30-04T06:00",  # begun on an open date, it runs into the closed one
    ]


@pytest.mark.parametrize(
    ("now", "expected"),
    [
        ("2026-06-04T05:59", []),
        ("2026-06-04T06:00", []),  # begins this instant, as the night shift of the 3rd ends
        ("2026-06-04T06:01", ["day 04 04T06:00-04T06:01"]),
        ("2026-06-04T08:15", ["day 04 04T06:00-04T08:15"]),  # running: what is to come is left out
        ("2026-06-04T14:30", ["day 04 04T06:00-04T14:30"]),
        ("2026-06-05T01:00", ["day 04 04T06:00-04T14:30", "night 04 04T21:30-05T01:00"]),
        ("2026-06-05T09:00", ["day 04 04T06:00-04T14:30", "night 04 04T21:30-05T06:00"]),
    ],
)
def test_a_shift_that_runs_counts_up_to_now(now: str, expected: list[str]) -> None:
    as_of = datetime.fromisoformat(now).replace(tzinfo=UTC)
    thursday = date(2026, 6, 4)
    assert shifts_between(shop_of(DAY, NIGHT), thursday, thursday, as_of) == expected


@pytest.mark.parametrize(
    ("day", "elapsed"),
    [
        (date(2026, 3, 6), Fraction(17, 2)),  # Friday: 21:30 to 06:00 is 8.5 h
        (date(2026, 3, 7), Fraction(15, 2)),  # 8 March, 02:00 becomes 03:00: an hour less
        (date(2026, 10, 31), Fraction(19, 2)),  # 1 November, 02:00 becomes 01:00: an hour more
    ],
)
def test_night_shift_over_a_clock_change_has_its_elapsed_hours(
    day: date, elapsed: Fraction
) -> None:
    """Clock changes of 2026: 15 U.S.C. 260a, second Sunday of March, first of November."""
    shop = shop_of(NIGHT, zone="America/New_York")
    assert hours(period_of(shop, Workdays.of(shop), day, day, LATER).scheduled) == elapsed


def test_shift_that_a_clock_change_swallows_has_no_hours() -> None:
    # 02:30 is read as 03:30 summer time, 03:00 is 03:00: it would end before it begins.
    early = Shift("early", EVERY_DAY, time(2, 30), time(3))
    shop = shop_of(early, zone="America/New_York")
    sunday = date(2026, 3, 8)
    assert period_shifts(shop, Workdays.of(shop), sunday, sunday, LATER) == []


def test_overlapping_shifts_are_scheduled_once() -> None:
    late = Shift("late", EVERY_DAY, time(14), time(22, 30))
    shop = shop_of(DAY, late)
    monday = date(2026, 6, 1)
    # 06:00 to 22:30 is 16.5 h; the half hour of handing over counts once.
    period = period_of(shop, Workdays.of(shop), monday, monday, LATER)
    assert hours(period.scheduled) == Fraction(33, 2)


@pytest.mark.parametrize(
    ("instant", "held"),
    [
        ("2026-06-04T05:59", False),  # in the night shift of the 3rd
        ("2026-06-04T06:00", True),
        ("2026-06-04T18:00", True),  # outside any shift: its local date
        ("2026-06-06T00:30", True),  # in the night shift of the 5th
        ("2026-06-06T06:00", False),
    ],
)
def test_period_runs_from_night_shift_to_night_shift(instant: str, held: bool) -> None:
    shop = shop_of(DAY, NIGHT)
    period = period_of(shop, Workdays.of(shop), date(2026, 6, 4), date(2026, 6, 5), LATER)
    assert period.holds(datetime.fromisoformat(instant).replace(tzinfo=UTC)) is held


def test_period_without_night_shifts_runs_from_midnight_to_midnight() -> None:
    shop = shop_of(DAY, zone="America/New_York")
    period = period_of(shop, Workdays.of(shop), date(2026, 6, 4), date(2026, 6, 5), LATER)
    assert period.start == datetime(2026, 6, 4, 4, tzinfo=UTC)  # summer time: UTC less 4 h
    assert period.end == datetime(2026, 6, 6, 4, tzinfo=UTC)


def test_closed_night_bounds_a_period_at_midnight() -> None:
    closed = tuple(Closure(day, day) for day in (date(2026, 6, 3), date(2026, 6, 5)))
    shop = shop_of(DAY, NIGHT, closed=closed)
    period = period_of(shop, Workdays.of(shop), date(2026, 6, 4), date(2026, 6, 5), LATER)
    assert period.start == datetime(2026, 6, 4, tzinfo=UTC)
    assert period.end == datetime(2026, 6, 6, tzinfo=UTC)


@pytest.mark.parametrize(
    ("first", "back", "kept", "idle"),
    [
        (None, None, "day 03, night 03, day 04, night 04, day 05, night 05", ""),
        (4, 5, "day 03, night 03, day 05, night 05", "day 04, night 04"),  # back on the 5th
        (4, None, "day 03, night 03", "day 04, night 04, day 05, night 05"),  # still out
        (1, 4, "day 04, night 04, day 05, night 05", "day 03, night 03"),
        (6, None, "day 03, night 03, day 04, night 04, day 05, night 05", ""),
        (4, 4, "day 03, night 03, day 04, night 04, day 05, night 05", ""),  # back the same day
    ],
)
def test_days_out_of_service_are_not_scheduled(
    first: int | None, back: int | None, kept: str, idle: str
) -> None:
    shop = shop_of(DAY, NIGHT)
    whole = period_of(shop, Workdays.of(shop), date(2026, 6, 3), date(2026, 6, 5), LATER)
    returned = date(2026, 6, back) if back else None
    out = [DaysOut(1, date(2026, 6, first), returned)] if first else []
    found = whole.of_machine(out)
    for shifts, expected in ((found.shifts, kept), (found.idle, idle)):
        assert ", ".join(f"{s.name} {s.day:%d}" for s in shifts) == expected
    assert (found.start, found.end) == (whole.start, whole.end)
    assert hours(found.scheduled) + hours(found.not_scheduled) == hours(whole.scheduled)


def test_what_overlaps_a_shift_in_service_is_scheduled() -> None:
    """The night shift of the 3rd runs to 08:00 on the 4th: of the 4th's 8.5 h, 6.5 are idle."""
    shop = shop_of(DAY, Shift("night", EVERY_DAY, time(21, 30), time(8)))
    period = period_of(shop, Workdays.of(shop), date(2026, 6, 3), date(2026, 6, 4), LATER)
    found = period.of_machine([DaysOut(1, date(2026, 6, 4), None)])
    assert hours(found.scheduled) == Fraction(17, 2) + Fraction(21, 2)
    assert hours(found.not_scheduled) == Fraction(13, 2) + Fraction(21, 2)


@pytest.mark.parametrize(("back", "last"), [(None, None), (date(2026, 6, 5), date(2026, 6, 4))])
def test_the_last_day_out_is_the_one_before_it_came_back(
    back: date | None, last: date | None
) -> None:
    assert DaysOut(1, date(2026, 6, 1), back).last == last
