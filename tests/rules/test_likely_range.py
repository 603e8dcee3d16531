"""Whether the ranges hold what they promise: worked by hand, simulated, and on open counts.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from itertools import pairwise
from math import ceil, sqrt
from random import Random
from statistics import NormalDist, mean, stdev

import pytest

from pmtrack.rules.backtest import BANDS, Band, Held, Outcome, replay
from pmtrack.rules.first_passage import Passage
from pmtrack.rules.meter_past import MeterPast
from pmtrack.rules.rate import Rate
from pmtrack.rules.workdays import Workdays
from pmtrack.statistics.binomial import share
from tests.build import calendars, day, read, reference, stand, task

PLAIN = calendars().machine
FRIDAY = day("06-05")


# ---- worked by hand


@pytest.mark.parametrize(
    ("days", "likely"),
    [
        # 100 to go at 10, s = 5: T = 10. Of n = 20 days 2 x 100 / 21 = 9.524, and it wanders by
        # 4/3 x 1000 / 441 = 3.023: 22.547. 1.2816 x 0.5 x 4.748 = 3.043: days 6.96 to 13.04
        (20, ("06-16", "06-25")),
        # of n = 5 days 200 / 6 = 33.333: 46.356. 1.2816 x 0.5 x 6.809 = 4.363: 5.64 to 14.36
        (5, ("06-15", "06-26")),
    ],
)
def test_the_likely_range_knows_how_few_days_tell_the_rate(
    days: int, likely: tuple[str, str]
) -> None:
    passage = Passage(FRIDAY, Fraction(100), Rate(Fraction(10), 5.0, days=days), PLAIN)
    assert passage.range(FRIDAY) == (day("06-17"), day("06-24"))
    assert passage.likely_range(FRIDAY) == (day(likely[0]), day(likely[1]))
    assert passage.likely_range(day("06-22"))[0] == day("06-22")  # type: ignore[index]


@pytest.mark.parametrize(("rate", "spread"), [(10, None), (0, 5.0), (None, 5.0)])
def test_without_a_range_there_is_no_likely_range(rate: int | None, spread: float | None) -> None:
    known = Rate(None if rate is None else Fraction(rate), spread, days=20)
    assert Passage(FRIDAY, Fraction(100), known, PLAIN).likely_range(FRIDAY) is None


def test_a_task_carries_both_ranges_until_its_target_is_passed() -> None:
    view = read(400, "06-05", 10, spread=5)
    found = stand(task("500 hours"), "06-05", "05-01", meters={"hours": view}).governing
    assert found.due_range == (day("06-17"), day("06-24"))
    assert found.likely_range is not None
    assert found.likely_range[0] < found.due_range[0] < found.due_range[1] < found.likely_range[1]
    passed = stand(task("500 hours"), "06-22", "05-01", meters={"hours": view}).governing
    assert (passed.due_range, passed.likely_range) == (None, None)


# ---- simulated


def days_in(passage: Passage, span: tuple[date, date] | None) -> tuple[int, int]:
    """A range as working days from the first day on."""
    assert span is not None
    return tuple(passage.workdays.between(passage.since, on) for on in span)  # type: ignore[return-value]


def test_for_a_rate_that_is_known_four_of_five_days_come_inside() -> None:
    """Independent normal gains of known mean and deviation.

    All of n days come to U with the chance Phi((n r - U) / (s sqrt n)), as hardly one gain is below
    0. The range is rounded up to whole days, so that it holds a little more than 80 %.
    """
    rate, spread, draw = 100, 30, Random(20260605)
    seen, expected, times = 0, 0.0, 4000
    for _ in range(times):
        target = draw.randrange(2000, 6000)
        passage = Passage(FRIDAY, Fraction(target), Rate(Fraction(rate), float(spread)), PLAIN)
        first, last = days_in(passage, passage.range(FRIDAY))
        expected += _chance(last, target) - _chance(first - 1, target)
        total, came = 0.0, 0
        while total < target:
            total, came = total + draw.gauss(rate, spread), came + 1
        seen += first <= came <= last
    assert 0.8 < expected / times < 0.93
    within = 3.3 * sqrt(expected * (1 - expected / times))
    assert abs(seen - expected) < within


def _chance(days: int, target: int) -> float:
    return NormalDist().cdf((days * 100 - target) / (30 * sqrt(days)))


@pytest.mark.parametrize(
    ("renewal", "due", "likely"),
    [
        # the rate stays as it is, and is known from 20 days: T + T^2 / 20 against T
        (0.0, (0.65, 0.76), (0.9, 0.97)),
        # it wanders as a mean of 20 days supposes: the likely range was made for it
        (2 / 21, (0.45, 0.57), (0.8, 0.89)),
    ],
)
def test_a_rate_that_is_not_known_needs_the_likely_range(
    renewal: float, due: tuple[float, float], likely: tuple[float, float]
) -> None:
    """Gains of 100 a day, s = 40, of which a share goes on into the rate; 16 to 40 days ahead."""
    draw, total = Random(11), Outcome()
    for _ in range(60):
        level, gains = 100.0, list[int]()
        for _ in range(250):
            surprise = draw.gauss(0, 40)
            gains.append(max(round(level + surprise), 0))
            level = max(level + renewal * surprise, 20)
        total += replay(every_day(date(2026, 1, 1), gains), Band(16, 40))
    assert total.due.cases > 500
    assert due[0] < (total.due.share or 0) < due[1]
    assert likely[0] < (total.likely.share or 0) < likely[1]


# ---- open counts: each file names its source


def every_day(first: date, gains: list[int], weekdays: int = 7) -> MeterPast:
    """A meter counted on every working day of weeks of 5 or 7 such days."""
    workdays = Workdays(frozenset(range(weekdays)), ())
    days, total = list[date](), 0
    totals = []
    for number, gain in enumerate(gains):
        days.append(workdays.nth_after(first, number) or date.max if number else first)
        total += gain
        totals.append(Fraction(total))
    return MeterPast(tuple(days), tuple(totals), False, workdays)


def series(file: str, weekdays: int) -> Iterator[list[int]]:
    """The columns of a table of daily counts, all of whose days are working days."""
    rows = reference(file)
    days = [date.fromisoformat(row["date"]) for row in rows]
    workdays = Workdays(frozenset(range(weekdays)), ())
    assert all(workdays.between(a, b) == 1 for a, b in pairwise(days))
    for name in list(rows[0])[1:]:
        yield [int(row[name]) for row in rows]


OPEN = {"aircraft-minutes-2013.csv": 7, "departures-2013.csv": 7, "births-1994-1995.csv": 5}


def replayed(file: str, band: Band) -> Outcome:
    """The outcome over all series of a file."""
    start = date.fromisoformat(reference(file)[0]["date"])
    total = Outcome()
    for gains in series(file, OPEN[file]):
        total += replay(every_day(start, gains, OPEN[file]), band)
    return total


@pytest.mark.parametrize(
    ("file", "band", "cases", "due", "likely"),
    [  # how many cases there are, and how many came inside each range
        ("aircraft-minutes-2013.csv", BANDS[0], 1357, 1195, 1216),  # 88 %, 90 %
        ("aircraft-minutes-2013.csv", BANDS[1], 406, 305, 350),  # 75 %, 86 %
        ("aircraft-minutes-2013.csv", BANDS[2], 172, 100, 145),  # 58 %, 84 %
        ("departures-2013.csv", BANDS[0], 357, 347, 348),  # 97 %, 97 %
        ("departures-2013.csv", BANDS[1], 105, 95, 101),  # 90 %, 96 %
        ("departures-2013.csv", BANDS[2], 45, 33, 38),  # 73 %, 84 %
        ("births-1994-1995.csv", BANDS[0], 172, 170, 170),  # 99 %, 99 %
        ("births-1994-1995.csv", BANDS[1], 49, 45, 45),  # 92 %, 92 %
        ("births-1994-1995.csv", BANDS[2], 20, 14, 20),  # 70 %, 100 %
    ],
)
def test_on_open_counts_the_replay_is_that_of_a_plain_one(
    file: str, band: Band, cases: int, due: int, likely: int
) -> None:
    """Worked out a second time on bare numbers: mean and deviation of the last 20 counts."""
    plain: list[list[int]] = [[0, 0, 0], [0, 0, 0]]
    for gains in series(file, OPEN[file]):
        for came, spans in plain_replay(gains, band):
            for counted, (first, last) in zip(plain, spans, strict=True):
                counted[0 if first <= came <= last else 1 if came < first else 2] += 1
    found = replayed(file, band)
    assert [found.due, found.likely] == [Held(*counted) for counted in plain]
    assert [found.due.cases, found.due.inside, found.likely.inside] == [cases, due, likely]


def plain_replay(gains: list[int], band: Band) -> Iterator[tuple[int, list[tuple[int, int]]]]:
    """For each case the days it took, and both ranges in days."""
    now, number = 4, 0
    while now < len(gains):
        last = gains[max(now - 19, 0) : now + 1]
        rate, spread = mean(map(Fraction, last)), stdev(last)
        if not rate:
            now += 1
            continue
        ahead = band.first + number % (band.last - band.first + 1) - 0.5
        spans = []
        for variance in (
            ahead,
            ahead + 2 * ahead**2 / (len(last) + 1) + 4 / 3 * ahead**3 / 21**2,
        ):
            half = 1.2816 * spread / float(rate) * sqrt(variance)
            spans.append((max(ceil(ahead - half), 0), ceil(ahead + half)))
        if now + spans[1][1] >= len(gains):
            return
        days, total = 0, Fraction(0)
        while total < Fraction(ahead) * rate and now + days + 1 < len(gains):
            days += 1
            total += gains[now + days]
        if total < Fraction(ahead) * rate:
            yield len(gains), spans
            return
        yield days, spans
        now, number = now + days, number + 1


def test_far_ahead_the_hours_of_aircraft_hold_to_the_likely_range_alone() -> None:
    """16 to 40 days ahead, with limits that hold 9 times in 10."""
    found = replayed("aircraft-minutes-2013.csv", BANDS[2])
    due, likely = (share(held.inside, held.cases) for held in (found.due, found.likely))
    assert due.high is not None
    assert due.high < 0.65
    assert likely.low is not None
    assert likely.low > 0.75
