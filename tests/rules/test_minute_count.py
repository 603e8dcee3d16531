"""Hours and failures against a count minute by minute, over midnight, closures, clock changes."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property

from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.rules.downtime import downtime
from pmtrack.rules.facts import Span, Stop
from pmtrack.rules.shop import Closure, Shift, Shop
from pmtrack.rules.spans import period_of
from pmtrack.rules.workdays import Workdays

MINUTE, DAY = timedelta(minutes=1), timedelta(days=1)
WATCHED = 4 * 24 * 60  # minutes from the midnight before the day before the period

# Sundays on which the clock changes: by an hour in the night in New York (15 U.S.C. 260a), at 01:00
# UTC in London, by half an hour on Lord Howe Island (IANA time zone database); none in UTC.
CHANGES = [
    ("America/New_York", date(2026, 3, 8)),
    ("America/New_York", date(2026, 11, 1)),
    ("Europe/London", date(2026, 3, 29)),
    ("Europe/London", date(2026, 10, 25)),
    ("Australia/Lord_Howe", date(2026, 4, 5)),
    ("Australia/Lord_Howe", date(2026, 10, 4)),
    ("UTC", date(2026, 6, 7)),
]
# Shifts begin and end at midnight or from 04:00 on: a boundary in the hour that comes twice or not
# at all is a case of its own, in the tests of the spans.
CLOCKS = [time(0), *(time(hour, half) for hour in range(4, 24) for half in (0, 30))]


@dataclass(frozen=True)
class Case:
    """A shop, two dates around a clock change, stops in minutes, and the minute that is now."""

    shop: Shop
    first: date
    last: date
    stops: tuple[tuple[int, int | None, bool], ...]  # from, to, planned
    now: int

    @cached_property
    def origin(self) -> datetime:
        """The local midnight before the day before the period, in UTC."""
        return datetime.combine(self.first - DAY, time(0), self.shop.zone).astimezone(UTC)

    @cached_property
    def clocks(self) -> list[datetime]:
        """What the shop's clock shows in each minute."""
        zone = self.shop.zone
        return [
            (self.origin + n * MINUTE).astimezone(zone).replace(tzinfo=None) for n in range(WATCHED)
        ]

    def shifts_holding(self, clock: datetime) -> list[tuple[date, Shift]]:
        """The shifts in which that minute lies, with the dates on which they start."""
        return [
            (day, shift)
            for day in (clock.date() - DAY, clock.date())
            if not any(c.first <= day <= c.last for c in self.shop.closed)
            for shift in self.shop.shifts
            if day.weekday() in shift.weekdays and begin(day, shift) <= clock < end(day, shift)
        ]

    def is_scheduled(self, clock: datetime) -> bool:
        """Whether the minute is in a shift of the period's dates."""
        return any(self.first <= day <= self.last for day, _ in self.shifts_holding(clock))

    def date_of(self, clock: datetime) -> date:
        """The date to which the minute belongs: that of a night shift, else the clock's."""
        return min([clock.date(), *(day for day, _ in self.shifts_holding(clock))])


def begin(day: date, shift: Shift) -> datetime:
    return datetime.combine(day, shift.start)


def end(day: date, shift: Shift) -> datetime:
    return datetime.combine(day + DAY * (shift.end <= shift.start), shift.end)


@st.composite
def shifts(draw: st.DrawFn) -> Shift:
    weekdays = draw(st.sets(st.integers(0, 6), min_size=3))
    return Shift(
        "a shift", tuple(sorted(weekdays)), *draw(st.tuples(*[st.sampled_from(CLOCKS)] * 2))
    )


@st.composite
def cases(draw: st.DrawFn) -> Case:
    zone, sunday = draw(st.sampled_from(CHANGES))
    first = sunday - DAY * draw(st.integers(0, 1))
    closed = draw(st.lists(st.integers(-2, 2), max_size=1))
    shop = Shop(
        "Quillback Sheet Works",
        zone,
        tuple(draw(st.lists(shifts(), min_size=1, max_size=3))),
        tuple(Closure(sunday + n * DAY, sunday + n * DAY) for n in closed),
    )
    edges = sorted(draw(st.lists(MINUTES, min_size=3, max_size=6, unique=True)))
    now = draw(st.sampled_from([*edges, WATCHED - 1]))
    return Case(shop, first, first + DAY, tuple(draw(st.lists(stops(edges), max_size=5))), now)


# Stops begin and end at a few edges, so that they touch, overlap and begin together.
MINUTES = st.integers(0, WATCHED - 1) | st.integers(20, WATCHED // 60 - 1).map((60).__mul__)


@st.composite
def stops(draw: st.DrawFn, edges: list[int]) -> tuple[int, int | None, bool]:
    start, end = draw(st.integers(0, len(edges) - 1)), draw(st.integers(0, len(edges)))
    is_planned = draw(st.integers(0, 3)) == 0
    return edges[start], next(iter(edges[max(start + 1, end) :]), None), is_planned


def running(case: Case, planned: bool, minute: int) -> bool:
    """Whether a stop of that sort ran in that minute, as far as is known now."""
    return minute < case.now and any(
        start <= minute and (until is None or minute < until)
        for start, until, sort in case.stops
        if sort is planned
    )


def failures(case: Case) -> list[list[int]]:
    """The minutes of each failure that began in the period."""
    known = [(a, b) for a, b, planned in case.stops if not planned and a <= case.now]
    begun = {a for a, _ in known if not any(c < a and (d is None or a < d) for c, d in known)}
    found = []
    for start in begun:
        last = start
        while running(case, False, last) and (last == start or last not in begun):
            last += 1
        is_open = last == case.now and any(
            (a < last or a == start) and (b is None or b > last) for a, b in known if a >= start
        )
        minutes = range(start, last)
        if case.first <= case.date_of(case.clocks[start]) <= case.last:
            found.append([m for m in minutes if not is_open or in_time(case, m)])
    return found


def in_time(case: Case, minute: int) -> bool:
    """Whether a minute is not past the period."""
    return case.date_of(case.clocks[minute]) <= case.last


def in_hours(*minutes: Sequence[int]) -> list[float]:
    return [len(some) / 60 for some in minutes]


@settings(max_examples=40, deadline=None)
@given(cases())
def test_hours_and_failures_agree_with_a_count_of_minutes(case: Case) -> None:
    gone = case.clocks[: case.now]  # what is still to come is no scheduled time yet
    scheduled = [n for n, clock in enumerate(gone) if case.is_scheduled(clock)]
    unplanned = [n for n in scheduled if running(case, False, n)]
    planned = [n for n in scheduled if running(case, True, n) and not running(case, False, n)]
    failed = failures(case)
    inside = [n for failure in failed for n in failure if n in set(scheduled)]

    stops = [
        Stop(number, "TP-1", span(case, start, until), is_planned, "jam")
        for number, (start, until, is_planned) in enumerate(case.stops)
    ]
    now = case.origin + case.now * MINUTE
    period = period_of(case.shop, Workdays.of(case.shop), case.first, case.last, now)
    found = downtime(stops, period)

    hours = [found.scheduled_hours, found.planned_hours, found.unplanned_hours]
    assert [float(each) for each in hours] == in_hours(scheduled, planned, unplanned)
    assert found.unplanned_stops == len(failed)
    lengths = [found.failure_hours, found.failure_scheduled_hours]
    assert [float(each) for each in lengths] == in_hours([n for f in failed for n in f], inside)


def span(case: Case, start: int, until: int | None) -> Span:
    over = None if until is None else case.origin + until * MINUTE
    return Span(case.origin + start * MINUTE, over)
