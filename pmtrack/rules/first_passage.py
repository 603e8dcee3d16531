"""When a running count is expected to come to a target, and the range of that day."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import ceil, sqrt

from pmtrack.rules.rate import SPAN, Rate
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
        return self._around(days, half, not_before)

    def likely_range(self, not_before: date) -> tuple[date, date] | None:
        """A wider 80 % range of D, for a rate that does not stay as it is; it holds `range`.

        Variance (s / r)^2 (T + 2 T^2 / (n + 1) + 4/3 T^3 / 21^2), of what the T days to come may
        bring, of how well n working days tell the rate, and of its wandering on. A mean of n days
        suits a rate that renews itself by a = 2 / (n + 1) of each day's surprise, the smoothing
        that forgets as fast; a renewal k days ahead bears on T - k days (local level model,
        common textbook result). A rate is taken to wander as one that 20 days tell.
        """
        days, spread, per_day = self.working_days, self.rate.spread, self.rate.per_day
        if days is None or spread is None or not per_day:
            return None
        ahead = float(days)
        known = 2 * ahead**2 / (self.rate.days + 1)
        wandering = 4 / 3 * ahead**3 / (SPAN + 1) ** 2
        half = QUANTILE_80 * spread * sqrt(ahead + known + wandering) / float(per_day)
        return self._around(days, half, not_before)

    def _around(self, days: Fraction, half: float, not_before: date) -> tuple[date, date]:
        first, last = (self._at(float(days) + sign * half) for sign in (-1, 1))
        return max(first, not_before), max(last, not_before)

    def _at(self, days: float) -> date:
        count = ceil(days)
        found = self.workdays.nth_after(self.since, count) if count > 0 else self.since
        return found or date.max
