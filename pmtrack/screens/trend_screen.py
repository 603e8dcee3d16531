"""Whether machines get worse: a line each, or one machine with its figures, and as JSON."""

from typing import Any

from rich.console import Console

from pmtrack.actions.trend import MachineTrend, Trends
from pmtrack.rules.quantity import plain, show
from pmtrack.screens.sparks import counted, spark, staircase
from pmtrack.screens.terminal import show_lines, table
from pmtrack.screens.trend_words import (
    LEGEND,
    chance_words,
    explained,
    few_lines,
    mtbf_words,
    slope_words,
    verdict_words,
)
from pmtrack.statistics.estimate import Estimate
from pmtrack.statistics.mcf import MeanCount
from pmtrack.statistics.power_law import Growth
from pmtrack.statistics.trend import Trend, Verdict

_PARTS = 10
_PLOT = (60, 8)


def as_json(found: Trends) -> list[dict[str, Any]]:
    """Each machine as scripts read it."""
    return [_machine_json(one) for one in found.machines]


def _machine_json(one: MachineTrend) -> dict[str, Any]:
    fit = one.growth if isinstance(one.growth, Growth) else None
    return {
        "machine": one.watch.machine.code,
        "from": one.watch.period.first,
        "to": one.watch.last,
        "operating_hours": plain(one.watch.clock.total),
        "failures": one.failures,
        "verdict": verdict_words(one),
        "laplace": _test_json(one.laplace),
        "military_handbook": _test_json(one.military),
        "slope": _estimate_json(fit.slope if fit else None),
        "mtbf_now_hours": _estimate_json(fit.mtbf if fit else None),
        "mtbf_now_modified": fit.modified.mtbf(fit.modified.end) if fit else None,
        "failure_hours": list(one.history.failures) if one.history else [],
    }


def _test_json(test: Trend) -> dict[str, Any]:
    return {"statistic": test.statistic, "chance": test.chance, "verdict": str(test.verdict)}


def _estimate_json(value: Estimate | None) -> dict[str, float | None] | None:
    return None if value is None else {"value": value.value, "low": value.low, "high": value.high}


def show_trends(found: Trends, console: Console) -> None:
    """Print one machine in full, or a line a machine, the worst first."""
    if len(found.machines) == 1:
        _show_one(found.machines[0], console)
        return
    console.print("Is a machine getting worse? The worst first.", style="bold")
    made = table(
        "Machine", "Hours", "Fails", "By tenths", "MTBF now", "Verdict",
        right=("Hours", "Fails"), fixed=("Machine", "By tenths", "MTBF now"),
    )  # fmt: skip
    told = [one for one in found.machines if one.verdict is not Verdict.TOO_FEW]
    for one in told:
        made.add_row(
            one.watch.machine.code,
            show(one.watch.clock.total, 0),
            str(one.failures),
            _tenths(one),
            mtbf_words(one),
            verdict_words(one),
        )
    if told:
        console.print(made)
    show_lines(console, "No verdict", few_lines(found.machines))
    _plot(found.together, "Mean failures of a machine by its operating hours", console)
    show_lines(console, "How to read it", LEGEND)


def _tenths(one: MachineTrend) -> str:
    if not one.failures or not one.history:
        return ""
    return f"|{spark(counted(one.history.failures, one.history.end, _PARTS))}|"


def _show_one(one: MachineTrend, console: Console) -> None:
    name, period = one.watch.machine, one.watch.period
    console.print(f"{name.code}  {name.name}: {verdict_words(one)}", style="bold")
    console.print(
        f"{one.failures} failures in {show(one.watch.clock.total, 0)} operating hours, "
        f"{period.first} to {one.watch.last}"
    )
    made = table("Figure", "Value", "90 % limits or chance", right=("Value",))
    made.add_row("Laplace test", *chance_words(one.laplace))
    made.add_row("Military Handbook test", *chance_words(one.military))
    for row in (*slope_words(one),):
        made.add_row(*row)
    console.print(made)
    if one.history:
        steps = [(age, float(n)) for n, age in enumerate(one.history.failures, start=1)]
        _staircase(steps, one.history.end, "Failures so far by operating hours", console)
    show_lines(console, "What it says", explained(one))


def _plot(steps: tuple[MeanCount, ...], title: str, console: Console) -> None:
    if steps:
        points = [(step.age, step.mean.value) for step in steps]
        _staircase(points, points[-1][0], title, console)


def _staircase(steps: list[tuple[float, float]], end: float, title: str, console: Console) -> None:
    rows = staircase(steps, end, _PLOT)
    if not rows:
        return
    console.print(f"\n{title}", style="bold")
    for number, row in enumerate(rows):
        label = show(steps[-1][1]) if number == 0 else ("0" if number == len(rows) - 1 else "")
        console.print(f"{label:>6} |{row}")
    console.print(f"{'':6} +{'-' * _PLOT[0]}")
    console.print(f"{'':7} 0{show(end, 0) + ' h':>{_PLOT[0] - 1}}")
