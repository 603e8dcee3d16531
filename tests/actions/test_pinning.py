"""Jobs pinned to a day and released, through a real store.

Today is Thursday 31 December 2026; the shop is closed for inventory from 1 to 5 January.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from pmtrack.actions.pinning import NewPin, Pinned, pin, release
from pmtrack.actions.setup import apply_shop
from pmtrack.errors import Refused
from pmtrack.rules.dates import parse_moment
from pmtrack.rules.facts import Pin
from pmtrack.rules.shop import Closure, Supplier
from pmtrack.store.entries import list_entries
from pmtrack.store.plans import standing_pins
from pmtrack.store.upkeep import verify
from tests.book import Book
from tests.build import ZONE, at, day, shop, task

TASKS = [
    task("1 month", code="monthly"),
    task("1 year", code="yearly", crew="press"),
    task("1 month", code="extinguishers", authority="29 CFR 1910.157(e)(2)"),
]
CLOSED = (Closure(day("2027-01-01"), day("2027-01-05"), "inventory"),)
FIRMS = (Supplier("press", "Outside press service", notice=21),)


class Desk(Book):
    """A book whose jobs can be pinned."""

    def __init__(self) -> None:
        super().__init__(TASKS, replace(shop(), closed=CLOSED, suppliers=FIRMS))

    def pin(
        self, code: str, on: str, number: int = 1, when: str = "2026-12-31T12:00", **more: object
    ) -> Pinned:
        """Pin the job of that number of a task of TP-1."""
        with self.store.writing():
            new = NewPin(
                task=f"TP-1/{code}",
                key=f"TP-1/{code}#{number}",
                day=day(on),
                moment=parse_moment(when, ZONE),
                **({"due_on": None} | more),  # type: ignore[arg-type]
            )
            return pin(self._recorder(), new)

    def release(self, code: str, on: str | None = None, when: str = "2026-12-31T12:00") -> int:
        """Release the pinned job of a task of TP-1."""
        with self.store.writing():
            chosen = day(on) if on else None
            return release(self._recorder(), f"TP-1/{code}", chosen, parse_moment(when, ZONE))

    def days(self, on: date | None = None) -> dict[str, str]:
        """The day of each job that is pinned."""
        return {pin.key: str(pin.day) for pin in standing_pins(self.store, on)}


@pytest.fixture
def desk() -> Iterator[Desk]:
    """A shop without any entry."""
    book = Desk()
    yield book
    assert verify(book.store) == []


# --- pinning


def test_a_pin_stands_with_all_that_it_says(desk: Desk) -> None:
    assert desk.pin("monthly", "2027-01-06", why="  the  crane is here ") == Pinned(1)
    assert standing_pins(desk.store) == [
        Pin(1, "TP-1/monthly", "TP-1/monthly#1", day("2027-01-06"), "the crane is here")
    ]


REFUSED = [
    ("monthly", "2026-12-30", {}, "2026-12-30 is past; name a day from 2026-12-31 on"),
    ("monthly", "2027-01-05", {}, "2027-01-05 is no working day (closed, inventory); "
     "name Thu 2026-12-31 or Wed 2027-01-06"),
    ("monthly", "2027-01-09", {}, "2027-01-09 is no working day (no shift works on a Saturday); "
     "name Fri 2027-01-08 or Mon 2027-01-11"),
    # a Saturday and Sunday inside the closure are no days of it that anybody would miss
    ("monthly", "2027-01-02", {}, "(no shift works on a Saturday); "
     "name Thu 2026-12-31 or Wed 2027-01-06"),
    ("extinguishers", "2027-01-12", {"due_on": day("2027-01-11")},
     "TP-1/extinguishers is demanded by 29 CFR 1910.157(e)(2): it cannot be planned after its "
     "due date, 2027-01-11; name an earlier day"),
    ("extinguishers", "2027-01-12", {}, "its due date, which is not known"),
    ("nothing", "2027-01-12", {}, "no task 'TP-1/nothing'"),
    ("monthly", "2027-01-12", {"why": "\x1b[2J"}, "the reason holds characters that cannot be"),
    ("monthly", "2027-01-12", {"when": "2027-01-04"}, "2027-01-04"),  # not yet come
]  # fmt: skip


@pytest.mark.parametrize(("code", "on", "more", "message"), REFUSED)
def test_a_day_that_cannot_be_is_refused(
    desk: Desk, code: str, on: str, more: dict[str, object], message: str
) -> None:
    with pytest.raises(Refused) as refused:
        desk.pin(code, on, **more)  # type: ignore[arg-type]
    assert message in str(refused.value)
    assert list_entries(desk.store) == []


def test_the_nearest_working_days_are_none_of_the_past() -> None:
    """The shop shuts today already: the day before is a working day, but gone."""
    desk = Desk()
    closed = (Closure(day("12-31"), day("2027-01-05")),)
    with desk.store.writing():
        apply_shop(desk.store, replace(desk.shop, closed=closed), at("12-31T08:00"), "Dana")
    with pytest.raises(Refused, match=r"is no working day \(closed\); name Wed 2027-01-06$"):
        desk.pin("monthly", "2027-01-04")


@pytest.mark.parametrize("on", ["12-31", "2027-01-11"])
def test_an_authority_job_may_be_pinned_up_to_its_due_date(desk: Desk, on: str) -> None:
    assert desk.pin("extinguishers", on, due_on=day("2027-01-11")) == Pinned(1)


@pytest.mark.parametrize(
    ("code", "on", "warning"),
    [
        # 31 December and 21 days: 21 January
        ("yearly", "2027-01-20", "Outside press service asks for 21 days' notice and has 20; "
         "make sure that they come on Wed 2027-01-20"),
        ("yearly", "2027-01-21", None),
        ("monthly", "2026-12-31", None),  # in-house
    ],
)  # fmt: skip
def test_short_notice_is_a_warning_for_it_may_be_agreed(
    desk: Desk, code: str, on: str, warning: str | None
) -> None:
    assert desk.pin(code, on) == Pinned(1, (warning,) if warning else ())
    assert desk.days() == {f"TP-1/{code}#1": str(day(on))}


def test_a_job_of_a_retired_task_cannot_be_pinned(desk: Desk) -> None:
    with desk.store.writing():
        apply_shop(desk.store, replace(desk.shop, tasks=()), at("12-31T08:00"), "Dana")
    with pytest.raises(Refused, match="TP-1/monthly is retired since 2026-12-31"):
        desk.pin("monthly", "2027-01-06")


# --- which pins stand


def test_a_later_pin_of_the_job_replaces_the_one_before(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    desk.pin("monthly", "2027-02-08", number=2)
    desk.pin("monthly", "2027-01-07")
    assert desk.days() == {"TP-1/monthly#1": "2027-01-07", "TP-1/monthly#2": "2027-02-08"}


def test_later_is_when_it_was_said_not_when_it_was_entered(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06", when="2026-12-31T11:00")
    desk.pin("monthly", "2027-01-07", when="2026-12-31T10:00")
    assert desk.days() == {"TP-1/monthly#1": "2027-01-06"}


def test_a_released_job_is_pinned_no_more_and_the_one_it_replaced_neither(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    desk.pin("monthly", "2027-01-07")
    assert desk.release("monthly") == 3
    assert desk.days() == {}


def test_crossed_out_pins_and_releases_never_were(desk: Desk) -> None:
    """1: pin to the 6th, 2: pin to the 7th, 3: release of 2; then 3, 2 and 1 are crossed out."""
    desk.pin("monthly", "2027-01-06")
    desk.pin("monthly", "2027-01-07")
    desk.release("monthly")
    seen = []
    for number in (3, 2, 1):
        desk.void(number)
        seen.append(desk.days())
    assert seen == [{"TP-1/monthly#1": "2027-01-07"}, {"TP-1/monthly#1": "2027-01-06"}, {}]


def test_a_job_pinned_again_after_its_release_stands(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    desk.release("monthly")
    desk.pin("monthly", "2027-01-06")
    assert desk.days() == {"TP-1/monthly#1": "2027-01-06"}


def test_a_pin_cannot_be_crossed_out_twice(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    desk.void(1)
    with pytest.raises(Refused, match="entry 1 was crossed out already, by entry 2"):
        desk.void(1)


@pytest.mark.parametrize(
    ("on", "days"),
    [
        ("12-28", {}),
        ("12-29", {"TP-1/monthly#1": "2027-01-06"}),  # pinned on the 29th
        ("12-30", {"TP-1/monthly#1": "2027-01-07"}),  # and anew on the 30th
        ("12-31", {}),  # released on the 31st
    ],
)
def test_pins_of_a_day_are_as_they_were_known_then(
    desk: Desk, on: str, days: dict[str, str]
) -> None:
    desk.pin("monthly", "2027-01-06", when="2026-12-29")
    desk.pin("monthly", "2027-01-07", when="2026-12-30")
    desk.release("monthly")
    assert desk.days(day(on)) == days


def test_a_pin_whose_day_is_past_holds_nothing(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    assert desk.days(day("2027-01-06")) == {"TP-1/monthly#1": "2027-01-06"}
    assert desk.days(day("2027-01-07")) == {}
    desk.now = at("2027-01-07T12:00")
    with pytest.raises(Refused, match="TP-1/monthly is not pinned"):
        desk.release("monthly", when="2027-01-07")


# --- releasing


def test_nothing_pinned_is_nothing_to_release(desk: Desk) -> None:
    desk.pin("yearly", "2027-02-08")
    with pytest.raises(Refused, match="TP-1/monthly is not pinned; see 'pmtrack entries'"):
        desk.release("monthly")


def test_of_several_pins_the_day_says_which(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    desk.pin("monthly", "2027-02-08", number=2)
    with pytest.raises(Refused, match="pinned to Wed 2027-01-06, Mon 2027-02-08; say which day"):
        desk.release("monthly")
    with pytest.raises(Refused, match="not pinned to 2027-01-07, but to Wed 2027-01-06, Mon"):
        desk.release("monthly", "2027-01-07")
    desk.release("monthly", "2027-02-08")
    assert desk.days() == {"TP-1/monthly#1": "2027-01-06"}


def test_a_retired_task_can_still_be_released(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    with desk.store.writing():
        apply_shop(desk.store, replace(desk.shop, tasks=()), at("12-31T08:00"), "Dana")
    desk.release("monthly")
    assert desk.days() == {}


# --- in the list of entries


def test_entries_show_what_was_pinned_and_released(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06", why="crane")
    desk.release("monthly")
    desk.void(2)
    head = {"at": "2026-12-31T17:00:00Z", "by": "Dana", "day": "2026-12-31", "whole_day": False}
    assert list_entries(desk.store, "TP-1") == [
        {"entry": 1, "kind": "pin", **head, "task": "TP-1/monthly", "key": "TP-1/monthly#1",
         "pinned_to": "2027-01-06", "why": "crane", "voided": False},
        {"entry": 2, "kind": "release", **head, "target": 1, "task": "TP-1/monthly",
         "voided": True},
    ]  # fmt: skip
    assert [entry["kind"] for entry in list_entries(desk.store)] == ["pin", "release", "void"]
    assert list_entries(desk.store, "PB-1") == []


def test_a_release_still_to_come_is_refused(desk: Desk) -> None:
    desk.pin("monthly", "2027-01-06")
    with pytest.raises(Refused, match="2027-01-01"):
        desk.release("monthly", when="2027-01-01")
    assert desk.days() == {"TP-1/monthly#1": "2027-01-06"}
