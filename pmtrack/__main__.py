"""`python -m pmtrack` does what `pmtrack` does."""

import gc
import signal
import sys


def run() -> int:
    """One command in a process of its own.

    It ends before cyclic garbage could matter, and in silence when a pipe's reader has seen enough.
    """
    gc.disable()  # before the imports, which make no garbage but much to look through
    from pmtrack.cli import main

    if hasattr(signal, "SIGPIPE"):
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)
    try:
        return main()
    finally:
        gc.freeze()  # the last look for garbage, at the interpreter's end, would take a fifth


if __name__ == "__main__":
    sys.exit(run())
