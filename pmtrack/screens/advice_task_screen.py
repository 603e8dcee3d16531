"""The figures behind the advice for one task: rounds, failures by age, fit, costs at intervals."""

from statistics import median

from rich.console import Console

from pmtrack.actions.advice import TaskAdvice
from pmtrack.rules.job_costs import JobCosts
from pmtrack.rules.quantity import show
from pmtrack.screens.advice_words import (
    NOTES,
    about,
    best_words,
    reasons,
    saved_words,
    span_words,
    verdict_words,
)
from pmtrack.screens.pays_screen import show_bins
from pmtrack.screens.terminal import show_lines, table
from pmtrack.statistics.ageing import Group, by_age
from pmtrack.statistics.rounds_fit import RoundsFit


def show_task(one: TaskAdvice, console: Console) -> None:
    """Print the verdict first, then what it rests on."""
    console.print(f"{one.task.name}  {one.task.title}: {verdict_words(one)}", style="bold")
    _rounds(one, console)
    if isinstance(one.fit, RoundsFit) and one.costs and not one.refusal:
        show_lines(console, "Figures", _figures(one, one.fit, one.costs))
        _costs(one, one.fit, one.costs, console)
    show_lines(console, "Why", reasons(one))
    show_lines(console, "How to read it", NOTES)


def _rounds(one: TaskAdvice, console: Console) -> None:
    period = one.watch.period
    hours = "" if one.hours is None else f" (about {about(one.hours)} operating hours)"
    console.print(f"every {one.interval.text}{hours}; {period.first} to {one.watch.last}")
    if not one.rounds:
        console.print("It was not done yet in that time.")
        return
    lengths = [found.hours for found in one.rounds]
    console.print(
        f"{len(lengths)} rounds from job to job: half of them up to {about(median(lengths))} "
        f"operating hours, the longest {about(max(lengths))};\n"
        f"{one.failures} failures of {one.task.machine} in them"
    )
    group = Group(tuple((found.hours, found.failures) for found in one.rounds))
    console.print("\nFailures by operating hours since the job", style="bold")
    show_bins(by_age([group]), "Age", 1, console)


def _figures(one: TaskAdvice, fit: RoundsFit, costs: JobCosts) -> list[str]:
    low, high = fit.shape.low or 0.0, fit.shape.high or 0.0
    told = [
        f"shape {fit.shape.value:.2f} (80 % range {low:.2f}-{high:.2f}; above 1: failures come "
        f"more often with age), scale {about(fit.law.scale)} operating hours",
        *_cost_lines(costs),
    ]
    if one.best:
        told.append(f"cheapest interval: {best_words(one, one.best)}")
        at = one.best.at_failure
        also = "none" if at is None else span_words(one, at)
        told.append(f"cheapest age if the job were also done after each breakdown: {also}")
    return told


def _cost_lines(costs: JobCosts) -> list[str]:
    rates = costs.rates
    unit = "" if rates.money else " h"
    parts = [(costs.crew, "crew"), (costs.callout, "call-out"), (costs.standing, "machine stands")]
    made = " + ".join(f"{show(part)} {name}" for part, name in parts if part)
    both = f"({show(rates.machine)} machine + {show(rates.crew)} repair)"
    return [
        f"a planned job costs {show(costs.planned)}{unit}: {made}",
        f"a breakdown costs {show(costs.failure)}{unit}: {show(costs.lost_hours)} scheduled hours "
        f"x {both}",
    ]


def _costs(one: TaskAdvice, fit: RoundsFit, costs: JobCosts, console: Console) -> None:
    """Jobs, failures and cost in a year at the present, the advised and the cheapest interval."""
    unit = "Cost a year" if costs.rates.money else "Hours a year"
    made = table(
        "Interval", "Operating h", "Jobs a year", "Failures a year", unit,
        right=("Operating h", "Jobs a year", "Failures a year", unit),
    )  # fmt: skip
    best = one.best.interval if one.best else None
    rows = [
        (f"now: {one.interval.text}", one.hours),
        (f"advised: {one.advised.text}" if one.advised else "", one.advised_hours),
        (f"cheapest: {span_words(one, best)}", best),
    ]
    for name, hours in rows:
        cost, failed = one.cost_a_year(hours), one.failures_a_year(hours)
        if hours is None or cost is None or failed is None:
            continue
        jobs = one.watch.hours_a_year / hours
        made.add_row(name, about(hours), about(jobs), about(failed), about(cost))
    console.print()
    console.print(made)
    if one.advised:
        console.print(f"The change may save about {saved_words(one)} a year.")
