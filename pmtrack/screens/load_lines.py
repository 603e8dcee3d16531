"""The load of each week as lines with bars."""

from collections.abc import Sequence

from pmtrack.rules.dates import week_name
from pmtrack.rules.load import WeekLoad
from pmtrack.rules.quantity import show
from pmtrack.rules.usage import ZERO
from pmtrack.screens.terminal import bar

_BAR = 30


def load_lines(loads: Sequence[WeekLoad]) -> list[str]:
    """Each week with its jobs, its in-house hours, and a bar against the crew's hours."""
    most = max((load.hours for load in loads), default=ZERO)
    lines = []
    for load in loads:
        whole = most if load.available is None else load.available
        of = "" if load.available is None else f" of {show(load.available)}"
        share = float(load.hours / whole) if whole else 0.0
        lines.append(
            f"{week_name(load.monday)}  {load.jobs:4} jobs  "
            f"{float(load.hours):5.1f}{of} h in-house  {bar(share, _BAR)}"
        )
    return lines
