"""Forecasts told again from the past: worked by hand, and by laws that hold.

June 2026 begins on a Monday; the made shop works Monday to Friday.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.backtest import BANDS, Band, Held, Outcome, replay
from pmtrack.rules.meter_past import MeterPast
from pmtrack.rules.usage import Tally, day_totals
from pmtrack.rules.workdays import Workdays
from tests.build import calendars, count, day, dial, meter_at

PLAIN = calendars().machine
WEEK = (8, 12, 8, 12, 10)  # r = 10, s^2 = (4 + 4 + 4 + 4 + 0) / 4, so s = 2
THREE = Band(3, 3)


def past_of(
    gains: Sequence[float],
    first: str = "06-01",
    workdays: Workdays = PLAIN,
    expected: int | None = None,
) -> MeterPast:
    """A meter with one count on each working day in a row, from that date on."""
    start = day(first) - timedelta(days=1)
    days = [workdays.nth_after(start, n) or date.max for n in range(1, len(gains) + 1)]
    totals = tuple(accumulate(map(Fraction, gains)))
    usual = None if expected is None else Fraction(expected)
    return MeterPast(tuple(days), totals, False, workdays, usual)


# ---- one forecast, worked by hand


@pytest.mark.parametrize(
    ("after", "came", "error", "due", "likely"),
    [
        # On Friday 5 June T = 2.5 and 25 are to go: D is the third day, Wednesday 10 June.
        # s sqrt(25) / 10^1.5 x 1.2816 = 0.405, so days 2.09 to 2.91: the third alone.
        # Likely: T + 2 x 2.5^2 / 6 + 4/3 x 2.5^3 / 441 = 4.631; 1.2816 x 0.2 x 2.152 = 0.552,
        # so days 1.95 to 3.05: the second to the fourth.
        ((10, 10, 10, 10, 10), "06-10", 0, "inside", "inside"),
        ((13, 13, 10, 10, 10), "06-09", -1, "early", "inside"),
        ((25, 10, 10, 10, 10), "06-08", -2, "early", "early"),
        ((8, 8, 8, 8, 10), "06-11", 1, "late", "inside"),
        ((5, 5, 5, 5, 5), "06-12", 2, "late", "late"),
        ((5, 5, 5, 5, 4), None, 2, "late", "late"),  # not there by Friday 12 June, 2 days after D
    ],
)
def test_a_forecast_is_held_against_the_day_that_came(
    after: tuple[int, ...], came: str | None, error: int, due: str, likely: str
) -> None:
    outcome = replay(past_of([*WEEK, *after]), THREE)
    case = outcome.cases[0]
    assert (case.told_on, case.due_on) == (day("06-05"), day("06-10"))
    assert case.due_range == (day("06-10"), day("06-10"))
    assert case.likely_range == (day("06-09"), day("06-11"))
    assert (case.came, case.error) == (day(came) if came else None, error)
    first = Outcome((case,))
    assert [name for name in ("inside", "early", "late") if getattr(first.due, name)] == [due]
    assert [name for name in ("inside", "early", "late") if getattr(first.likely, name)] == [likely]


def test_a_case_whose_range_has_not_ended_is_not_judged() -> None:
    """The likely range ends on Thursday 11 June; the entries on the day before, or on it."""
    assert replay(past_of([*WEEK, 30, 10, 10]), THREE).cases == ()
    assert len(replay(past_of([*WEEK, 30, 10, 10, 10]), THREE).cases) == 1


def test_after_a_target_that_is_not_reached_nothing_more_is_judged() -> None:
    still = replay(past_of([*WEEK, *[0] * 30]), THREE)
    assert [case.came for case in still.cases] == [None]
    assert (still.due, still.likely) == (Held(0, 0, 1), Held(0, 0, 1))


def test_the_next_case_begins_on_the_day_the_one_before_came() -> None:
    found = replay(past_of([10] * 40), Band(1, 3)).cases
    ahead = [PLAIN.between(case.told_on, case.due_on) for case in found]
    assert ahead[:6] == [1, 2, 3, 1, 2, 3]
    assert [case.told_on for case in found[1:]] == [case.came for case in found[:-1]]


@pytest.mark.parametrize("few", range(5))
def test_a_forecast_without_a_spread_is_none(few: int) -> None:
    assert replay(past_of([10] * few), Band(1, 1)).cases == ()


def test_a_meter_that_stood_still_has_no_forecast_until_it_runs() -> None:
    """Nothing for 25 days: no rate. Then a day of 100: from its end on there is one."""
    found = replay(past_of([0] * 25 + [100] * 60), Band(1, 1))
    assert found.cases[0].told_on == past_of([0] * 26).days[-1]


def test_what_is_expected_has_part_in_the_rate() -> None:
    """(5 x 40 + 50) / (5 + 5) = 25: half a day ahead are 12.5, which 10 and 10 come to in 2."""
    found = replay(past_of([*WEEK, *[10] * 20], expected=40), Band(1, 1)).cases[0]
    assert (found.due_on, found.came, found.error) == (day("06-08"), day("06-09"), 1)


def test_no_forecast_looks_at_what_came_later() -> None:
    """The same past with another future: the first case is told alike."""
    gains = [8, 12, 8, 12, 10, 9, 11]
    one, other = (replay(past_of([*gains, *[later] * 20]), THREE) for later in (10, 11))
    assert one.cases[0].due_range == other.cases[0].due_range
    assert one.cases[1].told_on == other.cases[1].told_on == day("06-10")


# ---- entries that are not daily


def test_between_two_readings_usage_grew_evenly() -> None:
    """20 a working day, read on Mondays and Thursdays: r = 20, s = 0, the day that came is D.

    Half a working day after Thursday 18 June, the fifth increment, is in Friday the 19th, though
    Monday's reading is the first that tells. The next case begins with that reading.
    """
    days = [day("06-01") + timedelta(weeks=n // 2, days=n % 2 * 3) for n in range(30)]
    gains = [0, *([60, 40] * 15)][:30]
    past = MeterPast(tuple(days), tuple(accumulate(map(Fraction, gains))), True, PLAIN)
    found = replay(past, Band(1, 9)).cases
    assert (found[0].told_on, found[0].came) == (day("06-18"), day("06-19"))
    assert found[1].told_on == day("06-22")
    assert {case.error for case in found} == {0}


def test_what_was_gained_on_a_closed_day_came_on_that_day() -> None:
    """Friday's 10 fall short of 15; the Saturday worked brings usage there."""
    past = past_of([*WEEK, *WEEK, 10, 10, 10, 10, 10])
    saturday = day("06-20")
    days = (*past.days, saturday, *(day(f"06-{n}") for n in range(22, 27)))
    totals = (*past.totals, *(past.totals[-1] + n for n in (10, 20, 30, 40, 50, 60)))
    worked = MeterPast(days, totals, False, PLAIN)
    assert worked.reached(13, past.totals[13] + 15) == saturday
    assert worked.reached(14, past.totals[14] + 11) == day("06-22")
    assert worked.reached(14, past.totals[14] + 61) is None


def test_a_meter_stood_at_all_that_was_entered_by_then() -> None:
    """Also where entries lie before the 20 working days that a rate looks at."""
    past = past_of([*WEEK, *WEEK, *WEEK, *WEEK, *WEEK, *WEEK])
    assert [past.standing(place).usage for place in (0, 4, 29)] == [8, 50, 300]


def test_a_meter_without_entries_has_no_past() -> None:
    past = MeterPast.of([], None, PLAIN, None)
    assert (past.days, past.totals) == ((), ())
    assert replay(past, THREE).cases == ()


def test_days_out_of_service_are_no_error() -> None:
    """A machine idle in the week of 8 June makes on the 15th what it would have made on the 8th."""
    idle = PLAIN.without([(day("06-08"), day("06-13"))])
    found = replay(past_of([10] * 20, workdays=idle), Band(1, 3))
    assert found.cases[0].told_on == day("06-05")
    assert found.cases[0].came == day("06-15")
    assert found.due == Held(len(found.cases), 0, 0)


# ---- figures of several cases


def test_the_bands_follow_on_each_other_from_the_next_day_to_the_fortieth() -> None:
    """A week ahead, three weeks, and eight: 5, 15 and 40 working days."""
    ahead = [n for band in BANDS for n in range(band.first, band.last + 1)]
    assert ahead == list(range(1, 41))
    assert [band.last for band in BANDS] == [5, 15, 40]


def test_outcomes_add_up_and_tell_their_middle() -> None:
    late = replay(past_of([*WEEK, 5, 5, 5, 5, 5]), THREE)  # error 2
    early = replay(past_of([*WEEK, 13, 13, 10, 10]), THREE)  # error -1
    both = late + early
    assert (both.due, both.likely) == (Held(0, 1, 1), Held(1, 0, 1))
    assert (both.due.share, both.likely.share) == (0, 0.5)
    assert (both.miss, both.lean) == (1.5, 0.5)


def test_without_cases_there_are_no_figures() -> None:
    assert (Outcome().miss, Outcome().lean, Outcome().due.share) == (None, None, None)
    assert replay(MeterPast((), (), False, PLAIN), BANDS[0]) == Outcome()


# ---- laws


@given(
    st.integers(1, 10**6),
    st.integers(6, 120),
    st.sampled_from(BANDS),
    st.booleans(),
)
def test_a_meter_with_constant_increments_is_always_inside(
    gain: int, days: int, band: Band, is_expected: bool
) -> None:
    past = past_of([gain] * days, expected=gain if is_expected else None)
    found = replay(past, band)
    for held in (found.due, found.likely):
        assert (held.early, held.late) == (0, 0)
    assert {case.error for case in found.cases} <= {0}
    assert {case.due_range for case in found.cases} == {
        (case.due_on, case.due_on) for case in found.cases
    }
    assert bool(found.cases) == (days - 5 >= band.first)


@given(st.lists(st.integers(0, 1000), min_size=6, max_size=80), st.sampled_from(BANDS))
def test_cases_never_overlap_and_the_likely_range_holds_the_other(
    gains: list[int], band: Band
) -> None:
    past = past_of(gains)
    cases = replay(past, band).cases
    for case in cases:
        assert case.likely_range[0] <= case.due_range[0] <= case.due_range[1]
        assert case.due_range[1] <= case.likely_range[1] <= past.days[-1]
        assert case.told_on <= case.due_range[0]
    for before, after in pairwise(cases):
        assert before.came is not None
        assert before.told_on < before.came <= after.told_on


@given(
    st.sampled_from(["day", "dial"]),
    st.lists(
        st.tuples(st.integers(1, 3), st.sampled_from(["day", "night", "dial"]), st.integers(0, 99)),
        max_size=40,
    ),
    st.none() | st.integers(1, 500),
)
def test_a_past_day_stood_as_it_was_seen_then(
    first: str, steps: list[tuple[int, str, int]], expected: int | None
) -> None:
    """Totals and rates of each day are those of a view on it, for entries on any days.

    A night's count ends after the next morning's dial, which belongs to a later day.
    """
    entries, on, shown = [], day("06-01"), 0
    for ahead, kind, amount in [(0, first, 50), *steps]:
        on += timedelta(days=ahead)
        shown += amount
        if kind == "dial":
            entries.append(dial(f"{on}T05:00", shown))
        else:
            entries.append(count(str(on), amount, "+06:00" if kind == "night" else "14:30"))
    entries.sort(key=lambda entry: entry.order)
    totals = day_totals(entries, Tally(), None)
    usual = None if expected is None else Fraction(expected)
    past = MeterPast.of(entries, None, PLAIN, usual)
    assert dict(zip(past.days, past.totals, strict=True)) == totals
    for place, on in enumerate(past.days):
        then = meter_at([entry for entry in entries if entry.day <= on], str(on), expected)
        assert past.standing(place).rate == then.rate
