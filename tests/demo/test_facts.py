"""The invented facts agree with one another, and with how a shop like this one works."""

from datetime import timedelta
from itertools import pairwise

import pytest

from pmtrack.actions.tooling import ToolRecords
from pmtrack.actions.view import View
from pmtrack.rules.rate import per_working_day
from pmtrack.rules.shoptime import shift_span
from pmtrack.rules.tool_events import fitted
from pmtrack.store import history
from pmtrack.store.codec import to_instant
from tests.demo.conftest import Demo

_SHIFTS = (
    "SELECT shift_log.day, shift, program, parts, scrap,"
    " (SELECT amount FROM count WHERE entry = shift_log.entry AND meter = 'hits'),"
    " (SELECT amount FROM count WHERE entry = shift_log.entry AND meter = 'hours')"
    " FROM shift_log WHERE machine = 'TP-1'"
    " AND entry NOT IN (SELECT target FROM void)"
)


def test_hits_are_those_of_the_parts_and_a_few_beside(whole: Demo) -> None:
    each = {program.code: float(sum(program.hits.values())) for program in whole.shop.programs}

    shares = [
        hits / (each[program] * (parts + scrap))
        for _, _, program, parts, scrap, hits, _ in whole.rows(_SHIFTS)
        if parts
    ]

    assert len(shares) > 400
    assert 0.999 <= min(shares) <= max(shares) <= 1.03  # whole hits, none for half a part


def test_a_machine_does_not_run_while_it_is_stopped(whole: Demo) -> None:
    stops = history.stops(whole.store, "TP-1", whole.today)

    for day, name, *_, hours in whole.rows(_SHIFTS):
        shift = whole.shop.shift(name)
        assert shift is not None
        start, end = shift_span(shift, whole.today.fromisoformat(day), whole.shop.zone)
        down = sum(
            (
                max(min(stop.span.end or end, end) - max(stop.span.start, start), timedelta(0))
                for stop in stops
            ),
            timedelta(0),
        )
        assert timedelta(hours=hours / 10**6) <= end - start - down, (day, name)


def test_counters_show_a_little_more_than_was_logged(whole: Demo) -> None:
    standing = View(whole.store, whole.today).standing("TP-1", "hits")

    assert standing.usage is not None
    assert 0 < standing.unlogged < standing.usage / 100


@pytest.mark.parametrize(
    ("mark", "least"),
    [("exchanged", 1), ("wrapped", 1)],
)
def test_counters_are_exchanged_and_start_over_at_times(whole: Demo, mark: str, least: int) -> None:
    ((found,),) = whole.rows(f"SELECT sum({mark}) FROM dial")  # noqa: S608

    assert found >= least


def test_machines_gain_about_what_is_expected_in_a_normal_week(whole: Demo) -> None:
    view = View(whole.store, whole.today)
    for machine in whole.shop.machines:
        for meter in machine.meters:
            rate = view.standing(machine.code, meter.name).rate.per_day
            expected = per_working_day(whole.shop, meter.expected)
            assert rate is not None
            assert expected is not None
            assert 0.75 <= rate / expected <= 1.25, (machine.code, meter.name)


def test_the_slow_season_is_slow(whole: Demo) -> None:
    made = {
        month: whole.rows(
            "SELECT avg(amount) FROM count JOIN shift_log USING (entry)"
            " WHERE count.machine = 'TP-1' AND meter = 'hits' AND substr(day, 6, 2) = ?",
            month,
        )[0][0]
        for month in ("01", "03", "08", "10")
    }

    for slow, busy in (("01", "03"), ("08", "10")):
        assert 0.55 <= made[slow] / made[busy] <= 0.8


def test_about_one_shift_in_a_hundred_is_not_logged(whole: Demo) -> None:
    days = View(whole.store, whole.today).workdays
    shifts = sum(
        1
        for back in range(1, 366)
        for shift in whole.shop.shifts
        if (day := whole.today - timedelta(days=back)) in days and day.weekday() in shift.weekdays
    )
    machines = ("TP-1", "LC-1", "PB-1", "PB-2", "HP-1", "SW-1", "MW-1")  # on both shifts
    logged = sum(
        len(history.logged_shifts(whole.store, code, whole.today - timedelta(365), whole.today))
        for code in machines
    )

    assert 0.975 <= logged / (shifts * len(machines)) <= 0.999


def test_wrong_counts_were_crossed_out_and_logged_again(whole: Demo) -> None:
    crossed = whole.rows(
        "SELECT machine, shift_log.day, shift, why FROM void"
        " JOIN shift_log ON shift_log.entry = void.target"
    )

    assert len(crossed) == 3
    for machine, day, shift, why in crossed:
        again = whole.rows(
            "SELECT 1 FROM shift_log WHERE machine = ? AND day = ? AND shift = ?"
            " AND entry NOT IN (SELECT target FROM void)",
            machine,
            day,
            shift,
        )
        assert len(again) == 1, why


def test_daily_checks_are_done_on_nearly_every_working_day(whole: Demo) -> None:
    days = View(whole.store, whole.today).workdays
    working = days.between(whole.today - timedelta(days=365), whole.today - timedelta(days=1))
    ((done,),) = whole.rows("SELECT count(*) FROM completion WHERE task = 'TP-1/daily'")

    assert 0.92 <= done / working <= 1.03  # overtime adds some


def test_what_a_law_demands_weekly_was_never_missed(whole: Demo) -> None:
    # the test of MP-1 is due on every Wednesday, or on the last working day before a closed one
    days = [
        whole.today.fromisoformat(day)
        for (day,) in whole.rows(
            "SELECT day FROM entry JOIN completion ON completion.entry = entry.id"
            " WHERE task = 'MP-1/clutch-and-brake' AND whole_day = 0 ORDER BY entry.at"
        )
    ]

    longest = max((later - earlier).days for earlier, later in pairwise(days))

    assert longest <= 16  # from the last day that settles 30 December to the first test after
    assert sum(day.weekday() == 2 for day in days) > len(days) / 2


def test_few_measured_steps_are_out_of_limits(whole: Demo) -> None:
    ((out, measured),) = whole.rows("SELECT sum(in_limits = 0), count(*) FROM measurement")

    assert measured > 2000
    assert 0 < out / measured < 0.01


def test_people_work_by_day_and_evening_only(whole: Demo) -> None:
    hours = {
        to_instant(at).astimezone(whole.shop.zone).hour
        for (at,) in whole.rows("SELECT at FROM entry WHERE kind = 'completion' AND whole_day = 0")
    }

    assert hours <= set(range(5, 23))


def test_two_machines_were_taken_out_of_service_and_one_is_back(whole: Demo) -> None:
    assert [
        (machine, out)
        for machine, out in whole.rows("SELECT machine, out FROM service_change ORDER BY at")
    ] == [("TW-1", 1), ("TW-1", 0), ("DS-1", 1)]


def test_tools_are_ground_by_plan_for_burr_and_when_chipped(whole: Demo) -> None:
    reasons: dict[str, int] = dict(
        whole.rows("SELECT why, count(*) FROM tool_event WHERE event = 'sharpen' GROUP BY why")
    )
    often = whole.rows(
        "SELECT tool FROM tool_event WHERE event = 'sharpen' GROUP BY tool HAVING count(*) >= 4"
    )

    assert reasons["planned"] > reasons["burr"] > 0
    assert reasons["chipped"] > 0
    assert len(often) >= 3


def test_the_tools_of_the_running_program_are_fitted(whole: Demo) -> None:
    view = View(whole.store, whole.today)
    records = ToolRecords(view)
    ((last,),) = whole.rows(
        "SELECT program FROM shift_log WHERE machine = 'TP-1' ORDER BY day DESC, entry DESC LIMIT 1"
    )
    program = next(p for p in whole.shop.programs if p.code == last)

    # at five past six the next program may have been set up; its tools came in, none went out
    # that both need
    in_turret = [r.tool for r in records.bare(*whole.shop.tools) if fitted(r.events)]

    assert len([t for t in in_turret if t.code in program.hits]) >= len(program.hits) - 2
    assert len(in_turret) >= 46
