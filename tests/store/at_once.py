"""The same command by several processes at the very same time.

Run: python at_once.py STORE TIMES WORD...; tells status, output and errors of each as JSON. The
processes are forked after everything is loaded, and let go together.
"""

import io
import json
import os
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

from pmtrack.cli import main
from tests.command import NOW


def run(store: Path, words: list[str]) -> tuple[int, str, str]:
    """The command in this process."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(["--store", str(store), "--now", NOW, *words])
    return status, out.getvalue(), err.getvalue()


def _child(gate: tuple[int, int], answer: tuple[int, int], store: Path, words: list[str]) -> None:
    try:
        os.close(gate[1])
        os.read(gate[0], 1)  # until the last writer of the gate is gone
        os.write(answer[1], json.dumps(run(store, words)).encode())
    finally:
        os._exit(0)


def at_once(store: Path, times: int, words: list[str]) -> list[tuple[int, str, str]]:
    """What each of so many processes was told; each answer must fit into a pipe."""
    gate, answers, children = os.pipe(), [os.pipe() for _ in range(times)], []
    for answer in answers:
        child = os.fork()
        if child == 0:
            _child(gate, answer, store, words)
        os.close(answer[1])
        children.append(child)
    os.close(gate[0])
    os.close(gate[1])
    for child in children:
        os.waitpid(child, 0)
    return [json.loads(os.read(answer[0], 65536)) for answer in answers]


if __name__ == "__main__":
    path = Path(sys.argv[1])
    run(path.with_name("loading.db"), sys.argv[3:])
    run(path.with_name("loading.db"), ["today"])
    print(json.dumps(at_once(path, int(sys.argv[2]), sys.argv[3:])))
