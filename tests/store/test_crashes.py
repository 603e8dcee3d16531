"""Commands killed at random points, on one store: the bench of crashes in its short form."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench import crashes
from tests.command import PLAIN

SHORT = [sys.executable, crashes.__file__, "--short", "--seed"]
ROOT = Path(crashes.__file__).parents[2]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["7"], ["40 killed", "all there once, no half command, file sound"]),
        (["7", "--prove"], ["broken: no transaction", "half", "broken: told before", "lost"]),
    ],
)
def test_what_was_told_outlives_a_crash_and_a_broken_store_is_found_out(
    words: list[str], told: list[str]
) -> None:
    """Forked from a process of its own, which has no threads."""
    ended = subprocess.run(
        [*SHORT, *words], capture_output=True, text=True, timeout=120, check=False, env=PLAIN,
        cwd=ROOT,
    )  # fmt: skip
    assert (ended.returncode, ended.stderr) == (0, "")
    assert [word for word in told if word not in ended.stdout] == []
