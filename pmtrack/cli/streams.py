"""The standard streams, whatever the surroundings make of them."""

import contextlib
import io
import os
import sys


def make_safe() -> None:
    """Closed streams go nowhere; a character that a stream cannot write becomes \\uXXXX."""
    if sys.stdout is None:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115 - open as long as the process
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w")  # noqa: SIM115
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def give_up_output() -> None:
    """Let what standard output still holds go nowhere, so that the end of the process is quiet."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
