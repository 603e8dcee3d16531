"""A machine's or the shop's downtime over a period, by week and by cause, beside what it made."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from functools import cached_property
from itertools import accumulate, chain

from pmtrack.rules.dates import monday_of
from pmtrack.rules.facts import Stop
from pmtrack.rules.mtbf import failures, mtbf_bounds
from pmtrack.rules.shop import Shop
from pmtrack.rules.shoptime import ONE_DAY, local_date
from pmtrack.rules.spans import Period, Stretch, common, hours, joined, period_of, stretch, without
from pmtrack.rules.workdays import Workdays

ZERO = Fraction(0)

_EARLIEST = datetime.min.replace(tzinfo=UTC)


def ratio(dividend: Fraction, divisor: Fraction | int) -> Fraction | None:
    """The quotient; None where the divisor is 0."""
    return dividend / divisor if divisor else None


@dataclass(frozen=True)
class Downtime:
    """Hours up and down in a period, and the failures begun in it, of one machine or several.

    `failure_hours` are whole clock hours; `failure_scheduled_hours` the part of them inside the
    period's scheduled time. `out_of_service_hours` would be scheduled if the machine were not out.
    Ratios are None where there is nothing to divide by.
    """

    scheduled_hours: Fraction
    planned_hours: Fraction
    unplanned_hours: Fraction
    unplanned_stops: int
    failure_hours: Fraction
    failure_scheduled_hours: Fraction
    out_of_service_hours: Fraction = ZERO

    @property
    def busy_hours(self) -> Fraction:
        """Hours the machine was to work (planned busy time, ISO 22400-2)."""
        return self.scheduled_hours - self.planned_hours

    @property
    def operating_hours(self) -> Fraction:
        """Scheduled hours in which it was not down."""
        return self.busy_hours - self.unplanned_hours

    @property
    def availability(self) -> Fraction | None:
        """Share of the busy hours in which it was up: planned stops are no loss."""
        return ratio(self.operating_hours, self.busy_hours)

    @property
    def share_up(self) -> Fraction | None:
        """Share of the scheduled hours in which it was up: planned stops are a loss."""
        return ratio(self.operating_hours, self.scheduled_hours)

    @property
    def mtbf_hours(self) -> Fraction | None:
        """Mean operating hours between failures; None without a failure."""
        return ratio(self.operating_hours, self.unplanned_stops)

    @property
    def mtbf_low(self) -> float | None:
        """Lower 90 % bound of the MTBF, hours."""
        return self._bounds[0]

    @property
    def mtbf_high(self) -> float | None:
        """Upper 90 % bound of the MTBF, hours; None without a failure."""
        return self._bounds[1]

    @cached_property
    def _bounds(self) -> tuple[float | None, float | None]:
        return mtbf_bounds(self.operating_hours, self.unplanned_stops)

    @property
    def mttr_hours(self) -> Fraction | None:
        """Mean clock hours from a failure's begin to its end."""
        return ratio(self.failure_hours, self.unplanned_stops)

    @property
    def mttr_scheduled_hours(self) -> Fraction | None:
        """Mean scheduled hours lost to a failure within the period."""
        return ratio(self.failure_scheduled_hours, self.unplanned_stops)


def downtime(stops: Iterable[Stop], period: Period) -> Downtime:
    """The downtime of one machine, from all its stops that end after the period's start.

    An hour that is both planned and unplanned is unplanned. A failure that ended after the
    period has its whole length; one that still runs, up to `now` or the period's end.
    """
    stops = list(stops)
    unplanned = _down(stops, period, planned=False)
    planned = without(_down(stops, period, planned=True), unplanned)
    begun = [
        (failure.start, failure.end_by(period.end))
        for failure in failures(stops, period.now)
        if period.holds(failure.start)
    ]
    return Downtime(
        scheduled_hours=hours(period.scheduled),
        planned_hours=hours(planned),
        unplanned_hours=hours(unplanned),
        unplanned_stops=len(begun),
        failure_hours=hours(begun),
        failure_scheduled_hours=hours(common(begun, period.scheduled)),
        out_of_service_hours=hours(period.not_scheduled),
    )


def _down(stops: Iterable[Stop], period: Period, planned: bool) -> list[Stretch]:
    """Scheduled time in which a stop of that sort ran, each instant once."""
    spans = joined(stretch(stop.span, period.now) for stop in stops if stop.planned is planned)
    return common(spans, period.scheduled)


def together(machines: Iterable[Downtime]) -> Downtime:
    """Several machines as one: hours and failures added up, ratios taken of the sums.

    Hours are then machine hours: MTBF is what one machine runs between its own failures, not the
    time between failures anywhere in the shop; its bounds take all machines to fail at one rate.
    """
    each = list(machines)
    return Downtime(
        scheduled_hours=sum((m.scheduled_hours for m in each), ZERO),
        planned_hours=sum((m.planned_hours for m in each), ZERO),
        unplanned_hours=sum((m.unplanned_hours for m in each), ZERO),
        unplanned_stops=sum(m.unplanned_stops for m in each),
        failure_hours=sum((m.failure_hours for m in each), ZERO),
        failure_scheduled_hours=sum((m.failure_scheduled_hours for m in each), ZERO),
        out_of_service_hours=sum((m.out_of_service_hours for m in each), ZERO),
    )


@dataclass(frozen=True)
class Week:
    """One ISO week, by its Monday, as far as its dates `first` to `last` are of the period."""

    monday: date
    first: date
    last: date
    downtime: Downtime


def weekly(stops: Sequence[Stop], shop: Shop, workdays: Workdays, period: Period) -> list[Week]:
    """The downtime of one machine week by week, through the week of `now`.

    Each week is a period of its own; a Sunday night shift is of the week that ends.
    """
    through = min(period.last, local_date(period.now, shop.zone))
    result, first = [], period.first
    while first <= through:
        monday = monday_of(first)
        last = min(monday + timedelta(days=6), period.last)
        week = period_of(shop, workdays, first, last, period.now).of_machine(period.out)
        result.append(Week(monday, first, last, downtime(stops, week)))
        first = last + ONE_DAY
    return result


@dataclass(frozen=True)
class CauseHours:
    """What one cause took: stops begun in the period, and scheduled hours down.

    `share` is its part of all hours down, `cumulative_share` that of it and the causes before it;
    both are None where there are no hours.
    """

    cause: str
    count: int
    planned_hours: Fraction
    unplanned_hours: Fraction
    share: Fraction | None
    cumulative_share: Fraction | None

    @property
    def hours(self) -> Fraction:
        """Scheduled hours down, planned and unplanned."""
        return self.planned_hours + self.unplanned_hours


def pareto(stops: Iterable[Stop], period: Period) -> list[CauseHours]:
    """Causes of the stops of one machine or several, the most hours first, then by name.

    An hour with several stops of a machine is that of an unplanned one, else of the one begun
    first; so the hours add up to the planned and unplanned hours of the machines.
    """
    return _ranked(_cause_totals(stops, period))


def causes_together(each: Iterable[Sequence[CauseHours]]) -> list[CauseHours]:
    """The causes of several machines as one list, in the same order."""
    found: dict[str, list[CauseHours]] = defaultdict(list)
    for cause in chain.from_iterable(each):
        found[cause.cause].append(cause)
    return _ranked(
        (
            name,
            sum(cause.count for cause in own),
            sum((cause.planned_hours for cause in own), ZERO),
            sum((cause.unplanned_hours for cause in own), ZERO),
        )
        for name, own in found.items()
    )


def _ranked(totals: Iterable[tuple[str, int, Fraction, Fraction]]) -> list[CauseHours]:
    """Causes with their shares, from name, count, planned and unplanned hours of each."""
    rows = sorted(totals, key=lambda row: (-row[2] - row[3], row[0]))
    running = list(accumulate(row[2] + row[3] for row in rows))
    return [
        CauseHours(*row, ratio(row[2] + row[3], running[-1]), ratio(so_far, running[-1]))
        for row, so_far in zip(rows, running, strict=True)
    ]


def _cause_totals(
    stops: Iterable[Stop], period: Period
) -> list[tuple[str, int, Fraction, Fraction]]:
    """Cause, stops begun, planned and unplanned hours; causes with none of them left out."""
    begun = [stop for stop in stops if stop.span.start <= period.now]
    counts = Counter(stop.cause for stop in begun if period.holds(stop.span.start))
    taken: dict[tuple[str, bool], Fraction] = defaultdict(Fraction)
    for stop, own in _shared_out(begun, period):
        taken[stop.cause, stop.planned] += hours(common(own, period.scheduled))
    causes = {cause for (cause, _), amount in taken.items() if amount} | set(counts)
    return [(c, counts[c], taken[c, True], taken[c, False]) for c in causes]


def _shared_out(stops: Sequence[Stop], period: Period) -> Iterator[tuple[Stop, list[Stretch]]]:
    """Each stop with the time that is its own, so that no instant of a machine comes twice."""
    for machine in {stop.machine for stop in stops}:
        own = [stop for stop in stops if stop.machine == machine]
        unplanned = _in_turn([stop for stop in own if not stop.planned], period)
        yield from ((stop, [one]) for stop, one in unplanned)
        taken = joined(one for _, one in unplanned)
        for stop, one in _in_turn([stop for stop in own if stop.planned], period):
            yield stop, without([one], taken)


def _in_turn(stops: Iterable[Stop], period: Period) -> list[tuple[Stop, Stretch]]:
    """Each stop from its begin, or from where those begun before it end; empty if they outlast."""
    result, reached = [], _EARLIEST
    for stop in sorted(stops, key=lambda s: (s.span.start, s.entry)):
        start, end = stretch(stop.span, period.now)
        start, reached = max(start, reached), max(end, reached)
        result.append((stop, (start, max(start, end))))
    return result
