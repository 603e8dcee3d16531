"""Intervals, grace and lead: as written, as counted, and as the law or a standard has them."""

import calendar
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import UnreadableInput
from pmtrack.rules.intervals import (
    add_interval,
    default_grace_days,
    default_lead_days,
    explicit_days,
    grace_days,
    grace_units,
    lead_days,
    lead_units,
    parse_allowance,
    parse_interval,
    parse_per_time,
)
from pmtrack.rules.shop import Allowance, Interval, PerTime
from tests.build import day, parsed, reference, task

MONTH_ENDS = reference("month-end.csv")

# ---- as written


@pytest.mark.parametrize(
    ("text", "amount", "unit", "is_calendar"),
    [
        ("1 month", 1, "month", True),
        ("6 months", 6, "month", True),
        ("1 Day", 1, "day", True),
        (" 2  weeks ", 2, "week", True),
        ("12 YEARS", 12, "year", True),
        ("500 hours", 500, "hours", False),
        ("1,204,350 hits", 1204350, "hits", False),
        ("7.5 arc_hours", Fraction(15, 2), "arc_hours", False),
        ("250h", 250, "h", False),
        ("36525 days", 36525, "day", True),  # a hundred years
    ],
)
def test_an_interval_is_an_amount_and_a_unit(
    text: str, amount: int | Fraction, unit: str, is_calendar: bool
) -> None:
    interval = parse_interval(text)
    assert (interval.amount, interval.unit) == (amount, unit)
    assert interval.is_calendar is is_calendar
    assert interval.text == " ".join(text.split())


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "is no interval"),
        ("monthly", "is no interval"),
        ("month", "is no interval"),
        ("6", "is no interval"),
        ("10%", "is no interval"),
        ("6 months 2", "is no interval"),
        ("0 days", "must be more than 0"),
        ("-1 month", "must be more than 0"),
        ("1.5 months", "write whole months, or a smaller unit"),
        ("101 years", "over 100 years"),
        ("36526 days", "over 100 years"),
        ("1.2.3 hours", "is not a number"),
        ("0.0000001 hours", "more than 6 decimals"),
        ("1000000000001 hits", "too large"),
        ("٣ days", "is not a number"),  # an Arabic-Indic digit
    ],
)
def test_what_is_no_interval_is_refused_with_the_mend(text: str, complaint: str) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        parse_interval(text)


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("5 days", 5, "day"),
        ("0 days", 0, "day"),
        ("2 weeks", 14, "day"),
        ("10%", 10, "%"),
        ("12.5 %", Fraction(25, 2), "%"),
        ("100%", 100, "%"),
        ("50 hours", 50, "hours"),
        ("0.5 hours", Fraction(1, 2), "hours"),
    ],
)
def test_grace_or_lead_is_in_days_percent_or_units(
    text: str, amount: int | Fraction, unit: str
) -> None:
    assert parse_allowance(text) == Allowance(Fraction(amount), unit)


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("some", "is no allowance"),
        ("10", "is no allowance"),
        ("-1 days", "between 0 and 100%"),
        ("101%", "between 0 and 100%"),
        ("-5%", "between 0 and 100%"),
        ("1 month", "write the allowance in days"),
        ("1 year", "write the allowance in days"),
        ("1.5 days", "write whole days"),
        ("1.5 weeks", "write whole days"),
        ("36526 days", "at most 36525"),
        ("--5 days", "is not a number"),
    ],
)
def test_what_is_no_allowance_is_refused_with_the_mend(text: str, complaint: str) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        parse_allowance(text)


def test_a_pace_is_an_amount_for_each_unit_of_time() -> None:
    assert parse_per_time("120 per minute") == PerTime(Fraction(120), "minute")
    assert parse_per_time(" 7.5  per  day ") == PerTime(Fraction(15, 2), "day")


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("120", "is no rate"),
        ("120 per fortnight", "a number per minute, hour, shift, day, week"),
        ("120 minute", "is no rate"),
        ("0 per day", "must be more than 0"),
        ("-3 per day", "must be more than 0"),
        ("1,20 per day", "is not a number"),
    ],
)
def test_what_is_no_pace_is_refused_with_the_mend(text: str, complaint: str) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        parse_per_time(text)


# ---- as counted: RFC 7529 (2015), 4.1, calls the clamp at the month's end backward


@pytest.mark.parametrize(
    "row", MONTH_ENDS, ids=[f"{row['start']}+{row['plus_months']}" for row in MONTH_ENDS]
)
def test_months_are_clamped_at_the_months_end(row: dict[str, str]) -> None:
    start, months = day(row["start"]), row["plus_months"]
    found = add_interval(start, parse_interval(f"{months} months"))
    assert str(found) == row["clamped_date"]
    # RFC 5545 (2009), 3.3.10, keeps only the dates whose day of the month exists
    assert (found.day == start.day) == (row["rfc5545"] == "kept")


def test_all_published_month_ends_are_there() -> None:
    assert len(MONTH_ENDS) == 42


@pytest.mark.parametrize(
    ("start", "interval", "expected"),
    [
        ("2026-01-31", "1 month", "2026-02-28"),
        ("2024-02-29", "1 year", "2025-02-28"),
        ("2024-02-29", "4 years", "2028-02-29"),
        ("2023-11-30", "3 months", "2024-02-29"),
        ("2026-12-24", "2 weeks", "2027-01-07"),
        ("2026-03-07", "1 day", "2026-03-08"),  # the clock is put forward; a day is a date
        ("2026-06-10", "12 years", "2038-06-10"),
        ("9999-12-01", "1 month", "9999-12-31"),  # past the last date there is
        ("9999-12-31", "1 day", "9999-12-31"),
        ("9990-01-01", "36525 days", "9999-12-31"),
    ],
)
def test_a_calendar_interval_is_added_to_its_base(start: str, interval: str, expected: str) -> None:
    assert str(add_interval(day(start), parse_interval(interval))) == expected


def test_done_on_its_day_each_time_a_month_end_stays_on_the_28th() -> None:
    """From the anchor: 28 February, 31 March, 30 April. Step by step it stays on the 28th."""
    anchor = step = day("2025-01-31")
    month = parse_interval("1 month")
    from_anchor, step_by_step = [], []
    for months in (1, 2, 3):
        from_anchor.append(str(add_interval(anchor, parse_interval(f"{months} months"))))
        step = add_interval(step, month)
        step_by_step.append(str(step))
    assert from_anchor == ["2025-02-28", "2025-03-31", "2025-04-30"]
    assert step_by_step == ["2025-02-28", "2025-03-28", "2025-04-28"]


# ---- grace and lead


@pytest.mark.parametrize(
    ("length", "grace", "lead"),
    [  # 10 %, rounded down; grace 1 to 14 days and lead 1 to 7 from 7 days on, 0 below
        (1, 0, 0),
        (6, 0, 0),
        (7, 1, 1),
        (9, 1, 1),
        (19, 1, 1),
        (20, 2, 2),
        (28, 2, 2),
        (31, 3, 3),
        (69, 6, 6),
        (70, 7, 7),
        (91, 9, 7),
        (139, 13, 7),
        (140, 14, 7),
        (365, 14, 7),
        (4383, 14, 7),  # 12 years
    ],
)
def test_grace_and_lead_default_to_a_tenth_within_limits(
    length: int, grace: int, lead: int
) -> None:
    assert default_grace_days(length) == grace
    assert default_lead_days(length) == lead
    assert grace_days(task("1 month"), length) == grace
    assert lead_days(task("1 month"), length) == lead


@pytest.mark.parametrize(
    ("written", "in_days", "in_hours"),
    [  # of an interval of 200 days (defaults 14 and 7), and of one of 500 hours
        ("", None, 50),
        ("30 days", 30, 50),  # governs days only; caps belong to the defaults
        ("0 days", 0, 50),
        ("25%", 50, 125),
        ("12.5%", 25, Fraction(125, 2)),
        ("0%", 0, 0),
        ("80 hours", None, 80),  # governs hours only
        ("30 days, 80 hours", 30, 80),
        ("3 weeks, 25%", 21, 125),
        ("25%, 80 hours", 50, 80),
        ("70 hits", None, 50),  # another meter's
    ],
)
def test_a_written_allowance_governs_the_intervals_of_its_kind(
    written: str, in_days: int | None, in_hours: int | Fraction
) -> None:
    hours = parse_interval("500 hours")
    late, ahead = task("500 hours", grace=written), task("500 hours", lead=written)
    assert grace_days(late, 200) == (14 if in_days is None else in_days)
    assert lead_days(ahead, 200) == (7 if in_days is None else in_days)
    assert grace_units(late, hours) == in_hours
    assert lead_units(ahead, hours) == in_hours
    assert lead_units(late, hours) == 50  # the one does not change the other
    assert grace_days(ahead, 200) == 14


def test_percent_of_days_is_rounded_down() -> None:
    assert grace_days(task("1 month", grace="10%"), 29) == 2
    assert lead_days(task("1 month", lead="99%"), 7) == 6


@pytest.mark.parametrize("length", [1, 7, 30, 365])
def test_an_authority_leaves_no_grace_but_the_lead(length: int) -> None:
    lawful = task("1 month", authority="29 CFR 1910.157(e)(2)")
    assert grace_days(lawful, length) == 0
    assert grace_units(lawful, parse_interval("500 hours")) == 0
    assert lead_days(lawful, length) == default_lead_days(length)
    assert lead_units(lawful, parse_interval("500 hours")) == 50


@pytest.mark.parametrize(
    ("written", "days"), [("", None), ("10%", None), ("5 hours", None), ("10%, 5 days", 5)]
)
def test_an_allowance_in_days_is_told_apart(written: str, days: int | None) -> None:
    assert explicit_days(task("1 month", lead=written).lead) == days


# SMRP Best Practices, metric on work-order compliance of preventive maintenance: on time by the
# required date and 20 % of the interval, at most 28 days (quoted). Interval and grace in days,
# of months of 30 days.
SMRP = [(7, 1), (14, 3), (28, 6), (30, 6), (42, 8), (56, 11), (60, 12), (90, 18), (120, 24)]
SMRP_CAPPED = [(180, 28), (360, 28)]


@pytest.mark.parametrize(("length", "published"), SMRP)
def test_a_grace_of_20_percent_is_the_published_one_rounded_down(
    length: int, published: int
) -> None:
    ours = grace_days(task("1 month", grace="20%"), length)
    assert ours == length // 5
    assert 0 <= published - ours <= 1  # the table rounds to the nearest day


@pytest.mark.parametrize(("length", "published"), SMRP_CAPPED)
def test_the_default_grace_is_inside_the_published_cap(length: int, published: int) -> None:
    """A written percentage has no cap; the default stays at half of the published one."""
    assert default_grace_days(length) * 2 == published
    assert grace_days(task("1 month", grace="20%"), length) == length // 5


# ---- laws

UNITS = st.sampled_from(["day", "week", "month", "year"])
DATES = st.dates(date(1950, 1, 1), date(2150, 12, 31))


@given(DATES, st.integers(1, 1200))
def test_months_run_from_the_anchor(start: date, months: int) -> None:
    """The day of the month is the anchor's, or the last that the month has (counted here)."""
    found = add_interval(start, Interval(Fraction(months), "month", ""))
    number = start.year * 12 + start.month - 1 + months
    year, month = divmod(number, 12)
    longest = calendar.monthrange(year, month + 1)[1]
    assert found == date(year, month + 1, min(start.day, longest))


@given(DATES, st.integers(1, 100))
def test_a_year_is_twelve_months_and_a_week_seven_days(start: date, amount: int) -> None:
    years, months = (
        Interval(Fraction(amount), "year", ""),
        Interval(Fraction(12 * amount), "month", ""),
    )
    weeks, days = Interval(Fraction(amount), "week", ""), Interval(Fraction(7 * amount), "day", "")
    assert add_interval(start, years) == add_interval(start, months)
    assert add_interval(start, weeks) == add_interval(start, days)


@given(DATES, st.integers(0, 400), st.integers(1, 100), UNITS)
def test_a_later_base_never_makes_a_job_due_earlier(
    start: date, later: int, amount: int, unit: str
) -> None:
    interval = Interval(Fraction(amount), unit, "")
    after = date.fromordinal(start.toordinal() + later)
    assert start < add_interval(start, interval) <= add_interval(after, interval)


@given(st.integers(1, 100), UNITS, st.booleans())
def test_an_interval_is_read_back_as_written(amount: int, unit: str, plural: bool) -> None:
    interval = parse_interval(f"{amount} {unit}{'s' if plural else ''}")
    assert parse_interval(interval.text) == interval
    assert (interval.amount, interval.unit) == (Fraction(amount), unit)


ALMOST = st.from_regex(r"[-+0-9.,]{0,8} ?(%|days?|months?|hits|per|per minute)?", fullmatch=True)


@given(st.text() | ALMOST)
def test_any_text_gives_an_interval_allowance_or_pace_or_is_refused(text: str) -> None:
    interval, allowance = parsed(parse_interval, text), parsed(parse_allowance, text)
    pace = parsed(parse_per_time, text)
    assert interval is None or interval.amount > 0
    assert allowance is None or allowance.amount >= 0
    assert pace is None or pace.amount > 0
