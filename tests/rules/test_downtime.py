"""Downtime of a machine and of the shop: hours, failures, weeks, causes, throughput."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.cause_losses import cause_losses
from pmtrack.rules.downtime import (
    CauseHours,
    Downtime,
    causes_together,
    downtime,
    pareto,
    together,
    weekly,
)
from pmtrack.rules.facts import DaysOut, Span, Stop
from pmtrack.rules.shop import Closure, Shift, Shop
from pmtrack.rules.shoptime import to_instant
from pmtrack.rules.spans import Period, period_of
from pmtrack.rules.throughput import Lost, Made, Throughput
from pmtrack.rules.workdays import Workdays

EVERY_DAY = tuple(range(7))
DAY = Shift("day", EVERY_DAY, time(6), time(14))
LATE = Shift("late", EVERY_DAY, time(14), time(22))
NIGHT = Shift("night", EVERY_DAY, time(22), time(6))
TWO_SHIFTS = Shop("Quillback Sheet Works", "America/New_York", (DAY, LATE))
DAY_AND_NIGHT = replace(TWO_SHIFTS, shifts=(DAY, NIGHT))
LONG_AFTER = "2027-06-01T00:00"


def at(text: str) -> datetime:
    """The instant of a local time, or of `day time` in June 2026 (1 June is a Monday)."""
    if " " in text:
        day, clock = text.split()
        text = f"2026-06-{int(day):02}T{clock}"
    return to_instant(datetime.fromisoformat(text), TWO_SHIFTS.zone)


def stops(*texts: str, machine: str = "TP-1") -> list[Stop]:
    """`[planned] cause / day time / day time`; no second time is still running."""
    result = []
    for entry, text in enumerate(texts):
        cause, start, *end = (part.strip() for part in text.split("/"))
        span = Span(at(start), at(end[0]) if end else None)
        planned, cause = cause.startswith("planned"), cause.removeprefix("planned").strip()
        result.append(Stop(entry, machine, span, planned, cause))
    return result


def june(first: int, last: int, shop: Shop = TWO_SHIFTS, now: str = LONG_AFTER) -> Period:
    """The dates of June 2026."""
    days = date(2026, 6, first), date(2026, 6, last)
    return period_of(shop, Workdays.of(shop), *days, at(now))


def figures(*values: Fraction | float | None) -> list[object]:
    """Figures to be held against whole numbers."""
    return list(values)


# One day, Monday 1 June: day 06:00-14:00, late 14:00-22:00, so S = 16 h.
# Each row: stops; P, X, n; mean length and mean scheduled part of a failure.
ONE_DAY_CASES = {
    "no stop": ([], (0, 0, 0, None, None)),
    "one jam": (["jam / 1 08:00 / 1 10:00"], (0, 2, 1, 2, 2)),
    "planned work is no failure": (["planned pm / 1 08:00 / 1 11:00"], (3, 0, 0, None, None)),
    # 04:00 to 07:00 is 3 h on the clock, of which 06:00 to 07:00 is scheduled.
    "begun before the shift": (["jam / 1 04:00 / 1 07:00"], (0, 1, 1, 3, 1)),
    # 21:00 to 23:30: 2.5 h, to 22:00 scheduled.
    "ended after the shift": (["jam / 1 21:00 / 1 23:30"], (0, 1, 1, Fraction(5, 2), 1)),
    "outside any shift": (["jam / 1 23:00 / 1 23:30"], (0, 0, 1, Fraction(1, 2), 0)),
    # P 08-12 less the jam 10-11 = 3; X = 1.
    "unplanned goes first": (
        ["planned pm / 1 08:00 / 1 12:00", "jam / 1 10:00 / 1 11:00"],
        (3, 1, 1, 1, 1),
    ),
    "planned twice at once": (
        ["planned pm / 1 08:00 / 1 10:00", "planned check / 1 09:00 / 1 11:00"],
        (3, 0, 0, None, None),
    ),
    # 08:00 to 11:00 is one failure of 3 h.
    "one failure of two stops": (
        ["jam / 1 08:00 / 1 10:00", "air / 1 09:00 / 1 11:00"],
        (0, 3, 1, 3, 3),
    ),
    # 2 h and 1 h: mean 1.5 h.
    "two failures end to end": (
        ["jam / 1 08:00 / 1 10:00", "air / 1 10:00 / 1 11:00"],
        (0, 3, 2, Fraction(3, 2), Fraction(3, 2)),
    ),
    # Begun on 31 May at 20:00, so no failure of the 1st; 06:00 to 09:00 is down all the same.
    "begun the day before": (["jam / 2026-05-31T20:00 / 1 09:00"], (0, 3, 0, None, None)),
    # A stop that begins while yesterday's failure runs belongs to yesterday's.
    "belongs to a failure of the day before": (
        ["jam / 2026-05-31T20:00 / 1 09:00", "air / 1 08:00 / 1 12:00"],
        (0, 6, 0, None, None),
    ),
    # 1st 20:00 to 3rd 08:00 is 36 h, of which 20:00 to 22:00 on the 1st is of this day.
    "ended days later": (["jam / 1 20:00 / 3 08:00"], (0, 2, 1, 36, 2)),
    # Still running long after: up to the period's end, midnight. 20:00 to 24:00 is 4 h.
    "still running": (["jam / 1 20:00"], (0, 2, 1, 4, 2)),
    "begun the day after": (["jam / 2 00:00 / 2 09:00"], (0, 0, 0, None, None)),
    # 24 h and more: the whole day down. Begun at midnight, so of the 1st: 24 + 6 = 30 h.
    "down all day": (["jam / 1 00:00 / 2 06:00"], (0, 16, 1, 30, 16)),
}


@pytest.mark.parametrize(("texts", "expected"), ONE_DAY_CASES.values(), ids=ONE_DAY_CASES)
def test_one_day_of_a_machine(texts: list[str], expected: tuple[object, ...]) -> None:
    found = downtime(stops(*texts), june(1, 1))
    planned, unplanned = found.planned_hours, found.unplanned_hours
    means = found.mttr_hours, found.mttr_scheduled_hours
    assert (planned, unplanned, found.unplanned_stops, *means) == expected
    assert found.scheduled_hours == 16
    assert found.busy_hours == 16 - planned
    assert found.operating_hours == 16 - planned - unplanned


def test_ratios_of_a_week() -> None:
    """Five days of 16 h: S = 80. P = 8, X = 4 + 2 = 6, T = 66, n = 2."""
    week = downtime(
        stops(
            "planned pm / 1 06:00 / 1 14:00",
            "jam / 2 08:00 / 2 12:00",
            "air / 4 20:00 / 4 23:00",  # 3 h, of which 2 h scheduled
        ),
        june(1, 5),
    )
    assert week.availability == Fraction(66, 72)
    assert week.share_up == Fraction(66, 80)
    assert week.mtbf_hours == 33
    # chi2(0.95; 6) = 12.5916 and chi2(0.05; 4) = 0.710723, of any table: 132 / each.
    assert week.mtbf_low == pytest.approx(10.4832, abs=1e-3)
    assert week.mtbf_high == pytest.approx(185.726, abs=1e-2)
    assert week.mttr_hours == Fraction(7, 2)  # (4 + 3) / 2
    assert week.mttr_scheduled_hours == 3  # (4 + 2) / 2


def test_ratios_without_a_divisor_are_null() -> None:
    shut = replace(TWO_SHIFTS, closed=(Closure(date(2026, 6, 1), date(2026, 6, 7)),))
    closed = downtime([], june(1, 5, shut))
    assert closed.scheduled_hours == closed.operating_hours == 0
    assert closed.availability is None
    assert closed.share_up is None
    assert figures(closed.mtbf_hours, closed.mtbf_low, closed.mtbf_high) == [None, 0, None]
    assert figures(closed.mttr_hours, closed.mttr_scheduled_hours) == [None] * 2


def test_a_day_of_planned_work_has_no_availability() -> None:
    found = downtime(stops("planned rebuild / 1 00:00 / 2 00:00"), june(1, 1))
    assert found.busy_hours == 0
    assert found.availability is None
    assert found.share_up == 0


def test_without_operating_hours_a_failure_has_bounds_of_0() -> None:
    found = downtime(stops("jam / 1 00:00 / 2 00:00"), june(1, 1))
    assert figures(found.availability, found.mtbf_hours) == [0, 0]
    assert figures(found.mtbf_low, found.mtbf_high) == [0, 0]


# The night shift of each date runs 22:00 to 06:00: two shifts of 8 h a day. The period is the 2nd.
NIGHT_CASES = {
    "begun in the night shift of the 2nd": (["jam / 3 02:00 / 3 04:00"], 2, 1, 2),
    # Hours of the night shift of the 1st are of the 1st.
    "begun in the night shift of the 1st": (["jam / 2 02:00 / 2 04:00"], 0, 0, None),
    # ... but 06:00 to 07:00 is in the day shift of the 2nd.
    "run on from the night before": (["jam / 2 02:00 / 2 07:00"], 1, 0, None),
    # 03:00 on the 3rd to 09:00: 6 h, of which 3 h in the night shift of the 2nd.
    "run on into the next day": (["jam / 3 03:00 / 3 09:00"], 3, 1, 6),
    # Up to the end of the night shift, 06:00: 3 h.
    "running past the period": (["jam / 3 03:00"], 3, 1, 3),
    "begun between the shifts": (["jam / 2 18:00 / 2 19:00"], 0, 1, 1),
    "begun as the next day's first": (["jam / 3 06:00 / 3 07:00"], 0, 0, None),
}


@pytest.mark.parametrize(
    ("texts", "unplanned", "failed", "mttr"), NIGHT_CASES.values(), ids=NIGHT_CASES
)
def test_night_hours_are_of_the_date_on_which_the_shift_starts(
    texts: list[str], unplanned: int, failed: int, mttr: int | None
) -> None:
    found = downtime(stops(*texts), june(2, 2, DAY_AND_NIGHT))
    assert found.scheduled_hours == 16
    assert figures(found.unplanned_hours, found.unplanned_stops) == [unplanned, failed]
    assert found.mttr_hours == mttr


@pytest.mark.parametrize(
    ("text", "now", "scheduled", "down", "mttr"),
    [
        ("jam / 1 10:00", "1 11:00", 5, 1, 1),  # 06:00 to 11:00; the late shift has not begun
        ("jam / 1 06:00", "1 10:00", 4, 4, 4),  # down every minute so far
        ("jam / 1 06:00 / 1 08:00", "1 10:00", 4, 2, 2),
        ("jam / 1 06:00", "1 05:00", 0, 0, None),  # nothing has begun
    ],
)
def test_a_shift_and_a_stop_that_run_count_up_to_now(
    text: str, now: str, scheduled: int, down: int, mttr: int | None
) -> None:
    found = downtime(stops(text), june(1, 7, now=now))
    assert figures(found.scheduled_hours, found.unplanned_hours) == [scheduled, down]
    assert found.mttr_hours == mttr
    up = scheduled - down
    assert found.availability == (Fraction(up, scheduled) if scheduled else None)


def test_as_of_now_the_future_is_unknown() -> None:
    """At 11:00 nobody knows that the jam will end at 13:00, or that another comes at 15:00."""
    found = downtime(
        stops("jam / 1 10:00 / 1 13:00", "air / 1 15:00 / 1 16:00"), june(1, 7, now="1 11:00")
    )
    assert figures(found.unplanned_hours, found.unplanned_stops, found.mttr_hours) == [1, 1, 1]


def test_stop_over_a_clock_change_has_its_elapsed_hours() -> None:
    """Night shift of 7 March 2026, 22:00 to 06:00: 7 h, as 02:00 becomes 03:00 (15 U.S.C. 260a);
    down 01:00 to 04:00: 2 h."""
    shop = replace(TWO_SHIFTS, shifts=(NIGHT,))
    saturday = date(2026, 3, 7)
    period = period_of(shop, Workdays.of(shop), saturday, saturday, at(LONG_AFTER))
    found = downtime(stops("jam / 2026-03-08T01:00 / 2026-03-08T04:00"), period)
    assert found.scheduled_hours == 7
    assert figures(found.unplanned_hours, found.mttr_hours) == [2, 2]


def test_planned_work_as_a_loss_agrees_with_a_published_example() -> None:
    """SMRP, Best Practices, 6th edition, sample calculation of the OEE metric: 24 h, idle 8 h,
    scheduled downtime 1.66 h, unscheduled 2.08 h: uptime 12.26 h, availability 76.63 %, with
    planned work as a loss. That is our share of the schedule up; with planned work taken out
    first, as in ISO 22400-2, availability is 12.26 / 14.34."""
    planned, unplanned = Fraction("1.66"), Fraction("2.08")
    noon, hour = at("1 12:00"), timedelta(hours=1)
    day = [
        Stop(1, "TP-1", Span(noon, noon + float(planned) * hour), True, "maintenance"),
        Stop(2, "TP-1", Span(noon + 4 * hour, noon + (4 + float(unplanned)) * hour), False, "jam"),
    ]
    found = downtime(day, june(1, 1))
    assert (found.planned_hours, found.unplanned_hours) == (planned, unplanned)
    assert found.operating_hours == Fraction("12.26")
    assert float(found.share_up or 0) == pytest.approx(0.7663, abs=1e-4)
    assert found.availability == Fraction(1226, 1434)


def test_means_agree_with_a_published_example() -> None:
    """IEEE Std 493 style of reckoning, as quoted in a secondary text: 10 000 operating hours, 5
    failures, 50 h of repair: MTBF 2000 h, MTTR 10 h; availability 10000 / 10050."""
    found = Downtime(Fraction(10050), Fraction(0), Fraction(50), 5, Fraction(50), Fraction(50))
    assert found.operating_hours == 10000
    assert found.mtbf_hours == 2000
    assert found.mttr_hours == found.mttr_scheduled_hours == 10
    assert found.availability == Fraction(10000, 10050)


def test_inherent_availability_is_the_same_figure_without_planned_work() -> None:
    """MTBF / (MTBF + MTTR), common practice: a machine that ran 900 h and was down 100 h."""
    found = Downtime(Fraction(1000), Fraction(0), Fraction(100), 4, Fraction(100), Fraction(100))
    assert found.mtbf_hours is not None
    assert found.mttr_hours is not None
    assert found.availability == Fraction(9, 10)
    assert found.mtbf_hours / (found.mtbf_hours + found.mttr_hours) == found.availability


def test_shop_adds_hours_and_failures_and_then_divides() -> None:
    """Two machines of 16 h: T = 14 with one failure of 2 h, and 11 with two of 1 h and 4 h."""
    one = downtime(stops("jam / 1 08:00 / 1 10:00"), june(1, 1))
    other = downtime(
        stops("jam / 1 08:00 / 1 09:00", "air / 1 10:00 / 1 14:00", machine="PB-1"), june(1, 1)
    )
    shop = together([one, other])
    assert shop.scheduled_hours == 32
    assert shop.unplanned_stops == 3
    assert shop.availability == Fraction(25, 32)
    assert shop.mtbf_hours == Fraction(25, 3)
    assert shop.mttr_hours == Fraction(7, 3)
    assert shop.mttr_scheduled_hours == Fraction(7, 3)


def test_shop_of_no_machines_has_no_hours() -> None:
    assert together([]) == downtime([], june(1, 1, now="1 00:00"))


def test_weeks_run_from_monday_within_the_period() -> None:
    """Wednesday 3 to Tuesday 16 June: 5, 7 and 2 days of 16 h."""
    given_stops = stops(
        "planned pm / 3 06:00 / 3 09:00",
        "jam / 7 21:00 / 8 07:00",  # Sunday, on to Monday: 1 h and 1 h; begun in the first week
        "jam / 16 08:00 / 16 10:00",
    )
    weeks = weekly(given_stops, TWO_SHIFTS, Workdays.of(TWO_SHIFTS), june(3, 16))
    assert [(w.monday.day, w.first.day, w.last.day) for w in weeks] == [
        (1, 3, 7),
        (8, 8, 14),
        (15, 15, 16),
    ]
    found = [w.downtime for w in weeks]
    assert [w.scheduled_hours for w in found] == [80, 112, 32]
    assert [w.planned_hours for w in found] == [3, 0, 0]
    assert [w.unplanned_hours for w in found] == [1, 1, 2]
    assert [w.unplanned_stops for w in found] == [1, 0, 1]


def test_sunday_night_is_of_the_week_that_ends() -> None:
    weeks = weekly(
        stops("jam / 8 01:00 / 8 03:00"),
        DAY_AND_NIGHT,
        Workdays.of(DAY_AND_NIGHT),
        june(1, 14, DAY_AND_NIGHT),
    )
    assert [w.downtime.unplanned_hours for w in weeks] == [2, 0]
    assert [w.downtime.unplanned_stops for w in weeks] == [1, 0]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # 16 h a day; out on the 2nd and 3rd: of the 1st to the 4th 32 h are scheduled
        ("jam / 1 20:00 / 4 07:00", (32, 32, 3, 1)),  # 2 h on the 1st, 1 h on the 4th
        ("jam / 2 08:00 / 2 10:00", (32, 32, 0, 1)),  # it failed on the day on which it went out
        ("planned pm / 3 08:00 / 4 09:00", (32, 32, 0, 0)),
        ("jam / 4 08:00 / 4 10:00", (32, 32, 2, 1)),
    ],
)
def test_a_stop_has_no_scheduled_part_while_the_machine_is_out_of_service(
    text: str, expected: tuple[int, ...]
) -> None:
    period = june(1, 4).of_machine([DaysOut(1, date(2026, 6, 2), date(2026, 6, 4))])
    found = downtime(stops(text), period)
    told = figures(
        found.scheduled_hours,
        found.out_of_service_hours,
        found.unplanned_hours,
        found.unplanned_stops,
    )
    assert tuple(told) == expected
    assert sum(cause.hours for cause in pareto(stops(text), period)) == (
        found.planned_hours + found.unplanned_hours
    )


def test_nothing_scheduled_has_no_availability() -> None:
    found = downtime(
        stops("jam / 1 08:00"), june(2, 3).of_machine([DaysOut(1, date(2026, 6, 2), None)])
    )
    assert figures(found.scheduled_hours, found.operating_hours) == [0, 0]
    assert (found.availability, found.share_up, found.mtbf_hours) == (None, None, None)


def test_weeks_leave_out_the_days_out_of_service() -> None:
    """Out from Friday the 5th to Tuesday the 9th: 3 and 2 days of 16 h."""
    period = june(1, 14).of_machine([DaysOut(1, date(2026, 6, 5), date(2026, 6, 10))])
    weeks = weekly([], TWO_SHIFTS, Workdays.of(TWO_SHIFTS), period)
    assert [w.downtime.scheduled_hours for w in weeks] == [64, 80]
    assert [w.downtime.out_of_service_hours for w in weeks] == [48, 32]


def test_causes_of_machines_that_were_out_at_other_times_add_up() -> None:
    """Both jam from 08:00 to 10:00 on the 1st and the 2nd; SH-1 is out on the 2nd."""
    texts = ("jam / 1 08:00 / 1 10:00", "jam / 2 08:00 / 2 10:00", "air / 1 20:00 / 1 21:00")
    out = june(1, 2).of_machine([DaysOut(1, date(2026, 6, 2), None)])
    each = [pareto(stops(*texts), june(1, 2)), pareto(stops(*texts[:2], machine="SH-1"), out)]
    rows = causes_together(each)
    assert causes(rows) == [("jam", 4, 6), ("air", 1, 1)]
    assert [row.cumulative_share for row in rows] == [Fraction(6, 7), 1]
    assert figures(rows[0].planned_hours, rows[0].unplanned_hours) == [0, 6]
    assert causes_together([]) == []


def test_causes_of_equal_hours_stand_by_name() -> None:
    one_hour_each = stops("jam / 1 08:00 / 1 09:00", "air / 1 10:00 / 1 11:00")
    assert causes(pareto(one_hour_each, june(1, 1))) == [("air", 1, 1), ("jam", 1, 1)]


def test_weeks_to_come_are_left_out() -> None:
    period = june(1, 30, now="10 07:00")
    weeks = weekly([], TWO_SHIFTS, Workdays.of(TWO_SHIFTS), period)
    # The second week: Monday and Tuesday, and an hour of the day shift of Wednesday.
    assert [w.downtime.scheduled_hours for w in weeks] == [112, 33]


def causes(rows: list[CauseHours]) -> list[tuple[str, int, object]]:
    """Cause, stops begun, hours."""
    return [(row.cause, row.count, row.hours) for row in rows]


def test_causes_stand_in_order_of_their_hours() -> None:
    rows = pareto(
        stops(
            "jam / 1 08:00 / 1 10:00",
            "planned pm / 2 06:00 / 2 11:00",
            "jam / 3 08:00 / 3 09:00",
            "air / 3 21:00 / 3 23:00",  # 1 h scheduled
            "burr / 4 08:00 / 4 09:00",
        ),
        june(1, 5),
    )
    # 5 + 3 + 1 + 1 = 10 h; equal ones by name.
    assert causes(rows) == [("pm", 1, 5), ("jam", 2, 3), ("air", 1, 1), ("burr", 1, 1)]
    assert [row.share for row in rows] == [Fraction(n, 10) for n in (5, 3, 1, 1)]
    assert [row.cumulative_share for row in rows] == [Fraction(n, 10) for n in (5, 8, 9, 10)]
    assert figures(rows[0].planned_hours, rows[0].unplanned_hours) == [5, 0]
    assert figures(rows[1].planned_hours, rows[1].unplanned_hours) == [0, 3]


OVERLAP_CASES = {
    "that of the one begun first": (
        ["jam / 1 08:00 / 1 11:00", "air / 1 10:00 / 1 12:00"],
        [("jam", 1, 3), ("air", 1, 1)],
    ),
    "inside another it has none": (
        ["jam / 1 08:00 / 1 11:00", "air / 1 09:00 / 1 10:00"],
        [("jam", 1, 3), ("air", 1, 0)],
    ),
    "unplanned even if begun later": (
        ["planned pm / 1 08:00 / 1 12:00", "jam / 1 10:00 / 1 11:00"],
        [("pm", 1, 3), ("jam", 1, 1)],
    ),
    # The jam takes 10-13; pm has 8-10, the check what is left after both: 13-14.
    "planned ones share what is left": (
        [
            "planned pm / 1 08:00 / 1 12:00",
            "planned check / 1 09:00 / 1 14:00",
            "jam / 1 10:00 / 1 13:00",
        ],
        [("jam", 1, 3), ("pm", 1, 2), ("check", 1, 1)],
    ),
    "begun at once, that of the earlier entry": (
        ["jam / 1 08:00 / 1 10:00", "air / 1 08:00 / 1 11:00"],
        [("jam", 1, 2), ("air", 1, 1)],
    ),
    "begun before the period, counted in no row": (
        ["jam / 2026-05-31T20:00 / 1 09:00"],
        [("jam", 0, 3)],
    ),
    "ended before the period, left out": (["jam / 2026-05-31T20:00 / 2026-05-31T21:00"], []),
    "outside the shifts, without hours": (
        ["jam / 1 23:00 / 1 23:30", "air / 1 08:00 / 1 09:00"],
        [("air", 1, 1), ("jam", 1, 0)],
    ),
    "one cause, planned and not": (
        ["planned tooling / 1 08:00 / 1 10:00", "tooling / 1 12:00 / 1 13:00"],
        [("tooling", 2, 3)],
    ),
}


@pytest.mark.parametrize(("texts", "expected"), OVERLAP_CASES.values(), ids=OVERLAP_CASES)
def test_an_hour_with_several_causes_is(
    texts: list[str], expected: list[tuple[str, int, int]]
) -> None:
    assert causes(pareto(stops(*texts), june(1, 1))) == expected


def test_stops_of_two_machines_do_not_shade_each_other() -> None:
    both = stops("jam / 1 08:00 / 1 10:00") + stops("air / 1 08:00 / 1 11:00", machine="PB-1")
    assert causes(pareto(both, june(1, 1))) == [("air", 1, 3), ("jam", 1, 2)]


def test_causes_without_hours_have_no_share() -> None:
    (row,) = pareto(stops("jam / 1 23:00 / 1 23:30"), june(1, 1))
    assert row.share is None
    assert row.cumulative_share is None


def test_hours_of_a_handover_are_pareto_hours_too() -> None:
    """The night shift of 31 May ends at 06:00; the early one of 1 June begins at 05:00, and its
    first hour is scheduled time of 1 June."""
    early = Shift("early", EVERY_DAY, time(5), time(13))
    period = june(1, 1, replace(TWO_SHIFTS, shifts=(early, NIGHT)))
    given_stops = stops("jam / 1 04:00 / 1 07:00")
    assert causes(pareto(given_stops, period)) == [("jam", 0, 2)]
    assert downtime(given_stops, period).unplanned_hours == 2


def alone(down: Downtime, hits: int | None, parts: int, scrap: int = 0) -> Throughput:
    """The throughput of one machine."""
    counted = None if hits is None else Fraction(hits)
    return Throughput((Made(down, counted, Fraction(parts), Fraction(scrap)),))


# S = 16, P = 2, X = 4, T = 10
DAY_OF_A_PRESS = ("planned pm / 1 06:00 / 1 08:00", "jam / 1 10:00 / 1 14:00")


def test_throughput_by_the_hour_and_what_was_lost() -> None:
    """50,000 hits, 300 good parts: 5,000 hits and 30 parts an operating hour, so 20,000 and 120
    lost unplanned, 10,000 and 60 planned. An hour is worth 85: 4 x 85 and 2 x 85."""
    day = downtime(stops(*DAY_OF_A_PRESS), june(1, 1))
    made = Throughput((Made(day, Fraction(50_000), Fraction(300), Fraction(12), Fraction(85)),))
    assert made.hits_per_scheduled_hour == 3125
    assert made.hits_per_operating_hour == 5000
    assert made.parts_per_scheduled_hour == Fraction(300, 16)
    assert made.parts_per_operating_hour == 30
    assert made.lost_unplanned == Lost(Fraction(20_000), Fraction(120), Fraction(340))
    assert made.lost_planned == Lost(Fraction(10_000), Fraction(60), Fraction(170))
    assert made.scrap_share == Fraction(12, 312)


def test_shop_adds_up_what_its_machines_made_and_lost() -> None:
    """The press of the test above beside a brake, up all 16 h, that counts no hits: hits for each
    hour are the press's own; parts are 300 + 20 over 32 machine hours, 26 of them up. The brake
    was never down, so the parts lost are the press's."""
    day = downtime(stops(*DAY_OF_A_PRESS), june(1, 1))
    press = Made(day, Fraction(50_000), Fraction(300), Fraction(12))
    brake = Made(downtime([], june(1, 1)), None, Fraction(20), Fraction(3))
    shop = Throughput((press, brake))
    assert [shop.hits, shop.good_parts, shop.scrap] == [50_000, 320, 15]
    assert shop.hits_per_scheduled_hour == 3125
    assert shop.hits_per_operating_hour == 5000
    assert shop.parts_per_scheduled_hour == 10
    assert shop.parts_per_operating_hour == Fraction(320, 26)
    assert [shop.lost_unplanned.hits, shop.lost_planned.hits] == [20_000, 10_000]
    assert [shop.lost_unplanned.parts, shop.lost_planned.parts] == [120, 60]
    assert shop.lost_unplanned.money is None
    assert Throughput((brake,)).lost_unplanned.hits is None


def test_money_is_that_of_the_machines_with_a_rate() -> None:
    day = downtime(stops(*DAY_OF_A_PRESS), june(1, 1))
    dear, free = (Made(day, None, Fraction(1), Fraction(0), rate) for rate in (Fraction(50), None))
    assert Throughput((dear, free)).lost_unplanned.money == 200
    assert Throughput((free,)).lost_unplanned.money is None


def test_machine_that_counts_no_hits_loses_none_that_are_known() -> None:
    made = alone(downtime([], june(1, 1)), None, 32)
    assert made.hits_per_scheduled_hour is made.hits_per_operating_hour is None
    assert made.lost_unplanned.hits is made.lost_planned.hits is None
    assert made.parts_per_scheduled_hour == 2


def test_parts_that_nobody_logged_are_not_known_to_be_lost() -> None:
    day = downtime(stops(*DAY_OF_A_PRESS), june(1, 1))
    assert alone(day, 50_000, 0).lost_unplanned == Lost(hits=Fraction(20_000))
    assert alone(day, 50_000, 0).scrap_share is None
    assert alone(day, 50_000, 0, 3).lost_unplanned.parts == 0  # only scrap came off it


def test_throughput_of_no_operating_hours_is_null() -> None:
    made = alone(downtime(stops("jam / 1 00:00 / 2 00:00"), june(1, 1)), 10, 1)
    assert made.hits_per_operating_hour is made.parts_per_operating_hour is None
    assert made.lost_unplanned == made.lost_planned == Lost()
    assert made.hits_per_scheduled_hour == Fraction(10, 16)


def test_a_cause_loses_what_each_machine_it_stopped_would_have_made() -> None:
    """A jam of 2 h on each of two machines: at 50 parts an hour run (700 in 14 h) and at 10 (140
    in 14 h): 120 parts; only the first earns, 80 an hour: 160. Air, 1 h on a third that logs
    nothing."""
    period = june(1, 1)
    jams = [stops("jam / 1 08:00 / 1 10:00", machine=code) for code in ("TP-1", "PB-1")]
    air = stops("air / 1 08:00 / 1 09:00", machine="LC-1")
    each = [
        Made(downtime(jams[0], period), None, Fraction(700), Fraction(0), Fraction(80)),
        Made(downtime(jams[1], period), None, Fraction(140), Fraction(0)),
        Made(downtime(air, period), None, Fraction(0), Fraction(0)),
    ]
    own = [pareto(some, period) for some in (*jams, air)]
    shop = pareto([*jams[0], *jams[1], *air], period)
    rows = cause_losses(shop, zip(each, own, strict=True))
    assert [row.hours for row in rows] == shop
    assert [row.lost for row in rows] == [Lost(None, Fraction(120), Fraction(160)), Lost()]
    assert [row.hours_each for row in rows] == [2, 1]


# Laws, over stops of whole minutes from 1 to 15 June, some of them running, as of the 11th.
MINUTE = timedelta(minutes=1)
LATEST = 14 * 24 * 60
minutes = st.integers(0, LATEST)


@st.composite
def any_stop(draw: st.DrawFn) -> Stop:
    start = at("1 00:00") + draw(minutes) * MINUTE
    length = draw(st.none() | st.integers(0, 3000))
    end = None if length is None else start + length * MINUTE
    cause = draw(st.sampled_from(["air", "burr", "jam"]))
    return Stop(draw(st.integers(1, 99)), "TP-1", Span(start, end), draw(st.booleans()), cause)


some_stops = st.lists(any_stop(), max_size=8)
days = st.integers(2, 13)


def night_period(first: int, last: int) -> Period:
    return june(first, last, DAY_AND_NIGHT, now="11 15:30")


def added_up(parts: list[Downtime]) -> tuple[Fraction, Fraction, Fraction, int]:
    whole = together(parts)
    return (
        whole.scheduled_hours,
        whole.planned_hours,
        whole.unplanned_hours,
        whole.unplanned_stops,
    )


@given(some_stops)
def test_hours_agree_with_a_count_of_minutes(given_stops: list[Stop]) -> None:
    """Each minute of the day and night shifts of the 9th to the 11th, as of the 11th 15:30."""
    period = night_period(9, 11)
    shifts = [("9 06:00", 8), ("9 22:00", 8), ("10 06:00", 8), ("10 22:00", 8), ("11 06:00", 8)]
    scheduled = [at(start) + n * MINUTE for start, length in shifts for n in range(length * 60)]
    up = planned = unplanned = 0
    for instant in scheduled:
        down = {
            stop.planned
            for stop in given_stops
            if stop.span.start <= instant and (stop.span.end is None or instant < stop.span.end)
        }
        up += not down
        planned += down == {True}
        unplanned += False in down
    found = downtime(given_stops, period)
    found_hours = (found.operating_hours, found.planned_hours, found.unplanned_hours)
    assert figures(*(60 * h for h in found_hours)) == [up, planned, unplanned]
    assert found.scheduled_hours == 40


@given(some_stops.flatmap(lambda one: st.tuples(st.just(one), st.permutations(one))))
def test_order_of_the_stops_does_not_matter(orders: tuple[list[Stop], list[Stop]]) -> None:
    first, second = orders
    period = night_period(2, 13)
    assert downtime(first, period) == downtime(second, period)
    numbered = [replace(stop, entry=n) for n, stop in enumerate(first)]
    assert pareto(numbered, period) == pareto(numbered[::-1], period)


@given(some_stops, days, days, days)
def test_a_period_cut_at_a_date_adds_up(
    given_stops: list[Stop], one: int, two: int, three: int
) -> None:
    first, cut, last = sorted((one, two, three))
    parts = [night_period(first, cut), night_period(cut + 1, max(last, cut + 1))]
    whole = night_period(first, max(last, cut + 1))
    assert added_up([downtime(given_stops, part) for part in parts]) == added_up(
        [downtime(given_stops, whole)]
    )


@given(some_stops)
def test_weeks_add_up_to_the_period(given_stops: list[Stop]) -> None:
    period = night_period(3, 13)
    weeks = weekly(given_stops, DAY_AND_NIGHT, Workdays.of(DAY_AND_NIGHT), period)
    assert added_up([week.downtime for week in weeks]) == added_up([downtime(given_stops, period)])


@given(some_stops, any_stop())
def test_one_more_stop_never_adds_operating_hours(given_stops: list[Stop], more: Stop) -> None:
    period = night_period(2, 13)
    before, after = (downtime(each, period) for each in (given_stops, [*given_stops, more]))
    assert 0 <= after.operating_hours <= before.operating_hours
    assert after.unplanned_hours >= before.unplanned_hours


@given(some_stops)
def test_causes_add_up_to_the_hours_down(given_stops: list[Stop]) -> None:
    period = night_period(2, 13)
    rows, found = pareto(given_stops, period), downtime(given_stops, period)
    assert sum(row.planned_hours for row in rows) == found.planned_hours
    assert sum(row.unplanned_hours for row in rows) == found.unplanned_hours
    begun = [s for s in given_stops if period.holds(s.span.start) and s.span.start <= period.now]
    assert sum(row.count for row in rows) == len(begun)
    assert not rows or rows[-1].cumulative_share in (1, None)


@given(some_stops)
def test_scheduled_part_of_the_failures_is_within_all_of_both(given_stops: list[Stop]) -> None:
    found = downtime(given_stops, night_period(2, 13))
    assert found.failure_scheduled_hours <= found.failure_hours
    assert found.failure_scheduled_hours <= found.unplanned_hours
