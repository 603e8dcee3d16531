"""Breakdowns thin out after a service, and their stops are those of a working shop."""

from bisect import bisect_right
from datetime import date, timedelta
from itertools import pairwise

from pmtrack.demo.breakdowns import wear_out
from pmtrack.store import history
from tests.demo.conftest import Demo

# Machines with a service every month or every third one: interval in days, tasks that restore it.
SERVICED = {
    "TP-1": (30, ("monthly", "half-year")),
    "LC-1": (30, ("monthly", "service")),
    "PB-1": (30, ("monthly", "half-year", "oil-change")),
    "PB-2": (30, ("monthly", "half-year", "oil-change")),
    "SH-1": (30, ("monthly", "year")),
    "MP-1": (30, ("monthly", "half-year", "linings")),
    "PW-1": (30, ("bath-change", "half-year")),
    "HP-1": (91, ("quarter",)),
}


def test_a_machine_breaks_down_four_times_as_often_at_the_end_of_its_interval() -> None:
    assert wear_out(1) == 4 * wear_out(0)


def test_fewer_breakdowns_come_in_the_first_half_of_an_interval_than_in_the_second(
    whole: Demo,
) -> None:
    stops, days = [0, 0], [0, 0]
    ((first,),) = whole.rows("SELECT min(day) FROM shift_log")
    adopted = date.fromisoformat(first)
    for machine, (interval, codes) in SERVICED.items():
        served = _served(whole, machine, codes)
        begun = [
            s.span.start.astimezone(whole.shop.zone).date()
            for s in history.stops(whole.store, machine, whole.today)
            if not s.planned
        ]
        for day in _dates(adopted, whole.today):
            late = (day - served[bisect_right(served, day) - 1]).days >= interval / 2
            days[late] += 1
            stops[late] += begun.count(day)

    rates = [count / span for count, span in zip(stops, days, strict=True)]

    assert sum(stops) > 60
    assert rates[0] < 0.75 * rates[1]  # by the law of the draw 0.5 to 1.25 against 1.25 to 2.3


def _served(demo: Demo, machine: str, codes: tuple[str, ...]) -> list[date]:
    rows = [
        row
        for code in codes
        for row in demo.rows(
            "SELECT day FROM entry JOIN completion ON completion.entry = entry.id WHERE task = ?",
            f"{machine}/{code}",
        )
    ]
    return sorted(date.fromisoformat(day) for (day,) in rows)


def _dates(first: date, after: date) -> list[date]:
    return [first + timedelta(days=n) for n in range((after - first).days)]


def test_stops_last_from_minutes_to_hours_and_never_overlap(whole: Demo) -> None:
    for machine in whole.shop.machines:
        stops = history.stops(whole.store, machine.code, whole.today)
        spans = sorted((s.span.start, s.span.end or whole.now) for s in stops if not s.planned)
        for (_, end), (start, _) in pairwise(spans):
            assert end <= start, machine.code
        for start, end in spans:
            assert end - start >= timedelta(minutes=15) or end == whole.now


def test_planned_stops_are_of_services_and_changeovers(whole: Demo) -> None:
    causes = {c for (c,) in whole.rows("SELECT DISTINCT cause FROM stop WHERE planned = 1")}

    assert causes == {"planned maintenance", "outside service", "changeover"}
