"""One meter's entries up to the end of a day: its rate, its usage at a moment, its crossings."""

from datetime import date
from fractions import Fraction
from functools import cached_property
from itertools import pairwise, takewhile
from typing import TYPE_CHECKING

from pmtrack.rules.facts import Base, MeterEntry, Moment
from pmtrack.rules.metered import gains
from pmtrack.rules.rate import Kept, Last, Recent, Standing, rate_day, span_start, standing
from pmtrack.rules.shop import Meter
from pmtrack.rules.situation import UsageBase
from pmtrack.rules.usage import ZERO, Tally
from pmtrack.store.codec import to_date, to_millionths, to_text
from pmtrack.store.tallies import MeterTallies

if TYPE_CHECKING:
    from pmtrack.actions.view import View


class MeterHistory:
    """One meter's entries up to the end of a view's day."""

    def __init__(self, view: "View", machine: str, meter: Meter) -> None:
        self._view = view
        self._machine = machine
        self._meter = meter
        self._tallies = MeterTallies(view.store, machine, meter.name)
        self._midnight, self._latest = view.ends(view.day)

    def recent(self, day: date) -> Recent:
        """The entries that usage and rate on `day` rest on."""
        if self._last is None:
            return Recent(Tally(), (), True, self._meter.wraps_at)
        _, earlier = self._span(day, self._last[0].day)
        since = self._view.start(earlier) if earlier else ""
        opening = self._tallies.last(since, self._view.day) if since else None
        return Recent(
            opening=opening[1] if opening else Tally(),
            entries=tuple(self._tallies.entries(since, self._latest, self._view.day)),
            from_first=opening is None,
            wraps_at=self._meter.wraps_at,
        )

    @cached_property
    def _last(self) -> tuple[MeterEntry, Tally] | None:
        """The last entry of days up to the view's, and the tally after it."""
        return self._tallies.last(self._latest, self._view.day)

    def _span(self, day: date, last_day: date) -> tuple[date, date | None]:
        """The first day that the rate on `day` looks at, and that of the last entry before it."""
        days = self._view.machine_days(self._machine)[0]
        first = span_start(rate_day(day, last_day, days), days)
        return first, self._tallies.day_before(self._view.start(first), self._view.day)

    def gains(self, first: date, last: date = date.max) -> list[MeterEntry]:
        """What each entry of the days from first to last added to usage, in time order."""
        since, last = self._view.start(first), min(last, self._view.day)
        _, end = self._view.ends(last)
        before = self._tallies.last(since, self._view.day)
        entries = self._tallies.entries(since, end, self._view.day)
        made = gains(before[1] if before else Tally(), entries, self._meter.wraps_at)
        return [gain for gain in made if first <= gain.day <= last]

    def standing(self) -> Standing:
        """How the meter stands at the end of the view's day."""
        days = self._view.machine_days(self._machine)[0]
        expected = self._view.per_working_day(self._meter.expected)
        recent = self._kept or self.recent(self._view.day)
        return standing(recent, self._view.day, days, expected)

    @cached_property
    def _kept(self) -> Kept | None:
        """What `recent` comes to, of which no entry is read; None where that is not simply kept.

        It is where entries came in the order of their days, and some before the span of the rate.
        """
        if self._last is None:
            return None
        entry, tally = self._last
        first, earlier = self._span(self._view.day, entry.day)
        if earlier is None or earlier >= first:
            return None
        usages = self._tallies.usages(self._view.start(earlier), self._latest)
        if any(day > after for (day, _), (after, _) in pairwise(usages)):
            return None
        until = self._view.day.isoformat()
        known = [(to_date(day), usage) for day, usage in usages if day <= until]
        return Kept(Last(tally, entry.day, entry.at), tuple(known))

    @cached_property
    def _now(self) -> Tally:
        """The tally at the end of the view's day."""
        return self._kept.last.tally if self._kept else self.at_end_of(self._view.day) or Tally()

    def at_end_of(self, day: date) -> Tally | None:
        """The tally after the entries of days up to `day`."""
        midnight, night = self._view.ends(day)
        found = self._tallies.last(midnight, day)
        tally = found[1] if found else None
        for entry in self._tallies.entries(midnight, night, day):
            tally = (tally or Tally()).then(entry, self._meter.wraps_at)
        return tally

    def at(self, moment: Moment) -> Tally | None:
        """The tally at a moment; None before the first entry."""
        if moment.at is None:
            return self.at_end_of(moment.day)
        return self._tallies.through(to_text(moment.at))

    def level(self) -> Fraction:
        """Usage before the first entry, as known at the end of the view's day."""
        return self._now.level

    def usage_at(self, base: Base) -> Fraction | None:
        """Usage at a base: as read then, or as entered; None before the first entry."""
        if self._meter.name in base.readings:
            return base.readings[self._meter.name]
        tally = self.at(base.moment)
        return self._now.level + tally.usage if tally else None

    def at_base(self, base: Base, amount: Fraction, now: Standing) -> UsageBase:
        """Usage at a base, and the day on which `amount` more was reached.

        A base older than the first entry is taken to have the level before that entry.
        """
        if now.usage is None:
            return UsageBase(base.readings.get(self._meter.name, ZERO))
        level, known = self.level(), self.usage_at(base)
        usage = level if known is None else known
        target = usage + amount
        reached = self.reached_on(target - level) if now.usage >= target else None
        # read off a counter that nobody has read since: its level is 0
        off_dial = bool(base.readings.get(self._meter.name)) and self._now.offset is None
        return UsageBase(usage, known is None, reached, off_dial)

    def reached_on(self, usage: Fraction) -> date | None:
        """The day of the last crossing: usage since the level came to `usage` and stayed there."""
        if self._kept and self._kept.usages[0][1] < (mark := to_millionths(usage)):
            later = takewhile(lambda kept: kept[1] >= mark, reversed(self._kept.usages))
            return min((day for day, _ in later), default=None)
        found = self._tallies.last(self._midnight, self._view.day)
        tally = found[1] if found else Tally()
        crossed = None
        for entry in self._tallies.entries(self._midnight, self._latest, self._view.day):
            before, tally = tally, tally.then(entry, self._meter.wraps_at)
            if tally.usage >= usage > before.usage:
                crossed = entry.day
        if crossed or (found and found[1].usage < usage):
            return crossed
        return self._tallies.first_after(self._tallies.last_below(usage, self._midnight))
