"""The technician's list: which tasks stand on it, in which order, and which shifts lack a log."""

from datetime import date
from fractions import Fraction

import pytest

from pmtrack.rules.due import TaskDue
from pmtrack.rules.shop import OneOff, Shop
from pmtrack.rules.situation import RuleDue, Situation
from pmtrack.rules.workdays import Workdays
from pmtrack.rules.worklist import MissingLog, missing_logs, worklist
from tests.build import DAY, NIGHT, at, day, shop, stand, task


def due(text: str, used: float | None = None, past: int = 0, law: str = "") -> TaskDue:
    """`state code`: a task in that state on 15 June, so many days past due."""
    state, code = text.split()
    job = task("1 month", code=code, authority=law or None)
    due_on = date.fromordinal(day("06-15").toordinal() - past)
    share = None if used is None else Fraction(used)
    rule = RuleDue(job.every[0], state, due_on, due_on, Fraction(3), Fraction(3), used=share)
    return TaskDue(job, state, rule, (rule,), Situation(day("06-15"), day("01-02")))


def codes(dues: list[TaskDue]) -> str:
    """The codes of tasks in order."""
    return " ".join(found.task.code for found in dues)


ALL = [due(f"{state} {state}") for state in ("ok", "retired", "paused", "deferred", "soon", "due")]


def test_the_list_shows_what_wants_attention_worst_first() -> None:
    assert codes(worklist([*ALL, due("overdue overdue")])) == "overdue due soon deferred paused"


def test_on_demand_the_list_shows_every_task() -> None:
    assert codes(worklist(ALL, every=True)) == "due soon deferred paused ok retired"


@pytest.mark.parametrize(
    ("dues", "order", "why"),
    [
        (
            [due("due a", 0.9), due("due b", 1.2), due("due c", 1.0)],
            "b c a",
            "the largest share used first",
        ),
        (
            [due("due a", 5), due("due b", 1, law="a law"), due("soon c", 0, law="a law")],
            "b a c",
            "authority first within its state",
        ),
        (
            [due("due a", past=1), due("due b", 0.1), due("due c", past=4)],
            "b c a",
            "shares not known last, by days past due",
        ),
        ([due("due b", 1), due("due a", 1)], "a b", "alike: by name"),
        ([due("overdue a", 1.1), due("due b", 9)], "a b", "overdue before due"),
    ],
)
def test_the_order_within_a_state(dues: list[TaskDue], order: str, why: str) -> None:
    assert codes(worklist(dues)) == order, why
    assert codes(worklist(reversed(dues))) == order, why


@pytest.mark.parametrize(
    ("within", "shown"),
    [(None, ""), (15, ""), (16, "service"), (30, "service")],
)
def test_within_adds_the_jobs_to_work_by_then(within: int | None, shown: str) -> None:
    """Work by Wednesday 1 July, 16 days after Monday 15 June."""
    assert codes(worklist([stand(task("1 month"), "06-15", "06-01")], within)) == shown


def test_within_leaves_out_what_has_no_day_or_is_retired() -> None:
    over = stand(task(on="FREQ=DAILY;COUNT=1", starts=day("06-01")), "06-15", "06-01")
    assert (over.state, over.governing.work_by) == ("ok", None)
    assert worklist([over, due("retired gone")], within=30) == []


def test_a_one_off_job_that_is_done_is_on_no_list() -> None:
    job = task(code="job-9", once=OneOff(day("06-20")))
    open_job, done = stand(job, "06-15"), stand(job, "06-15", "06-12")
    assert codes(worklist([open_job])) == "job-9"
    assert worklist([done], every=True) == []


# ---- shifts that lack a log

TWO_SHIFTS = shop(shifts=(DAY, NIGHT))  # Monday to Friday, 06:00 to 14:30 and 22:00 to 06:00
EVERYTHING = {(name, day(f"06-{n:02}")) for name in ("day", "night") for n in (1, 2, 3, 4, 5, 8)}


def missing(
    known: set[tuple[str, date]], on: str, now: str, where: Shop = TWO_SHIFTS
) -> list[tuple[str, str]]:
    """Shift and date of each missing log of TP-1."""
    logged = {"TP-1": (Workdays.of(where), known)}
    found = missing_logs(where, logged, day(on), at(now))
    assert all(isinstance(log, MissingLog) and log.machine == "TP-1" for log in found)
    return [(log.shift, str(log.day)[5:]) for log in found]


@pytest.mark.parametrize(
    ("without", "on", "now", "expected", "why"),
    [
        ([], "06-08", "06-09T06:00", [], "all are there"),
        ([("day", "06-08")], "06-08", "06-08T14:29", [("night", "06-05")], "not ended yet"),
        (
            [("day", "06-08")],
            "06-08",
            "06-08T14:30",
            [("night", "06-05"), ("day", "06-08")],
            "ended",
        ),
        (
            [("day", "06-04")],
            "06-08",
            "06-08T12:00",
            [("day", "06-04"), ("night", "06-05")],
            "third",
        ),
        ([("day", "06-03")], "06-08", "06-08T12:00", [("night", "06-05")], "four working days ago"),
        (
            [("day", "06-04")],
            "06-07",
            "06-07T12:00",
            [("day", "06-04"), ("night", "06-05")],
            "Sunday",
        ),
    ],
)
def test_a_shift_without_a_log_is_named_for_three_working_days(
    without: list[tuple[str, str]], on: str, now: str, expected: list[tuple[str, str]], why: str
) -> None:
    """Of Friday 5 June the night is never logged, save in the first row."""
    gone = {(name, day(text)) for name, text in without}
    known = EVERYTHING - gone - ({("night", day("06-05"))} if without else set())
    assert missing(known, on, now) == expected, why


def test_a_shift_that_a_machine_never_ran_is_not_expected() -> None:
    only_day = {("day", day("06-03"))}
    assert missing(only_day, "06-05", "06-06T12:00") == [("day", "06-04"), ("day", "06-05")]
    since_friday = {("day", day("06-05"))}  # nor one before the first log of all
    assert missing(since_friday, "06-05", "06-06T12:00") == []


def test_on_a_closed_day_no_log_is_expected() -> None:
    closed = shop("06-04", shifts=(DAY,))
    known = {("day", day("06-01"))}
    assert missing(known, "06-05", "06-05T15:00", closed) == [
        ("day", "06-02"),
        ("day", "06-03"),
        ("day", "06-05"),
    ]


def test_before_the_shop_ever_worked_no_log_is_expected() -> None:
    new = shop("1900-01-01..2026-06-30")
    assert missing({("day", day("06-01"))}, "06-15", "06-15T15:00", new) == []
    assert missing({("day", day("06-01"))}, "07-01", "07-01T15:00", new) == [("day", "07-01")]
