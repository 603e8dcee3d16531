"""What every target asks of an answer, and how long it may take."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

from tests.command import ESCAPE, Told

SECONDS = 20.0  # of the processor; far more than any of these answers takes
STATUSES = (0, 2, 3, 4)  # 1 is left to a defect of ours


class Target(Protocol):
    """One door: inputs to begin with, and what tries one input and raises on a fault."""

    name: str

    def seeds(self) -> list[bytes]:
        """Inputs from which the fuzzer sets out."""

    def attempt(self, data: bytes) -> None:
        """Try one input; anything raised is a fault of the product."""


@contextmanager
def in_time(what: object) -> Iterator[None]:
    """AssertionError where the block keeps the processor too long; a busy machine says nothing."""
    began = time.process_time()
    yield
    took = time.process_time() - began
    assert took < SECONDS, f"{took:.0f} s for {what!r}"


def is_sound(told: Told, what: object) -> None:
    """AssertionError unless a command ended with a status and, if refused, a sentence."""
    assert told.status in STATUSES, (what, told)
    if told.status in (2, 3):
        assert told.err.strip(), (what, told)
        assert "Traceback" not in told.err, (what, told)
    shown = told.out + told.err
    assert not {ESCAPE, "\x9b"} & set(shown), (what, told)
