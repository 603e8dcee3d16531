"""Which jobs are done and by what, worked by hand; June 2026 begins on a Monday."""

import pytest

from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.settled import Deed, Settled, settled_jobs
from pmtrack.rules.shop import OneOff, Task
from tests.build import calendars, day, task

MONTHLY = task("1 month", code="monthly")
LOOK = task(on="FREQ=MONTHLY;BYDAY=1MO", code="look", starts=day("01-05"))
JOB_9 = task(code="job-9", once=OneOff(day("06-20")))


def settled(text: str) -> Settled:
    """A deed; with a `+`, one that settled an earlier date too."""
    return Settled(deed(text.removesuffix(" +")), along=text.endswith(" +"))


def deed(text: str) -> Deed:
    """`monthly 06-03 7`: done on that date by entry 7; without an entry, by `last_done`."""
    code, on, *entry = text.split()
    number = int(entry[0]) if entry else None
    source = f"entry {number}" if entry else f"last_done of TP-1/{code}"
    return Deed(f"TP-1/{code}", Base(Moment(day(on)), source, entry=number))


@pytest.mark.parametrize(
    ("job", "deeds", "expected"),
    [
        pytest.param(MONTHLY, [], {}, id="never done"),
        pytest.param(MONTHLY, ["monthly 05-02"], {}, id="what came before pmtrack is no job of it"),
        pytest.param(
            MONTHLY,
            ["monthly 05-04 1", "monthly 06-03 2"],
            {"monthly#1": "monthly 05-04 1", "monthly#2": "monthly 06-03 2"},
            id="numbered by its days",
        ),
        pytest.param(  # entry 3 came late: what was the first job is now the second
            MONTHLY,
            ["half-year 05-04 3", "monthly 06-03 2"],
            {"monthly#1": "half-year 05-04 3", "monthly#2": "monthly 06-03 2"},
            id="entered out of order",
        ),
        pytest.param(
            MONTHLY,
            ["half-year 06-03 1", "monthly 06-03 2", "monthly 06-03 4"],
            {"monthly#1": "monthly 06-03 2"},
            id="twice a day is one job, its own completion first",
        ),
        pytest.param(LOOK, [], {}, id="no look yet"),
        pytest.param(  # 5 January, 2 February, 2 March; a lead of 2 to 3 days
            LOOK,
            ["look 01-05 1", "look 02-02 2"],
            {"look@2026-01-05": "look 01-05 1", "look@2026-02-02": "look 02-02 2"},
            id="on its dates",
        ),
        pytest.param(
            LOOK,
            ["look 03-02 5", "look 04-06 6"],
            {
                "look@2026-01-05": "look 03-02 5",
                "look@2026-02-02": "look 03-02 5 +",
                "look@2026-03-02": "look 03-02 5 +",
                "look@2026-04-06": "look 04-06 6",
            },
            id="the late look of January settles those missed since",
        ),
        pytest.param(  # entry 6 came late: the look of January was on time
            LOOK,
            ["look 01-05 6", "look 03-02 5"],
            {
                "look@2026-01-05": "look 01-05 6",
                "look@2026-02-02": "look 03-02 5",
                "look@2026-03-02": "look 03-02 5 +",
            },
            id="a late entry gives a completion to another date",
        ),
        pytest.param(
            LOOK,
            ["look 02-02", "look 03-02 5"],
            {
                "look@2026-01-05": "look 02-02",
                "look@2026-02-02": "look 02-02 +",
                "look@2026-03-02": "look 03-02 5",
            },
            id="last_done settles dates too",
        ),
        pytest.param(
            LOOK,
            ["look 01-05 1", "look 01-12 2"],
            {"look@2026-01-05": "look 01-05 1"},
            id="done again in between settles no other date",
        ),
        pytest.param(JOB_9, ["job-9 06-12 8"], {"job-9": "job-9 06-12 8"}, id="a one-off job"),
        pytest.param(
            JOB_9,
            ["job-9 06-12 8", "job-9 06-13 9"],
            {"job-9": "job-9 06-12 8"},
            id="a one-off job done twice",
        ),
        pytest.param(JOB_9, [], {}, id="a one-off job not done"),
    ],
)
def test_the_jobs_that_are_done(job: Task, deeds: list[str], expected: dict[str, str]) -> None:
    found = settled_jobs(job, day("01-02"), [deed(text) for text in deeds], calendars())
    assert found == {f"TP-1/{key}": settled(text) for key, text in expected.items()}
