"""The list of a day from the tasks that may be on it, against the list from every task."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.actions.view import View
from pmtrack.actions.waking import waking
from pmtrack.errors import Refused
from pmtrack.rules.shop import LastDone, PerTime, Task
from pmtrack.rules.worklist import worklist
from tests.book import Book
from tests.build import DAY, NIGHT, ONE_DAY, day, days_from, shop, task

FIRST = day("03-02")  # a Monday
LAST = 75  # days of facts
CALENDAR = ["1 day", "5 days", "1 week", "2 weeks", "1 month", "2 months", "1 year"]
USAGE = ["400 hits", "1500 hits", "4000 hits"]
SCHEDULES = ["FREQ=MONTHLY;BYDAY=1MO", "FREQ=WEEKLY;BYDAY=TU", "FREQ=MONTHLY;BYMONTHDAY=31"]
MARKS = ["", "", "", "exchanged"]


@dataclass(frozen=True)
class Written:
    """A deed in the book, on a day counted from the first."""

    what: str
    on: int
    code: str = ""
    clock: str = ""
    amount: int = 0

    def add(self, book: Book) -> None:
        """Write it down; what is refused is left out."""
        on = FIRST + self.on * ONE_DAY
        short = f"{on:%m-%d}"
        when = f"{short}T{self.clock}" if self.clock else short
        deeds: dict[str, Callable[[], Any]] = {
            "done": lambda: book.done(self.code, when),
            "dial": lambda: book.dial(when, self.amount, self.code),
            "night": lambda: book.count(str(on), self.amount, "night"),
            "defer": lambda: book.defer(self.code, when, str(on + 9 * ONE_DAY)),
            "idle": lambda: book.service(when, True),
            "back": lambda: book.service(when, False),
            "void": lambda: book.void(self.amount % 40 + 1),
        }
        with suppress(Refused):
            deeds[self.what]()


def tasks_of(codes: list[str]) -> st.SearchStrategy[list[Task]]:
    """A task for each code; the one so marked covers the one before it."""
    return st.tuples(*map(one_task, codes)).map(
        lambda found: (
            [found[0]]
            + [
                replace(made, covers=(before.code,)) if made.note else made
                for before, made in pairwise(found)
            ]
        )
    )


def one_task(code: str) -> st.SearchStrategy[Task]:
    """A task with intervals of any kind, or with a schedule."""
    some = st.lists(st.sampled_from(CALENDAR + USAGE), min_size=1, max_size=2, unique=True)
    every = some.map(lambda found: task(", ".join(found), code=code))
    fixed = st.sampled_from(SCHEDULES).map(lambda on: task(on=on, code=code))
    lead = st.sampled_from(["", "", "5 days", "20%", "0 days", "300 hits", "40 days"])
    last = st.none() | st.integers(0, 40).map(lambda n: LastDone(FIRST + n * ONE_DAY))
    read = st.builds(LastDone, st.just(FIRST), st.just({"hits": Fraction(100)}))
    covers = st.sampled_from(["", "", "covers"])
    return st.builds(
        lambda made, lead, last, law, note: replace(
            made, lead=task(lead=lead).lead, last_done=last, authority=law, note=note
        ),
        st.one_of(every, every, fixed),
        lead,
        st.one_of(st.none(), last, read),
        st.sampled_from([None, None, "29 CFR 1910.157"]),
        covers,
    )


CODES = ["a", "b", "c", "d"]
ON = st.integers(0, LAST)
CLOCK = st.sampled_from(["", "00:30", "05:00", "06:30", "15:00", "23:00"])
DONE = st.builds(Written, st.just("done"), ON, st.sampled_from(CODES), CLOCK)
DEEDS = st.one_of(
    DONE,
    DONE,
    st.builds(Written, st.just("dial"), ON, st.sampled_from(MARKS), CLOCK, st.integers(0, 9000)),
    st.builds(Written, st.just("night"), ON, amount=st.integers(0, 300)),
    st.builds(Written, st.just("defer"), ON, st.sampled_from(CODES)),
    st.builds(Written, st.sampled_from(["idle", "back"]), ON),
    st.builds(Written, st.just("void"), ON, amount=st.integers(0, 80)),
)
RUN = st.sampled_from([0, 40, 100, 220])


def written(tasks: list[Task], runs: list[int], deeds: list[Written], expected: bool) -> Book:
    """A book with a count on each weekday, a run for each weekday in turn, and the deeds."""
    where = shop("03-20", "04-03..04-06", shifts=(DAY, NIGHT))
    book = Book(tasks, where, expected=PerTime(Fraction(100), "day") if expected else None)
    for on in days_from("03-02", LAST):
        if on.weekday() < 5 and (hits := runs[on.toordinal() % len(runs)]):
            book.count(str(on), hits)
    for deed in deeds:
        deed.add(book)
    return book


def differing(book: Book, on: date, within: int | None) -> list[str]:
    """The tasks that stand otherwise in the list of those that wake than in the list of all."""
    view, whole = View(book.store, on), View(book.store, on)
    found = worklist(map(view.due, waking(view, within or 0)), within)
    wanted = worklist(map(whole.due, whole.tasks), within)
    order = [due.task.name for due in found] != [due.task.name for due in wanted]
    names = [due.task.name for due in wanted if due not in found]
    return names or ["order"] * order


@settings(max_examples=30, deadline=None)
@given(
    tasks_of(CODES),
    st.lists(RUN, min_size=1, max_size=5),
    st.lists(DEEDS, max_size=25),
    st.booleans(),
    st.lists(st.tuples(st.integers(25, LAST + 8), st.sampled_from([None, 3, 40])), min_size=6),
)
def test_the_list_of_those_that_wake_is_the_list_of_all(
    tasks: list[Task],
    runs: list[int],
    deeds: list[Written],
    expected: bool,
    asked: list[tuple[int, int | None]],
) -> None:
    book = written(tasks, runs, deeds, expected)
    for ahead, within in asked:
        on = FIRST + timedelta(days=ahead)
        assert not differing(book, on, within), (on, within)


def woken(book: Book, on: str) -> list[str]:
    """The codes of the tasks that may be on the list of a day."""
    return [found.code for found in waking(book.view(on))]


def test_a_task_wakes_when_its_lead_begins() -> None:
    """A month from 30 April, a Saturday, to be worked on Friday 29 May; with a lead of 3 days."""
    book = written([task("1 month", code="a")], [100], [], True)
    book.done("a", "04-30T15:00")
    assert woken(book, "05-25") == []
    assert woken(book, "05-26") == ["a"]


def test_a_task_by_usage_wakes_on_its_way_to_the_lead() -> None:
    """100 hits a day from Friday 1 May: 1000 are gone on the 15th, 80 % and near from the 8th."""
    book = written([task("1000 hits", code="a")], [100], [], True)
    book.done("a", "05-01T15:00")
    assert woken(book, "05-07") == []
    assert woken(book, "05-15") == ["a"]


def test_a_task_never_done_and_one_done_lately_by_a_schedule() -> None:
    tasks = [task("1 year", code="a"), task(on="FREQ=MONTHLY;BYDAY=1MO", code="b")]
    book = written(tasks, [100], [], True)
    book.done("b", "05-04T15:00")
    assert woken(book, "05-20") == ["a"]
    assert woken(book, "05-31") == ["a", "b"]  # Monday 1 June, with a lead of 2 days
