"""A figure that is counted and not timed: what was tried, and each thing that went wrong."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Counted:
    """What was tried, in a line, and its faults; there should be none."""

    name: str
    told: str
    faults: tuple[str, ...] = ()

    def lines(self) -> list[str]:
        """The figure as a line of the table, and a line for each of its first faults."""
        judged = "ok" if not self.faults else f"{len(self.faults)} FAULTS"
        shown = [f"    {fault}" for fault in self.faults[:10]]
        return [f"{self.name:30} {judged:10} {self.told}", *shown]
