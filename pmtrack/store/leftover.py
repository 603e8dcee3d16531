"""What a killed command left beside the store: a log of changes that the next one takes over.

SQLite goes on without a log that is gone, and so without what was entered last, and says nothing;
its index, which is still there, tells.
"""

import os
from pathlib import Path
from time import sleep

from pmtrack.errors import Refused

_LOOKS, _BETWEEN = 3, 0.05  # how often to look at what others may just change; seconds between


def check_leftover(path: Path) -> None:
    """Raises Refused where opening the store would drop what its users were told is kept."""
    real = os.path.realpath(path)
    log, index = Path(f"{real}-wal"), Path(f"{real}-shm")
    for look in range(_LOOKS):
        sleep(_BETWEEN if look else 0)
        if log.exists() or not index.exists():
            return
    raise Refused(
        f"{log}: this file is gone, and with it what was entered last; nothing was changed; "
        f"put it back, or delete {index.name} to go on without"
    )
