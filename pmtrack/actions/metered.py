"""What meters gained while wear parts were fitted, from the tallies that the store keeps."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from fractions import Fraction

from pmtrack.actions.meter_history import MeterHistory
from pmtrack.actions.view import View
from pmtrack.rules.base import instant_of
from pmtrack.rules.facts import MeterEntry, Moment
from pmtrack.rules.metered import Fitting
from pmtrack.rules.usage import ZERO
from pmtrack.rules.wear_hits import is_later
from pmtrack.store.codec import to_text
from pmtrack.store.tallies import MeterTallies

_INSTANT = timedelta(seconds=1)  # the least between two entries


class MeterGains:
    """One meter's gains on whichever machine a part sat in; nothing is read twice."""

    def __init__(self, view: View, meter: str) -> None:
        self._view = view
        self._meter = meter
        self._histories: dict[str, MeterHistory] = {}
        self._usages: dict[tuple[str, Moment], Fraction] = {}
        self._gains: dict[tuple[str, date, date], list[MeterEntry]] = {}

    def _history(self, machine: str) -> MeterHistory:
        if machine not in self._histories:
            self._histories[machine] = self._view.meter(machine, self._meter)
        return self._histories[machine]

    def _usage(self, machine: str, moment: Moment) -> Fraction:
        key = machine, moment
        if key not in self._usages:
            tally = self._history(machine).at(moment)
            self._usages[key] = tally.usage if tally else ZERO
        return self._usages[key]

    def between(self, spans: Iterable[Fitting], since: Moment | None, last: date) -> Fraction:
        """What was gained later than a moment, on days up to `last`, while the part was fitted."""
        end = Moment(last)
        return sum(
            (
                self._usage(cut.machine, cut.end.moment if cut.end else end)
                - self._usage(cut.machine, self._later(cut.start.moment, since))
                for span in spans
                if (cut := span.until(self._instant(end))) and self._is_after(cut, since)
            ),
            ZERO,
        )

    def _instant(self, moment: Moment) -> datetime:
        return instant_of(moment, self._view.bare)

    def _later(self, start: Moment, since: Moment | None) -> Moment:
        return start if since is None else max(start, since, key=self._instant)

    def _is_after(self, span: Fitting, since: Moment | None) -> bool:
        return since is None or span.end is None or span.end.at > self._instant(since)

    def since(self, spans: Sequence[Fitting], first: date) -> list[MeterEntry]:
        """The gains of days from `first` on while the part was fitted, in time order."""
        found = [
            gain
            for span in spans
            if span.end is None or span.end.moment.day >= first
            for gain in self._made(span.machine, max(first, span.start.moment.day), date.max)
            if span.holds(gain)
        ]
        return sorted(found, key=lambda gain: gain.order)

    def _made(self, machine: str, first: date, last: date) -> list[MeterEntry]:
        key = machine, first, last
        if key not in self._gains:
            self._gains[key] = self._history(machine).gains(first, last)
        return self._gains[key]

    def on_days(
        self, spans: Sequence[Fitting], days: Iterable[date], since: Moment | None
    ) -> Fraction:
        """What was gained on some days, later than a moment, while the part was fitted."""
        return sum(
            (
                gain.value
                for day in days
                for span in spans
                for gain in self._made(span.machine, day, day)
                if span.holds(gain) and is_later(gain, since)
            ),
            ZERO,
        )

    def last_day(self, spans: Sequence[Fitting], before: str = "9") -> date | None:
        """The day of the last entry earlier than an instant while the part was fitted."""
        for span in reversed(spans):
            tallies = MeterTallies(self._view.store, span.machine, self._meter)
            end = to_text(span.end.at + _INSTANT) if span.end else before
            found = tallies.last(min(before, end), self._view.day)
            if found and span.holds(found[0]):
                return found[0].day
        return None
