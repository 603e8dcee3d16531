"""Dates, times and quarters as people write them, and the weeks that a calendar names."""

from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.actions.calendar import LeftOut
from pmtrack.errors import Refused, UnreadableInput
from pmtrack.rules.dates import (
    monday_of,
    parse_date,
    parse_moment,
    parse_quarter,
    parse_week,
    quarter_name,
    week_name,
)
from pmtrack.rules.facts import Moment
from pmtrack.rules.forecast import PlannedJob
from pmtrack.rules.load import week_loads
from pmtrack.rules.situation import RuleDue
from pmtrack.screens.calendar_screen import Written, show_calendar
from tests.build import REFERENCE, ZONE, calendars, day, parsed, reference, task

ISO_WEEKS = reference("iso-week-boundary.csv")

# ---- dates


@pytest.mark.parametrize("text", ["2026-11-25", " 2026-11-25 ", "1950-01-01", "2150-12-31"])
def test_a_date_is_written_in_iso_8601(text: str) -> None:
    assert str(parse_date(text)) == text.strip()


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "is no date; write it like 2026-11-25"),
        ("25.11.2026", "is no date"),
        ("11/25/2026", "is no date"),
        ("20261125", "is no date"),
        ("2026-W48-3", "is no date"),
        ("2026-11-25T14:05", "is no date"),
        ("٢٠٢٦-11-25", "is no date"),
        ("2026-02-29", "is no day of the calendar"),
        ("2026-13-01", "is no day of the calendar"),
        ("2026-11-00", "is no day of the calendar"),
        ("1949-12-31", "lies outside 1950-01-01 to 2150-12-31"),
        ("2151-01-01", "lies outside"),
    ],
)
def test_what_is_no_date_is_refused_with_the_mend(text: str, complaint: str) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        parse_date(text)


# ---- moments


@pytest.mark.parametrize(
    ("text", "on", "instant"),
    [
        ("2026-11-25", "2026-11-25", None),  # the end of that day
        ("2026-11-25T14:05", "2026-11-25", "2026-11-25T19:05:00"),
        (" 2026-11-25 14:05 ", "2026-11-25", "2026-11-25T19:05:00"),
        ("2026-11-25T14:05:59", "2026-11-25", "2026-11-25T19:05:59"),
        ("2026-11-25T19:05Z", "2026-11-25", "2026-11-25T19:05:00"),
        ("2026-11-26T04:59Z", "2026-11-25", "2026-11-26T04:59:00"),  # still the 25th in the shop
        ("2026-11-25T20:05+01:00", "2026-11-25", "2026-11-25T19:05:00"),
        ("2026-11-01T01:30", "2026-11-01", "2026-11-01T05:30:00"),  # comes twice: the first
        ("2026-11-01T01:30-05:00", "2026-11-01", "2026-11-01T06:30:00"),  # the second, by offset
    ],
)
def test_a_moment_is_a_date_or_a_time_of_the_shop(text: str, on: str, instant: str | None) -> None:
    at = datetime.fromisoformat(instant).replace(tzinfo=UTC) if instant else None
    assert parse_moment(text, ZONE) == Moment(day(on), at)


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "is no time; write it like 2026-11-25T14:05, or a date 2026-11-25"),
        ("14:05", "is no time; write"),
        ("2026-11-25T14", "is no time; write"),
        ("2026-11-25T2:05pm", "is no time; write"),
        ("2026-11-25T14:05 EST", "is no time; write"),
        ("2026-11-25T25:00", "is no time of the day"),
        ("2026-11-25T14:60", "is no time of the day"),
        ("2026-11-25T14:05+24:00", "is no time of the day"),
        ("2026-02-30T14:05", "is no day of the calendar"),
        ("1949-01-01T14:05", "lies outside"),
        ("2151-01-01", "lies outside"),
    ],
)
def test_what_is_no_moment_is_refused_with_the_mend(text: str, complaint: str) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        parse_moment(text, ZONE)


def test_a_time_that_the_clock_skips_is_understood_but_refused() -> None:
    with pytest.raises(Refused, match="the clock was put forward; write 2026-03-08T03:30"):
        parse_moment("2026-03-08T02:30", ZONE)


# ---- quarters


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("2027-Q1", "2027-01-01", "2027-03-31"),
        ("2027-Q2", "2027-04-01", "2027-06-30"),
        ("2027-Q3", "2027-07-01", "2027-09-30"),
        ("2027-Q4", "2027-10-01", "2027-12-31"),
        (" 2028q1 ", "2028-01-01", "2028-03-31"),
        ("1950-Q1", "1950-01-01", "1950-03-31"),
        ("2149-Q4", "2149-10-01", "2149-12-31"),
    ],
)
def test_a_quarter_is_three_whole_months(text: str, first: str, last: str) -> None:
    assert parse_quarter(text) == (day(first), day(last))


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("2027", "is no quarter; write it like 2027-Q1"),
        ("2027-Q5", "is no quarter"),
        ("2027-Q0", "is no quarter"),
        ("Q1-2027", "is no quarter"),
        ("2027-1", "is no quarter"),
        ("1949-Q4", "lies outside 1950 to 2149"),
        ("2150-Q1", "lies outside"),
    ],
)
def test_what_is_no_quarter_is_refused_with_the_mend(text: str, complaint: str) -> None:
    with pytest.raises(UnreadableInput, match=complaint):
        parse_quarter(text)


# ---- ISO 8601 week dates at the turn of years, in the calendar's list of weeks


@pytest.mark.parametrize("row", ISO_WEEKS, ids=[row["date"] for row in ISO_WEEKS])
def test_a_calendar_counts_a_job_in_its_iso_week(
    row: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    on = day(row["date"])
    job = task("1 month", minutes=90)
    due = RuleDue(job.every[0], "ok", on, on, Fraction(3), Fraction(3))
    planned = PlannedJob("TP-1/service#1", job, on, on, due, None)
    loads = week_loads([planned], calendars().shop, Fraction(6), (on, on))
    written = Written([], None, todos=False)
    show_calendar(REFERENCE / "any.ics", written, LeftOut(), loads)
    assert capsys.readouterr().out.splitlines()[1].split()[0] == row["iso_week_date"][:8]


@pytest.mark.parametrize("row", ISO_WEEKS, ids=[row["date"] for row in ISO_WEEKS])
def test_a_week_is_named_and_read_as_in_iso_8601(row: dict[str, str]) -> None:
    on, week = day(row["date"]), row["iso_week_date"][:8]
    assert week_name(on) == week
    assert parse_week(week) == monday_of(on) <= on


@pytest.mark.parametrize(
    "text", ["W03", "2027-W54", "2027-W53", "2027-W00", "0000-W01", "2027W03", "\u0662027-W01", ""]
)
def test_what_is_no_week_is_refused_with_the_mend(text: str) -> None:
    with pytest.raises(UnreadableInput, match="is no week; write it like 2027-W03"):
        parse_week(text)


@pytest.mark.parametrize(
    ("on", "name"),
    [("2027-01-01", "2027-Q1"), ("2027-03-31", "2027-Q1"), ("2027-04-01", "2027-Q2"),
     ("2026-09-30", "2026-Q3"), ("2026-12-31", "2026-Q4")],
)  # fmt: skip
def test_a_quarter_is_named_as_it_is_read(on: str, name: str) -> None:
    assert quarter_name(day(on)) == name
    first, last = parse_quarter(name)
    assert first <= day(on) <= last


# ---- laws

ZONES = st.sampled_from(["America/New_York", "Asia/Kathmandu", "UTC"])
YEAR, TIME = r"[ ]?[12][0-9]{3}-?", r"([T ][0-9]{2}:[0-9]{2}(:[0-9]{2})?)?"
ALMOST = st.from_regex(
    rf"{YEAR}(Q[0-9]|[0-9]{{2}}-[0-9]{{2}}{TIME}(Z|[+-][0-9]{{2}}:00)?)", fullmatch=True
)
INSTANTS = st.integers(-600_000_000, 5_680_000_000).map(
    lambda seconds: datetime.fromtimestamp(seconds, UTC)  # from 1950 to 2149
)


@given(st.dates(date(1950, 1, 1), date(2150, 12, 31)))
def test_a_date_is_read_back_as_written(on: date) -> None:
    assert parse_date(str(on)) == on
    assert parse_moment(f"{on}", ZONE) == Moment(on)


@given(INSTANTS, ZONES)
def test_an_instant_is_read_back_as_written(instant: datetime, key: str) -> None:
    zone = ZoneInfo(key)
    moment = parse_moment(f"{instant:%Y-%m-%dT%H:%M:%SZ}", zone)
    assert moment == Moment(instant.astimezone(zone).date(), instant)


@given(st.integers(1950, 2149), st.integers(1, 4))
def test_quarters_follow_one_another(year: int, quarter: int) -> None:
    first, last = parse_quarter(f"{year}-Q{quarter}")
    assert 90 <= (last - first).days + 1 <= 92
    after = last + timedelta(days=1)
    assert after.day == 1
    if (year, quarter) != (2149, 4):
        number = year * 4 + quarter
        assert parse_quarter(f"{number // 4}-Q{number % 4 + 1}")[0] == after


@given(st.text() | ALMOST)
def test_any_text_gives_a_date_a_moment_a_quarter_or_is_refused(text: str) -> None:
    found = parsed(parse_date, text)
    assert found is None or parse_moment(text, ZONE) == Moment(found)
    quarter = parsed(parse_quarter, text)
    assert quarter is None or quarter[0] < quarter[1]
    utc = ZoneInfo("UTC")  # skips no time, so that every refusal is one of form
    moment = parsed(lambda written: parse_moment(written, utc), text)
    assert moment is None or moment.at is None or moment.at.date() == moment.day
