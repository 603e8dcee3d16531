"""CSV files of every kind: taken whole or refused whole, and what is taken can be asked about."""

import re
from datetime import UTC, datetime
from pathlib import Path

from tests.command import dump
from tests.fuzz.choices import Choices
from tests.fuzz.desk import Desk
from tests.fuzz.judging import in_time, is_sound

NOW = datetime(2026, 11, 25, 19, 45, tzinfo=UTC)
FAULT = re.compile(r"\S*keep\.csv:[1-9]\d*: .+")
GOOD = {
    "shifts": "machine,shift,date,by,parts,scrap,program,material,confirmed,hits,cycles\n"
    'TP-1,day,2026-11-20,Dana,250,3,KIOSK-DOOR,mild,no,"41,200",\n'
    "PB-1,night,2026-11-19,Lee,,,,,,,1800.5\n",
    "dials": "machine,at,by,wrapped,exchanged,hits,hours\n"
    "TP-1,2026-11-25T08:00,Dana,,,1204360,20\nTP-1,2026-11-24,Dana,yes,,5,\n",
    "stops": "machine,from,to,cause,planned,by\n"
    "TP-1,2026-11-24T10:00,2026-11-24T11:00,leak,yes,Dana\nFE-1,2026-11-24T10:00Z,,x,,Lee\n",
    "completions": "task,at,by,minutes,note,hits\n"
    'TP-1/monthly,2026-11-24,Dana,90,"two\r\nlines",1204350\nPB-1/belt,2026-11-20,Lee,,,\n',
    "tool-counts": "tool,at,hits,by,material\nRD-10,2026-11-24,4000,Dana,mild\n",
    "tool-events": "tool,at,event,by,mm,why,machine,station\n"
    "RD-10,2026-11-24,sharpen,Dana,0.2,burr,,\nSQ-5,2026-11-20,fit,Dana,,,,12\n",
}
ODD = [
    '"', '"open', '""', "\ufeff", "\x00", "\r", "\n", "\r\n", ",,,,,,,,,,,,", ";", "\t", "|",
    "9" * 400, "1e999", "-1", "nan", "inf", "0", "999999999999", "1000000000001", "1,000", "٣",
    "0000-00-00", "9999-12-31", "0001-01-01T00:00", "1950-01-01", "2026-11-25T14:45",
    "2026-11-25T14:46", "2026-11-01T01:30", "2026-03-08T02:30", "2026-11-24T00:00+23:59",
    "2026-11-24T00:00-99:00", "1950-01-01T00:00Z", "yes", "no", "maybe", "TP-1", "PB-1", "RD-10",
    "TP-1/job-9", "TP-1/half-year", "night", "day", "x" * 401, "x" * 140_000, "\u202e", "\x1b[2J",
    "=1+1", "[bold]", "\ud7ff\U000e0001", "\u2028", "fit", "takeout", "replace", "scrap", "burr",
]  # fmt: skip
KINDS = [*GOOD, "nothing", ""]
VIEWS = (["today", "--all"], ["usage"], ["tooling"], ["why", "TP-1/half-year"], ["entries"],
         ["report", "--from", "2026-11-01", "--to", "2026-11-25"], ["life"], ["trend"])  # fmt: skip


class CsvRows:
    """Imports a good file spoiled at some places, or bytes as they come."""

    name = "csv-rows"

    def __init__(self, folder: Path) -> None:
        self.desk = Desk(folder)

    def seeds(self) -> list[bytes]:
        whole = [bytes([0, kind]) + text.encode() for kind, text in enumerate(GOOD.values())]
        wide = bytes([0, 0]) + b"a," * 5000 + b"\n"
        utf_16 = bytes([0, 0]) + GOOD["shifts"].encode("utf-16")
        return [*whole, wide, utf_16, *(bytes([1, n % 6, n * 9 % 250, n, 2]) for n in range(60))]

    def attempt(self, data: bytes) -> None:
        choices, desk = Choices(data), self.desk
        edits, kind = choices.number(4), choices.of(KINDS)
        content = _spoiled(GOOD.get(kind, ""), edits, choices) if edits else choices.bytes(10**6)
        file = desk.folder / "keep.csv"
        file.write_bytes(content)
        desk.put(desk.worked)
        before = dump(desk.run.store)
        with in_time(content[:2000]):
            told = desk.run("import", kind, str(file))
        is_sound(told, content[:2000])
        if told.status:
            assert dump(desk.run.store) == before
            if told.status == 3:
                bad = [f for f in told.err.splitlines() if not FAULT.fullmatch(f)]
                assert not bad, bad
            return
        for question in (VIEWS[edits], VIEWS[edits + 4], ["verify"]):
            with in_time(question):
                is_sound(desk.run(*question), (question, content[:2000]))


def _spoiled(text: str, edits: int, choices: Choices) -> bytes:
    """The file with an odd text instead of a cell, or bytes put between."""
    for _ in range(edits):
        cells = re.split("([,\n])", text)
        at, odd = choices.number(len(cells)), choices.number(100)
        cells[at] = ODD[odd] if odd < len(ODD) else choices.text()
        text = "".join(cells)
    return text.encode("utf-8", "surrogateescape")
