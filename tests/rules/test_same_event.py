"""Which published event a job is, when jobs are numbered anew."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.job_key import in_row, on_date, task_of
from pmtrack.rules.revision import CalendarEntry, CalendarJob, Completed, revise, row_of
from pmtrack.rules.same_event import Identified, Told, Uids, identify

AT = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
LATER = AT + timedelta(days=40)
MONDAY = date(2026, 12, 14)
WEEK = timedelta(days=7)


def monday(number: int) -> date:
    """14 December is the first, 4 January the fourth."""
    return MONDAY + (number - 1) * WEEK


def uid(key: str) -> str:
    """The UID of a key, so that a test can be read."""
    return f"uid of {key}"


def job(key: str, day: date, known_as: str | None = None) -> CalendarJob:
    """A job that is called by its own key, or by that of another."""
    task = task_of(key)
    return CalendarJob(uid(known_as or key), task, day, day, task, "", 1, key=key)


def weekly(place: int, day: date) -> CalendarJob:
    """The job of a weekly task with a place in its row."""
    return job(in_row("A/w", place), day)


def event(job: CalendarJob, done: date | None = None, cancelled: bool = False) -> CalendarEntry:
    """What was published of a job."""
    return CalendarEntry(replace(job, done=deed(done) if done else None), 0, AT, cancelled)


def deed(day: date) -> Completed:
    """That a job was done on a day."""
    return Completed(day, datetime(day.year, day.month, day.day, 12, tzinfo=UTC), f"Done {day}.")


def found(
    events: Iterable[CalendarEntry],
    wanted: Iterable[CalendarJob] = (),
    done: dict[str, date] | None = None,
    perhaps: Iterable[CalendarJob] = (),
) -> Identified:
    """What the rule finds."""
    published = list(events)
    told = Told(list(wanted), {k: deed(d) for k, d in (done or {}).items()}, list(perhaps))
    return identify(published, told, Uids(uid, {entry.job.uid for entry in published}))


def by_key(told: Identified) -> dict[str, str]:
    """The key whose UID each job has, by the job's key."""
    return {one.key: one.uid.removeprefix("uid of ") for one in told.wanted}


def test_a_first_calendar_has_the_uids_of_the_keys() -> None:
    told = found([], [weekly(1, monday(1)), weekly(2, monday(2))])
    assert by_key(told) == {"A/w#1": "A/w#1", "A/w#2": "A/w#2"}
    assert (told.events, told.settled) == ([], {})


def test_after_a_skipped_week_each_monday_keeps_its_event() -> None:
    # planned for the first to the sixth Monday; the first was skipped, the next two were done, so
    # that the fourth is the third job
    events = [event(weekly(place, monday(place))) for place in range(1, 7)]
    wanted = [weekly(place, monday(place + 1)) for place in (3, 4, 5)]
    told = found(events, wanted, {"A/w#1": monday(2), "A/w#2": monday(3)})
    assert by_key(told) == {"A/w#3": "A/w#4", "A/w#4": "A/w#5", "A/w#5": "A/w#6"}
    assert told.settled == {uid("A/w#2"): deed(monday(2)), uid("A/w#3"): deed(monday(3))}
    keys = [event.job.key for event in told.events]
    assert keys == ["A/w#1", "A/w#1", "A/w#2", "A/w#4", "A/w#5", "A/w#6"]
    entries = revise(told.events, told.wanted, told.settled, LATER)
    assert [entry.job.day for entry in entries if entry.cancelled] == [monday(1)]
    assert [entry.sequence for entry in entries] == [1, 1, 1, 0, 0, 0]


def test_an_event_goes_on_under_the_key_that_its_job_has_now() -> None:
    first = found([event(weekly(4, monday(4)))], [weekly(3, monday(4))])
    (entry,) = revise([event(weekly(4, monday(4)))], first.wanted, {}, LATER)
    assert (entry.job.uid, entry.job.key) == (uid("A/w#4"), "A/w#3")
    moved = found([entry], [weekly(3, monday(4) + timedelta(days=2))])
    assert by_key(moved) == {"A/w#3": "A/w#4"}
    done = found([entry], [], {"A/w#3": monday(4) - timedelta(days=1)})
    assert done.settled.keys() == {uid("A/w#4")}
    assert [one.job.key for one in done.events] == ["A/w#3"]


def test_a_job_whose_uid_went_to_another_gets_one_that_was_never_told() -> None:
    taken = [event(weekly(2, monday(2))), event(job("A/w#9", monday(9), "A/w#3 again 2"))]
    told = found(taken, [weekly(1, monday(2)), weekly(2, monday(3)), weekly(3, monday(4))])
    assert by_key(told) == {"A/w#1": "A/w#2", "A/w#2": "A/w#2 again 2", "A/w#3": "A/w#3"}
    taken[0] = event(weekly(3, monday(2)))
    told = found(taken, [weekly(1, monday(2)), weekly(3, monday(4))])
    assert by_key(told) == {"A/w#1": "A/w#3", "A/w#3": "A/w#3 again 3"}


@pytest.mark.parametrize(
    ("events", "wanted", "expected"),
    [
        pytest.param(
            [event(weekly(1, monday(1)))], weekly(1, monday(2)), "A/w#1", id="moved: by key"
        ),
        pytest.param(
            [event(replace(weekly(1, monday(1)), key=""))],
            weekly(1, monday(2)),
            "A/w#1",
            id="told before keys were kept",
        ),
        pytest.param(
            [event(weekly(1, monday(1))), event(weekly(2, monday(2)), cancelled=True)],
            weekly(1, monday(2)),
            "A/w#1",
            id="an open one with its key before a cancelled one on its day",
        ),
        pytest.param(
            [event(weekly(2, monday(2)), cancelled=True), event(weekly(3, monday(3)))],
            weekly(1, monday(2)),
            "A/w#2",
            id="a cancelled one on its day comes back",
        ),
        pytest.param(
            [event(weekly(1, monday(1)), cancelled=True)],
            weekly(1, monday(2)),
            "A/w#1",
            id="a cancelled one with its key comes back",
        ),
        pytest.param(
            [event(weekly(1, monday(2)), done=monday(1))],
            weekly(1, monday(2)),
            "A/w#1",
            id="crossed out: it is open again",
        ),
        pytest.param(
            [event(job("A/w#1", monday(2), "A/w#0")), event(weekly(2, monday(2)))],
            weekly(2, monday(2)),
            "A/w#2",
            id="of two on its day, the one with its key",
        ),
        pytest.param(
            [event(job("B/w#1", monday(2)))], weekly(1, monday(2)), "A/w#1", id="another task"
        ),
        pytest.param(
            [event(job("firm 2027-Q1 visit 2", monday(2)))],
            job("firm 2027-Q1 visit 3", monday(2)),
            "firm 2027-Q1 visit 2",
            id="a visit numbered anew",
        ),
        pytest.param(
            [event(job("firm 2026-Q4 visit 1", monday(2)))],
            job("firm 2027-Q1 visit 1", monday(2)),
            "firm 2027-Q1 visit 1",
            id="a visit of another quarter",
        ),
    ],
)
def test_a_job_is_the_event_on_its_day_or_the_one_with_its_key(
    events: list[CalendarEntry], wanted: CalendarJob, expected: str
) -> None:
    assert by_key(found(events, [wanted])) == {wanted.key: expected}


def test_a_job_done_on_another_day_is_known_by_its_key() -> None:
    told = found(
        [event(weekly(1, monday(2))), event(weekly(2, monday(3)))],
        [weekly(2, monday(3))],
        {"A/w#1": monday(1)},
    )
    assert told.settled.keys() == {uid("A/w#1")}
    assert by_key(told) == {"A/w#2": "A/w#2"}


def test_of_two_events_with_the_key_of_what_was_done_the_cancelled_one_comes_last() -> None:
    gone = event(job("A/w#1", monday(3), "A/w#0"), cancelled=True)
    told = found([gone, event(weekly(1, monday(2)))], [], {"A/w#1": monday(1)})
    assert told.settled.keys() == {uid("A/w#1")}


def test_what_was_told_as_done_stays_when_an_earlier_job_comes_out() -> None:
    # done on the first and the second Monday; then it comes out that it was also done before them
    before = [
        event(weekly(1, monday(1)), done=monday(1)),
        event(weekly(2, monday(2)), done=monday(2)),
        event(weekly(3, monday(3))),
    ]
    done = {"A/w#1": monday(0), "A/w#2": monday(1), "A/w#3": monday(2)}
    told = found(before, [weekly(4, monday(3))], done)
    assert told.settled == {uid("A/w#1"): deed(monday(1)), uid("A/w#2"): deed(monday(2))}
    assert by_key(told) == {"A/w#4": "A/w#3"}


def test_dates_of_a_schedule_are_done_by_their_keys_alone() -> None:
    # one deed on the second Monday settles that date and the one before
    keys = [on_date("A/s", monday(1)), on_date("A/s", monday(2))]
    events = [event(job(keys[0], monday(1))), event(job(keys[1], monday(2)))]
    told = found(events, [], dict.fromkeys(keys, monday(2)))
    assert [one.job.key for one in told.events] == keys
    assert told.settled.keys() == {uid(key) for key in keys}


def test_a_job_of_another_quarter_is_told_only_where_an_event_of_it_is() -> None:
    elsewhere = [weekly(1, monday(1)), weekly(2, monday(9))]
    told = found([event(weekly(1, monday(3)))], [], perhaps=elsewhere)
    assert by_key(told) == {"A/w#1": "A/w#1"}


DAYS = st.integers(0, 4).map(monday)
KEYS = st.builds(in_row, st.sampled_from(["A/w", "B/w"]), st.integers(1, 5)) | st.builds(
    on_date, st.just("C/s"), DAYS
)
WANTED = st.dictionaries(KEYS, DAYS, max_size=6)
PLANS = st.lists(st.tuples(WANTED, WANTED), min_size=1, max_size=5)


@given(history=PLANS)
def test_no_uid_comes_twice_and_an_unmoved_day_is_no_change(
    history: list[tuple[dict[str, date], dict[str, date]]],
) -> None:
    entries: list[CalendarEntry] = []
    for number, (wanted, done) in enumerate(history):
        plan = {key: day for key, day in wanted.items() if is_to_come(key, day, done)}
        told = found(entries, [job(key, day) for key, day in plan.items()], done)
        uids = [one.uid for one in told.wanted] + list(told.settled)
        assert len(set(uids)) == len(uids)
        assert {one.key: one.day for one in told.wanted} == plan
        after = revise(told.events, told.wanted, told.settled, LATER + timedelta(days=number))
        assert_unmoved(entries, after, told)
        told_again = found(after, [job(key, day) for key, day in plan.items()], done)
        assert told_again.wanted == told.wanted
        assert [e.job.key for e in told_again.events] == [e.job.key for e in after]
        entries = after


def is_to_come(key: str, day: date, done: dict[str, date]) -> bool:
    """Whether a plan can have a job: it is not done, and its task was not done on a later day."""
    return key not in done and all(
        day > deed for one, deed in done.items() if task_of(one) == task_of(key)
    )


def assert_unmoved(
    before: list[CalendarEntry], after: list[CalendarEntry], told: Identified
) -> None:
    """Fails where a task has a job on a day on which it had one, and an event of them changed."""
    had, stayed = Counter[tuple[str, date]](), Counter[tuple[str, date]]()
    now = {entry.job.uid: entry for entry in after}
    for old in before:
        if old.is_open and old.job.uid not in told.settled:
            had[old.job.row, old.job.day] += 1
            stayed[old.job.row, old.job.day] += now[old.job.uid] == old
    has = Counter((row_of(one.task), one.day) for one in told.wanted)
    for on in had:
        assert stayed[on] == min(had[on], has[on])
