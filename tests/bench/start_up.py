"""How long `today` takes on the demo store against a bare import of the libraries it rests on.

Run: python tests/bench/start_up.py [STORE]. Both are timed in turn, in fresh interpreters, and
compared as a ratio, so that the machine's speed and load matter little.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

LIMIT = 1.5
ROUNDS = 15
BARE = "import typer, sqlite_utils, dateutil, rich, icalendar, yaml, pydantic; pydantic.BaseModel"
NOW = "2026-11-25T06:05"


def seconds(command: list[str]) -> float:
    """Wall time of one run."""
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return time.perf_counter() - start


def main() -> int:
    """Time both and tell the ratio; 1 if it is over the limit."""
    with tempfile.TemporaryDirectory() as folder:
        store = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(folder) / "demo.db"
        pmtrack = [sys.executable, "-m", "pmtrack", "--store", str(store), "--now", NOW]
        if not store.exists():
            subprocess.run([*pmtrack, "demo"], check=True, stdout=subprocess.DEVNULL)
        bare, today = [sys.executable, "-c", BARE], [*pmtrack, "today"]
        pairs = [(seconds(bare), seconds(today)) for _ in range(ROUNDS + 1)][1:]
    bare_time, today_time = (statistics.median(times) for times in zip(*pairs, strict=True))
    ratio = statistics.median(mine / theirs for theirs, mine in pairs)
    print(f"bare imports {1000 * bare_time:.0f} ms, today {1000 * today_time:.0f} ms")
    print(f"ratio {ratio:.2f}, limit {LIMIT}")
    return int(ratio > LIMIT)


if __name__ == "__main__":
    sys.exit(main())
