"""The meters: for the eye, and as JSON."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from rich.console import Console

from pmtrack.rules.quantity import show
from pmtrack.rules.rate import Standing
from pmtrack.screens.terminal import table

LARGE = 1000
SHORT = 12  # letters of a name for which a line of 80 has room


@dataclass(frozen=True)
class MeterRow:
    """One meter of one machine."""

    machine: str
    meter: str
    standing: Standing


def as_json(row: MeterRow) -> dict[str, Any]:
    """One meter as scripts read it."""
    standing = row.standing
    rate = standing.rate.per_day
    return {
        "machine": row.machine,
        "meter": row.meter,
        "usage": standing.usage,
        "last_entry": standing.last_at,
        "rate": float(rate) if rate is not None else None,
        "stale": standing.stale,
        "estimate": float(standing.estimate) if standing.estimate is not None else None,
        "unlogged": standing.unlogged,
    }


def show_usage(rows: list[MeterRow], console: Console) -> None:
    """Print one line a meter; a meter that nobody reads says so."""
    whole = all(len(row.meter) <= SHORT for row in rows)
    made = table(
        "Machine", "Meter", "Usage", "Last entry", "A day", "Estimate", "Unlogged", "",
        right=("Usage", "A day", "Estimate", "Unlogged"),
        fixed=("Machine", "Last entry", *(["Meter"] if whole else [])),
    )  # fmt: skip
    for row in rows:
        standing = row.standing
        made.add_row(
            row.machine,
            row.meter,
            _number(standing.usage),
            str(standing.last_day or "never"),
            _about(standing.rate.per_day),
            _about(standing.estimate),
            _number(standing.unlogged or None),
            "STALE" if standing.stale else "",
        )
    console.print(made)


def _about(value: Fraction | None) -> str:
    """What is no more than an estimate needs no decimals where it is large."""
    return _number(value) if value is None or value < LARGE else show(value, 0)


def _number(value: Fraction | None) -> str:
    return "-" if value is None else show(value, 1)
