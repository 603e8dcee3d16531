"""`python -m pmtrack` does what `pmtrack` does."""

import sys

from pmtrack.cli import main

if __name__ == "__main__":
    sys.exit(main())
