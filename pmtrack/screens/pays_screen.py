"""Does PM pay? Failures by age since the last service, and output against downtime."""

from collections.abc import Sequence
from typing import Any

from rich.console import Console

from pmtrack.actions.pm_pays import MachineServed, PmPays
from pmtrack.rules.quantity import show
from pmtrack.screens.terminal import bar, table
from pmtrack.screens.trend_words import chance
from pmtrack.statistics.ageing import AgeBin
from pmtrack.statistics.robust_slope import Line
from pmtrack.statistics.trend import FEWEST, Trend, Verdict

_HUNDRED = 100
_BAR = 16
ASSOCIATION = "That is association, not cause: busy weeks, hard jobs and old machines move both."


def as_json(found: PmPays) -> dict[str, Any]:
    """Both looks as scripts read them."""
    return {
        "failures_by_age": bins_json(found.by_share),
        "age_trend": {"verdict": str(found.trend.verdict), "chance": found.trend.chance},
        "output_and_downtime": [_line_json(one) for one in found.machines if one.made],
    }


def bins_json(bins: Sequence[AgeBin]) -> list[dict[str, Any]]:
    """Bins of equal operating time; rates for 100 operating hours."""
    return [
        {
            "from": one.start,
            "to": one.end,
            "operating_hours": one.hours,
            "failures": one.failures,
            "per_100_hours": one.rate.value * _HUNDRED,
            "low": (one.rate.low or 0.0) * _HUNDRED,
            "high": None if one.rate.high is None else one.rate.high * _HUNDRED,
        }
        for one in bins
    ]


def _line_json(one: MachineServed) -> dict[str, Any]:
    line = one.line if isinstance(one.line, Line) else None
    return {
        "machine": one.watch.machine.code,
        "output": one.made,
        "weeks": len(one.weeks),
        "percent_of_output_for_each_hour_down_in_100": line.slope.value if line else None,
        "low": line.slope.low if line else None,
        "high": line.slope.high if line else None,
    }


def show_pays(found: PmPays, console: Console) -> None:
    """Print the table by age, what it says, and the slopes."""
    console.print("Does PM pay?", style="bold")
    if found.by_share:
        console.print(
            "Failures for 100 operating hours, by the share of its interval gone since a\n"
            "machine's service: its most frequent job of four weeks or more that stops it"
        )
        show_bins(found.by_share, "Interval gone", 100, console)
    console.print(said(found.trend))
    _slopes(found, console)


def show_bins(bins: Sequence[AgeBin], head: str, factor: float, console: Console) -> None:
    """Print bins of equal operating time with a bar each; ages times a factor."""
    unit = " %" if factor != 1 else " h"
    made = table(
        head, "Hours", "Failures", "Per 100 h", "90 % limits", "",
        right=(head, "Hours", "Failures", "Per 100 h"), fixed=("90 % limits",),
    )  # fmt: skip
    most = max((one.rate.value for one in bins), default=0.0)
    for one in bins:
        made.add_row(
            f"{show(one.start * factor, 0)}-{show(one.end * factor, 0)}{unit}",
            show(one.hours, 0),
            str(one.failures),
            show(one.rate.value * _HUNDRED, 2),
            f"{_hundredfold(one.rate.low)}-{_hundredfold(one.rate.high)}",
            bar(one.rate.value / most if most else 0.0, _BAR),
        )
    console.print(made)


def _hundredfold(rate: float | None) -> str:
    return "0" if rate is None else show(rate * _HUNDRED, 2)


def said(trend: Trend) -> str:
    """What the ages of the failures say of the services."""
    if trend.chance is None:
        return (
            f"Too few failures since a service: {trend.failures}, at least {FEWEST} needed to say "
            "whether the services pay."
        )
    by_chance = f"by chance {chance(trend.chance)}"
    if trend.verdict is Verdict.WORSE:
        return (
            f"Failures come more often the longer ago the service was ({by_chance}): it "
            "holds them back."
        )
    if trend.verdict is Verdict.BETTER:
        return (
            f"Failures come most often soon after the service ({by_chance}): look at how it is "
            "done, and with which parts."
        )
    return (
        f"No more failures long after the service than soon after ({by_chance}): either it is "
        "done often enough, or it does not prevent them."
    )


def _slopes(found: PmPays, console: Console) -> None:
    """What output does in weeks with more downtime, machine by machine."""
    lines = [(one, one.line) for one in found.machines if isinstance(one.line, Line)]
    if not lines:
        return
    made = table(
        "Machine", "Output", "Weeks", "Change", "90 % limits",
        right=("Weeks", "Change"), fixed=("Machine", "90 % limits"),
    )  # fmt: skip
    for one, line in lines:
        low, high = line.slope.low, line.slope.high
        known = low is not None and high is not None
        limits = f"{_percent(low)} to {_percent(high)}" if known else "not known"
        made.add_row(
            one.watch.machine.code,
            one.made or "",
            str(line.points),
            _percent(line.slope.value),
            limits,
        )
    console.print(
        "\nOutput in weeks with more unplanned downtime: change of the output of a\n"
        "scheduled hour for each unplanned hour in 100 (median slope)"
    )
    console.print(made)
    console.print(ASSOCIATION)


def _percent(value: float | None) -> str:
    return "-" if value is None else f"{value:+.1f} %"
