"""How the expected days of the store's own meters came out: each forecast against what came."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from pmtrack.actions.references import References
from pmtrack.actions.view import View
from pmtrack.rules.backtest import BANDS, Band, Held, Outcome, replay
from pmtrack.rules.meter_past import MeterPast
from pmtrack.rules.rate import per_working_day
from pmtrack.rules.shop import Machine, Meter
from pmtrack.statistics.binomial import share
from pmtrack.statistics.estimate import Estimate
from pmtrack.store.tallies import MeterTallies

PROMISED = 0.8  # what the ranges are made to hold
DOUBTFUL = 0.7  # below it a range is not said to hold, though the cases may be few
FEWEST = 10  # cases of which a share is told

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Coverage:
    """How often a range held; without `share` there were too few cases."""

    held: Held

    @cached_property
    def share(self) -> Estimate | None:
        """The share of days inside, with its limits."""
        cases = self.held.cases
        return share(self.held.inside, cases) if cases >= FEWEST else None

    @property
    def verdict(self) -> str:
        """What the cases tell; `wide` ranges hold more than they have to."""
        found = self.share
        if found is None or found.low is None or found.high is None:
            return "too few cases"
        if found.high < PROMISED:
            return "too narrow"
        if found.value < DOUBTFUL:
            return "perhaps too narrow"
        return "wide" if found.low > PROMISED else "holds"


@dataclass(frozen=True)
class BandOutcome:
    """What became of the forecasts of one band."""

    band: Band
    outcome: Outcome

    @cached_property
    def due(self) -> Coverage:
        """Of the range that is shown with D."""
        return Coverage(self.outcome.due)

    @cached_property
    def likely(self) -> Coverage:
        """Of the wider range."""
        return Coverage(self.outcome.likely)


@dataclass(frozen=True)
class MeterOutcome:
    """What became of the forecasts of one meter."""

    machine: str
    meter: str
    first: date | None  # the days between which entries lie
    last: date | None
    bands: tuple[BandOutcome, ...]


@dataclass(frozen=True)
class Backtest:
    """All meters, and the bands over all of them."""

    on: date
    meters: tuple[MeterOutcome, ...]
    bands: tuple[BandOutcome, ...]


def backtest(view: View, machine: str | None, progress: Progress) -> Backtest:
    """Every meter's forecasts up to the view's day. Refused if no machine has that code."""
    if machine is not None:
        References(view).machine(machine)
    meters = [
        (found, meter)
        for found in view.shop.machines
        if machine in (None, found.code)
        for meter in found.meters
    ]
    outcomes = []
    for done, (found, meter) in enumerate(meters, start=1):
        outcomes.append(_outcome(view, found, meter))
        progress(done, len(meters))
    return Backtest(view.day, tuple(outcomes), _over_all(outcomes))


def _over_all(outcomes: list[MeterOutcome]) -> tuple[BandOutcome, ...]:
    totals = [Outcome()] * len(BANDS)
    for found in outcomes:
        totals = [total + made.outcome for total, made in zip(totals, found.bands, strict=True)]
    return tuple(BandOutcome(band, total) for band, total in zip(BANDS, totals, strict=True))


def _outcome(view: View, machine: Machine, meter: Meter) -> MeterOutcome:
    past = meter_past(view, machine, meter)
    bands = tuple(BandOutcome(band, replay(past, band)) for band in BANDS)
    first, last = (past.days[0], past.days[-1]) if past.days else (None, None)
    return MeterOutcome(machine.code, meter.name, first, last, bands)


def meter_past(view: View, machine: Machine, meter: Meter) -> MeterPast:
    """The usage of a meter at the end of each day with an entry, up to the view's day."""
    _, night = view.ends(view.day)
    entries = MeterTallies(view.store, machine.code, meter.name).entries("", night, view.day)
    days, _ = view.machine_days(machine.code)
    return MeterPast.of(entries, meter.wraps_at, days, per_working_day(view.shop, meter.expected))
