"""How a meter stands by what the store keeps of it, against its entries read one by one."""

from datetime import date
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.actions.view import View
from pmtrack.rules.rate import standing
from pmtrack.rules.usage import Tally, fold
from pmtrack.store.tallies import facts_of
from tests.actions.test_waking import DEEDS, FIRST, LAST, RUN, Written, written
from tests.book import Book
from tests.build import ONE_DAY

METER = "TP-1", "hits"
READ = DEEDS.filter(lambda deed: deed.what in ("dial", "night", "void", "idle", "back"))


def last_crossing(book: Book, on: date, mark: Fraction) -> date | None:
    """The day of the entry from which on usage stayed at the mark or above; None if it did not."""
    entries = [entry for entry in facts_of(book.store, *METER) if entry.day <= on]
    crossed = None
    for entry, tally in zip(entries, fold(entries, Tally(), None), strict=True):
        if tally.usage < mark:
            crossed = None
        elif crossed is None:
            crossed = entry.day
    return crossed


@settings(deadline=None)
@given(
    st.lists(RUN, min_size=1, max_size=5),
    st.lists(READ, max_size=15),
    st.booleans(),
    st.lists(st.tuples(st.integers(0, LAST + 8), st.integers(0, 8000)), min_size=6),
)
def test_a_meter_stands_as_its_entries_tell(
    runs: list[int], deeds: list[Written], expected: bool, asked: list[tuple[int, int]]
) -> None:
    book = written([], runs, deeds, expected)
    totals = [tally.usage for tally in fold(facts_of(book.store, *METER), Tally(), None)]
    for later, number in asked:
        mark = totals[number % len(totals)] if totals and number % 2 else Fraction(number)
        view = View(book.store, FIRST + later * ONE_DAY)
        meter, days = view.meter(*METER), view.machine_days("TP-1")[0]
        usual = Fraction(100) if expected else None
        found = view.standing(*METER)
        assert found == standing(meter.recent(view.day), view.day, days, usual), view.day
        if found.usage is not None and found.usage - meter.level() >= mark:
            assert meter.reached_on(mark) == last_crossing(book, view.day, mark), (view.day, mark)


def test_a_night_that_ends_after_a_dial_of_the_next_day_gains_on_its_own_day() -> None:
    book = written([], [100], [], False)
    book.dial("05-04T05:00", 5000)
    book.count("2026-05-12", 70, "night")
    book.dial("05-13T00:30", 5900)
    view = book.view("05-13")
    days = view.machine_days("TP-1")[0]
    told = standing(view.meter(*METER).recent(view.day), view.day, days, None)
    assert view.standing(*METER) == told
