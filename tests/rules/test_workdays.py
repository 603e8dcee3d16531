"""Working days: counted, found, and moved to; the sample's closed days against federal holidays."""

from datetime import date, timedelta

import holidays
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.shop import Closure, Shop
from pmtrack.rules.workdays import Workdays, shifts_on, work_by
from pmtrack.shopfile import read_shop
from tests.build import DAY, NIGHT, ONE_DAY, REFERENCE, day, days_from, shop

PLAIN = Workdays.of(shop())
SUMMER = Workdays.of(shop("07-03", "07-06..07-10"))  # a holiday Friday, then a week of shutdown
BEFORE_ALL = Workdays.of(shop("1900-01-01..2026-06-30"))  # the first working day is 1 July 2026


def sample_shop() -> Shop:
    """The sample shop."""
    path = REFERENCE.parents[2] / "sample_shop.yaml"
    found, faults = read_shop(path.read_bytes(), path.name)
    assert found is not None, faults
    return found


# ---- which days work


@pytest.mark.parametrize(
    ("on", "works"),
    [
        ("07-01", True),
        ("07-03", False),  # closed
        ("07-04", False),  # Saturday
        ("07-05", False),  # Sunday
        ("07-06", False),  # shutdown, first day
        ("07-10", False),  # shutdown, last day
        ("07-13", True),
    ],
)
def test_a_working_day_has_a_shift_and_is_not_closed(on: str, works: bool) -> None:
    assert (day(on) in SUMMER) is works
    found = shifts_on(shop("07-03", "07-06..07-10"), SUMMER, day(on))
    assert found == ((DAY,) if works else ())


def test_only_the_shifts_of_that_weekday_are_scheduled() -> None:
    where = shop(shifts=(DAY, NIGHT))
    assert shifts_on(where, Workdays.of(where), day("06-01")) == (DAY, NIGHT)
    saturday = shop(shifts=(DAY, type(DAY)("sat", (5,), DAY.start, DAY.end)))
    on_saturday = shifts_on(saturday, Workdays.of(saturday), day("06-06"))
    assert [shift.name for shift in on_saturday] == ["sat"]


# ---- counting; 1 June 2026 is a Monday


@pytest.mark.parametrize(
    ("after", "through", "count"),
    [
        ("06-01", "06-01", 0),
        ("06-01", "06-02", 1),
        ("06-01", "06-05", 4),
        ("06-05", "06-07", 0),  # Friday to Sunday
        ("06-05", "06-08", 1),
        ("06-07", "06-08", 1),
        ("06-01", "06-29", 20),
        ("06-08", "06-01", 0),  # backwards
        ("07-02", "07-13", 1),  # over holiday and shutdown
        ("07-02", "07-12", 0),
    ],
)
def test_working_days_are_counted_after_one_day_through_another(
    after: str, through: str, count: int
) -> None:
    assert SUMMER.between(day(after), day(through)) == count


@pytest.mark.parametrize(
    ("on", "n", "found"),
    [
        ("06-01", 1, "06-02"),
        ("06-05", 1, "06-08"),
        ("06-06", 1, "06-08"),
        ("06-01", 20, "06-29"),
        ("07-02", 1, "07-13"),
        ("07-01", 2, "07-13"),
    ],
)
def test_the_nth_working_day_after_a_day(on: str, n: int, found: str) -> None:
    assert SUMMER.nth_after(day(on), n) == day(found)


@pytest.mark.parametrize(
    ("on", "last"), [("06-05", "06-05"), ("06-07", "06-05"), ("07-12", "07-02")]
)
def test_the_last_working_day_through_a_day(on: str, last: str) -> None:
    assert SUMMER.last_through(day(on)) == day(last)


@pytest.mark.parametrize(
    ("on", "n", "first"),
    [
        ("06-05", 1, "06-05"),
        ("06-05", 5, "06-01"),
        ("06-07", 5, "06-01"),  # a Sunday: the last five end on Friday
        ("06-29", 20, "06-02"),
        ("07-13", 2, "07-02"),
    ],
)
def test_the_first_of_the_last_n_working_days(on: str, n: int, first: str) -> None:
    assert SUMMER.back_from(day(on), n) == day(first)


def test_before_the_first_working_day_there_is_none() -> None:
    assert BEFORE_ALL.last_through(day("06-30")) is None
    assert BEFORE_ALL.back_from(day("07-02"), 3) is None
    assert BEFORE_ALL.back_from(day("07-02"), 2) == day("07-01")


def test_after_the_last_date_there_is_none() -> None:
    assert PLAIN.nth_after(date.max - 3 * ONE_DAY, 5) is None


def test_a_machine_out_of_service_has_fewer_working_days() -> None:
    """Out on the evenings of 2 to 4 June: the span's last day is the one it came back."""
    without = PLAIN.without([(day("06-02"), day("06-05"))])
    assert [on for on in days_from("2026-06-01", 5) if on in without] == [
        day("06-01"),
        day("06-05"),
    ]
    assert without.between(day("06-01"), day("06-08")) == 2
    assert PLAIN.without([(day("06-06"), day("06-08"))]) is PLAIN  # a weekend takes nothing out


# ---- the last day to work


@pytest.mark.parametrize(
    ("due_on", "after", "by", "why"),
    [
        ("07-01", None, "07-01", "a working day is its own"),
        ("07-05", None, "07-02", "Sunday after a holiday Friday: the Thursday"),
        ("07-03", "06-03", "07-02", "a holiday: the day before"),
        ("07-10", "07-02", "07-13", "nothing between base and due date: the first day after"),
        ("07-10", "07-01", "07-02", "one day between them"),
        ("07-10", None, "07-02", "a fixed date has no base to stay after"),
        ("06-06", "06-05", "06-08", "due on Saturday, done on Friday: Monday"),
    ],
)
def test_work_is_by_the_last_working_day_up_to_the_due_date(
    due_on: str, after: str | None, by: str, why: str
) -> None:
    assert work_by(day(due_on), day(after) if after else None, SUMMER) == day(by), why


def test_without_any_working_day_the_due_date_stands() -> None:
    assert work_by(day("06-20"), None, BEFORE_ALL) == day("07-01")
    assert work_by(date.max, date.max - ONE_DAY, Workdays(frozenset({0}), ())) == date.max


# ---- the sample's closed days against the library `holidays` (US federal holidays)


KEPT = ("New Year", "Memorial Day", "Independence Day", "Labor Day", "Thanksgiving", "Christmas")
FEDERAL = holidays.country_holidays("US", years=[2026, 2027])


@pytest.mark.parametrize(
    "on",
    sorted(on for on, name in FEDERAL.items() if name.startswith(KEPT)),
    ids=lambda on: f"{on} {FEDERAL[on]}",
)
def test_the_sample_is_closed_on_the_federal_holidays_it_keeps(on: date) -> None:
    assert on not in Workdays.of(sample_shop())


def test_each_single_closed_day_of_the_sample_is_a_federal_holiday_or_follows_thanksgiving() -> (
    None
):
    single = [c.first for c in sample_shop().closed if c.first == c.last and c.first.year > 2025]
    assert len(single) == 10
    for on in single:
        named = FEDERAL.get(on) or FEDERAL.get(on - ONE_DAY, "")
        assert named.startswith(KEPT), on


# ---- laws

SCHEDULES = st.builds(
    lambda weekdays, closed: Workdays(frozenset(weekdays), ()).without(
        (first, first + timedelta(length)) for first, length in closed
    ),
    st.sets(st.integers(0, 6), min_size=1),
    st.lists(
        st.tuples(st.dates(date(2025, 12, 1), date(2026, 12, 31)), st.integers(1, 20)), max_size=4
    ),
)
DATES = st.dates(date(2026, 1, 1), date(2026, 12, 31))


@given(SCHEDULES, DATES, st.integers(0, 90))
def test_counting_agrees_with_counting_day_by_day(days: Workdays, after: date, span: int) -> None:
    listed = [after + timedelta(n) for n in range(1, span + 1)]
    assert days.between(after, after + timedelta(span)) == sum(on in days for on in listed)


@given(SCHEDULES, DATES, DATES, DATES)
def test_counts_of_two_spans_that_meet_add_up(
    days: Workdays, one: date, two: date, three: date
) -> None:
    first, middle, last = sorted((one, two, three))
    parts = days.between(first, middle) + days.between(middle, last)
    assert parts == days.between(first, last)


@given(SCHEDULES, DATES, st.integers(1, 60))
def test_the_nth_day_after_is_a_working_day_with_n_up_to_it(
    days: Workdays, on: date, n: int
) -> None:
    found = days.nth_after(on, n)
    assert found is not None
    assert found in days
    assert days.between(on, found) == n
    assert days.back_from(found, n) == days.nth_after(on, 1)


@given(SCHEDULES, DATES)
def test_the_last_working_day_through_a_day_has_none_after_it(days: Workdays, on: date) -> None:
    last = days.last_through(on)
    assert last is not None
    assert last in days
    assert last <= on
    assert days.between(last, on) == 0


@given(SCHEDULES, DATES, st.integers(1, 60))
def test_the_last_day_to_work_lies_after_the_base(days: Workdays, base: date, length: int) -> None:
    by = work_by(base + timedelta(length), base, days)
    assert by in days
    assert by > base
    if by > base + timedelta(length):
        assert days.between(base, base + timedelta(length)) == 0


def test_a_closure_takes_out_its_last_day_too() -> None:
    one = Workdays.of(Shop("Shop", "UTC", (DAY,), (Closure(day("06-02"), day("06-03")),)))
    assert [str(on)[5:] for on in days_from("2026-06-01", 5) if on in one] == [
        "06-01",
        "06-04",
        "06-05",
    ]
