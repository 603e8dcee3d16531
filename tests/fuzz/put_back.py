"""What is put in the store's place: a backup with spoiled bytes, plain files with odd values."""

import hashlib
import re
import shutil
from pathlib import Path

from tests.command import dump
from tests.fuzz.choices import Choices
from tests.fuzz.desk import Desk
from tests.fuzz.judging import in_time, is_sound
from tests.fuzz.store_bytes import spoil

ODD = [
    "", "0", "-1", "1", "9" * 40, "1e999", "nan", "x", "TP-1", "GONE", '"', "\x00", "\ufeff",
    "\r\n",
    ",", "2026-11-45", "0001-01-01", "9999-12-31T23:59:59Z", "2026-11-25T15:00:00Z", "null", "[]",
    "{}", "true", "\u202e", "\x1b[2J", "..", "/", "'; DROP TABLE entry; --", "7", "shift", "void",
]  # fmt: skip
INDEX = Path("index.json")
ASKED = (["today", "--all"], ["verify"])


class PutBack:
    """Restores or loads over the worked store; a refusal leaves that store as it was."""

    name = "put-back"

    def __init__(self, folder: Path) -> None:
        self.desk = Desk(folder)
        told = self.desk.run("unload", str(folder / "plain"))
        assert told.status == 0, told
        self.plain = {
            path.relative_to(folder / "plain"): path.read_bytes()
            for path in sorted((folder / "plain").rglob("*"))
            if path.is_file()
        }
        shutil.rmtree(folder / "plain")

    def seeds(self) -> list[bytes]:
        return [bytes([how, n, n * 31 % 256, n * 7 % 256, n]) for n in range(60) for how in (0, 1)]

    def attempt(self, data: bytes) -> None:
        choices, desk = Choices(data), self.desk
        desk.put(desk.worked)
        before = dump(desk.run.store)
        words = self._backup(choices) if choices.number(2) else self._files(choices)
        with in_time(words):
            told = desk.run(*words, "--over")
        is_sound(told, words)
        if told.status:
            assert dump(desk.run.store) == before, told
        for question in ASKED:
            with in_time(question):
                is_sound(desk.run(*question), question)
        shutil.rmtree(desk.folder / "plain", ignore_errors=True)
        desk.tidy()

    def _backup(self, choices: Choices) -> list[str]:
        spoiled = bytearray(self.desk.worked)
        for _ in range(choices.number(3) + 1):
            spoil(spoiled, choices)
        (self.desk.folder / "keep.bak").write_bytes(spoiled)
        return ["restore", str(self.desk.folder / "keep.bak")]

    def _files(self, choices: Choices) -> list[str]:
        plain = dict(self.plain)
        for _ in range(choices.number(2) + 1):
            name = choices.of(sorted(plain))
            changed = _changed(plain[name], choices)
            if changed is None:
                del plain[name]
                continue
            old, new = (hashlib.sha256(each).hexdigest() for each in (plain[name], changed))
            plain[name] = changed
            if (index := plain.get(INDEX)) and name != INDEX:  # as who edits it would do
                plain[INDEX] = index.replace(old.encode(), new.encode())
            elif not index:
                break
        for name, content in plain.items():
            path = self.desk.folder / "plain" / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        return ["load", str(self.desk.folder / "plain")]


def _changed(content: bytes, choices: Choices) -> bytes | None:
    """A file with an odd value at one place, cut off, with a line twice or left out; or none."""
    deed = choices.number(8)
    lines = content.decode("utf-8", "surrogateescape").splitlines(keepends=True)
    if not lines or deed == 7:
        return None
    at = choices.number(len(lines))
    if deed == 0:
        return content[: choices.number(len(content) + 1)]
    if deed == 1:
        lines.insert(at, lines[at])
    elif deed == 2:
        del lines[at]
    else:
        parts = re.split(r'([,:{}\[\]"\n])', lines[at])
        parts[choices.number(len(parts))] = choices.of(ODD) if deed < 6 else choices.text()
        lines[at] = "".join(parts)
    return "".join(lines).encode("utf-8", "surrogateescape")
