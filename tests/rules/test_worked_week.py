"""One week of one machine worked by hand, by the definitions of the standards.

Monday 26 October to Sunday 1 November 2026 in New York. Day shift Monday to Friday 06:00 to 14:00;
night shift Monday to Thursday and Saturday 22:00 to 06:00; Wednesday closed. The clock goes back on
Sunday at 02:00 (15 U.S.C. 260a), so the night shift of Saturday has 9 hours.

S: Mon 8 + 8, Tue 8 + 8, Wed 0, Thu 8 + 8, Fri 8, Sat 9 = 65 h.

| stop | clock hours | scheduled | |
| planned: service, Mon 12:00 to 16:00 | 4 | 12 to 14: 2 | |
| jam, Mon 23:00 to Tue 01:00 | 2 | 2 | over midnight |
| leak, Tue 23:00 to Wed 10:00 | 11 | to 06:00: 7 | into the closed Wednesday |
| planned: die change, Thu 08:00 to 10:00 | 2 | 08 to 09: 1 | the rest is unplanned |
| jam, Thu 09:00 to 11:00 | 2 | 2 | one failure with the next: |
| sensor, Thu 10:30 to 11:30 | 1 | 11:00 to 11:30: 0.5 | 09:00 to 11:30, 2.5 h |
| air, Fri 15:00 to 16:00 | 1 | 0 | outside the shifts |
| sensor, Sun 00:30 to 03:30 | 4 | 4 | over the change of the clock |

P = 2 + 1 = 3, X = 2 + 7 + 2.5 + 0 + 4 = 15.5, n = 5, T = 65 - 3 - 15.5 = 46.5.
"""

from datetime import date, datetime, time
from fractions import Fraction

import pytest

from pmtrack.rules.downtime import downtime, pareto
from pmtrack.rules.facts import Span, Stop
from pmtrack.rules.shop import Closure, Shift, Shop
from pmtrack.rules.shoptime import to_instant
from pmtrack.rules.spans import period_of
from pmtrack.rules.throughput import Lost, Made, Throughput
from pmtrack.rules.workdays import Workdays

SHOP = Shop(
    "Quillback Sheet Works",
    "America/New_York",
    (
        Shift("day", (0, 1, 2, 3, 4), time(6), time(14)),
        Shift("night", (0, 1, 2, 3, 5), time(22), time(6)),
    ),
    (Closure(date(2026, 10, 28), date(2026, 10, 28), "holiday"),),
)


def at(text: str) -> datetime:
    return to_instant(datetime.fromisoformat(f"2026-{text}"), SHOP.zone)


PLANNED, UNPLANNED = True, False
STOPS = [
    Stop(entry, "TP-1", Span(at(start), at(end)), planned, cause)
    for entry, (cause, planned, start, end) in enumerate(
        [
            ("service", PLANNED, "10-26T12:00", "10-26T16:00"),
            ("jam", UNPLANNED, "10-26T23:00", "10-27T01:00"),
            ("leak", UNPLANNED, "10-27T23:00", "10-28T10:00"),
            ("die change", PLANNED, "10-29T08:00", "10-29T10:00"),
            ("jam", UNPLANNED, "10-29T09:00", "10-29T11:00"),
            ("sensor", UNPLANNED, "10-29T10:30", "10-29T11:30"),
            ("air", UNPLANNED, "10-30T15:00", "10-30T16:00"),
            ("sensor", UNPLANNED, "11-01T00:30", "11-01T03:30"),
        ]
    )
]
PERIOD = period_of(
    SHOP, Workdays.of(SHOP), date(2026, 10, 26), date(2026, 11, 1), at("12-01T12:00")
)
WEEK = downtime(STOPS, PERIOD)


def test_hours_of_the_week() -> None:
    assert WEEK.scheduled_hours == 65
    assert WEEK.planned_hours == 3
    assert WEEK.unplanned_hours == Fraction(31, 2)
    assert WEEK.operating_hours == Fraction(93, 2)
    assert WEEK.unplanned_stops == 5


def test_availability_by_either_definition() -> None:
    """ISO 22400-2:2014 (value from memory): availability = actual production time / planned busy
    time, and planned busy time leaves planned stops out: 46.5 / 62. EN 13306:2017 and EN 15341
    (value from memory): up time / required time, and preventive work is down time: 46.5 / 65."""
    assert WEEK.busy_hours == 62
    assert WEEK.availability == Fraction(3, 4)
    assert WEEK.share_up == Fraction(93, 130)


def test_mean_times() -> None:
    """IEC 60050-192:2015 (value from memory): mean operating time between failures, 46.5 / 5; mean
    time to restoration, waiting included, (2 + 11 + 2.5 + 1 + 4) / 5. ISO 22400-2 divides by the
    failures and one more, 46.5 / 6 = 7.75: that is not the figure here."""
    assert WEEK.mtbf_hours == Fraction(93, 10)
    assert WEEK.mttr_hours == Fraction(41, 10)
    assert WEEK.mttr_scheduled_hours == Fraction(31, 10)
    # 93 / chi2(0.95; 12) and 93 / chi2(0.05; 10), critical values 21.026 and 3.940:
    # NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4
    assert WEEK.mtbf_low == pytest.approx(93 / 21.026, rel=1e-4)
    assert WEEK.mtbf_high == pytest.approx(93 / 3.940, rel=1e-3)


def test_causes_share_the_hours_out() -> None:
    """Equal hours by name; jam 2 + 2, sensor 0.5 + 4."""
    rows = [(row.cause, row.count, row.hours) for row in pareto(STOPS, PERIOD)]
    assert rows == [
        ("leak", 1, 7),
        ("sensor", 2, Fraction(9, 2)),
        ("jam", 2, 4),
        ("service", 1, 2),
        ("die change", 1, 1),
        ("air", 1, 0),
    ]


def test_throughput_and_its_losses() -> None:
    """46,500 hits and 558 good parts in 46.5 h: 1,000 and 12 an hour; an hour is worth 80. ISO
    22400-2 (value from memory): scrap ratio = scrap / produced quantity, 62 / 620."""
    made = Made(WEEK, Fraction(46_500), Fraction(558), Fraction(62), Fraction(80))
    week = Throughput((made,))
    assert week.hits_per_operating_hour == 1000
    assert week.parts_per_operating_hour == 12
    assert week.parts_per_scheduled_hour == Fraction(558, 65)
    assert week.lost_unplanned == Lost(Fraction(15_500), Fraction(186), Fraction(1240))
    assert week.lost_planned == Lost(Fraction(3000), Fraction(36), Fraction(240))
    assert week.scrap_share == Fraction(1, 10)
