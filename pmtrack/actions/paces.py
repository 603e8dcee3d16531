"""How fast meters run at most, and where they stood, from the ends of a few days of each."""

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
from pmtrack.store.latest import Closing, closing, usage_when_done
from pmtrack.store.records import decode


class Paces:
    """Meters as the usage intervals of many tasks need them; None where nothing can be proven."""

    def __init__(self, view: View, asked: Asked) -> None:
        self._view = view
        self._asked = asked
        self._pace = cache(self._pace_of)
        self._prior = cache(self._prior_of)
        self._span = cache(self._span_of)

    @cached_property
    def _definitions(self) -> dict[tuple[str, str], str]:
        return latest.meter_definitions(self._view.store)

    @cached_property
    def _shop_span(self) -> "_Span":
        return _Span(self._asked, self._view.workdays)

    def _span_of(self, machine: str) -> "_Span":
        """Shared by all machines that were never out of service."""
        days = self._view.machine_days(machine)[0]
        if days is self._view.workdays:
            return self._shop_span
        return _Span(self._asked, days)

    def passed(self, machine: str, interval: Countdown) -> int | None:
        """Usage (millionths): an interval is quiet if the meter stood above that at its base."""
        pace = self._pace((machine, interval.unit))
        return None if pace is None else self._span(machine).passing.passed(interval, pace)

    def usage_at(self, meter: tuple[str, str], entry: int) -> int | None:
        """Usage (millionths) at a completion."""
        day, whole_day, usage = usage_when_done(self._view.store, entry, meter)
        if not whole_day:
            return usage
        found = self._closing(meter, to_date(day))
        if found is None:
            return 0
        return None if found.tangled else found.usage

    def _closing(self, meter: tuple[str, str], day: date) -> Closing | None:
        return closing(self._view.store, meter, day, self._view.ends(day))

    def _pace_of(self, meter: tuple[str, str]) -> Pace | None:
        """None for a meter that was not read in the span of the rate, or first read in it."""
        span = self._span(meter[0])
        now = self._closing(meter, self._asked.day)
        if now is None or now.tangled or now.day < span.first or span.before is None:
            return None
        earlier = self._closing(meter, span.before)
        if earlier is None or earlier.tangled:
            return None
        prior = self._prior(self._definitions.get(meter))
        days = span.days_to(now.day)
        fastest = fastest_rate(now.usage - earlier.usage, days, prior)
        return Pace(now.usage, to_date(now.day), fastest)

    def _prior_of(self, definition: str | None) -> int | None:
        if definition is None:
            return None
        meter: Meter = decode(Meter, definition)
        return prior_of(self._view.per_working_day(meter.expected))


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
