"""What names a job."""

from datetime import date

import pytest

from pmtrack.rules.job_key import in_row, on_date, place_in_row, task_of

MONTHLY = "TP-1/monthly"


@pytest.mark.parametrize(
    ("key", "text"),
    [
        (in_row(MONTHLY, 4), "TP-1/monthly#4"),
        (on_date(MONTHLY, date(2027, 1, 4)), "TP-1/monthly@2027-01-04"),
        ("TP-1/job-9", "TP-1/job-9"),  # a one-off
    ],
)
def test_a_key_tells_its_task(key: str, text: str) -> None:
    """The texts are in stores, and calendars know their events by them: they must not change."""
    assert key == text
    assert task_of(key) == text.partition("#")[0].partition("@")[0]


@pytest.mark.parametrize(
    ("key", "place"),
    [
        ("TP-1/monthly#4", 4),
        ("TP-1/monthly#", None),
        ("TP-1/monthly#x", None),
        ("TP-1/monthly", None),
        ("TP-1/weekly#4", None),
        ("TP-1/monthly@2027-01-04", None),
    ],
)
def test_a_key_tells_its_place_in_the_row(key: str, place: int | None) -> None:
    assert place_in_row(MONTHLY, key) == place
