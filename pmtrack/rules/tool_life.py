"""A tool's life since it was last sharpened or replaced: when its wear comes to so many hits."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.first_passage import Passage
from pmtrack.rules.rate import Recent, Standing, rate_day, span_start, standing
from pmtrack.rules.usage import ZERO, Tally
from pmtrack.rules.wear_hits import Factors, ToolRecord, wear_at_base, wear_entries
from pmtrack.rules.workdays import Workdays


@dataclass(frozen=True)
class Life:
    """Wear up to a day; `start` is the part of it that is older than this life."""

    entries: list[MeterEntry]
    before: Fraction
    start: Fraction
    standing: Standing
    workdays: Workdays
    day: date
    out_of_service: bool

    @property
    def wear(self) -> Fraction:
        """Wear since the last sharpening or replacement."""
        return (self.standing.usage or ZERO) - self.start

    def passage(self, hits: Fraction) -> Passage | None:
        """The way to that much wear; None when it is made or nothing was entered."""
        if self.standing.last_day is None or self.wear >= hits:
            return None
        return Passage(self.standing.last_day, hits - self.wear, self.standing.rate, self.workdays)

    def day_of(self, hits: Fraction) -> date | None:
        """The day on which so much wear was, or is expected to be, made."""
        if self.out_of_service:
            return None
        passage = self.passage(hits)
        return passage.day if passage else self._made_on(hits)

    def _made_on(self, hits: Fraction) -> date | None:
        """The day of the last crossing: a dial may take back what was counted too much."""
        total, crossed = self.before, None
        for entry in self.entries:
            total += entry.value
            if total < self.start + hits:
                crossed = None
            elif crossed is None:
                crossed = entry.day
        return crossed

    def range_of(self, hits: Fraction) -> tuple[date, date] | None:
        """The 80 % range of that day while it is still to come."""
        passage = None if self.out_of_service else self.passage(hits)
        if passage is None or passage.day is None or passage.day < self.day:
            return None
        return passage.range(self.day)


def life_of(
    record: ToolRecord, factors: Factors, day: date, machine_days: tuple[Workdays, bool]
) -> Life:
    """The life of a tool as of the end of a day."""
    entries, (workdays, out_of_service) = wear_entries(record, factors), machine_days
    recent = _recent(entries, record.before, day, workdays)
    return Life(
        entries=entries,
        before=record.before,
        start=wear_at_base(record, entries),
        standing=standing(recent, day, workdays, None),
        workdays=workdays,
        day=day,
        out_of_service=out_of_service,
    )


def _recent(entries: list[MeterEntry], before: Fraction, day: date, workdays: Workdays) -> Recent:
    """The entries that the rate looks at, from the last day before its span on."""
    start, opening = 0, before
    if entries:
        first = window_start({entry.day for entry in entries}, day, workdays)
        start = next(i for i, entry in enumerate(entries) if entry.day >= first)
        opening += sum((entry.value for entry in entries[:start]), ZERO)
    return Recent(Tally(usage=opening), tuple(entries[start:]), from_first=start == 0)


def window_start(days: Collection[date], day: date, workdays: Workdays) -> date:
    """The last day with an entry before the span that the rate on `day` looks at, or the first."""
    first = span_start(rate_day(day, max(days), workdays), workdays)
    return max((d for d in days if d < first), default=min(days))
