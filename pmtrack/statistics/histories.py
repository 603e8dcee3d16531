"""What is known of the failures of one machine that is mended and goes on."""

from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True)
class History:
    """Ages at failure in order, in operating hours since the watch began, and the age at its end.

    With `ends_at_failure` the watch ended because the machine failed, so its last failure is its
    end; otherwise it ended at a set time. Raises ValueError for ages that cannot be.
    """

    failures: tuple[float, ...]
    end: float
    ends_at_failure: bool = False

    def __post_init__(self) -> None:
        if any(later < earlier for earlier, later in pairwise((*self.failures, self.end))):
            raise ValueError("failures are not in order, or come after the end")
        if self.end <= 0 or any(age <= 0 for age in self.failures):
            raise ValueError("a failure or end is not after the start of the watch")
        if self.ends_at_failure and self.failures[-1:] != (self.end,):
            raise ValueError("the watch does not end at its last failure")

    @property
    def free(self) -> tuple[float, ...]:
        """The failures that could have come at any other age: not one that ended the watch."""
        return self.failures[:-1] if self.ends_at_failure else self.failures

    @property
    def gaps(self) -> tuple[float, ...]:
        """Hours from the start, and then from each failure, to the next."""
        return tuple(later - earlier for earlier, later in pairwise((0.0, *self.failures)))
