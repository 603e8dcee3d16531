"""How fast meters run at most, and where they stood, from the ends of a few days of each."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date
from functools import cache, cached_property

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


class Paces:
    """Meters as the usage intervals of many tasks need them, those of one name read together.

    What is not known of a meter or a completion is what proves nothing.
    """

    def __init__(self, view: View, asked: Asked) -> None:
        self._view = view
        self._asked = asked
        self._paces: dict[tuple[str, str], Pace] = {}
        self._usages: dict[tuple[str, int], int] = {}  # at completions, by the meter's name
        self._prior = cache(self._prior_of)
        self._span = cache(self._span_of)

    def read(self, meter: str, machines: Mapping[int, str]) -> None:
        """Read what bears on completions with the meter of that name; `machines` by entry."""
        self._read_paces(meter, dict.fromkeys(machines.values()))
        told = {e: code for e, code in machines.items() if (code, meter) in self._paces}
        self._read_usages(meter, told)

    def is_passing(self, machine: str, interval: Countdown, entry: int) -> bool:
        """Whether an interval that runs from a completion is certainly quiet."""
        pace = self._paces.get((machine, interval.unit))
        usage = self._usages.get((interval.unit, entry))
        if pace is None or usage is None:
            return False
        return usage > self._span(machine).passing.passed(interval, pace)

    # --- how fast they run

    def _read_paces(self, meter: str, machines: Collection[str]) -> None:
        """None is known of a meter not read in the span of the rate, or first read in it."""
        together = defaultdict["_Span", dict[str, Closing]](dict)
        for machine, now in self._closings(meter, machines, self._asked.day).items():
            span = self._span(machine)
            if not now.tangled and now.day >= span.first:
                together[span][machine] = now
        for span, closing in together.items():
            if span.before is not None:
                before = self._closings(meter, closing, span.before)
                for machine, earlier in before.items():
                    if not earlier.tangled:
                        pace = self._pace((machine, meter), span, earlier, closing[machine])
                        self._paces[machine, meter] = pace

    def _closings(self, meter: str, machines: Collection[str], day: date) -> dict[str, Closing]:
        return latest.closings(self._view.store, meter, machines, day, self._view.ends(day))

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

    def _read_usages(self, meter: str, machines: Mapping[int, str]) -> None:
        """Usage (millionths) at completions; those that count at their day's end by days."""
        by_day = defaultdict[str, list[int]](list)
        for entry, done in usage_when_done(self._view.store, meter, machines).items():
            if done.whole_day:
                by_day[done.day].append(entry)
            else:
                self._usages[meter, entry] = done.usage
        for day, entries in by_day.items():
            self._read_ends(meter, to_date(day), {entry: machines[entry] for entry in entries})

    def _read_ends(self, meter: str, day: date, machines: Mapping[int, str]) -> None:
        found = self._closings(meter, dict.fromkeys(machines.values()), day)
        for entry, machine in machines.items():
            end = found.get(machine)
            if end is None:
                self._usages[meter, entry] = 0
            elif not end.tangled:
                self._usages[meter, entry] = end.usage


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
