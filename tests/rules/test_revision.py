"""What becomes of published calendar entries when the plan changes."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.rules.revision import (
    CalendarEntry,
    CalendarJob,
    Completed,
    Revised,
    differences,
    job_uid,
    revise,
)

FIRST = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
LATER = datetime(2026, 12, 15, 8, 0, tzinfo=UTC)
STORE = UUID("7b7f3f0e-58a1-4a0c-9a2e-0d6f6f3a1c55")
JOB = CalendarJob("u-1", "TP-1/monthly", date(2027, 1, 4), date(2027, 1, 6), "Monthly", "Oil.", 7)
MOVED = replace(JOB, day=date(2027, 1, 5))
PUBLISHED = CalendarEntry(JOB, 2, FIRST)
CANCELLED = CalendarEntry(JOB, 3, FIRST, cancelled=True)
ON_ITS_DAY = Completed(date(2027, 1, 4), datetime(2027, 1, 4, 15, 0, tzinfo=UTC), "Done (entry 5).")
EARLY = Completed(date(2026, 12, 29), datetime(2026, 12, 29, 15, 0, tzinfo=UTC), "Done (entry 4).")
DONE = replace(JOB, done=ON_ITS_DAY)
DONE_EARLY = replace(JOB, done=EARLY)


@pytest.mark.parametrize(
    ("before", "wanted", "done", "expected"),
    [  # RFC 5545 3.8.7.4 (2009): from 0, up with each significant revision
        pytest.param([], [JOB], None, CalendarEntry(JOB, 0, LATER), id="new"),
        pytest.param([PUBLISHED], [JOB], None, PUBLISHED, id="unchanged"),
        pytest.param([PUBLISHED], [MOVED], None, CalendarEntry(MOVED, 3, LATER), id="moved"),
        # RFC 5546 2.1.4 (2009): another STATUS counts up, as a to-do's does
        pytest.param([PUBLISHED], [], ON_ITS_DAY, CalendarEntry(DONE, 3, LATER), id="done"),
        pytest.param([PUBLISHED], [], EARLY, CalendarEntry(DONE_EARLY, 3, LATER), id="done early"),
        # RFC 5546 3.2.5 (2009): a cancellation counts up
        pytest.param([PUBLISHED], [], None, CalendarEntry(JOB, 3, LATER, True), id="fallen away"),
        pytest.param([CANCELLED], [], None, CANCELLED, id="cancelled before"),
        pytest.param(
            [CANCELLED], [], EARLY, CalendarEntry(DONE_EARLY, 4, LATER), id="cancelled, then done"
        ),
        pytest.param(
            [CANCELLED], [], replace(EARLY, along=True), CANCELLED, id="merged, then done"
        ),
        pytest.param([CANCELLED], [JOB], None, CalendarEntry(JOB, 4, LATER), id="back again"),
        pytest.param(
            [CANCELLED], [MOVED], None, CalendarEntry(MOVED, 4, LATER), id="back elsewhere"
        ),
        pytest.param([PUBLISHED], [JOB], EARLY, PUBLISHED, id="done but wanted"),
    ],
)
def test_an_entry_is_revised(
    before: list[CalendarEntry],
    wanted: list[CalendarJob],
    done: Completed | None,
    expected: CalendarEntry,
) -> None:
    assert revise(before, wanted, {"u-1": done} if done else {}, LATER) == [expected]


@pytest.mark.parametrize(
    ("wanted", "done", "expected"),
    [
        pytest.param([], EARLY, CalendarEntry(DONE_EARLY, 2, FIRST), id="still done"),
        pytest.param([], ON_ITS_DAY, CalendarEntry(DONE, 3, LATER), id="done on another day"),
        pytest.param(
            [],
            replace(EARLY, told="Done (entry 9)."),
            CalendarEntry(replace(JOB, done=replace(EARLY, told="Done (entry 9).")), 2, LATER),
            id="done by another entry of that day",
        ),
        pytest.param([JOB], None, CalendarEntry(JOB, 3, LATER), id="not done after all"),
        pytest.param([], None, CalendarEntry(JOB, 3, LATER, True), id="fell away instead"),
    ],
)
def test_what_was_told_as_done_is_revised(
    wanted: list[CalendarJob], done: Completed | None, expected: CalendarEntry
) -> None:
    before = [CalendarEntry(DONE_EARLY, 2, FIRST)]
    assert revise(before, wanted, {"u-1": done} if done else {}, LATER) == [expected]


def test_a_job_done_on_another_day_counts_as_done_and_not_as_moved() -> None:
    after = revise([PUBLISHED], [], {"u-1": EARLY}, LATER)
    assert differences([PUBLISHED], after) == Revised(added=0, moved=0, cancelled=0, done=1)
    assert differences(after, after) == Revised(0, 0, 0, 0)


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        ([PUBLISHED], [CANCELLED], Revised(0, 0, 1)),
        ([CANCELLED], [CANCELLED], Revised(0, 0, 0)),  # it fell away before
        ([], [CANCELLED], Revised(1, 0, 1)),
        ([], [PUBLISHED], Revised(1, 0, 0)),
        ([PUBLISHED], [CalendarEntry(MOVED, 3, LATER)], Revised(0, 1, 0)),
        ([PUBLISHED], [CalendarEntry(MOVED, 3, LATER, True)], Revised(0, 0, 1)),
    ],
)
def test_what_a_revision_changed_is_counted(
    before: list[CalendarEntry], after: list[CalendarEntry], expected: Revised
) -> None:
    assert differences(before, after) == expected


@pytest.mark.parametrize(
    "changed",
    [
        replace(JOB, text="Oil and filters."),
        replace(JOB, summary="Monthly service"),
        replace(JOB, reminder_days=3),
        replace(JOB, due_on=date(2027, 1, 7)),
        replace(JOB, categories=("TP-1",)),
    ],
)
def test_a_change_of_words_alone_gets_a_new_stamp_only(changed: CalendarJob) -> None:
    # CalConnect, iCalendar Recurrence Problems and Recommendations, 6.1.2: not for SUMMARY and such
    assert revise([PUBLISHED], [changed], {}, LATER) == [CalendarEntry(changed, 2, LATER)]


def test_a_change_outranks_the_old_entry_even_if_the_clock_was_set_back() -> None:
    # RFC 5546 2.1.5 (2009): of equal SEQUENCE the later DTSTAMP wins; DTSTAMP has whole seconds
    changed = replace(JOB, text="Oil and filters.")
    (entry,) = revise([PUBLISHED], [changed], {}, FIRST - timedelta(days=1))
    assert (entry.sequence, entry.stamp) == (2, FIRST + timedelta(seconds=1))


def test_a_stamp_is_kept_in_whole_seconds_of_utc() -> None:
    stamp = datetime(2026, 12, 15, 3, 0, 0, 999999, tzinfo=timezone(timedelta(hours=-5)))
    (entry,) = revise([], [JOB], {}, stamp)
    assert (entry.stamp, entry.stamp.tzinfo) == (LATER, UTC)


def test_a_stamp_without_a_time_zone_is_a_defect() -> None:
    with pytest.raises(ValueError, match="time zone"):
        CalendarEntry(JOB, 0, FIRST.replace(tzinfo=None))


def test_two_jobs_cannot_share_a_uid() -> None:
    with pytest.raises(ValueError, match="share the UID u-1"):
        revise([], [JOB, MOVED], {}, LATER)


def test_entries_come_by_day_then_task_then_uid() -> None:
    jobs = [
        replace(JOB, uid="d", task="TP-1/weekly"),
        replace(JOB, uid="c"),
        replace(JOB, uid="b"),
        replace(JOB, uid="e", day=date(2027, 1, 5), task="LC-1/daily"),
        replace(JOB, uid="f", day=date(2027, 1, 3), task="XX-1/daily"),
    ]
    assert [entry.job.uid for entry in revise([], jobs, {}, FIRST)] == ["f", "b", "c", "d", "e"]


def test_a_uid_is_the_same_for_the_same_job_and_tells_nothing_of_it() -> None:
    uid = job_uid(STORE, "TP-1/monthly/2027-01")
    assert uid == job_uid(STORE, "TP-1/monthly/2027-01")
    assert str(UUID(uid)) == uid  # RFC 7986 5.3 (2016): a UUID, no host, no user
    assert uid != job_uid(STORE, "TP-1/monthly/2027-02")
    assert uid != job_uid(UUID(int=1), "TP-1/monthly/2027-01")


DAYS = st.integers(0, 3).map(lambda days: date(2027, 1, 4) + timedelta(days=days))
JOBS = st.builds(
    replace,
    st.just(JOB),
    uid=st.sampled_from("abcd"),
    day=DAYS,
    text=st.sampled_from(["Oil.", "Filters."]),
)
PLANS = st.lists(JOBS, unique_by=lambda job: job.uid, max_size=4)
SETTLED = st.dictionaries(st.sampled_from("abcd"), st.sampled_from([ON_ITS_DAY, EARLY]))
HISTORIES = st.lists(st.tuples(PLANS, SETTLED), min_size=1, max_size=6)


@given(history=HISTORIES, gaps=st.lists(st.integers(-5, 5), min_size=6, max_size=6))
def test_the_laws_of_revision_hold_over_any_history(
    history: list[tuple[list[CalendarJob], dict[str, Completed]]], gaps: list[int]
) -> None:
    entries: list[CalendarEntry] = []
    stamp = FIRST
    for (plan, settled), gap in zip(history, gaps, strict=False):
        stamp += timedelta(seconds=gap)
        revised = revise(entries, plan, settled, stamp)
        assert revise(revised, plan, settled, stamp + timedelta(days=1)) == revised
        assert {e.job for e in revised if not e.cancelled} >= set(plan)
        assert_follows(entries, revised)
        entries = revised


def assert_follows(before: list[CalendarEntry], after: list[CalendarEntry]) -> None:
    """Fails where an entry was lost, or changed without outranking what it replaces."""
    now = {entry.job.uid: entry for entry in after}
    for old in before:
        new = now[old.job.uid]
        assert new == old or (new.sequence, new.stamp) > (old.sequence, old.stamp)
        assert new.stamp >= old.stamp
        if standing(new) != standing(old):
            assert new.sequence == old.sequence + 1
        else:
            assert new.sequence == old.sequence


def standing(entry: CalendarEntry) -> tuple[date, bool, bool]:
    """What of an entry is significant: its day, whether it is off, and whether it is done."""
    return entry.job.shown_on, entry.cancelled, entry.job.done is not None


def test_a_revision_says_done_only_where_told() -> None:
    assert Revised(added=1, moved=2, cancelled=3).done == 0
