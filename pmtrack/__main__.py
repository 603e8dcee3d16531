"""`python -m pmtrack` does what `pmtrack` does."""

import gc
import sys

from pmtrack.cli import main


def run() -> int:
    """One command in a process of its own, which ends before cyclic garbage could matter."""
    gc.disable()
    return main()


if __name__ == "__main__":
    sys.exit(run())
