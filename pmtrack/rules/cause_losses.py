"""What each cause of stops cost: its hours, and what the machines would have made in them."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from pmtrack.rules.downtime import CauseHours, ratio
from pmtrack.rules.throughput import Lost, Made, lost_together


@dataclass(frozen=True)
class CauseLoss:
    """A cause over one machine or several, and what its hours down lost."""

    hours: CauseHours
    lost: Lost

    @property
    def hours_each(self) -> Fraction | None:
        """Scheduled hours down for each stop begun; seldom and long, or often and short."""
        return ratio(self.hours.hours, self.hours.count)


def cause_losses(
    causes: Sequence[CauseHours], machines: Iterable[tuple[Made, Sequence[CauseHours]]]
) -> list[CauseLoss]:
    """The causes of several machines, each with the losses of the machines that it stopped."""
    losses: dict[str, list[Lost]] = defaultdict(list)
    for made, own in machines:
        for cause in own:
            losses[cause.cause].append(made.lost(cause.hours))
    return [CauseLoss(cause, lost_together(losses[cause.cause])) for cause in causes]
