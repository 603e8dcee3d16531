"""Operating hours of a machine, the ages of its failures, and the rounds between services."""

from fractions import Fraction

import pytest

from pmtrack.rules.facts import Span, Stop
from pmtrack.rules.operating import OperatingClock, failure_ages, failures_in, operating_clock
from pmtrack.rules.since_service import Round, rounds
from pmtrack.rules.spans import Period, period_of
from pmtrack.rules.workdays import Workdays
from tests.build import at, day, shop


def period(first: str, last: str, now: str) -> Period:
    """Dates of the made shop: Monday to Friday, 06:00 to 14:30."""
    where = shop()
    return period_of(where, Workdays.of(where), day(first), day(last), at(now))


def stop(start: str, end: str | None, planned: bool = False, entry: int = 1) -> Stop:
    """A stop of TP-1."""
    return Stop(entry, "TP-1", Span(at(start), at(end) if end else None), planned, "leak")


WEEK = period("06-01", "06-05", "06-08T06:00")  # Monday to Friday: five times 8.5 h
STOPS = [
    stop("06-01T08:00", "06-01T10:00"),
    stop("06-02T14:00", "06-03T07:00", entry=2),  # half an hour on Tuesday, an hour on Wednesday
    stop("06-04T06:00", "06-04T09:00", planned=True, entry=3),
]
CLOCK = operating_clock(STOPS, WEEK)


@pytest.mark.parametrize(
    ("when", "hours"),
    [
        ("05-31T12:00", 0),
        ("06-01T06:00", 0),
        ("06-01T07:00", 1),
        ("06-01T09:00", 2),  # it stands still while down
        ("06-01T11:00", 3),
        ("06-01T20:00", Fraction(13, 2)),  # 8.5 h less 2 h; at night it stands still
        ("06-02T14:00", Fraction(29, 2)),
        ("06-03T08:00", Fraction(31, 2)),
        ("06-04T09:00", 22),  # 7.5 h of Wednesday
        ("06-05T14:30", 36),  # 42.5 h less 2, 1.5 and 3
        ("06-30T06:00", 36),
    ],
)
def test_operating_hours_up_to_an_instant(when: str, hours: Fraction) -> None:
    assert CLOCK.at(at(when)) == hours
    assert CLOCK.total == 36


def test_a_shift_that_runs_counts_up_to_now() -> None:
    assert operating_clock([], period("06-01", "06-05", "06-01T09:00")).total == 3
    running = [stop("06-01T08:00", None)]
    assert operating_clock(running, period("06-01", "06-05", "06-01T09:00")).total == 2


def test_a_period_to_come_has_no_hours() -> None:
    assert operating_clock([], period("06-01", "06-05", "05-01T09:00")) == OperatingClock(())
    assert OperatingClock(()).at(at("06-01T09:00")) == 0


def test_failures_have_the_age_at_which_they_began() -> None:
    assert failure_ages(CLOCK, failures_in(STOPS, WEEK)) == (2.0, 14.5)


def test_a_failure_at_the_very_start_is_not_at_age_0() -> None:
    stops = [stop("06-01T05:00", "06-01T07:00"), stop("06-02T06:00", "06-02T07:00", entry=2)]
    clock = operating_clock(stops, WEEK)
    assert failure_ages(clock, failures_in(stops, WEEK)) == (0.1, 7.5)


def test_stops_that_run_into_one_another_are_one_failure() -> None:
    stops = [stop("06-01T08:00", "06-01T10:00"), stop("06-01T09:00", "06-01T11:00", entry=2)]
    clock = operating_clock(stops, WEEK)
    assert failure_ages(clock, failures_in(stops, WEEK)) == (2.0,)
    assert clock.total == Fraction(79, 2)


def test_a_failure_before_the_period_is_not_of_it() -> None:
    assert failures_in([stop("05-29T08:00", "06-01T08:00")], WEEK) == []


# --- rounds


def test_rounds_run_from_service_to_service() -> None:
    services = [at("06-01T07:00"), at("06-03T08:00")]  # at 1 h and at 15.5 h
    found = rounds(CLOCK, failures_in(STOPS, WEEK), services, WEEK.now)
    assert found == (Round(14.5, (1.0, 13.5)), Round(20.5, (), ended=False))


def test_a_failure_at_the_instant_of_a_service_is_of_the_round_that_begins() -> None:
    """Served at 07:00 on Monday and Tuesday, at 1 h and 9.5 h; a leak from 07:00 on Tuesday."""
    stops = [stop("06-02T07:00", "06-02T08:00")]
    clock = operating_clock(stops, WEEK)
    services = [at("06-01T07:00"), at("06-02T07:00")]
    found = rounds(clock, failures_in(stops, WEEK), services, WEEK.now)
    assert found == (Round(8.5, ()), Round(32.0, (0.1,), ended=False))


def test_a_service_as_the_watch_begins_begins_a_round() -> None:
    found = rounds(CLOCK, failures_in(STOPS, WEEK), [at("06-01T06:00")], WEEK.now)
    assert found == (Round(36.0, (2.0, 14.5), ended=False),)


def test_what_ran_before_the_first_service_is_left_out() -> None:
    services = [at("05-01T07:00"), at("06-03T08:00")]
    found = rounds(CLOCK, failures_in(STOPS, WEEK), services, WEEK.now)
    assert found == (Round(20.5, (), ended=False),)


def test_two_services_at_night_make_no_round() -> None:
    services = [at("06-01T20:00"), at("06-01T21:00"), at("06-01T21:00")]
    found = rounds(CLOCK, failures_in(STOPS, WEEK), services, WEEK.now)
    assert found == (Round(29.5, (8.0,), ended=False),)


def test_a_service_after_now_is_not_known_yet() -> None:
    assert rounds(CLOCK, [], [at("06-09T08:00")], WEEK.now) == ()
    assert rounds(OperatingClock(()), [], [at("06-01T08:00")], WEEK.now) == ()


def test_a_failure_that_begins_while_the_machine_is_served_is_at_the_start_of_a_round() -> None:
    stops = [stop("06-04T06:00", "06-04T09:00", planned=True), stop("06-04T08:00", "06-04T09:30")]
    clock = operating_clock(stops, WEEK)
    # served at 07:00, at age 25.5 h; down until 09:30: 5 h and 8.5 h are left
    found = rounds(clock, failures_in(stops, WEEK), [at("06-04T07:00")], WEEK.now)
    assert found == (Round(13.5, (0.1,), ended=False),)
