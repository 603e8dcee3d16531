"""python -m tests.fuzz [--seconds 60] [--only NAME]: a line a target; status 1 on a fault."""

import argparse
import sys

from tests.fuzz.driver import ABSENT, fuzz, installed
from tests.fuzz.names import NAMES


def main() -> int:
    """Fuzz the targets asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz")
    parser.add_argument("--seconds", type=int, default=60, help="for each target")
    parser.add_argument("--only", choices=NAMES, action="append", help="may be given again")
    asked = parser.parse_args()
    if not installed():
        print(ABSENT, file=sys.stderr)
        return 2
    faults = 0
    for name in asked.only or NAMES:
        for outcome in fuzz([name], asked.seconds):
            print(outcome.line(), flush=True)
            faults += len(outcome.faults)
    return int(faults > 0)


if __name__ == "__main__":
    sys.exit(main())
