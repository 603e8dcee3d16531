"""Records as the store keeps them: JSON text written before a field was there still reads."""

from datetime import UTC, date, datetime
from typing import Any

import pytest

from pmtrack.errors import Refused
from pmtrack.rules.revision import CalendarJob, Completed
from pmtrack.rules.shop import Part
from pmtrack.store.codec import to_date, to_instant
from pmtrack.store.records import decode, encode

JOB = CalendarJob("u-1", "TP-1/monthly", date(2027, 1, 4), date(2027, 1, 6), "Monthly", "Oil.", 7)
DONE = Completed(date(2027, 1, 4), datetime(2027, 1, 4, 15, 0, tzinfo=UTC), "Done (entry 5).")
OLD = (
    '{"uid":"u-1","task":"TP-1/monthly","day":"2027-01-04","due_on":"2027-01-06",'
    '"summary":"Monthly","text":"Oil.","reminder_days":7,"categories":[]}'
)


def test_a_field_that_came_later_has_its_default() -> None:
    assert decode(CalendarJob, OLD) == JOB


def test_a_field_without_a_default_cannot_be_absent() -> None:
    with pytest.raises(Refused, match="cannot be read"):
        decode(CalendarJob, OLD.replace('"reminder_days":7,', ""))


@pytest.mark.parametrize("job", [JOB, CalendarJob(**{**vars(JOB), "done": DONE})])
def test_a_record_reads_back_as_it_was(job: CalendarJob) -> None:
    assert decode(CalendarJob, encode(job)) == job


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"u-1"', "7"),  # a text field never holds a number
        ('"u-1"', "null"),
        ('"reminder_days":7', '"reminder_days":"7"'),
        ('"reminder_days":7', '"reminder_days":true'),
        ('"reminder_days":7', '"reminder_days":1e999'),
        ('"categories":[]', '"categories":"TP-1"'),
        ("2027-01-04", "9999-12-31"),  # a day more would leave the calendar
        ("2027-01-04", "0001-01-01"),
    ],
)
def test_what_was_never_written_is_damage(old: str, new: str) -> None:
    assert OLD.count(old) == 1
    with pytest.raises(Refused, match=r"the store is damaged: .* cannot be read"):
        decode(CalendarJob, OLD.replace(old, new))


@pytest.mark.parametrize("amount", ["1e999999999", "nan", "1/0", "", "9" * 5000, "1.5", "_1"])
def test_an_amount_is_a_fraction_and_nothing_else(amount: str) -> None:
    """Fraction itself takes powers of ten, at the price of all memory."""
    with pytest.raises(Refused, match="cannot be read"):
        decode(Part, f'{{"name":"x","quantity":"{amount}","unit":""}}')


@pytest.mark.parametrize("value", [None, 7, b"2027-01-04"])
def test_a_value_of_another_type_is_damage(value: Any) -> None:
    """A flipped bit in a row's header turns text into a number, bytes or NULL."""
    for read in (to_date, to_instant, lambda found: decode(CalendarJob, found)):
        with pytest.raises(Refused, match="the store is damaged"):
            read(value)
