"""When machines stood still, so that nothing is made and no two stops overlap meanwhile."""

from collections import defaultdict
from datetime import datetime, timedelta

from pmtrack.rules.spans import Stretch

_REMEMBERED = timedelta(days=3)


class Outages:
    """The spans in which each machine was or will be down."""

    def __init__(self) -> None:
        self._spans: dict[str, list[Stretch]] = defaultdict(list)

    def add(self, machine: str, start: datetime, end: datetime) -> None:
        """Note a span."""
        kept = [span for span in self._spans[machine] if span[1] > start - _REMEMBERED]
        self._spans[machine] = sorted([*kept, (start, end)])

    def free_from(self, machine: str, at: datetime, length: timedelta) -> datetime:
        """The first instant from `at` on from which the machine is not down for so long."""
        for start, end in self._spans[machine]:
            if start < at + length and at < end:
                at = end
        return at

    def next_after(self, machine: str, at: datetime) -> datetime | None:
        """When the next span begins, if one is known already."""
        return min((start for start, _ in self._spans[machine] if start >= at), default=None)

    def inside(self, machine: str, start: datetime, end: datetime) -> timedelta:
        """Time down between two instants."""
        parts = (min(e, end) - max(s, start) for s, e in self._spans[machine])
        return sum((part for part in parts if part > timedelta(0)), timedelta(0))
