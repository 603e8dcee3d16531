"""Shifts that run at the same time: one crew hands over to the next, but not for hours."""

from collections.abc import Iterator, Sequence
from datetime import time
from itertools import combinations

from pmtrack.rules.shop import Shift
from pmtrack.shopfile.fault import Finding

HANDOVER_MINUTES = 60
_DAY, _WEEK = 24 * 60, 7 * 24 * 60


def overlap_faults(shifts: Sequence[Shift]) -> Iterator[Finding]:
    """Pairs of shifts that overlap by more than a handover takes, at the later one of the file."""
    for (_, first), (place, second) in combinations(enumerate(shifts), 2):
        most = max(_shared(*span, *other) for span in _spans(first) for other in _spans(second))
        if most > HANDOVER_MINUTES:
            yield (
                ("shop", "shifts", place),
                f"runs beside the {first.name} shift for {most // 60} h {most % 60} min; "
                "write start and end anew, or one shift for both",
            )


def _spans(shift: Shift) -> list[tuple[int, int]]:
    """Begin and end of a shift on each of its weekdays, in minutes of a week."""
    begin, end = _minutes(shift.start), _minutes(shift.end)
    length = (end - begin) % _DAY or _DAY
    return [(day * _DAY + begin, day * _DAY + begin + length) for day in shift.weekdays]


def _minutes(at: time) -> int:
    return 60 * at.hour + at.minute


def _shared(begin: int, end: int, other_begin: int, other_end: int) -> int:
    """Minutes that two spans share, that of the week before or after included."""
    return max(
        min(end, other_end + week) - max(begin, other_begin + week) for week in (-_WEEK, 0, _WEEK)
    )
