"""The command line as a user meets it: what is typed, what is told, what stays in the store."""

import io
import json
import os
import shutil
import sqlite3
import sys
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

from pmtrack.cli import main

SMALL_SHOP = Path(__file__).parent / "small_shop.yaml"
APPLIED = "2026-11-23T06:00"  # a Monday
NOW = "2026-11-25T14:45"  # a Wednesday, a quarter of an hour after the day shift
OURS = ("PMTRACK_STORE", "PMTRACK_NOW", "PMTRACK_BY", "NO_COLOR", "COLUMNS")
PLAIN = {name: value for name, value in os.environ.items() if name not in OURS}
ESCAPE = "\x1b"


class Told(NamedTuple):
    """What a command told: exit status, standard output, standard error."""

    status: int
    out: str
    err: str

    def json(self) -> Any:
        """The one JSON value on standard output."""
        assert (self.status, self.err) == (0, "")
        return json.loads(self.out)


class Command:
    """pmtrack in this process, on one store, at a fixed time of the shop."""

    def __init__(self, store: Path) -> None:
        self.store = store

    def __call__(
        self,
        *arguments: str,
        now: str | None = NOW,
        stdin: str = "",
        env: dict[str, str] | None = None,
    ) -> Told:
        """Run one command; `env` adds to an environment without variables of ours but the name."""
        out, err = io.StringIO(), io.StringIO()
        before = ["--store", str(self.store), *(["--now", now] if now else [])]
        told_by = PLAIN | {"PMTRACK_BY": "Dana"} | (env or {})
        with (
            patch.dict(os.environ, told_by, clear=True),
            patch.object(sys, "stdin", io.StringIO(stdin)),
            redirect_stdout(out),
            redirect_stderr(err),
        ):
            status = main([*before, *arguments])
        return Told(status, out.getvalue(), err.getvalue())

    def done(self, *arguments: str, **how: Any) -> str:
        """What a command tells that must succeed without a remark."""
        told = self(*arguments, **how)
        assert (told.status, told.err) == (0, "")
        return told.out

    def json(self, *arguments: str, **how: Any) -> Any:
        """The JSON that a view gives."""
        return self(*arguments, "--json", **how).json()

    def states(self, **how: Any) -> dict[str, str]:
        """The state of every task."""
        return {i["task"]: i["state"] for i in self.json("today", "--all", **how)["items"]}

    def refused(
        self, arguments: Sequence[str], status: int | tuple[int, ...], message: str, **how: Any
    ) -> Told:
        """The command ends with that status, tells why in a few lines, and changes nothing."""
        before = dump(self.store)
        told = self(*arguments, **how)
        assert told.status in (status if isinstance(status, tuple) else (status,)), told
        assert message in told.err
        assert told.out == ""
        assert 1 <= len(told.err.splitlines()) <= 5
        assert ESCAPE not in told.err
        assert dump(self.store) == before
        return told


def dump(store: Path) -> list[str]:
    """Everything in a store, as SQL; its bytes where it is none, nothing where no file is."""
    if not os.path.isfile(store):  # unlike pathlib, also for a name that is too long
        return []
    try:
        return _dump(store)
    except (sqlite3.Error, UnicodeDecodeError):
        return [repr(store.read_bytes())]


def _dump(store: Path) -> list[str]:
    connection = sqlite3.connect(f"{store.absolute().as_uri()}?mode=ro", uri=True)
    try:
        return list(connection.iterdump())
    finally:
        connection.close()


def copied(store: Path, target: Path) -> Path:
    """A copy of a closed store."""
    assert not store.with_name(f"{store.name}-wal").exists()
    shutil.copy(store, target)
    return target


def assert_fits(text: str, width: int = 80) -> None:
    """No line is wider than the paper, and no escape sequence is in it."""
    assert ESCAPE not in text
    assert [line for line in text.splitlines() if len(line) > width] == []


def trimmed(text: str) -> list[str]:
    """The lines without the blanks with which a table fills them up."""
    return [line.rstrip() for line in text.rstrip("\n").split("\n")]
