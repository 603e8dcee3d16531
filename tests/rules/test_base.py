"""From when a task's intervals run: its own completion, or that of a task which covers it."""

from fractions import Fraction

import pytest

from pmtrack.rules.base import covered, coverers, instant_of, last_done_base, latest
from pmtrack.rules.facts import Base, Moment, done_base
from pmtrack.rules.shop import LastDone, Task
from tests.book import Book
from tests.build import DAY, NIGHT, at, base, dates, day, shop, task

HALF_YEAR = task("6 months", code="half-year", covers=("monthly",))
MONTHLY = task("1 month", code="monthly", covers=("weekly",))
WEEKLY = task("1 week", code="weekly")


def named(*pairs: str) -> list[Task]:
    """Tasks written `machine/code > covered covered`."""
    found = []
    for text in pairs:
        name, _, covered = text.partition(" > ")
        machine, code = name.split("/")
        found.append(task("1 month", machine=machine, code=code, covers=tuple(covered.split())))
    return found


# ---- who covers whom


@pytest.mark.parametrize(
    ("tasks", "name", "covered_by"),
    [
        (["A/x"], "A/x", ()),
        (["A/x > y", "A/y"], "A/y", ("A/x",)),
        (["A/x > y", "A/y"], "A/x", ()),
        (["A/x > y", "A/y > z", "A/z"], "A/z", ("A/x", "A/y")),  # through another
        (["A/w > x", "A/x > y", "A/y > z", "A/z"], "A/z", ("A/w", "A/x", "A/y")),
        (["A/x > z", "A/y > z", "A/z"], "A/z", ("A/x", "A/y")),
        (["A/w > x y", "A/x > z", "A/y > z", "A/z"], "A/z", ("A/w", "A/x", "A/y")),  # two ways
        (["A/x > z", "B/x", "A/z", "B/z"], "B/z", ()),  # only on its own machine
        (["A/x > y", "A/y > x"], "A/x", ("A/y",)),  # a circle ends, and no task covers itself
        (["A/x > gone"], "A/gone", ("A/x",)),  # a covered task no longer in the file
    ],
)
def test_a_task_is_covered_directly_or_through_another(
    tasks: list[str], name: str, covered_by: tuple[str, ...]
) -> None:
    assert coverers(named(*tasks))[name] == covered_by


# ---- a completion


def test_a_completion_is_a_base_that_names_its_entry() -> None:
    found = done_base(Moment(day("02-02")), 17, "TP-1/weekly")
    assert found == Base(Moment(day("02-02")), "entry 17, TP-1/weekly done", {}, 17)


# ---- last_done of the shop file


def test_last_done_is_a_base_once_its_date_has_come() -> None:
    job = task("500 hours", last_done=LastDone(day("02-02"), {"hours": Fraction(4100)}))
    found = last_done_base(job, day("02-02"))
    assert found is not None
    assert (found.moment, found.source) == (Moment(day("02-02")), "last_done of TP-1/service")
    assert found.readings == {"hours": 4100}
    assert last_done_base(job, day("02-01")) is None
    assert last_done_base(task("500 hours"), day("02-02")) is None


# ---- the latest of several

NIGHTLY = shop(shifts=(DAY, NIGHT))


def test_a_date_counts_at_its_end_after_its_night_shift() -> None:
    assert instant_of(Moment(day("06-01")), shop()) == at("06-02T00:00")
    assert instant_of(Moment(day("06-01")), NIGHTLY) == at("06-02T06:00")
    assert instant_of(Moment(day("06-01"), at("06-01T09:00")), NIGHTLY) == at("06-01T09:00")


@pytest.mark.parametrize(
    ("bases", "last"),
    [
        ([], None),
        ([None, None], None),
        (["06-01", None, "05-01"], 0),
        (["06-01T09:00", "06-01"], 1),  # the date is its end
        (["06-01", "06-02T05:59"], 0),  # the night shift of the 1st runs until 06:00
        (["06-01", "06-02T06:01"], 1),
        (["06-01T09:00", "06-01T09:00"], 0),  # the first named of two at one instant
    ],
)
def test_the_latest_of_several_bases_counts(bases: list[str | None], last: int | None) -> None:
    made = [base(text) if text else None for text in bases]
    assert latest(made, NIGHTLY) is (None if last is None else made[last])


# ---- from the facts of a shop


def test_done_with_a_task_that_covers_it_through_another_a_task_starts_anew() -> None:
    """The half-year job covers the monthly one, which covers the weekly one."""
    book = Book([HALF_YEAR, MONTHLY, WEEKLY])
    book.done("weekly", "06-01T10:00")
    book.done("monthly", "06-03T10:00")
    assert dates(book.due("weekly", "06-03"))[0] == "06-10"
    entry = book.done("half-year", "06-05T10:00")
    found = book.view("06-05").base(WEEKLY)
    assert found is not None
    assert found.source == f"entry {entry}, TP-1/half-year done"
    assert [dates(book.due(code, "06-05"))[0] for code in ("weekly", "monthly", "half-year")] == [
        "06-12",
        "07-05",
        "12-05",
    ]
    assert dates(book.due("weekly", "06-04"))[0] == "06-10"  # as of the day before
    book.done("weekly", "06-08T10:00")  # covers nothing
    assert [dates(book.due(code, "06-08"))[0] for code in ("weekly", "monthly")] == [
        "06-15",
        "07-05",
    ]


def test_last_done_of_a_covering_task_counts_too() -> None:
    half_year = task(
        "6 months", code="half-year", covers=("monthly",), last_done=LastDone(day("05-20"))
    )
    book = Book([half_year, MONTHLY, WEEKLY])
    assert dates(book.due("monthly", "06-01"))[0] == "06-20"
    assert dates(book.due("weekly", "06-01"))[0] == "05-27"
    assert book.view("05-19").base(MONTHLY) is None  # it has not come yet


def test_voiding_a_completion_brings_the_base_before_it_back() -> None:
    book = Book([WEEKLY])
    book.done("weekly", "06-01T10:00")
    wrong = book.done("weekly", "06-05T10:00")
    assert dates(book.due("weekly", "06-05"))[0] == "06-12"
    book.void(wrong)
    assert dates(book.due("weekly", "06-05"))[0] == "06-08"


# ---- usage at a base

BY_HITS = task("1000 hits", code="lube")


@pytest.mark.parametrize(
    ("done", "target"),
    [
        ("06-02", 1700),  # at the end of Tuesday: 500 + 200
        ("06-02T14:30", 1700),  # Tuesday's count is in, at the instant of the shift's end
        ("06-02T14:29", 1500),  # only Monday's is
        ("06-01T08:00", 1400),  # between the dial at 06:00 and Monday's count
        ("05-29", 1400),  # older than the first entry: its level, assumed
    ],
)
def test_usage_at_a_base_is_what_was_entered_up_to_then(done: str, target: int) -> None:
    """A dial of 400 on Monday 1 June, then counts of 100, 200 and 50."""
    book = Book([BY_HITS])
    book.dial("06-01T06:00", 400)
    for on, hits in (("06-01", 100), ("06-02", 200), ("06-03", 50)):
        book.count(on, hits)
    book.done("lube", done)
    found = book.due("lube", "06-03").governing
    assert found.target == target
    assert ("assumed" in found.remark) == (done == "05-29")


def test_a_base_older_than_the_first_count_has_the_level_before_it() -> None:
    """100 counted, then a dial of 5100: the level before the first count was 5000."""
    book = Book([BY_HITS])
    book.done("lube", "05-29")
    book.count("06-01", 100)
    book.dial("06-02T06:00", 5100)
    found = book.due("lube", "06-02").governing
    assert [found.usage, found.target] == [5100, 6000]


def test_a_reading_in_last_done_is_that_bases_only() -> None:
    """Read 300 then; the first entry, a count, starts from a level of 0 all the same."""
    said = LastDone(day("05-29"), {"hits": Fraction(300)})
    book = Book([task("1000 hits", code="lube", last_done=said)])
    assert book.due("lube", "06-01").governing.target == 1300
    book.count("06-01", 100)
    found = book.due("lube", "06-01").governing
    assert [found.usage, found.target] == [100, 1300]
    assert "assumed" not in found.remark
    assert "level is not known" in found.remark
    assert book.view("06-01").standing("TP-1", "hits").usage == 100
    book.dial("06-02T06:00", 400)  # the level is 300: all of it is known from now on
    found = book.due("lube", "06-02").governing
    assert [found.usage, found.target, found.remark] == [400, 1300, ""]


@pytest.mark.parametrize("readings", [{}, {"hits": Fraction(0)}])
def test_a_base_without_a_reading_or_on_a_new_counter_needs_no_dial(
    readings: dict[str, Fraction],
) -> None:
    said = LastDone(day("06-01"), readings)
    book = Book([task("1000 hits", code="lube", last_done=said)])
    book.count("06-01", 100)
    assert book.due("lube", "06-01").governing.remark == ""


def test_a_night_shift_after_midnight_is_before_a_base_of_its_date() -> None:
    book = Book([BY_HITS], NIGHTLY)
    book.count("06-01", 100)
    book.count("06-01", 400, "night")
    book.done("lube", "06-01")
    assert book.due("lube", "06-03").governing.target == 1500


def test_two_intervals_of_one_meter_are_each_reached_on_their_own_day() -> None:
    """From 0 on 29 May: 500 hits on Monday 1 June, 2000 on Thursday 4 June."""
    book = Book([task("500 hits, 2000 hits", code="lube")])
    book.done("lube", "05-29")
    for on in ("06-01", "06-02", "06-03", "06-04"):
        book.count(on, 500)
    by_hits = [rule.due_on for rule in book.due("lube", "06-04").rules]
    assert by_hits == [day("06-01"), day("06-04")]


@pytest.mark.parametrize(
    ("tasks", "settles"),
    [
        (["A/x", "A/y"], {}),
        (["A/x > y", "A/y > z", "A/z"], {"A/x": ("A/y", "A/z"), "A/y": ("A/z",)}),
        (["A/x > y", "B/x > y", "A/y", "B/y"], {"A/x": ("A/y",), "B/x": ("B/y",)}),
    ],
)
def test_a_task_settles_those_it_covers_directly_or_through_another(
    tasks: list[str], settles: dict[str, tuple[str, ...]]
) -> None:
    assert covered(named(*tasks)) == settles
