"""Arguments and options of every command, odd ones among good ones, one command after another."""

from contextlib import chdir
from functools import cache
from pathlib import Path
from typing import Any

import typer

from pmtrack.cli import app
from tests.command import NOW, SMALL_SHOP, dump
from tests.fuzz.choices import Choices
from tests.fuzz.desk import Desk
from tests.fuzz.judging import in_time, is_sound

NUMBERS = [
    "0", "1", "-1", "5", "7.5", "-0", "+5", "0.0000001", "0.000001", "41200", "41,200", "4,1200",
    "999999999999", "1000000000000", "1000000000001", "9" * 30, "9" * 5000, "-" + "9" * 30,
    "1e999", "nan", "inf", "-inf", "0x10", "٣", "½", "²", "", " ", "1 2", "2147483648",
    "9223372036854775808",
]  # fmt: skip
TIMES = [
    "2026-11-25", "2026-11-25T14:44", "2026-11-25T14:45", "2026-11-26", "2026-12-04",
    "2026-11-24", "1950-01-01", "1949-12-31", "2150-12-31", "2151-01-01", "9999-12-31",
    "0001-01-01", "0000-00-00", "1950-01-01T00:00", "2150-12-31T23:59", "2026-11-01T01:30",
    "2027-03-14T02:30", "2026-02-29", "2026-11-25T14:05Z", "2026-11-25T14:05+23:59",
    "2026-11-25T14:05-99:99", "1950-01-01T00:00+23:00", "2150-12-31T23:59-23:00",
    "2026-11-25T24:00", "\uff12\uff10\uff12\uff16-11-25", "today", "2027-Q1", "",
]  # fmt: skip
QUARTERS = [
    "2027-Q1",
    "2026-Q4",
    "1950-Q1",
    "2149-Q4",
    "2150-Q1",
    "0000-Q5",
    "2027Q2",
    "2026-q3",
    "Q",
]
CODES = [
    "TP-1", "PB-1", "FE-1", "RD-10", "SQ-5", "KIOSK-DOOR", "mild", "stainless", "TP-1/weekly",
    "TP-1/monthly", "TP-1/half-year", "PB-1/belt", "PB-1/weekly", "FE-1/look", "TP-1/job-9",
    "tp-1", "TP-1/", "/", "day", "night", "hits", "hours", "cycles", "planned", "burr", "chipped",
    "machine", "hits=5", "hits=1204360", "hours=3", "cycles=12", "hits=", "=5", "=", "hits=1=2",
    "a,b", "T12", "pump-pressure=160", "pump-pressure=-1e5", "shifts", "dials", "stops",
    "day,week", "cause", "week",
]  # fmt: skip
TEXTS = [
    "leak", "[bold]x[/b]", "[/b]", "\x1b[31mred", "\x9b2J", "a\x00b", "\ud800", "\udcff", "\u202e",
    "=cmd|' /C calc'!A0", "<script>alert(1)</script>", "x" * 401, "x" * 100_000, "\n", "a\nb\tc",
    "", "--", "-", "--json", "-rf", "%s{0}", "日本 ✓", "e\u0301", "\U000e0001", "\ufffe", "'", '"',
]  # fmt: skip
FILES = ["keep.yaml", "keep.csv", "s.db", "s.db-wal", "out.x", "none/out.x", ".", "", "x" * 300]
ADDRESSES = ["", "x", "ftp://a/b", "http://", "http://[::1", "http://127.0.0.1:1/c/", "http://a b/"]
POOLS = [NUMBERS, TIMES, CODES, TEXTS, QUARTERS]
LIKELY = {
    "quarter": QUARTERS, "task": CODES, "machine": CODES, "tool": CODES, "program": CODES,
    "material": CODES, "kind": CODES, "dial": CODES, "count": CODES, "measure": CODES,
    "wrapped": CODES, "exchanged": CODES, "shift": CODES, "url": ADDRESSES,
    "on": TIMES, "at": TIMES, "until": TIMES, "date": TIMES, "start": TIMES, "end": TIMES,
    "first": TIMES, "last": TIMES, "day": TIMES, "wanted": TIMES, "now": TIMES,
    "title": TEXTS, "note": TEXTS, "by": TEXTS, "cause": TEXTS, "why": TEXTS, "reason": TEXTS,
    "hits": NUMBERS, "hours": NUMBERS, "parts": NUMBERS, "scrap": NUMBERS, "mm": NUMBERS,
    "minutes": NUMBERS, "entry": NUMBERS, "within": NUMBERS, "found_in": NUMBERS,
}  # fmt: skip
ENV = {"PMTRACK_CALDAV_USER": "u", "PMTRACK_CALDAV_PASSWORD": "p"}  # so that no keyring is asked
AFTER = (["today", "--all"], ["verify"])


@cache
def commands() -> dict[str, list[Any]]:
    """Each command with its parameters, as the command line itself knows them."""
    group: Any = typer.main.get_command(app)
    found = {name: group.get_command(None, name) for name in sorted(group.list_commands(None))}
    return {name: [p for p in found[name].params if p.name != "help"] for name in found}


class Arguments:
    """Runs up to three commands on one store; a refused one must leave it as it was."""

    name = "arguments"

    def __init__(self, folder: Path) -> None:
        self.desk = Desk(folder)
        (folder / "keep.yaml").write_bytes(SMALL_SHOP.read_bytes())
        (folder / "keep.csv").write_text("tool,at,hits,by\nRD-10,2026-11-24,4000,Dana\n")

    def seeds(self) -> list[bytes]:
        """Every command with every parameter given, and with the needed ones alone."""
        return [
            bytes([0, 0, at, *(turn, 0, value * 3 + turn) * 14])
            for at in range(len(commands()))
            for turn, value in ((1, 0), (1, 1), (1, 2), (1, 9), (1, 13), (2, 0))
        ]

    def attempt(self, data: bytes) -> None:
        choices, desk = Choices(data), self.desk
        count, when = choices.number(3) + 1, choices.number(64)
        now = TIMES[when % len(TIMES)] if when > 48 else NOW
        desk.put(desk.worked)
        changed = False
        for _ in range(count):
            changed = self._one(_words(choices, desk.folder), now) or changed
        for question in AFTER if changed and now == NOW else ():
            with in_time(question):
                is_sound(desk.run(*question), question)
        desk.tidy()

    def _one(self, words: list[str], now: str) -> bool:
        """Whether the command was taken."""
        before = dump(self.desk.run.store)
        with in_time(words), chdir(self.desk.folder):  # a stray word may be taken for a file
            told = self.desk.run(*words, now=now, stdin="5\n\n[b]\n", env=ENV)
        is_sound(told, words)
        if told.status in (2, 3):
            assert dump(self.desk.run.store) == before, words
        return told.status == 0


def _words(choices: Choices, folder: Path) -> list[str]:
    name = choices.of(list(commands()))
    words = [name]
    for parameter in commands()[name]:
        how = choices.number(256) % 4
        if how == 0 and not (parameter.required and choices.number(256) < 240):
            continue
        value = _value(choices, parameter, folder)
        if not parameter.opts[0].startswith("--"):
            words.append(value)
        elif parameter.is_flag:
            words.append(parameter.opts[0])
        else:
            words += [f"{parameter.opts[0]}={value}"] if how == 2 else [parameter.opts[0], value]
    if choices.number(256) > 230:
        words.insert(choices.number(len(words) + 1), choices.of(TEXTS))
    return words


def _value(choices: Choices, parameter: Any, folder: Path) -> str:
    """A value for a parameter; files are always within the folder, for commands write them."""
    if "Path" in str(parameter.type_descriptor.annotation):
        name = choices.of(FILES)
        return str(folder / name) if name else ""
    deed = choices.number(256)
    if parameter.name == "url":
        return ADDRESSES[deed % len(ADDRESSES)]
    pool = LIKELY.get(parameter.name, TEXTS)
    if deed < 200:
        return pool[deed % len(pool)]
    return choices.of(choices.of(POOLS)) if deed < 235 else choices.text().replace("/", "")
