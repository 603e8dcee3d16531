"""Records as the store keeps them: JSON text written before a field was there still reads."""

from datetime import UTC, date, datetime

import pytest

from pmtrack.errors import Refused
from pmtrack.rules.revision import CalendarJob, Completed
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
