"""Which jobs are done and by what, worked by hand; June 2026 begins on a Monday."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.facts import Base, Moment
from pmtrack.rules.settled import Deed, Settled, Times, is_skipped, job_is_done, settled_jobs
from pmtrack.rules.shop import OneOff, Task
from tests.build import ONE_DAY, calendars, day, shop, task

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


DEEDS = st.lists(
    st.tuples(
        st.sampled_from(["own", "half-year"]),
        st.integers(1, 364).map(lambda n: day("01-01") + n * ONE_DAY),
        st.sampled_from(["", " 1"]),
    ),
    max_size=8,
)
SCHEDULES = ["FREQ=MONTHLY;BYDAY=1MO", "FREQ=WEEKLY;BYDAY=SA,TU", "FREQ=MONTHLY;BYMONTHDAY=31"]
JOBS = st.one_of(
    st.sampled_from([MONTHLY, JOB_9]),
    st.builds(
        lambda on, lead: task(on=on, code="look", starts=day("01-05"), lead=lead),
        st.sampled_from(SCHEDULES),
        st.sampled_from(["", "10 days", "100%"]),
    ),
)


@given(JOBS, DEEDS, st.integers(0, 400))
def test_a_job_is_done_where_a_deed_settled_it(
    job: Task, told: list[tuple[str, date, str]], turn: int
) -> None:
    """Told by how often and when last alone; a one-off job is only ever done by an entry."""
    code = {"own": job.code}
    listed = sorted(told, key=lambda one: one[1])
    deeds = [deed(f"{code.get(who, who)} {on}{entry}") for who, on, entry in listed]
    if job.once:
        deeds = [one for one in deeds if one.base.entry is not None]
    days = {one.base.moment.day for one in deeds if one.base.entry is not None}
    times = Times(len(days), max((one.base.moment.day for one in deeds), default=None))
    where = calendars(shop("04-06..04-10", "08-03..08-31"))
    done = settled_jobs(job, day("01-02"), deeds, where)
    keys = [*done, job.name, f"{job.name}#{turn}", f"{job.name}@{day('01-05') + turn * ONE_DAY}"]
    for key in keys:
        assert job_is_done(job, key, day("01-02"), times, where) == (key in done)


@pytest.mark.parametrize(
    ("job", "planned", "done", "skipped"),
    [
        (MONTHLY, "06-03", "06-10", True),
        (MONTHLY, "06-10", "06-10", True),  # that day's deed was another job of the row
        (MONTHLY, "06-11", "06-10", False),
        (MONTHLY, "06-03", "", False),  # never done: it is late, or to come
        (LOOK, "06-01", "06-10", False),  # a date of a schedule is settled by its own rule
        (JOB_9, "06-03", "06-10", False),
    ],
)
def test_a_planned_job_of_an_interval_is_skipped_by_a_later_deed(
    job: Task, planned: str, done: str, skipped: bool
) -> None:
    assert is_skipped(job, day(planned), day(done) if done else None) == skipped
