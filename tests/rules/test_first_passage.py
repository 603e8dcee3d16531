"""The 80 % range of a usage date: first passage of a Wiener process with drift.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from datetime import date
from fractions import Fraction
from math import ceil

import pytest
from scipy.stats import invgauss

from pmtrack.rules.first_passage import Passage
from pmtrack.rules.rate import Rate
from pmtrack.rules.situation import MeterView, UsageBase
from tests.build import (
    calendars,
    day,
    read,
    stand,
    task,
)

HOURS = task("500 hours")
FRIDAY = "06-05"


@pytest.mark.parametrize(
    ("remaining", "rate", "spread"), [(300, 10, 4), (45000, 9000, 2500), (7, 3, 0.5), (90, 1, 3)]
)
def test_the_range_is_that_of_an_inverse_gaussian(remaining: int, rate: int, spread: float) -> None:
    """The time to gain x at drift r and deviation s a day has mean x / r and shape (x / s)^2
    (common textbook result; scipy.stats.invgauss with mu = mean / shape and scale = shape).
    1.2816 is the normal deviate of 90 %.
    """
    mean, shape = remaining / rate, (remaining / spread) ** 2
    law = invgauss(mu=mean / shape, scale=shape)
    assert law.mean() == pytest.approx(mean)
    first, last = (ceil(law.mean() + sign * 1.2816 * law.std()) for sign in (-1, 1))
    workdays = calendars().machine
    passage = Passage(day(FRIDAY), Fraction(remaining), Rate(Fraction(rate), spread), workdays)
    found = passage.range(day(FRIDAY))
    earliest = workdays.nth_after(day(FRIDAY), first) if first > 0 else day(FRIDAY)
    assert found == (earliest, workdays.nth_after(day(FRIDAY), last))


def test_a_range_that_begins_at_once_begins_on_the_day_of_the_last_entry() -> None:
    """25 to go at 10, s = 15: 1.2816 x 15 x sqrt(25) / 10^1.5 = 3.04 around T = 2.5, so that the
    first end lies half a day before Saturday 6 June, on which the last entry was made."""
    rate = Rate(Fraction(10), 15.0)
    found = Passage(day("06-06"), Fraction(25), rate, calendars().machine).range(day("06-01"))
    assert found == (day("06-06"), day("06-15"))  # 5.54: the sixth working day after


def test_a_range_worked_by_hand() -> None:
    """100 to go at 10, s = 5: T = 10, deviation 5 x 10 / 10^1.5 = 1.581, times 1.2816 = 2.026.

    7.97 to 12.03 working days after Friday 5 June: the 8th and the 13th; D is the 10th.
    """
    view = read(400, FRIDAY, 10, spread=5)
    found = stand(HOURS, FRIDAY, "05-01", meters={"hours": view}).governing
    assert found.due_on == day("06-19")
    assert found.due_range == (day("06-17"), day("06-24"))
    later = stand(HOURS, "06-18", "05-01", meters={"hours": view}).governing
    assert later.due_range == (day("06-18"), day("06-24"))  # not before the day asked about


@pytest.mark.parametrize(
    ("usage", "rate", "spread", "on", "why"),
    [
        (400, 10, None, FRIDAY, "no spread is known"),
        (400, 0, 5, FRIDAY, "no rate above 0"),
        (400, 10, 5, "06-22", "the estimate has passed U: Friday 19 June was the 10th day"),
    ],
)
def test_there_is_no_range_where_there_is_nothing_to_tell(
    usage: int, rate: int, spread: float | None, on: str, why: str
) -> None:
    view = read(usage, FRIDAY, rate, spread=spread)
    found = stand(HOURS, on, "05-01", meters={"hours": view}).governing
    assert found.due_range is None, why


def test_there_is_no_range_once_usage_has_reached_its_mark() -> None:
    view = read(500, FRIDAY, 10, spread=5)
    reached = MeterView(view.standing, UsageBase(Fraction(0), False, day("06-04")))
    found = stand(HOURS, FRIDAY, "05-01", meters={"hours": reached}).governing
    assert (found.due_on, found.due_range) == (day("06-04"), None)


def test_a_date_past_the_end_of_the_calendar_is_none() -> None:
    crawl = read(0, FRIDAY, Fraction(1, 10**6), spread=1)  # type: ignore[arg-type]
    found = stand(task("500 hours"), FRIDAY, "05-01", meters={"hours": crawl}).governing
    assert (found.due_on, found.due_range) == (None, None)
    passage = Passage(
        day(FRIDAY), Fraction(1000), Rate(Fraction(1, 1000), 10.0), calendars().machine
    )
    found_range = passage.range(day(FRIDAY))
    assert found_range is not None
    assert found_range[1] == date.max
