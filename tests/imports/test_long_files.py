"""A file of any length: a block of rows at a time, with the same end as single commands."""

import random
import tracemalloc
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pmtrack.actions.operator import log_shift
from pmtrack.actions.recorder import NewShift, Recorder
from pmtrack.store.upkeep import verify

HEADER = "machine,shift,date,by,parts,hits,bends"


def shift_rows(days: int) -> list[str]:
    """Four rows a day, in the order of time, up to the day before yesterday."""
    first = date(2026, 11, 24) - timedelta(days)
    return [
        f"{machine},{shift},{first + timedelta(n)},Dana,{n},{hits},{bends}"
        for n in range(days)
        for shift in ("night", "day")
        for machine, hits, bends in (("TP-1", n % 7, ""), ("PB-1", "", 2 * n))
    ]


def by_day(rows: list[str], backwards: bool = False) -> list[str]:
    """The rows of a day as they stand, the days in one order or the other."""
    return sorted(rows, key=lambda row: row.split(",")[2], reverse=backwards)


def test_a_long_file_that_begins_with_the_latest_day_is_taken_from_the_first(
    desk: Any, other_desk: Any
) -> None:
    rows = shift_rows(600)
    assert other_desk.take("shifts", "\n".join([HEADER, *rows])) == 2400
    assert desk.take("shifts", "\n".join([HEADER, *by_day(rows, backwards=True)])) == 2400
    assert desk.dump() == other_desk.dump()
    assert verify(desk.store) == []


def test_the_usage_of_a_long_file_in_any_order_is_sound(desk: Any, other_desk: Any) -> None:
    rows = shift_rows(600)
    other_desk.take("shifts", "\n".join([HEADER, *rows]))
    random.Random(1).shuffle(rows)
    with desk.store.writing():  # in two files, the later of which holds earlier days too
        for part in (rows[:1100], rows[1100:]):
            desk.hand_in("shifts", "\n".join([HEADER, *part]))
    assert desk.usage() == other_desk.usage()
    assert verify(desk.store) == []


def test_every_row_of_a_long_file_that_is_there_already_is_named(desk: Any) -> None:
    rows = shift_rows(600)
    desk.take("shifts", "\n".join([HEADER, *rows[:1500]]))
    faults = desk.faults("shifts", "\n".join([HEADER, *rows, rows[-1]]))
    assert len(faults) == 1501
    assert faults[0].startswith("f.csv:2: in the store already, as entry 1;")
    assert faults[-1].startswith("f.csv:2402: the same as line 2401;")


def test_counts_of_one_shift_are_added_up_over_blocks(desk: Any) -> None:
    """120 a minute over 8 hours is 57,600: 1,152 times 50, the row after it is one too many."""
    rows = [f"TP-1,day,2026-11-24,Dana,{n},50," for n in range(1153)]
    assert desk.faults("shifts", "\n".join([HEADER, *rows])) == [
        "f.csv:1154: TP-1 50 hits and the 57,600 already logged for that shift are more than the "
        "machine can make in a shift of 8 h: at most 57,600 at 120 per minute; "
        "correct it, or add yes under confirmed if it is right"
    ]
    assert desk.take("shifts", "\n".join([HEADER, *rows[:-1]])) == 1152


@pytest.mark.parametrize("backwards", [False, True])
def test_memory_does_not_grow_with_the_rows(desk: Any, tmp_path: Path, backwards: bool) -> None:
    """Of 6,000 rows each would take 2 kB and more if all were held: 12 MB."""
    path = tmp_path / "long.csv"
    path.write_text("\n".join([HEADER, *by_day(shift_rows(1500), backwards)]))
    with path.open("rb") as file, desk.undone():
        tracemalloc.start()
        desk.hand_in("shifts", file)
        _, peak = tracemalloc.get_traced_memory()
        tracemalloc.stop()
    assert peak < 5 * 10**6


SHIFTS = st.tuples(st.sampled_from(["day", "night"]), st.integers(2, 12), st.integers(0, 900))


@settings(max_examples=25, deadline=None)
@given(first=st.lists(SHIFTS, max_size=6), file=st.lists(SHIFTS, min_size=1, max_size=12),
       reading=st.integers(2, 12))  # fmt: skip
def test_a_file_makes_the_usage_that_single_commands_make(
    shared_desk: Any, first: list[Any], file: list[Any], reading: int
) -> None:
    """Whatever was there before, and however few rows are held together."""

    dial = f"machine,at,by,hits\nTP-1,2026-11-{reading:02},Dana,1000000\n"
    with patch("pmtrack.imports.rows.BLOCK", 2), shared_desk.undone():
        log_each(shared_desk, first)
        shared_desk.hand_in("dials", dial)
        rows = [f"TP-1,{s},2026-11-{day:02},Dana,,{hits}," for s, day, hits in file]
        shared_desk.hand_in("shifts", "\n".join([HEADER, *rows]), again=True)
        at_once = shared_desk.usage()
        assert verify(shared_desk.store) == []
    with shared_desk.undone():
        log_each(shared_desk, first)
        shared_desk.hand_in("dials", dial)
        log_each(shared_desk, file)
        assert shared_desk.usage() == at_once


def log_each(desk: Any, shifts: list[tuple[str, int, int]]) -> None:
    """Log each shift by its own command."""
    for shift, day, hits in shifts:
        recorder = Recorder(desk.view(), desk.now, "Dana")
        log_shift(recorder, NewShift("TP-1", shift, date(2026, 11, day), {"hits": Fraction(hits)}))
