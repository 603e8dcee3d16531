"""How the expected days came out: for the eye, and as JSON."""

from typing import Any

from rich.console import Console

from pmtrack.actions.backtest import FEWEST, Backtest, BandOutcome, Coverage, MeterOutcome
from pmtrack.rules.backtest import Band
from pmtrack.screens.life_words import percent
from pmtrack.screens.terminal import show_lines, table

NOTHING = "-"
NOTES = (
    "Each forecast is told again from what was known on a past day, and held against the day on "
    "which usage came to its mark. Forecasts of one column never look at the same days.",
    "Limits hold 9 times in 10; over all meters they are too narrow, since machines share the same "
    "slow and busy weeks.",
    "Days out of service count as though they had been known ahead. Ranges are of whole days, so "
    "short ones hold more than 80 %.",
    "The likely range is wider than that shown with the date: it allows for a rate that is known "
    "from a few weeks and does not stay as it is. 'pmtrack why TASK' tells both.",
)


def as_json(told: Backtest) -> dict[str, Any]:
    """The outcome as scripts read it."""
    return {
        "on": told.on,
        "meters": [_meter_json(found) for found in told.meters],
        "all": [_band_json(found) for found in told.bands],
    }


def _meter_json(found: MeterOutcome) -> dict[str, Any]:
    return {
        "machine": found.machine,
        "meter": found.meter,
        "from": found.first,
        "to": found.last,
        "bands": [_band_json(band) for band in found.bands],
    }


def _band_json(found: BandOutcome) -> dict[str, Any]:
    """Horizons and errors are in working days; an error above 0 is later than told."""
    outcome = found.outcome
    return {
        "ahead": [found.band.first, found.band.last],
        "cases": len(outcome.cases),
        "due_range": _coverage_json(found.due),
        "likely_range": _coverage_json(found.likely),
        "median_miss": outcome.miss,
        "median_error": outcome.lean,
    }


def _coverage_json(coverage: Coverage) -> dict[str, Any]:
    held, share = coverage.held, coverage.share
    return {
        "inside": held.inside,
        "early": held.early,
        "late": held.late,
        "share": held.share,
        "share_low": share.low if share else None,
        "share_high": share.high if share else None,
        "verdict": coverage.verdict,
    }


def show_backtest(told: Backtest, console: Console) -> None:
    """Print the verdict first, then the figures by distance and by meter."""
    lines = [_verdict(found) for found in told.bands]
    show_lines(console, f"Did the 80 % ranges hold, up to {told.on}?", lines)
    if not any(found.outcome.cases for found in told.bands):
        return
    _show_bands(told, console)
    if len(told.meters) > 1:
        _show_meters(told, console)
    show_lines(console, "To know", NOTES)


def _verdict(found: BandOutcome) -> str:
    ahead, due, likely = ahead_words(found.band), found.due, found.likely
    told = f"{ahead} ahead: {verdict_words(due)}"
    if "narrow" not in due.verdict:
        return told
    return f"{told}; the likely range: {verdict_words(likely)}"


def ahead_words(band: Band) -> str:
    """How far ahead: 6-15 working days."""
    return f"{band.first}-{band.last} working days"


def verdict_words(coverage: Coverage) -> str:
    """Whether a range held: `too narrow: 64 % instead of 80 %`."""
    share = coverage.held.share
    if share is None or coverage.share is None:
        return f"too few cases to tell: {coverage.held.cases} of {FEWEST}"
    return {
        "too narrow": f"too narrow: {percent(share)} instead of 80 %",
        "perhaps too narrow": (
            f"perhaps too narrow: {percent(share)} of {coverage.held.cases}, too few to be sure"
        ),
        "wide": f"the ranges hold, and more: {percent(share)}",
        "holds": f"the ranges hold: {percent(share)}",
    }[coverage.verdict]


def _show_bands(told: Backtest, console: Console) -> None:
    made = table(
        "Days ahead", "Cases", "In range", "Early", "Late", "In likely range", "Miss", "Leans",
        right=("Cases", "Early", "Late", "Miss"), fixed=("Days ahead",),
    )  # fmt: skip
    for found in told.bands:
        held = found.due.held
        made.add_row(
            f"{found.band.first}-{found.band.last}",
            f"{held.cases:,}",
            _limits(found.due),
            f"{held.early:,}",
            f"{held.late:,}",
            _limits(found.likely),
            NOTHING if found.outcome.miss is None else f"{found.outcome.miss:g} d",
            _lean(found.outcome.lean),
        )
    console.print()
    console.print(made)


def _limits(coverage: Coverage) -> str:
    """A share with its limits: 64 % (55-72)."""
    share = coverage.share
    if share is None or share.low is None or share.high is None:
        return NOTHING
    return f"{percent(share.value)} ({share.low * 100:.0f}-{share.high * 100:.0f})"


def _lean(days: float | None) -> str:
    """To which side forecasts err."""
    if not days:
        return NOTHING
    return f"{abs(days):g} d {'late' if days > 0 else 'early'}"


def _show_meters(told: Backtest, console: Console) -> None:
    heads = [f"{found.band.first}-{found.band.last} days" for found in told.bands]
    made = table("Machine", "Meter", *heads, "", right=heads, fixed=("Machine", ""))
    for meter in told.meters:
        made.add_row(
            meter.machine,
            meter.meter,
            *(_of_cases(band) for band in meter.bands),
            _worst(meter),
        )
    console.print()
    console.print(made)


def _of_cases(found: BandOutcome) -> str:
    held = found.due.held
    return f"{held.inside} of {held.cases}" if held.cases else NOTHING


def _worst(meter: MeterOutcome) -> str:
    """The verdict of the band whose range holds least often."""
    told = [band.due for band in meter.bands if band.due.share]
    if not told:
        return "too few cases"
    worst = min(told, key=lambda coverage: coverage.held.share or 0)
    return worst.verdict if "narrow" in worst.verdict else "holds"
