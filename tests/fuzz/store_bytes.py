"""The store's file itself spoiled: bits, pages, header, length. A sentence, never a traceback."""

from pathlib import Path

from tests.command import dump
from tests.fuzz.choices import Choices
from tests.fuzz.desk import Desk
from tests.fuzz.judging import in_time, is_sound

ASKED = [
    ["today", "--all"], ["today", "--json"], ["usage"], ["tooling"], ["entries"], ["verify"],
    ["why", "TP-1/monthly"], ["why", "TP-1/half-year"], ["why", "RD-10"], ["trend"], ["life"],
    ["report", "--from", "2026-11-01", "--to", "2026-11-25"], ["advice"], ["plan", "2027-Q1"],
    ["calendar", "2027-Q1", "--out", "c.ics"], ["done", "TP-1/weekly"], ["void", "1", "--why", "x"],
    ["log", "TP-1", "--hits", "5"], ["backup", "b.db"], ["setup", "KIOSK-DOOR", "--parts", "9"],
    ["tooling", "--unallocated"], ["sheet", "2027-Q1", "--out", "s.html"], ["pin", "TP-1/half-year",
    "2026-12-08"], ["fit", "SQ-5", "--station", "T1"], ["restart", "PB-1"], ["apply", "keep.yaml"],
]  # fmt: skip
PAGE = 4096


class StoreBytes:
    """Spoils the bytes of a worked store and runs commands on it."""

    name = "store-bytes"

    def __init__(self, folder: Path) -> None:
        self.desk = Desk(folder)
        shop = (Path(__file__).parents[1] / "small_shop.yaml").read_bytes()
        (folder / "keep.yaml").write_bytes(shop)

    def seeds(self) -> list[bytes]:
        return [
            bytes([1, command % len(ASKED), deed, place % 256, place * 7 % 256, place * 13 % 256])
            for command in range(3 * len(ASKED))
            for deed, place in ((command % 6, command * 11), ((command + 1) % 6, command * 5))
        ]

    def attempt(self, data: bytes) -> None:
        choices, desk = Choices(data), self.desk
        edits, asked = choices.number(4) + 1, choices.number(len(ASKED))
        spoiled = bytearray(desk.worked)
        for _ in range(edits):
            spoil(spoiled, choices)
        desk.put(bytes(spoiled))
        before = dump(desk.run.store)
        ask(desk, ASKED[asked], before)
        ask(desk, ["verify"], None)
        desk.tidy()


def ask(desk: Desk, question: list[str], before: list[str] | None) -> None:
    """One command on a spoiled store; a refusal leaves what can be read of it as it was."""
    words = [str(desk.folder / w) if w.endswith(_NAMES) else w for w in question]
    with in_time(words):
        told = desk.run(*words)
    is_sound(told, words)
    if before is not None and told.status in (2, 3):
        assert dump(desk.run.store) == before, words


_NAMES = (".ics", ".html", ".db", ".yaml")


def spoil(data: bytearray, choices: Choices) -> None:
    """One of: a flipped bit, a byte, a zeroed page, two pages swapped, the end cut off,
    a header."""
    deed, place = choices.number(6), choices.number(1 << 24) % max(len(data), 1)
    page = place // PAGE * PAGE
    if not data:
        return
    if deed == 0:
        data[place] ^= 1 << choices.number(8)
    elif deed == 1:
        data[place] = choices.number(256)
    elif deed == 2:
        data[page : page + PAGE] = bytes(len(data[page : page + PAGE]))
    elif deed == 3:
        other = choices.number(len(data) // PAGE + 1) * PAGE
        first, second = data[page : page + PAGE], data[other : other + PAGE]
        if len(first) == len(second) == PAGE:
            data[page : page + PAGE], data[other : other + PAGE] = second, first
    elif deed == 4:
        del data[place:]
    else:
        data[place % 100] = choices.number(256)
