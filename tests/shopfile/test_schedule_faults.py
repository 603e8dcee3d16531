"""Dates, times, days, zones, intervals, rates and rules that the shop file refuses."""

from collections.abc import Callable

import pytest

# old and new piece of the good file; then line and place of the fault, what is wrong, the mend
CASES = [
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=MONTHLY;BYDAY=1MO,7MO",
        ("52: tasks[2].on", "BYDAY=1MO,7MO counts past the month", "write 1 to 5, or -1 to -5"),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=YEARLY;BYMONTH=12;BYDAY=-6MO",
        ("52: tasks[2].on", "BYDAY=-6MO counts past the month", "write 1 to 5, or -1 to -5"),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=DAILY;" * 40,
        ("52: tasks[2].on", "has 440 characters", "write at most 400"),
    ),
    (
        "    every: 1 week",
        "    every: " + "1" * 101 + " days",
        (
            "31: tasks[0].every",
            "'1111111111111111111111111111111111111...' is too long",
            "write amount and unit, like 1 month or 500 hours",
        ),
    ),
    (
        "    every: 1 week",
        "    every: [[1 week]]",
        (
            "31: tasks[0].every[0]",
            "holds several values where one belongs",
            "write amount and unit, like 1 month or 500 hours",
        ),
    ),
    (
        "starts: 2026-01-05",
        "starts: 2026-02-30",
        (
            "11: shop.starts",
            "'2026-02-30' does not exist, February 2026 has 28 days",
            "write one of them",
        ),
    ),
    (  # found by fuzzing
        "starts: 2026-01-05",
        "starts: 2026-01-00",
        (
            "11: shop.starts",
            "'2026-01-00' does not exist, January 2026 has 31 days",
            "write one of them",
        ),
    ),
    (
        "starts: 2026-01-05",
        "starts: 5/1/2026",
        ("11: shop.starts", "'5/1/2026' is no date", "write a date like 2026-01-05"),
    ),
    (
        "starts: 2026-01-05",
        "starts: 2026-13-01",
        ("11: shop.starts", "'2026-13-01' has no month 13", "write year-month-day"),
    ),
    (
        "starts: 2026-01-05",
        "starts: 1926-01-05",
        (
            "11: shop.starts",
            "'1926-01-05' lies outside 1950 to 2150",
            "check the year and write it anew",
        ),
    ),
    (
        "starts: 2026-01-05",
        "starts: 2026-01-05T08:00",
        ("11: shop.starts", "'2026-01-05T08:00' is no date", "write a date like 2026-01-05"),
    ),
    (
        "to: 2027-01-01",
        "to: 2025-01-01",
        (
            "9: shop.closed[1].to",
            "2025-01-01 is before 2026-12-24",
            "write the earlier day under from",
        ),
    ),
    (
        ", to: 2027-01-01",
        "",
        ("9: shop.closed[1].to", "is missing", "write to: and a day, or on: for one day"),
    ),
    (
        "from: 2026-12-24, ",
        "",
        ("9: shop.closed[1].from", "is missing", "write from: and a day, or on: for one day"),
    ),
    (
        "{on: 2026-11-26, why",
        "{why",
        ("8: shop.closed[0]", "says no day", "write on: 2026-11-26, or from: and to:"),
    ),
    (
        "{on: 2026-11-26, why",
        "{on: 2026-11-26, to: 2026-11-27, why",
        (
            "8: shop.closed[0].to",
            "stands beside on",
            "keep on for one day, from and to for several",
        ),
    ),
    (
        'start: "06:00"',
        "start: 6:00",
        ("5: shop.shifts[0].start", "'6:00' is no time of day", 'write a time of day like "06:00"'),
    ),
    (
        'end: "23:00"',
        'end: "13:00"',  # typed for 23:00: from Monday 14:30 to Tuesday 13:00, day shift from 6:00
        (
            "6: shop.shifts[1]",
            "lasts 22 h 30 min, 7 h of it beside the day shift",
            "write start and end anew",
        ),
    ),
    (
        'start: "14:30", end: "23:00"',
        'start: "18:30", end: "07:01"',
        (
            "6: shop.shifts[1]",
            "lasts 12 h 31 min, 1 h 1 min of it beside the day shift",
            "write start and end anew",
        ),
    ),
    (
        'days: mon-thu, start: "14:30", end: "23:00"',
        'days: sun, start: "19:00", end: "08:00"',  # into Monday's day shift
        (
            "6: shop.shifts[1]",
            "lasts 13 h, 2 h of it beside the day shift",
            "write start and end anew",
        ),
    ),
    (
        'end: "23:00"',
        "end: 24:00",
        ("6: shop.shifts[1].end", "'24:00' is no time of day", 'write "00:00" for midnight'),
    ),
    (
        'end: "23:00"',
        "end: 11pm",
        ("6: shop.shifts[1].end", "'11pm' is no time of day", 'write a time of day like "06:00"'),
    ),
    (
        "days: mon-fri",
        "days: monday",
        (
            "5: shop.shifts[0].days",
            "'monday' is no weekday or range of them",
            "write mon-fri, sat or [mon, wed]",
        ),
    ),
    (
        "days: mon-fri",
        "days: [mon, fry]",
        (
            "5: shop.shifts[0].days[1]",
            "'fry' is no weekday or range of them",
            "write mon-fri, sat or [mon, wed]",
        ),
    ),
    (
        "days: mon-fri",
        "days: []",
        ("5: shop.shifts[0].days", "is empty", "write at least one entry"),
    ),
    (
        "America/New_York",
        "America/New_Yrok",
        (
            "3: shop.timezone",
            "'America/New_Yrok' is no time zone",
            "write America/New_York if that is meant, or another IANA name",
        ),
    ),
    (
        "America/New_York",
        "Quillback",
        (
            "3: shop.timezone",
            "'Quillback' is no time zone",
            "write an IANA name like America/New_York",
        ),
    ),
    (
        "America/New_York",
        "posix/UTC",
        (
            "3: shop.timezone",
            "'posix/UTC' is no time zone",
            "write Etc/UTC if that is meant, or another IANA name",
        ),
    ),
    (
        "America/New_York",
        "../../etc/passwd",
        (
            "3: shop.timezone",
            "'../../etc/passwd' is no time zone",
            "write an IANA name like America/New_York",
        ),
    ),
    (
        "every: 1 week",
        "every: weekly",
        (
            "31: tasks[0].every",
            "'weekly' is no interval",
            "write amount and unit, like 1 month or 500 hours",
        ),
    ),
    (
        "every: 1 week",
        "every: 0 weeks",
        (
            "31: tasks[0].every",
            "'0 weeks' must be more than 0",
            "write amount and unit, like 1 month or 500 hours",
        ),
    ),
    (
        "every: 1 week",
        "every: 1.5 weeks",
        ("31: tasks[0].every", "'1.5 weeks': write whole weeks, or a smaller unit", ""),
    ),
    (
        "every: 1 week",
        "every: 200 years",
        ("31: tasks[0].every", "'200 years' is over 100 years", "write a shorter interval"),
    ),
    ("every: 1 week", "every: []", ("31: tasks[0].every", "is empty", "write at least one entry")),
    (
        "every: 1 week",
        'every: ""',
        ("31: tasks[0].every", "is empty", "write amount and unit, like 1 month or 500 hours"),
    ),
    (
        "2000 hours]",
        "2e3 hours]",
        (
            "35: tasks[1].every[1]",
            "'2e3 hours' is no interval",
            "write amount and unit, like 1 month or 500 hours",
        ),
    ),
    (
        "lead: [28 days, 150 hours]",
        "lead: 1 month",
        ("36: tasks[1].lead", "'1 month': write the allowance in days", ""),
    ),
    (
        "lead: [28 days, 150 hours]",
        "lead: soon",
        ("36: tasks[1].lead", "'soon' is no allowance", "write it like 5 days, 10% or 50 hours"),
    ),
    (
        "grace: 10%",
        "grace: 110%",
        (
            "37: tasks[1].grace",
            "'110%' must lie between 0 and 100%",
            "write it like 5 days, 10% or 50 hours",
        ),
    ),
    (
        "grace: 10%",
        "grace: 1.5 days",
        ("37: tasks[1].grace", "'1.5 days': write whole days, at most 36525", ""),
    ),
    (
        "grace: 10%",
        "grace: [5 days, 1 week]",
        ("37: tasks[1].grace[1]", "'1 week' is a second one in the same unit", "keep one"),
    ),
    (
        "notice: 21 days",
        "notice: 21",
        ("13: suppliers[0].notice", "'21' is no notice", "write it in days, like 21 days"),
    ),
    (
        "notice: 21 days",
        "notice: 10%",
        ("13: suppliers[0].notice", "'10%' is no notice", "write it in days, like 21 days"),
    ),
    (
        "120 per minute",
        "120",
        (
            "19: machines[0].meters.hits.fastest",
            "'120' is no rate",
            "write a number per minute, hour, shift, day, week",
        ),
    ),
    (
        "11 per day",
        "11 per month",
        (
            "20: machines[0].meters.hours.expected",
            "'11 per month' is no rate",
            "write a number per minute, hour, shift, day, week",
        ),
    ),
    (
        "11 per day",
        "0 per day",
        (
            "20: machines[0].meters.hours.expected",
            "'0 per day' must be more than 0",
            "write it like 120 per minute",
        ),
    ),
    (
        "BYDAY=1MO",
        "BYDAY=1XX",
        (
            "52: tasks[2].on",
            "BYDAY=1XX is not allowed (RFC 5545, 3.3.10)",
            "write it like FREQ=MONTHLY;BYDAY=1MO",
        ),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "BYMONTH=3",
        ("52: tasks[2].on", "FREQ is missing", "start with FREQ=WEEKLY or the like"),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=HOURLY",
        (
            "52: tasks[2].on",
            "FREQ=HOURLY is not allowed (RFC 5545, 3.3.10)",
            "write it like FREQ=MONTHLY;BYDAY=1MO",
        ),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=YEARLY;BYMONTH=3;BYYEARDAY=366",
        (
            "52: tasks[2].on",
            "has no date in the 100 years from 2026-01-05",
            "write a rule that has",
        ),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=DAILY;UNTIL=20200101",
        (
            "52: tasks[2].on",
            "has no date in the 100 years from 2026-01-05",
            "write a rule that has",
        ),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=DAILY;UNTIL=20200199",
        ("52: tasks[2].on", "UNTIL=20200199 is no date", "write it like 20271231"),
    ),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=1MO",
        "FREQ=DAILY;COUNT=0",
        (
            "52: tasks[2].on",
            "COUNT=0 is not allowed (RFC 5545, 3.3.10)",
            "write it like FREQ=MONTHLY;BYDAY=1MO",
        ),
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), CASES)
def test_schedule_fault_is_told_with_line_place_and_mend(
    faults_after: Callable[[str, str], list[str]], old: str, new: str, told: tuple[str, str, str]
) -> None:
    where, wrong, mend = told
    ending = f"; {mend}" if mend else ""
    assert faults_after(old, new) == [f"shop.yaml:{where}: {wrong}{ending}"]
