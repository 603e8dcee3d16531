"""Several people who enter at once: nothing is lost, nothing is torn."""

import subprocess
import sys
from pathlib import Path

from tests.command import NOW, PLAIN, Command

WRITERS, SHIFTS = 4, 25
# each writer logs its own shifts, 1 and 2 and 3 ... hits; one process each, as on several desks
LOGS = """
import sys
from pmtrack.cli import main
store, now, by, count = sys.argv[1:]
for hits in range(1, int(count) + 1):
    day = f"2026-10-{1 + hits % 28:02}"
    words = ["log", "TP-1", "--shift", "day", "--date", day, "--hits", str(hits), "--by", by]
    status = main(["--store", store, "--now", now, *words])
    if status:
        sys.exit(status)
"""


def test_no_shift_of_four_writers_is_lost(shop_store: Path) -> None:
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", LOGS, str(shop_store), NOW, f"desk {desk}", str(SHIFTS)],
            env=PLAIN, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )
        for desk in range(WRITERS)
    ]  # fmt: skip
    told = [writer.communicate(timeout=60) for writer in writers]
    assert [writer.returncode for writer in writers] == [0] * WRITERS, told
    run = Command(shop_store)
    entries = run.json("entries")
    assert [entry["entry"] for entry in entries] == list(range(1, WRITERS * SHIFTS + 1))
    for desk in range(WRITERS):
        own = [entry["counts"]["hits"] for entry in entries if entry["by"] == f"desk {desk}"]
        assert own == list(range(1, SHIFTS + 1))
    assert run.json("usage")[0]["usage"] == WRITERS * SHIFTS * (SHIFTS + 1) // 2
    assert run("verify").status == 0
    numbers = [line.split(":")[0] for out, _ in told for line in out.splitlines()]
    assert sorted(numbers) == sorted(f"entry {n}" for n in range(1, WRITERS * SHIFTS + 1))
