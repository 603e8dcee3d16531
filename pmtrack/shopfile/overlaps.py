"""Shifts with an end mistyped: one that lasts most of a day and runs beside another for hours."""

from collections.abc import Iterator, Sequence
from datetime import time
from itertools import permutations

from pmtrack.rules.shop import Shift
from pmtrack.shopfile.fault import Finding

LONGEST_MINUTES = 12 * 60  # of a shift beside another; common practice, no source
HANDOVER_MINUTES = 60  # common practice, no source
_DAY, _WEEK = 24 * 60, 7 * 24 * 60


def overlap_faults(shifts: Sequence[Shift]) -> Iterator[Finding]:
    """Long shifts that run beside another for more than a handover takes.

    Staggered shifts may overlap, and a shop with one shift may work around the clock.
    """
    for (place, shift), (_, other) in permutations(enumerate(shifts), 2):
        length = _length(shift)
        shared = max(_shared(*mine, *its) for mine in _spans(shift) for its in _spans(other))
        if length > LONGEST_MINUTES and shared > HANDOVER_MINUTES:
            yield (
                ("shop", "shifts", place),
                f"lasts {_told(length)}, {_told(shared)} of it beside the {other.name} shift; "
                "write start and end anew",
            )


def _told(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def _length(shift: Shift) -> int:
    return (_minutes(shift.end) - _minutes(shift.start)) % _DAY or _DAY


def _spans(shift: Shift) -> list[tuple[int, int]]:
    """Begin and end of a shift on each of its weekdays, in minutes of a week."""
    begins = (day * _DAY + _minutes(shift.start) for day in shift.weekdays)
    return [(begin, begin + _length(shift)) for begin in begins]


def _minutes(at: time) -> int:
    return 60 * at.hour + at.minute


def _shared(begin: int, end: int, other_begin: int, other_end: int) -> int:
    """Minutes that two spans share, that of the week before or after included."""
    return max(
        min(end, other_end + week) - max(begin, other_begin + week) for week in (-_WEEK, 0, _WEEK)
    )
