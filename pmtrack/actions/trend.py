"""Is a machine getting worse? Its failures over its operating hours, with tests and a fit."""

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from pmtrack.actions.failing import Dates, Watch, watches_of
from pmtrack.actions.view import View
from pmtrack.statistics.estimate import TooFew
from pmtrack.statistics.histories import History
from pmtrack.statistics.mcf import MeanCount, mean_cumulative
from pmtrack.statistics.power_law import Growth, power_law
from pmtrack.statistics.trend import FEWEST, Trend, Verdict, laplace, military

_ORDER = {Verdict.WORSE: 0, Verdict.NO_TREND: 1, Verdict.BETTER: 2, Verdict.TOO_FEW: 3}


@dataclass(frozen=True)
class MachineTrend:
    """What the failures of one machine tell."""

    watch: Watch

    @property
    def failures(self) -> int:
        """How many there were."""
        return len(self.watch.ages)

    @cached_property
    def history(self) -> History | None:
        """The failures by operating hours; None where the machine has not run yet."""
        end = float(self.watch.clock.total)
        if end <= 0:
            return None
        return History(tuple(min(age, end) for age in self.watch.ages), end)

    @cached_property
    def laplace(self) -> Trend:
        """Whether failures lie late or early."""
        return laplace(self.history) if self.history else Trend(Verdict.TOO_FEW, self.failures)

    @cached_property
    def military(self) -> Trend:
        """The best test where a power law holds."""
        return military(self.history) if self.history else Trend(Verdict.TOO_FEW, self.failures)

    @cached_property
    def growth(self) -> Growth | TooFew:
        """The power law, or why there is none."""
        if self.history is None:
            return TooFew(self.failures, FEWEST, "the machine has not run yet")
        return power_law(self.history)

    @property
    def verdict(self) -> Verdict:
        """What both tests say: the one of them that sees a trend, the surer of two that do.

        Where they contradict each other there is no trend.
        """
        found = [t for t in (self.laplace, self.military) if t.verdict in _SEEN]
        if not found:
            return self.laplace.verdict
        same = len({t.verdict for t in found}) == 1
        return found[0].verdict if same else Verdict.NO_TREND


_SEEN = (Verdict.WORSE, Verdict.BETTER)


@dataclass(frozen=True)
class Trends:
    """The machines asked about, the worst first, and their mean count of failures together."""

    machines: list[MachineTrend]

    @cached_property
    def together(self) -> tuple[MeanCount, ...]:
        """Mean failures of a machine by its operating hours."""
        return mean_cumulative([m.history for m in self.machines if m.history])


def trends(
    view: View, now: datetime, only: str | None = None, dates: Dates = (None, None)
) -> Trends:
    """The trend of each machine of the shop, or of one."""
    found = [MachineTrend(one) for one in watches_of(view, now, only, dates)]
    return Trends(sorted(found, key=_worst_first))


def _worst_first(found: MachineTrend) -> tuple[int, float, int, str]:
    """Those getting worse, then by how surely the failures lie late, then by their number."""
    late = found.laplace.statistic
    order = _ORDER[found.verdict]
    return (
        order,
        -(late if late is not None else 0.0),
        -found.failures,
        found.watch.machine.code,
    )
