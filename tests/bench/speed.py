"""How fast pmtrack is: one table, each figure against a floor measured in the same run.

Run: python tests/bench/speed.py [--scale 0.01] [--only NAME ...]. At scale 1 there are 2,000
machines, 20,000 tasks and 10 million entries, a million rows to import and 20,000 events. Data is
invented, the same on every run; memory and disk for it are needed in the folder for temporary
files. A figure over its limit is told, and is no failure of the run.
"""

import argparse
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from tests.bench.ask_speed import start_figures, today_figures
from tests.bench.calendar_speed import calendar_figures
from tests.bench.figure import HEADER, Figure
from tests.bench.write_speed import apply_figures, import_figures, log_figures

BENCHES: dict[str, Callable[[Path, float], list[Figure]]] = {
    "start": lambda folder, scale: start_figures(folder),
    "today": today_figures,
    "log": lambda folder, scale: log_figures(folder),
    "import": import_figures,
    "calendar": calendar_figures,
    "apply": lambda folder, scale: apply_figures(folder),
}


def main() -> int:
    """Measure and tell all figures."""
    parser = argparse.ArgumentParser(description="How fast pmtrack is, against floors.")
    parser.add_argument("--scale", type=float, default=0.01, help="share of the full size")
    parser.add_argument("--only", nargs="+", choices=BENCHES, default=list(BENCHES))
    told = parser.parse_args()
    print(f"scale {told.scale}\n{HEADER}", flush=True)
    for name in told.only:
        with tempfile.TemporaryDirectory() as folder:
            for figure in BENCHES[name](Path(folder), told.scale):
                print(figure.line(), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
