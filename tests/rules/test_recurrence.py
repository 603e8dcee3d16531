"""Fixed schedules against the examples that RFC 5545 prints, and what the standard forbids."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import UnreadableInput
from pmtrack.rules.recurrence import is_daily, occurrences, rule_parts
from tests.build import ZONE, day, parsed, reference

RFC_EXAMPLES = {row["id"]: row for row in reference("rfc5545-recurrence.csv")}
ISO_WEEKS = reference("iso-week-boundary.csv")
WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


def dates(rule: str, starts: str, count: int) -> list[str]:
    """The first dates of a rule, at most so many."""
    walk = occurrences(rule, day(starts), ZONE)
    found = [walk[n] for n in range(count)]
    return [str(on) for on in found if on is not None]


# ---- RFC 5545 (2009), 3.8.5.3: all printed examples with a day's grain, times of day dropped


@pytest.mark.parametrize("example", RFC_EXAMPLES)
def test_an_example_of_the_standard_gives_the_dates_that_it_prints(example: str) -> None:
    row = RFC_EXAMPLES[example]
    starts = date.fromisoformat(row["dtstart"][:8])
    expected = [date.fromisoformat(text[:10]) for text in row["expected"].split()]
    walk = occurrences(row["rrule"], starts, ZONE)
    assert [walk[n] for n in range(len(expected))] == expected
    if row["extent"] == "complete":
        assert walk[len(expected)] is None


def test_all_printed_examples_are_there() -> None:
    assert len(RFC_EXAMPLES) == 27


@pytest.mark.parametrize(
    ("rule", "named"),  # RFC 5545 (2009), 3.8.5.3: the examples finer than a day
    [
        ("FREQ=HOURLY;INTERVAL=3;UNTIL=19970902T170000Z", "FREQ=HOURLY"),
        ("FREQ=MINUTELY;INTERVAL=15;COUNT=6", "FREQ=MINUTELY"),
        ("FREQ=MINUTELY;INTERVAL=90;COUNT=4", "FREQ=MINUTELY"),
        ("FREQ=DAILY;BYHOUR=9,10,11;BYMINUTE=0,20,40", "BYHOUR=9,10,11"),
        ("FREQ=MINUTELY;INTERVAL=20;BYHOUR=9,10,11", "FREQ=MINUTELY"),
        ("FREQ=SECONDLY", "FREQ=SECONDLY"),
        ("FREQ=DAILY;BYMINUTE=0", "BYMINUTE=0"),
        ("FREQ=DAILY;BYSECOND=30", "BYSECOND=30"),
    ],
)
def test_what_is_finer_than_a_day_is_refused_by_name(rule: str, named: str) -> None:
    with pytest.raises(UnreadableInput, match=named):
        rule_parts(rule)


# ---- RFC 5545 (2009), 3.3.10; the dates counted on a calendar


LAST_WORK_DAYS = [  # the rule is printed, without dates; Monday to Friday, no holidays
    ("1997-09-30", "09-30 10-31 11-28 12-31 01-30 02-27 03-31 04-30 05-29 06-30"),
    ("2026-01-01", "01-30 02-27 03-31 04-30 05-29 06-30 07-31 08-31 09-30 10-30 11-30 12-31"),
]


@pytest.mark.parametrize(("starts", "expected"), LAST_WORK_DAYS)
def test_the_last_work_day_of_the_month(starts: str, expected: str) -> None:
    rule = "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1"
    assert [text[5:] for text in dates(rule, starts, len(expected.split()))] == expected.split()


@pytest.mark.parametrize(
    ("rule", "starts", "expected"),
    [
        # 31 of the month: months without one are left out, never moved
        (
            "FREQ=MONTHLY",
            "2025-01-31",
            "2025-01-31 2025-03-31 2025-05-31 2025-07-31 2025-08-31 2025-10-31 2025-12-31"
            " 2026-01-31",
        ),
        # each quarter from 31 January: April has no 31st and is lost
        (
            "FREQ=MONTHLY;INTERVAL=3",
            "2025-01-31",
            "2025-01-31 2025-07-31 2025-10-31 2026-01-31 2026-07-31 2026-10-31",
        ),
        # and as month ends, where nothing is lost
        (
            "FREQ=YEARLY;BYMONTH=1,4,7,10;BYMONTHDAY=-1",
            "2025-01-31",
            "2025-01-31 2025-04-30 2025-07-31 2025-10-31 2026-01-31 2026-04-30",
        ),
        # the 30th, or the last day before it where there is none
        (
            "FREQ=MONTHLY;BYMONTHDAY=28,29,30;BYSETPOS=-1",
            "2025-01-30",
            "2025-01-30 2025-02-28 2025-03-30 2025-04-30 2025-05-30 2025-06-30",
        ),
        # RFC 7529 (2015), 4.3.4: 29 February without RSCALE comes in leap years only
        ("FREQ=YEARLY", "2012-02-29", "2012-02-29 2016-02-29 2020-02-29"),
        # 2100 is no leap year
        ("FREQ=YEARLY", "2088-02-29", "2088-02-29 2092-02-29 2096-02-29 2104-02-29"),
        (
            "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=-1",
            "2024-02-29",
            "2024-02-29 2025-02-28 2026-02-28 2027-02-28 2028-02-29",
        ),
    ],
)
def test_a_date_that_does_not_exist_is_skipped(rule: str, starts: str, expected: str) -> None:
    assert dates(rule, starts, len(expected.split())) == expected.split()


@pytest.mark.parametrize("row", ISO_WEEKS, ids=[row["date"] for row in ISO_WEEKS])
def test_weeks_are_those_of_iso_8601(row: dict[str, str]) -> None:
    """ISO 8601 week dates at the turn of years; RFC 5545, 3.3.10, takes its weeks from there."""
    _, week, weekday = row["iso_week_date"].split("-")
    rule = f"FREQ=YEARLY;BYWEEKNO={int(week[1:])};BYDAY={WEEKDAYS[int(weekday) - 1]}"
    assert dates(rule, row["date"], 1) == [row["date"]]
    other = int(week[1:]) % 50 + 2  # some other week of the year
    assert dates(rule.replace(f"={int(week[1:])};", f"={other};"), row["date"], 1) != [row["date"]]


# ---- what a shop file may say


@pytest.mark.parametrize(
    ("rule", "complaint"),
    [
        ("", "'' is no part of a schedule"),
        ("every monday", "'every monday' is no part"),
        ("INTERVAL=2", "FREQ is missing"),
        ("FREQ=DAILY;FREQ=WEEKLY", "FREQ stands twice"),
        ("FREQ=FORTNIGHTLY", "FREQ=FORTNIGHTLY is not allowed"),
        ("FREQ=DAILY;INTERVAL=0", "INTERVAL=0 is not allowed"),
        ("FREQ=DAILY;INTERVAL=-1", "INTERVAL=-1 is not allowed"),
        ("FREQ=DAILY;INTERVAL=1.5", r"INTERVAL=1\.5 is not allowed"),
        ("FREQ=DAILY;COUNT=0", "COUNT=0 is not allowed"),
        ("FREQ=DAILY;COUNT=3;UNTIL=20270101", "COUNT and UNTIL exclude"),
        ("FREQ=MONTHLY;BYMONTHDAY=0", "BYMONTHDAY=0 is not allowed"),
        ("FREQ=MONTHLY;BYMONTHDAY=32", "BYMONTHDAY=32 is not allowed"),
        ("FREQ=YEARLY;BYMONTH=13", "BYMONTH=13 is not allowed"),
        ("FREQ=YEARLY;BYWEEKNO=54", "BYWEEKNO=54 is not allowed"),
        ("FREQ=YEARLY;BYYEARDAY=367", "BYYEARDAY=367 is not allowed"),
        ("FREQ=MONTHLY;BYDAY=54MO", "BYDAY=54MO is not allowed"),
        ("FREQ=MONTHLY;BYDAY=MON", "BYDAY=MON is not allowed"),
        ("FREQ=WEEKLY;WKST=XX", "WKST=XX is not allowed"),
        ("FREQ=WEEKLY;BYDAY=1MO", "only with FREQ=MONTHLY or YEARLY"),
        ("FREQ=DAILY;BYDAY=-1FR", "only with FREQ=MONTHLY or YEARLY"),
        ("FREQ=YEARLY;BYWEEKNO=20;BYDAY=1MO", "no number beside BYWEEKNO"),
        ("FREQ=WEEKLY;BYMONTHDAY=13", "BYMONTHDAY does not go with FREQ=WEEKLY"),
        ("FREQ=MONTHLY;BYWEEKNO=20", "only with FREQ=YEARLY"),
        ("FREQ=MONTHLY;BYYEARDAY=100", "BYYEARDAY goes only with FREQ=YEARLY"),
        ("FREQ=MONTHLY;BYSETPOS=1", "BYSETPOS needs another BY"),
        ("FREQ=YEARLY;RSCALE=GREGORIAN", "RSCALE=GREGORIAN' is no part"),
        ("FREQ=DAILY;UNTIL=20271345", "UNTIL=20271345 is no date"),
        ("FREQ=DAILY;UNTIL=20271345T000000Z", "UNTIL=20271345T000000Z is no date"),
        ("FREQ=DAILY;UNTIL=2027-01-01", "UNTIL=2027-01-01 is not allowed"),
        ("FREQ=DAILY;UNTIL=00010101T000000Z", "is no date"),  # in New York before the year 1
    ],
)
def test_a_rule_that_the_standard_forbids_is_refused_with_the_reason(
    rule: str, complaint: str
) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        occurrences(rule, day("01-05"), ZONE)


@pytest.mark.parametrize(
    "rule", ["freq=weekly;byday=mo", " FREQ=WEEKLY; BYDAY=MO ;", "FREQ=WEEKLY;BYDAY=MO"]
)
def test_case_spaces_and_a_last_semicolon_do_not_matter(rule: str) -> None:
    assert rule_parts(rule) == {"FREQ": "WEEKLY", "BYDAY": "MO"}


@pytest.mark.parametrize(
    ("until", "last"),
    [
        ("20260112", "2026-01-12"),  # a date includes itself
        ("20260112T000000", "2026-01-12"),  # shop time; only its date counts
        ("20260112T045959Z", "2026-01-11"),  # 23:59:59 of the 11th in New York
        ("20260112T050000Z", "2026-01-12"),  # midnight of the 12th in New York
        ("20260101", None),
    ],
)
def test_until_is_read_in_shop_time(until: str, last: str | None) -> None:
    found = dates(f"FREQ=DAILY;UNTIL={until}", "2026-01-05", 20)
    assert (found[-1] if found else None) == last


def test_starts_only_bounds_the_rule() -> None:
    """The first Monday of a month is one whatever the start date; COUNT counts from there."""
    rule = "FREQ=MONTHLY;BYDAY=1MO;COUNT=2"
    assert dates(rule, "2026-01-05", 9) == ["2026-01-05", "2026-02-02"]
    assert dates(rule, "2026-01-06", 9) == ["2026-02-02", "2026-03-02"]


def test_rules_are_walked_up_to_the_year_2200() -> None:
    assert dates("FREQ=YEARLY;INTERVAL=100", "2026-01-05", 9) == ["2026-01-05", "2126-01-05"]


def test_a_rule_without_any_date_has_none() -> None:
    walk = occurrences("FREQ=YEARLY;BYMONTH=3;BYYEARDAY=366", day("01-05"), ZONE)
    assert walk[0] is None
    assert walk.count_through(day("12-31")) == 0
    assert walk.gap(0) is None


FIRST_MONDAYS = "FREQ=MONTHLY;BYDAY=1MO;COUNT=4"  # 5 January, 2 February, 2 March, 6 April 2026


@pytest.mark.parametrize(
    ("through", "count"),
    [("01-04", 0), ("01-05", 1), ("02-01", 1), ("02-02", 2), ("04-05", 3), ("12-31", 4)],
)
def test_occurrences_are_counted_through_a_day(through: str, count: int) -> None:
    assert occurrences(FIRST_MONDAYS, day("01-05"), ZONE).count_through(day(through)) == count


@pytest.mark.parametrize(
    ("index", "days"),
    [(0, 28), (1, 28), (2, 28), (3, 35), (4, None)],  # the first: to the next; no fifth
)
def test_the_gap_is_from_the_occurrence_before(index: int, days: int | None) -> None:
    assert occurrences(FIRST_MONDAYS, day("01-05"), ZONE).gap(index) == days


def test_an_occurrence_alone_has_no_gap() -> None:
    assert occurrences("FREQ=DAILY;COUNT=1", day("01-05"), ZONE).gap(0) is None


# ---- laws


RULES = st.builds(
    lambda frequency, interval, more: ";".join([f"FREQ={frequency}", f"INTERVAL={interval}", more]),
    st.sampled_from(["DAILY", "MONTHLY", "YEARLY"]),
    st.integers(1, 5),
    st.sampled_from(["BYDAY=MO", "BYDAY=TU,SA", "BYMONTHDAY=1,15,-1", "BYMONTH=2,9", "WKST=SU"]),
)
STARTS = st.dates(date(2020, 1, 1), date(2035, 12, 31))


@given(RULES, STARTS)
def test_occurrences_come_in_order_from_the_start_on_and_count_as_listed(
    rule: str, starts: date
) -> None:
    walk = occurrences(rule, starts, ZONE)
    first = [on for on in (walk[n] for n in range(8)) if on]
    assert all(earlier < later for earlier, later in pairwise(first))
    assert all(on >= starts for on in first)
    for index, on in enumerate(first):
        assert walk.count_through(on) == index + 1
        assert walk.count_through(on - timedelta(days=1)) == index


@given(st.integers(1, 30), STARTS)
def test_every_so_many_days_is_plain_addition(interval: int, starts: date) -> None:
    walk = occurrences(f"FREQ=DAILY;INTERVAL={interval}", starts, ZONE)
    assert [walk[n] for n in range(6)] == [starts + timedelta(n * interval) for n in range(6)]


FREQUENCIES = st.sampled_from(["FREQ=DAILY", "FREQ=WEEKLY", "FREQ=YEARLY", "FREQ=", "X", "="])
LIMITS = st.sampled_from(["INTERVAL=2", "COUNT=3", "UNTIL=20270101", "UNTIL=2027", "WKST=MO"])
CHOICES = st.sampled_from(["BYDAY=1MO", "BYSETPOS=1", "BYWEEKNO=1", "BYMONTHDAY=31", "BYMONTH=0"])
PIECES = FREQUENCIES | LIMITS | CHOICES


@given(st.text() | st.lists(PIECES, max_size=5).map(";".join))
def test_any_text_gives_the_parts_of_a_rule_or_is_refused(text: str) -> None:
    parts = parsed(rule_parts, text)
    assert parts is None or "FREQ" in parts


@pytest.mark.parametrize(
    ("rule", "daily"),
    [
        ("FREQ=DAILY", True),
        ("FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", True),
        ("FREQ=WEEKLY;BYDAY=SU,MO,TU,WE,TH,FR,SA", True),
        ("FREQ=DAILY;BYDAY=MO,TU,WE,TH,FR", True),
        ("FREQ=DAILY;INTERVAL=2", False),
        ("FREQ=DAILY;INTERVAL=30", False),
        ("FREQ=DAILY;BYMONTH=1", False),
        ("FREQ=DAILY;COUNT=5", False),  # it ends
        ("FREQ=WEEKLY;BYDAY=MO,TU,WE,TH", False),  # Friday is worked too
        ("FREQ=WEEKLY;INTERVAL=2;BYDAY=MO,TU,WE,TH,FR", False),
        ("FREQ=WEEKLY", False),
        ("FREQ=MONTHLY;BYMONTHDAY=1,8,15,22", False),
        ("FREQ=YEARLY;BYMONTH=1,4,7,10;BYMONTHDAY=1", False),
        ("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR", False),
    ],
)
def test_a_rule_is_daily_when_it_has_a_date_on_each_day_worked(rule: str, daily: bool) -> None:
    assert is_daily(rule, {0, 1, 2, 3, 4}) is daily


@pytest.mark.parametrize(
    ("rule", "complaint"),
    [
        ("FREQ=DAILY;BYDAY=MO;BYSETPOS=2", "a day has one date"),
        ("FREQ=WEEKLY;BYDAY=MO,WE;BYSETPOS=-3", "fewer days in BYDAY"),
        ("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", "no month in BYMONTH has that day"),
        ("FREQ=YEARLY;BYMONTH=4,6;BYMONTHDAY=-31", "no month in BYMONTH has that day"),
    ],
)
def test_a_rule_that_can_never_have_a_date_is_refused(rule: str, complaint: str) -> None:
    """Else it would be walked to the last year there is, which takes seconds."""
    with pytest.raises(UnreadableInput, match=complaint):
        rule_parts(rule)


@pytest.mark.parametrize(
    "rule",
    [
        "FREQ=DAILY;BYDAY=MO;BYSETPOS=1",
        "FREQ=WEEKLY;BYDAY=MO,WE;BYSETPOS=-2",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29",
        "FREQ=YEARLY;BYMONTH=2,3;BYMONTHDAY=31",
    ],
)
def test_a_rule_that_has_a_date_now_and_then_is_taken(rule: str) -> None:
    assert occurrences(rule, day("01-05"), ZONE)[0] is not None
