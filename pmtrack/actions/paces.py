"""How fast meters run at most, and where they stood, from the ends of a few days of each."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from datetime import date
from functools import cache, cached_property
from typing import NamedTuple

from pmtrack.actions.view import View
from pmtrack.rules.quiet import Asked, Countdown, Pace, Passing, fastest_rate, prior_of
from pmtrack.rules.rate import span_start
from pmtrack.rules.shop import Meter
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.workdays import Workdays
from pmtrack.store import latest
from pmtrack.store.codec import to_date
from pmtrack.store.latest import Closing, usage_when_done
from pmtrack.store.records import decode


class Ask(NamedTuple):
    """A task on a machine, the completion that it runs from, and a usage interval of it."""

    task: str
    machine: str
    entry: int
    interval: Countdown


class Paces:
    """Meters as the usage intervals of many tasks need them, those of one name read together."""

    def __init__(self, view: View, asked: Asked) -> None:
        self._view = view
        self._asked = asked
        self._prior = cache(self._prior_of)
        self._span = cache(self._span_of)

    def doubtful(self, meter: str, asks: Collection[Ask]) -> Iterator[str]:
        """The tasks whose intervals, of the meter of that name, are not certainly quiet."""
        paces = self._paces(meter, dict.fromkeys(ask.machine for ask in asks))
        usages = self._usages(meter, {ask.entry: ask.machine for ask in asks})
        for task, machine, entry, interval in asks:
            pace, usage = paces.get(machine), usages.get(entry)
            passing = self._span(machine).passing
            if pace is None or usage is None or usage <= passing.passed(interval, pace):
                yield task

    def _closings(self, meter: str, machines: Collection[str], day: date) -> dict[str, Closing]:
        return latest.closings(self._view.store, meter, machines, day, self._view.ends(day))

    # --- how fast they run

    def _paces(self, meter: str, machines: Collection[str]) -> dict[str, Pace]:
        """By machine; none of a meter not read in the span of the rate, or first read in it."""
        together = defaultdict["_Span", dict[str, Closing]](dict)
        for machine, now in self._closings(meter, machines, self._asked.day).items():
            span = self._span(machine)
            if not now.tangled and now.day >= span.first:
                together[span][machine] = now
        return {
            machine: self._pace((machine, meter), span, earlier, now[machine])
            for span, now in together.items()
            if span.before is not None
            for machine, earlier in self._closings(meter, now, span.before).items()
            if not earlier.tangled
        }

    def _pace(self, meter: tuple[str, str], span: "_Span", earlier: Closing, now: Closing) -> Pace:
        prior = self._prior(self._definitions.get(meter))
        fastest = fastest_rate(now.usage - earlier.usage, span.days_to(now.day), prior)
        return Pace(now.usage, to_date(now.day), fastest)

    @cached_property
    def _definitions(self) -> dict[tuple[str, str], str]:
        return latest.meter_definitions(self._view.store)

    def _prior_of(self, definition: str | None) -> int | None:
        if definition is None:
            return None
        meter: Meter = decode(Meter, definition)
        return prior_of(self._view.per_working_day(meter.expected))

    @cached_property
    def _shop_span(self) -> "_Span":
        return _Span(self._asked, self._view.workdays)

    def _span_of(self, machine: str) -> "_Span":
        """Shared by all machines that were never out of service."""
        days = self._view.machine_days(machine)[0]
        if days is self._view.workdays:
            return self._shop_span
        return _Span(self._asked, days)

    # --- where they stood

    def _usages(self, meter: str, machines: Mapping[int, str]) -> dict[int, int]:
        """Usage (millionths) at completions, by entry; those of a day's end day by day."""
        found, by_day = {}, defaultdict[str, dict[int, str]](dict)
        for entry, done in usage_when_done(self._view.store, meter, machines).items():
            if done.whole_day:
                by_day[done.day][entry] = machines[entry]
            else:
                found[entry] = done.usage
        for day, of_day in by_day.items():
            found |= self._usages_at_end(meter, of_day, to_date(day))
        return found

    def _usages_at_end(self, meter: str, machines: Mapping[int, str], day: date) -> dict[int, int]:
        """None of a meter whose entries lie otherwise than their days."""
        closings = self._closings(meter, dict.fromkeys(machines.values()), day)
        ends = {entry: closings.get(machine) for entry, machine in machines.items()}
        return {
            entry: end.usage if end else 0
            for entry, end in ends.items()
            if end is None or not end.tangled
        }


class _Span:
    """The span of the rate on machines with the same working days, and the day `before` it."""

    def __init__(self, asked: Asked, days: Workdays) -> None:
        first = span_start(asked.day, days)
        self.passing = Passing(asked, days)
        self.first = first.isoformat()
        self.before = first - ONE_DAY if first > date.min else None
        self._days = days
        self.days_to = cache(self._days_to)

    def _days_to(self, last_day: str) -> int:
        """Working days of the span up to a day."""
        return self._days.between(self.before or date.min, to_date(last_day))
