"""When a running count is expected to come to a target, and the range of that day."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import ceil, sqrt

from pmtrack.rules.rate import Rate
from pmtrack.rules.workdays import Workdays

QUANTILE_80 = 1.2816  # of the normal distribution, two-sided 80 %


@dataclass(frozen=True)
class Passage:
    """`remaining` units (above 0) to go after the day `since`, at a rate per working day."""

    since: date
    remaining: Fraction
    rate: Rate
    workdays: Workdays

    @property
    def working_days(self) -> Fraction | None:
        """T, the working days to go; None without a rate above 0."""
        return self.remaining / self.rate.per_day if self.rate.per_day else None

    @property
    def day(self) -> date | None:
        """D, the working day on which the target is expected to be reached."""
        days = self.working_days
        return None if days is None else self.workdays.nth_after(self.since, ceil(days))

    def range(self, not_before: date) -> tuple[date, date] | None:
        """The 80 % range of D: first passage of a Wiener process with drift (inverse Gaussian).

        Mean T, deviation s sqrt(remaining) / r^1.5 working days; None without a spread.
        """
        days, spread, per_day = self.working_days, self.rate.spread, self.rate.per_day
        if days is None or spread is None or not per_day:
            return None
        half = QUANTILE_80 * spread * sqrt(self.remaining) / float(per_day) ** 1.5
        first, last = (self._at(float(days) + sign * half) for sign in (-1, 1))
        return max(first, not_before), max(last, not_before)

    def _at(self, days: float) -> date:
        count = ceil(days)
        found = self.workdays.nth_after(self.since, count) if count > 0 else self.since
        return found or date.max
