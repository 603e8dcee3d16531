"""What holds for any file: no bytes break the import, and the order of rows says nothing."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pmtrack.errors import PmtrackError

GOOD = {
    "shifts": "machine,shift,date,by,parts,scrap,program,material,confirmed,hits,bends\n"
    'TP-1,day,2026-11-24,Dana,250,3,KIOSK-DOOR,mild,no,"41,200",\n'
    "PB-1,night,2026-11-23,Lee,,,,,,,1800.5\n",
    "dials": "machine,at,by,wrapped,exchanged,hits,hours\n"
    "TP-1,2026-11-24T08:00,Dana,,,1000,20\nTP-1,2026-11-24,Dana,yes,,5,\n",
    "stops": "machine,from,to,cause,planned,by\n"
    "TP-1,2026-11-24T10:00,2026-11-24T11:00,leak,yes,Dana\nPB-1,2026-11-24T10:00Z,,x,,Lee\n",
    "completions": "task,at,by,minutes,note,hits\n"
    'TP-1/monthly,2026-11-24,Dana,90,"two\r\nlines",1000\nPB-1/yearly,2026-11-20,Lee,,,\n',
    "tool-counts": "tool,at,hits,by,material\nRD-10,2026-11-24,4000,Dana,mild\n",
    "tool-events": "tool,at,event,by,mm,why,machine,station\n"
    "RD-10,2026-11-24,sharpen,Dana,0.2,burr,,\nRD-10,2026-11-20,fit,Dana,,,,12\n",
}
BITS = st.one_of(
    st.binary(max_size=3),
    st.sampled_from([b",", b"\n", b"\r", b'"', b";", b"-", b"0", b"9" * 15, b"yes", b"T25:00"]),
    st.sampled_from(["\u2028", "\u0661", "\u202e", "e\u0301"]).map(str.encode),
)
CUTS = st.lists(st.tuples(st.integers(0, 300), st.integers(0, 8), BITS), min_size=1, max_size=4)


class _UndoneError(Exception):
    """Ends a transaction so that nothing of it stays."""


@contextmanager
def undone(desk: Any) -> Iterator[None]:
    """One transaction that is rolled back."""
    with suppress(_UndoneError), desk.store.writing():
        yield
        raise _UndoneError


def hand_in(desk: Any, kind: str, data: bytes) -> None:
    """Import and undo it; only a refusal may come of it, each fault a printable line."""
    from pmtrack.actions.importing import import_file

    from .conftest import NOW

    with undone(desk), suppress(PmtrackError):
        import_file(desk.view(), kind, "f.csv", data, NOW, None, False)


@pytest.mark.parametrize("kind", GOOD)
@given(data=st.one_of(st.binary(), st.text().map(str.encode)))
def test_any_bytes_are_taken_or_refused(shared_desk: Any, kind: str, data: bytes) -> None:
    hand_in(shared_desk, kind, data)


@pytest.mark.parametrize("kind", GOOD)
@given(cuts=CUTS)
def test_a_spoiled_file_is_taken_or_refused(
    shared_desk: Any, kind: str, cuts: list[tuple[int, int, bytes]]
) -> None:
    data = GOOD[kind].encode()
    for place, length, bits in cuts:
        data = data[:place] + bits + data[place + length :]
    hand_in(shared_desk, kind, data)
