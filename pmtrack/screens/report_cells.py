"""Figures of a report as people read them in a table."""

from collections.abc import Iterable
from fractions import Fraction

from pmtrack.actions.report import Figures
from pmtrack.rules.quantity import show

_THOUSAND = 1000
_MANY = 10_000
_MACHINE_YEARS = 100_000  # hours, from which on a tenth of one is no use


def percent(share: Fraction | float | None) -> str:
    """A share in percent."""
    return "-" if share is None else f"{show(100 * share)} %"


def or_dash(value: Fraction | float | None, decimals: int = 1) -> str:
    """A number, or a dash where it is not known."""
    return "-" if value is None else show(value, decimals)


def places(*hours: Fraction) -> int:
    """Decimals of scheduled hours: one, so that lines add up to their total as shown."""
    return 1 if all(one < _MACHINE_YEARS for one in hours) else 0


def scheduled(found: Figures) -> str:
    """The scheduled hours of a line."""
    amount = found.throughput.downtime.scheduled_hours
    return show(amount, places(amount))


def signed(value: Fraction | float | None, decimals: int = 1) -> str:
    """A difference with its sign; 0 has none."""
    if value is None:
        return "-"
    text = show(abs(float(value)), decimals)
    return text if float(text.replace(",", "")) == 0 else f"{'-' if value < 0 else '+'}{text}"


def points(difference: Fraction | float | None) -> str:
    """The difference of two shares, in points of a percent."""
    return "-" if difference is None else f"{signed(100 * difference)} pt"


def rough(hours: float) -> str:
    """A bound to two or three digits: more would be false precision."""
    if hours < _THOUSAND:
        return show(hours, 0)
    return f"{show(hours / _THOUSAND, 1 if hours < _MANY else 0)}k"


def mtbf(found: Figures) -> str:
    """MTBF with its bounds; with no failure only the lower bound is known, if there are hours."""
    down = found.throughput.downtime
    if down.mtbf_low is None or not (down.operating_hours or down.unplanned_stops):
        return "-"
    if down.mtbf_hours is None or down.mtbf_high is None:
        return f"> {show(down.mtbf_low, 0)}"
    return f"{show(down.mtbf_hours, 0)} ({rough(down.mtbf_low)}-{rough(down.mtbf_high)})"


def out_lines(machines: Iterable[Figures]) -> list[str]:
    """The machines that are out of service in the period: since when, and by which entry."""
    return [
        f"{found.name}: {show(found.throughput.downtime.out_of_service_hours)} h of this period, "
        + "; ".join(
            f"{f'{out.first} to {out.last}' if out.last else f'since {out.first}'}"
            f" (entry {out.entry})"
            for out in found.out
        )
        for found in machines
        if found.out
    ]
