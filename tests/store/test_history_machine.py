"""Counts, dials, completions and voids in any order, against plain lists folded the slow way."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from pmtrack.errors import Refused
from pmtrack.store.database import Row
from pmtrack.store.upkeep import verify
from tests.book import Book
from tests.build import DAY, NIGHT, ONE_DAY, at, shop, task

FACTS = ("entry", "void", "shift_log", "count", "dial", "completion", "measurement", "deferral",
         "job", "stop", "restart", "service_change", "tool_count", "tool_event")  # fmt: skip
ALL_OF = "SELECT * FROM {}"
DAYS = st.integers(0, 9).map(lambda n: date(2026, 6, 1) + n * ONE_DAY)
MINUTES = st.sampled_from(["05:00", "06:00", "14:30", "20:00", "23:59"])
ENDS = {"day": ("14:30", 0), "night": ("06:00", 1)}  # of each shift, and on which day


@dataclass(frozen=True)
class Line:
    """A count or a dial in the plain list."""

    at: datetime
    is_dial: bool
    entry: int
    day: date
    value: int
    new_counter: bool = False

    @property
    def order(self) -> tuple[datetime, bool, int]:
        """By time; a dial at the instant of a count holds that count."""
        return self.at, self.is_dial, self.entry


def usage_of(lines: list[Line]) -> tuple[int, int]:
    """Usage and what of it nobody logged, read off the section on usage word by word."""
    ordered = sorted(lines, key=lambda line: line.order)
    dials = [n for n, line in enumerate(ordered) if line.is_dial]
    if not dials:
        return sum(line.value for line in ordered), 0
    first = dials[0]
    usage, unlogged = ordered[first].value, 0
    for before, now in zip(dials, [*dials[1:], len(ordered)], strict=True):
        counted = [line.value for line in ordered[before + 1 : now]]
        expected = usage + sum(counted)
        usage = expected
        if now < len(ordered) and not ordered[now].new_counter:
            usage += ordered[now].value - ordered[before].value - sum(counted)
            unlogged += usage - expected if counted else 0
    return usage, unlogged


def runs_backwards(lines: list[Line]) -> bool:
    """Whether a dial is lower than the one before it, though no new counter was fitted."""
    dials = sorted((line for line in lines if line.is_dial), key=lambda line: line.order)
    return any(b.value < a.value and not b.new_counter for a, b in pairwise(dials))


class HistoryMachine(RuleBasedStateMachine):
    """Whatever is entered, crossed out or entered late, the store answers as the plain lists do."""

    @initialize()
    def open(self) -> None:
        self.book = Book([task("1 week", code="weekly")], where=shop(shifts=(DAY, NIGHT)))
        self.lines: list[Line] = []
        self.done: dict[int, tuple[datetime, date]] = {}
        self.standing: list[int] = []
        self.facts = self._facts()
        self.entries = 0

    def _facts(self) -> dict[str, list[Row]]:
        return {table: self.book.store.rows(ALL_OF.format(table)) for table in FACTS}

    def _took(self, number: int) -> None:
        self.entries += 1
        assert number == self.entries
        self.standing.append(number)

    @rule(on=DAYS, shift=st.sampled_from(["day", "night"]), hits=st.integers(0, 500))
    def count(self, on: date, shift: str, hits: int) -> None:
        """A shift's count, perhaps entered late, perhaps the second of that shift."""
        number = self.book.count(str(on), hits, shift)
        self._took(number)
        clock, later = ENDS[shift]
        end = at(f"{on + timedelta(later)}T{clock}")
        self.lines.append(Line(end, False, number, on, hits))

    @rule(on=DAYS, clock=MINUTES, shown=st.integers(0, 3000), fitted=st.booleans())
    def dial(self, on: date, clock: str, shown: int, fitted: bool) -> None:
        """A reading, perhaps of a counter newly fitted; refused when it runs backwards."""
        when = at(f"{on}T{clock}")
        fitted = fitted and any(line.is_dial and line.at < when for line in self.lines)
        line = Line(when, True, self.entries + 1, on, shown, fitted)
        mark = "exchanged" if fitted else ""
        try:
            number = self.book.dial(f"{on:%m-%d}T{clock}", shown, mark)
        except Refused:
            assert runs_backwards([*self.lines, line])
        else:
            assert not runs_backwards([*self.lines, line])
            self._took(number)
            self.lines.append(line)

    @rule(on=DAYS, clock=MINUTES)
    def complete(self, on: date, clock: str) -> None:
        """The weekly task done."""
        number = self.book.done("weekly", f"{on:%m-%d}T{clock}")
        self._took(number)
        self.done[number] = at(f"{on}T{clock}"), on

    @precondition(lambda self: self.standing)
    @rule(data=st.data())
    def void(self, data: st.DataObject) -> None:
        """An entry crossed out; refused when dials after it rest on it."""
        number = data.draw(st.sampled_from(self.standing))
        left = [line for line in self.lines if line.entry != number]
        if self._loses_first_dial(left):
            return
        try:
            self.book.void(number)
        except Refused:
            assert runs_backwards(left)
        else:
            assert not runs_backwards(left)
            self.entries += 1
            self.standing.remove(number)
            self.lines = left
            self.done.pop(number, None)

    def _loses_first_dial(self, left: list[Line]) -> bool:
        """Whether a new counter would then follow no other: what it shows tells no level."""
        dials = sorted((line for line in left if line.is_dial), key=lambda line: line.order)
        return bool(dials) and dials[0].new_counter

    @invariant()
    def usage_is_that_of_the_plain_list(self) -> None:
        for on in (date(2026, 6, 4), date(2026, 6, 20)):
            lines = [line for line in self.lines if line.day <= on]
            standing = self.book.view(str(on)).standing("TP-1", "hits")
            if lines and not self._loses_first_dial(lines):
                usage, unlogged = usage_of(lines)
                assert standing.usage == usage
                assert standing.unlogged == unlogged
            elif not lines:
                assert standing.usage is None

    @invariant()
    def the_base_is_the_last_completion_that_stands(self) -> None:
        base = self.book.view("2026-06-20").base(self.book.shop.tasks[0])
        if not self.done:
            assert base is None
            return
        number = max(self.done, key=lambda n: (self.done[n][0], n))
        assert base is not None
        assert base.moment.at == self.done[number][0]
        assert base.source.startswith(f"entry {number},")

    @invariant()
    def facts_are_only_added(self) -> None:
        now = self._facts()
        for table, rows in self.facts.items():
            assert now[table][: len(rows)] == rows
        assert len(now["entry"]) == self.entries
        self.facts = now

    @invariant()
    def the_store_is_sound(self) -> None:
        assert verify(self.book.store) == []


HistoryMachine.TestCase.settings = settings(max_examples=40, stateful_step_count=25, deadline=None)
TestHistory = HistoryMachine.TestCase


def test_the_slow_usage_is_worked_by_hand() -> None:
    noon = at("06-01T12:00")

    def line(hour: int, value: int, dial: bool = False, new: bool = False) -> Line:
        return Line(noon + timedelta(hours=hour), dial, hour, date(2026, 6, 1), value, new)

    assert usage_of([line(1, 30), line(2, 12)]) == (42, 0)
    # the dial says 100 after 30: the level was 70
    assert usage_of([line(1, 30), line(2, 100, True), line(3, 12)]) == (112, 0)
    # 100, then 12 logged, then 120: 8 that nobody logged
    assert usage_of([line(1, 100, True), line(2, 12), line(3, 120, True)]) == (120, 8)
    # without a count in between the dial's gain is no unlogged usage
    assert usage_of([line(1, 100, True), line(3, 120, True)]) == (120, 0)
    # a new counter that shows 5 changes nothing; 25 on it is 20 more
    exchanged = [line(1, 100, True), line(2, 5, True, True), line(3, 25, True)]
    assert usage_of(exchanged) == (120, 0)
