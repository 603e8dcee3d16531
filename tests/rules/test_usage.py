"""Usage of a meter: dials and counts folded, by hand, and against the definition itself."""

from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.rate import Standing
from pmtrack.rules.usage import ZERO, Tally, day_totals, fold
from tests.book import Book
from tests.build import DAY, NIGHT, at, count, day, dial, shop

WRAP = Fraction(10000)


def entries(*texts: str) -> list[MeterEntry]:
    """`count 100`, `dial 1000`, `wrapped 5`, `exchanged 0`: one after another, an hour apart."""
    made = []
    for number, text in enumerate(texts):
        kind, value = text.split()
        when = at("06-01T06:00") + timedelta(hours=number)
        marks = (kind != "count", kind == "wrapped", kind == "exchanged")
        made.append(MeterEntry(number, when, day("06-01"), Fraction(value), *marks))
    return made


def after(*texts: str) -> Tally:
    """The tally after the last of some entries."""
    *_, last = fold(entries(*texts), Tally(), WRAP)
    return last


# ---- usage = the latest dial, plus all counts after it


@pytest.mark.parametrize(
    ("facts", "usage", "unlogged"),
    [
        (["count 100"], 100, 0),  # without any dial the level starts at 0
        (["count 100", "count 50"], 150, 0),
        (["dial 1000"], 1000, 0),
        (["dial 1000", "count 100"], 1100, 0),
        (["dial 1000", "dial 1100"], 1100, 0),  # no count since the dial before: nothing expected
        (["dial 1000", "count 100", "dial 1100"], 1100, 0),
        (["dial 1000", "count 100", "dial 1130"], 1130, 30),  # 30 nobody logged
        (["dial 1000", "count 100", "dial 1080"], 1080, -20),  # the counts ran ahead
        (["dial 1000", "count 100", "dial 1130", "count 10", "dial 1135"], 1135, 25),  # 30 - 5
        (["dial 1000", "count 100", "dial 1130", "dial 1200"], 1200, 30),
        # the first dial fixes the level: 1000 with 100 counted, so 900 before; nothing unlogged
        (["count 100", "dial 1000"], 1000, 0),
        (["count 100", "dial 1000", "count 5", "dial 1007"], 1007, 2),
        # wrapped adds 10,000 once
        (["dial 9900", "count 200", "wrapped 100"], 10100, 0),
        (["dial 9900", "count 200", "wrapped 140"], 10140, 40),
        (["dial 9900", "wrapped 100", "dial 300"], 10300, 0),
        (["dial 9900", "wrapped 100", "wrapped 50"], 20050, 0),
        (["wrapped 100"], 100, 0),  # a first dial: there is nothing before it to go on from
        # exchanged: what the new counter shows when fitted; usage does not change
        (["dial 5000", "count 100", "exchanged 0"], 5100, 0),
        (["dial 5000", "count 100", "exchanged 0", "count 7", "dial 9"], 5109, 2),
        (["dial 5000", "exchanged 12", "dial 20"], 5008, 0),
        (["dial 5000", "count 100", "exchanged 0", "dial 9"], 5109, 0),  # no count since
        (["count 100", "exchanged 0", "dial 9"], 109, 0),  # a new counter on a level of 0
        (["dial 9990", "exchanged 9000", "wrapped 5"], 10995, 0),
        (["dial 0", "count 0.1", "count 0.2", "dial 0.3"], Fraction(3, 10), 0),  # exact
    ],
)
def test_usage_and_what_was_not_logged(
    facts: list[str], usage: int | Fraction, unlogged: int
) -> None:
    tally = after(*facts)
    assert tally.total == usage
    assert tally.unlogged == unlogged


def test_the_level_before_the_first_entry_is_the_first_dial_less_the_counts_before_it() -> None:
    tally = after("count 100", "count 50", "dial 1000", "count 30")
    assert [tally.level, tally.usage, tally.total] == [850, 180, 1030]


def test_without_a_wrap_in_the_shop_file_a_wrapped_dial_adds_nothing() -> None:
    *_, last = fold(entries("dial 100", "wrapped 5"), Tally(), None)
    assert last.total == 5


def test_a_dial_is_the_same_counter_going_on_unless_it_is_told_otherwise() -> None:
    plain = [MeterEntry(n, at(f"06-01T{n:02}:00"), day("06-01"), Fraction(value), is_dial=True)
             for n, value in enumerate((9990, 9995), 6)]  # fmt: skip
    ordered = sorted(plain, key=lambda entry: entry.order)
    assert [tally.total for tally in fold(ordered, Tally(), WRAP)] == [9990, 9995]
    assert Tally(Fraction(100), ZERO).then(plain[0], None).unlogged == 0  # no count since a dial


def test_a_dial_at_the_instant_of_a_count_includes_it() -> None:
    same = [dial("06-01T14:30", 700, entry=1), count("06-01", 100, entry=2)]
    ordered = sorted(same, key=lambda entry: entry.order)
    assert [entry.is_dial for entry in ordered] == [False, True]
    *_, last = fold(ordered, Tally(), None)
    assert [last.total, last.level] == [700, 600]


# ---- totals of days: an entry belongs to the date of its shift


def test_totals_are_those_at_the_end_of_each_day_with_an_entry() -> None:
    found = day_totals(
        [count("06-01", 100), dial("06-02T06:00", 1000), count("06-02", 50), count("06-04", 7)],
        Tally(),
        None,
    )
    assert found == {day("06-01"): 100, day("06-02"): 150, day("06-04"): 157}


def test_a_night_shift_counts_to_the_day_it_began_on() -> None:
    """Monday's night ends on Tuesday 06:00, after Tuesday's early reading: it is Monday's still."""
    night = count("06-01", 400, ended="+06:00")
    early, late = dial("06-02T01:00", 1000), dial("06-02T14:30", 1500)
    found = day_totals([count("06-01", 100), early, night, late], Tally(), None)
    # Monday: 100 + 400. Tuesday by its dials: level 900, so 1500 is 600 from there.
    assert found == {day("06-01"): 500, day("06-02"): 600}


def test_days_entered_out_of_order_come_in_order() -> None:
    """One a day, entered by turns: each night after the next day's early shift."""
    order = (2, 1, 4, 3, 6, 5, 8, 7)
    mixed = [MeterEntry(n, at(f"06-10T{n:02}:00"), day(f"06-0{on}"), Fraction(1))
             for n, on in enumerate(order)]  # fmt: skip
    found = day_totals(mixed, Tally(), None)
    assert list(found) == [day(f"06-0{on}") for on in range(1, 9)]
    assert list(found.values()) == list(range(1, 9))


# ---- laws

AMOUNTS = st.integers(0, 5000)
HISTORIES = st.lists(st.tuples(st.booleans(), AMOUNTS), min_size=1, max_size=12)


def plain_history(steps: list[tuple[bool, int]]) -> list[MeterEntry]:
    """Counts, and dials that never run backwards."""
    shown, texts = 0, []
    for is_dial, amount in steps:
        shown += amount
        texts.append(f"dial {shown}" if is_dial else f"count {amount // 2}")
    return entries(*texts)


@given(HISTORIES)
def test_usage_is_the_latest_dial_plus_the_counts_after_it(steps: list[tuple[bool, int]]) -> None:
    history = plain_history(steps)
    *_, last = fold(history, Tally(), None)
    latest = max((n for n, entry in enumerate(history) if entry.is_dial), default=None)
    since = [entry.value for entry in history[0 if latest is None else latest + 1 :]]
    shown = Fraction(0) if latest is None else history[latest].value
    assert last.total == shown + sum(since)


@given(HISTORIES)
def test_unlogged_usage_is_what_the_counts_do_not_explain(steps: list[tuple[bool, int]]) -> None:
    """Where counts lie between all dials, the rise of the dials less the counts between them."""
    history = plain_history([pair for step in steps for pair in ((True, 9), (False, step[1]))])
    *_, last = fold([*history, dial("06-09T06:00", 10**6)], Tally(), None)
    counts = [entry.value for entry in history if not entry.is_dial]
    assert last.unlogged == 10**6 - history[0].value - sum(counts)


MARKED = st.lists(
    st.tuples(st.sampled_from(["count", "dial", "wrapped", "exchanged"]), AMOUNTS), max_size=12
)


@given(MARKED, st.integers(0, 12))
def test_a_history_can_be_folded_in_two_parts(steps: list[tuple[str, int]], cut: int) -> None:
    history = entries(*(f"{kind} {amount}" for kind, amount in steps))
    whole = list(fold(history, Tally(), WRAP))
    parts = list(fold(history[:cut], Tally(), WRAP))
    opening = parts[-1] if parts else Tally()
    assert parts + list(fold(history[cut:], opening, WRAP)) == whole


@given(MARKED)
def test_an_exchange_never_changes_usage(steps: list[tuple[str, int]]) -> None:
    facts = [f"{kind} {amount}" for kind, amount in steps]
    before = after(*facts).total if facts else 0
    assert after(*facts, "exchanged 77").total == before


def standing_of(deeds: list[tuple[int, int, bool]]) -> tuple[Book, Standing]:
    """Counts and dials written down in this order: day of June, hits, whether it is a dial."""
    book = Book([])
    for number, hits, is_dial in deeds:
        on = f"06-{number:02}"
        if is_dial:
            book.dial(f"{on}T12:00", number * 10**5 + hits)
        else:
            book.count(on, hits)
    return book, book.view("06-30").standing("TP-1", "hits")


DEEDS = st.lists(
    st.tuples(st.integers(1, 28), AMOUNTS, st.booleans()),
    min_size=1,
    max_size=5,
    unique_by=lambda deed: (deed[0], deed[2]),
)


@settings(max_examples=20)
@given(DEEDS.flatmap(lambda deeds: st.tuples(st.just(deeds), st.permutations(deeds))))
def test_a_late_entry_gives_what_an_entry_in_time_gives(
    orders: tuple[list[tuple[int, int, bool]], list[tuple[int, int, bool]]],
) -> None:
    """Dials of a later day show more, so that none runs backwards in any order."""
    assert standing_of(sorted(orders[0]))[1] == standing_of(orders[1])[1]


@settings(max_examples=20)
@given(DEEDS, st.data())
def test_a_voided_entry_leaves_what_there_was_without_it(
    deeds: list[tuple[int, int, bool]], data: st.DataObject
) -> None:
    wrong = data.draw(st.sampled_from(deeds))
    book, _ = standing_of(deeds)
    book.void(1 + deeds.index(wrong))
    without = [deed for deed in deeds if deed != wrong]
    assert book.view("06-30").standing("TP-1", "hits") == standing_of(without)[1]


# ---- the day on which usage came to a mark


@pytest.mark.parametrize(
    ("facts", "mark", "reached"),
    [
        (["06-01 dial 100", "06-02 count 60", "06-03 count 60"], 150, "06-02"),
        (["06-01 dial 100", "06-02 count 60", "06-03 count 60"], 160, "06-02"),
        (["06-01 dial 100", "06-02 count 60", "06-03 count 60"], 161, "06-03"),
        # the dial falls behind the counts and usage passes the mark again: the last crossing
        (["06-01 dial 100", "06-02 count 60", "06-03 dial 120", "06-04 count 60"], 150, "06-04"),
        (["06-01 dial 100", "06-02 count 60", "06-03 dial 155", "06-04 count 60"], 150, "06-02"),
        (["06-01 dial 500", "06-02 count 60"], 150, "06-01"),  # passed before the first entry
        # a new counter: the level of before goes on
        (["06-01 dial 100", "06-02 exchanged 0", "06-03 count 60", "06-04 dial 70"], 170, "06-04"),
    ],
)
def test_the_day_on_which_usage_came_to_a_mark_is_the_last_crossing(
    facts: list[str], mark: int, reached: str
) -> None:
    book = Book([])
    for fact in facts:
        on, kind, value = fact.split()
        if kind == "count":
            book.count(on, int(value))
        else:
            book.dial(f"{on}T06:00", int(value), kind)
    meter = book.view("06-30").meter("TP-1", "hits")
    assert meter.reached_on(mark - meter.level()) == day(reached)


def test_a_night_shift_crosses_on_the_day_it_began_on() -> None:
    book = Book([], shop(shifts=(DAY, NIGHT)))
    book.count("06-01", 100)
    book.count("06-01", 100, "night")
    for on in ("06-01", "06-02", "06-30"):
        assert book.view(on).meter("TP-1", "hits").reached_on(Fraction(150)) == day("06-01")
    assert book.view("06-01").standing("TP-1", "hits").usage == 200
    assert book.view("05-31").standing("TP-1", "hits").usage is None
