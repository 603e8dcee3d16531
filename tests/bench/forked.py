"""A command of pmtrack in a forked child that can be killed anywhere in its life.

The parent has pmtrack loaded, so that a command costs no interpreter's start. The child tells on a
pipe, as its COMMIT begins, which rows it is about to keep.
"""

import json
import os
import re
import selectors
import signal
import sqlite3
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal

from pmtrack import cli

Way = Literal["any time", "a statement", "the commit"]
WAYS: tuple[Way, ...] = ("any time", "a statement", "the commit")
_INSERT = re.compile(r"INSERT INTO (\w+)")
_connect = sqlite3.connect
_CRASHED = 70  # status of a child with a traceback


@dataclass(frozen=True)
class Kill:
    """Where to kill: so many seconds after the start or after COMMIT began, or at a statement."""

    way: Way
    amount: float


@dataclass(frozen=True)
class Ended:
    """What came of a command; `rows` are those that its COMMIT was to keep, by table."""

    status: int  # below 0: the signal that ended it
    out: str
    err: str
    rows: dict[str, int] | None
    statements: int
    seconds: float
    commit_after: float | None

    @property
    def killed(self) -> bool:
        """Whether SIGKILL came in time."""
        return self.status == -signal.SIGKILL


@dataclass
class _Watch:
    """In the child: counts statements, and tells of the COMMIT."""

    pipe: int
    kill: Kill | None
    statements: int = 0
    rows: Counter[str] = field(default_factory=Counter)

    def connect(self, *place: Any, **how: Any) -> sqlite3.Connection:
        """In place of `sqlite3.connect`: a connection whose statements are watched."""
        connection: sqlite3.Connection = _connect(*place, **how)
        connection.set_trace_callback(self.statement)
        return connection

    def statement(self, sql: str) -> None:
        """A statement is about to run."""
        self.statements += 1
        if self.kill and self.kill.way == "a statement" and self.statements >= self.kill.amount:
            os.kill(os.getpid(), signal.SIGKILL)
        insert = _INSERT.match(sql)
        if sql.startswith("BEGIN"):
            self.rows.clear()
        elif insert:
            self.rows[insert[1]] += 1
        elif sql == "COMMIT":
            os.write(self.pipe, f"{json.dumps([self.statements, self.rows])}\n".encode())


def run(arguments: list[str], kill: Kill | None, spoil: Callable[[], None] | None = None) -> Ended:
    """Run one command to its end, or until it is killed; `spoil` breaks the store's code first."""
    pipes = [os.pipe() for _ in range(3)]
    start = time.perf_counter()
    child = os.fork()
    if child == 0:
        _live([write for _, write in pipes], arguments, kill, spoil)
    for _, write in pipes:
        os.close(write)
    told, commit_after = _follow(child, [read for read, _ in pipes], kill, start)
    _, waited = os.waitpid(child, 0)
    statements, rows = json.loads(told[2].splitlines()[-1]) if told[2] else (0, None)
    return Ended(
        status=os.waitstatus_to_exitcode(waited),
        out=told[0].decode(),
        err=told[1].decode(),
        rows=rows,
        statements=statements,
        seconds=time.perf_counter() - start,
        commit_after=commit_after,
    )


def _live(
    pipes: list[int], arguments: list[str], kill: Kill | None, spoil: Callable[[], None] | None
) -> None:
    """The child's life; it never returns."""
    status = _CRASHED
    try:
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        for stream in (1, 2):
            os.dup2(pipes[stream - 1], stream)
        sys.stdout = open(1, "w", closefd=False)  # noqa: SIM115 - open as long as the child
        sys.stderr = open(2, "w", closefd=False)  # noqa: SIM115
        if spoil:
            spoil()
        sqlite3.connect = _Watch(pipes[2], kill).connect  # type: ignore[assignment]
        status = cli.main(arguments)
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stderr.flush()
        os._exit(status)


def _follow(
    child: int, reads: list[int], kill: Kill | None, start: float
) -> tuple[list[bytes], float | None]:
    """Read what the child tells until it ends; kill it when its time has come."""
    told, commit_after = [b"", b"", b""], None
    left = kill.amount if kill and kill.way == "any time" else None
    with selectors.DefaultSelector() as selector:
        for index, read in enumerate(reads):
            selector.register(read, selectors.EVENT_READ, index)
        while selector.get_map():
            until = None if left is None else max(0.0, start + left - time.perf_counter())
            for key, _ in selector.select(until):
                data = os.read(key.fd, 65536)
                told[key.data] += data
                if not data:
                    selector.unregister(key.fd)
                    os.close(key.fd)
                elif key.data == 2:
                    commit_after = time.perf_counter() - start
                    if kill and kill.way == "the commit":
                        left = commit_after + kill.amount
            if left is not None and time.perf_counter() >= start + left:
                os.kill(child, signal.SIGKILL)  # a child that is over stays until it is waited for
                left = None
    return told, commit_after
