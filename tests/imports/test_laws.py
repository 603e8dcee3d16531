"""What holds for any file: no bytes break the import, and the order of rows says nothing."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

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
    st.sampled_from(
        [b",", b"\n", b"\r", b'"', b";", b"-", b"0", b"9" * 15, b"1000000000000", b"yes", b"T25:00"]
    ),
    st.sampled_from(["\u2028", "\u0661", "\u202e", "e\u0301"]).map(str.encode),
)
CUTS = st.lists(st.tuples(st.integers(0, 300), st.integers(0, 8), BITS), min_size=1, max_size=4)


@pytest.mark.parametrize("kind", GOOD)
@given(data=st.one_of(st.binary(), st.text().map(str.encode)))
def test_any_bytes_are_taken_or_refused(shared_desk: Any, kind: str, data: bytes) -> None:
    shared_desk.usage_with([(kind, data)])  # a fault is a printable line, and all that is raised


@pytest.mark.parametrize("kind", GOOD)
@given(cuts=CUTS)
def test_a_spoiled_file_is_taken_or_refused(
    shared_desk: Any, kind: str, cuts: list[tuple[int, int, bytes]]
) -> None:
    data = GOOD[kind].encode()
    for place, length, bits in cuts:
        data = data[:place] + bits + data[place + length :]
    shared_desk.usage_with([(kind, data)])  # a fault is a printable line, and all that is raised


SLOTS = st.tuples(st.sampled_from(["day", "night"]), st.integers(2, 24))
COUNTS = st.dictionaries(SLOTS, st.integers(0, 60_000), min_size=2, max_size=8)
TIMES = st.tuples(st.integers(1, 24), st.integers(0, 23), st.integers(0, 59))
DIALS = st.dictionaries(
    TIMES, st.tuples(st.integers(0, 9), st.sampled_from(["", "yes", "yes"])), min_size=2
)


@given(counts=COUNTS, readings=DIALS, data=st.data())
def test_the_order_of_the_rows_says_nothing(
    shared_desk: Any,
    counts: dict[tuple[str, int], int],
    readings: dict[tuple[int, int, int], tuple[int, str]],
    data: st.DataObject,
) -> None:
    shifts = [f"TP-1,{shift},2026-11-{day:02},Dana,{hits}" for (shift, day), hits in counts.items()]
    dials = [
        f"TP-1,2026-11-{day:02}T{hour:02}:{minute:02},Dana,{exchanged},{hits}"
        for (day, hour, minute), (hits, exchanged) in readings.items()
    ]

    def usage(first: list[str], second: list[str]) -> Any:
        return shared_desk.usage_with(
            [
                ("shifts", "\n".join(["machine,shift,date,by,hits", *first])),
                ("dials", "\n".join(["machine,at,by,exchanged,hits", *second])),
            ]
        )

    shuffled = data.draw(st.permutations(shifts)), data.draw(st.permutations(dials))
    assert usage(*shuffled) == usage(shifts, dials)
