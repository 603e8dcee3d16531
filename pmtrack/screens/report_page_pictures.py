"""The pictures of a report's page, each under its title and over a sentence that says what to see.

Where there is nothing to draw, the sentence says so.
"""

from collections.abc import Sequence
from fractions import Fraction

from pmtrack.actions.meeting import Meeting
from pmtrack.actions.report import Figures
from pmtrack.actions.trend import MachineTrend
from pmtrack.exports.html_page import Html, short_day, tag, text
from pmtrack.pictures.cause_bars import CauseBar, CauseChart, cause_bars_svg
from pmtrack.pictures.failure_curve import FailureChart, failure_curve_svg
from pmtrack.pictures.inline import inline
from pmtrack.pictures.on_time_line import MonthShare, OnTimeChart, on_time_line_svg
from pmtrack.pictures.week_bars import Series, WeekChart, WeekSpan, week_bars_svg
from pmtrack.rules.grouping import Grouping
from pmtrack.rules.quantity import show
from pmtrack.screens.report_cells import percent
from pmtrack.screens.report_page_words import (
    causes_said,
    failures_said,
    on_time_said,
    slope_said,
    span_word,
    weeks_said,
)
from pmtrack.statistics.trend import Verdict

_TOP = 10  # causes with a bar of their own
_WHOLE = 0.9  # of the hours of the fullest span
_WORST = 2  # machines with a curve
_NAMED = 3  # machines named in a title; of more, how many


def week_by_week(told: Meeting) -> Html:
    """Downtime over throughput."""
    word = span_word(told)
    title = f"Downtime over throughput, {word} by {word}"
    spans, made = _spans(told), _made(told)
    if not any(span.planned or span.unplanned for span in spans) and not made:
        return _nothing(title, "Nothing to show: no stop and no output is known of these dates.")
    description = "; ".join(
        f"from {span.first}: {show(span.unplanned)} h down unplanned, {show(span.planned)} h in "
        f"planned stops{_amounts(made, n)}"
        for n, span in enumerate(spans)
    )
    picture = week_bars_svg(WeekChart(title, description, spans, made))
    hollow = f" Hollow points: {word}s with days closed or cut off; grey: nothing scheduled."
    nothing = "" if made else " No output is known of these dates: nothing to show beside them."
    said = [weeks_said(told, spans, made) + hollow + nothing, slope_said(told)]
    return _figure(title, inline(picture, "weeks"), said)


def _amounts(made: Sequence[Series], at: int) -> str:
    known = [(series.name, series.amounts[at]) for series in made]
    return "".join(f", {name} {show(a, 0)}" for name, a in known if a is not None)


def _spans(told: Meeting) -> list[WeekSpan]:
    hours = [span.throughput.downtime for span in told.spans]
    fullest = max((one.scheduled_hours for one in hours), default=Fraction(0))
    by_month = told.spans_by is Grouping.MONTH
    return [
        WeekSpan(
            name=f"{span.first:%b %Y}" if by_month else short_day(span.first),
            first=span.first,
            scheduled=float(one.scheduled_hours),
            planned=float(one.planned_hours),
            unplanned=float(one.unplanned_hours),
            whole=one.scheduled_hours >= fullest * Fraction(_WHOLE),
        )
        for span, one in zip(told.spans, hours, strict=True)
    ]


def _made(told: Meeting) -> list[Series]:
    """Hits of the machines that count them, and good parts where others made some too."""
    word, machines = span_word(told), told.report.machines
    hitting = [m.name for m in machines if m.throughput.hits]
    others = [m.name for m in machines if m.throughput.good_parts and m.name not in hitting]
    found = []
    if hitting:
        amounts = [_number(span.throughput.hits) for span in told.spans]
        found.append(Series(f"Hits a {word} ({_names(hitting)})", amounts))
    if others:
        makers = [m.name for m in machines if m.throughput.good_parts]
        amounts = [_number(span.throughput.good_parts) for span in told.spans]
        found.append(Series(f"Good parts a {word} ({_names(makers)})", amounts))
    return found


def _number(amount: Fraction | None) -> float | None:
    return None if amount is None else float(amount)


def _names(codes: Sequence[str]) -> str:
    return ", ".join(codes) if len(codes) <= _NAMED else f"{len(codes)} machines"


def stop_causes(told: Meeting) -> Html:
    """What broke down, the most hours first."""
    title = "What stopped the machines unplanned, worst first"
    bars, others = _bars(told.report.shop)
    if not bars:
        return _nothing(title, "Nothing to show: no unplanned stop is known of these dates.")
    description = "; ".join(
        f"{bar.cause}: {show(bar.hours)} h in {bar.stops} stops, so far {percent(bar.so_far)}"
        for bar in bars
    )
    picture = cause_bars_svg(CauseChart(title, description, bars))
    said = causes_said(bars, others, told.report.shop.throughput.downtime)
    return _figure(title, inline(picture, "causes"), [said])


def _bars(shop: Figures) -> tuple[list[CauseBar], int]:
    """The causes with the most unplanned hours, and how many others there are."""
    known = sorted(
        (cause for cause in shop.causes if cause.unplanned_hours),
        key=lambda cause: (-cause.unplanned_hours, cause.cause),
    )
    whole = sum((cause.unplanned_hours for cause in known), Fraction(0))
    bars, so_far = [], Fraction(0)
    for cause in known[:_TOP]:
        so_far += cause.unplanned_hours
        share = float(so_far / whole)
        bars.append(CauseBar(cause.cause, float(cause.unplanned_hours), cause.count, share))
    return bars, len(known) - len(bars)


def failures_and_jobs(told: Meeting) -> Html:
    """Two small pictures beside each other."""
    return tag("div", _failures(told), _jobs(told), class_="pair")


def _failures(told: Meeting) -> Html:
    worst = _worst(told.trends.machines)
    names = " and ".join(one.watch.machine.code for one in worst)
    title = f"Failures so far: {names}" if worst else "Failures so far"
    if not worst:
        return _nothing(title, "Nothing to show: no failure is known yet.")
    drawn = [(one.watch.machine.code, one.history) for one in worst]
    curves = [(name, history) for name, history in drawn if history is not None]
    fleet = len(told.trends.machines)
    description = "; ".join(
        f"{name}: {len(history.failures)} failures in {show(history.end, 0)} operating hours"
        for name, history in curves
    )
    together = told.trends.together if fleet > 1 else ()
    picture = failure_curve_svg(FailureChart(title, description, curves, together))
    return _figure(title, inline(picture, "failures"), [failures_said(worst, fleet)])


def _worst(machines: Sequence[MachineTrend]) -> list[MachineTrend]:
    """Those getting worse, the most failures first; where none does, those with the most."""
    failing = sorted(
        (one for one in machines if one.history and one.failures),
        key=lambda one: (one.verdict is not Verdict.WORSE, -one.failures, one.watch.machine.code),
    )
    return failing[:_WORST]


def _jobs(told: Meeting) -> Html:
    title = "Jobs on time, month by month"
    months = [
        MonthShare(m.first, _number(m.on_time.share), _number(m.demanded.share))
        for m in told.months
    ]
    if all(month.all is None for month in months):
        return _nothing(title, "Nothing to show: no job of these dates is decided yet.")
    description = "; ".join(
        f"{month.name}: all {percent(month.all)}, by law or standard {percent(month.demanded)}"
        for month in months
    )
    picture = on_time_line_svg(OnTimeChart(title, description, months))
    return _figure(title, inline(picture, "jobs"), [on_time_said(months, told.report.shop)])


def _figure(title: str, picture: str, said: Sequence[str]) -> Html:
    lines = (tag("p", text(line)) for line in said if line)
    return tag("figure", tag("h2", text(title)), Html(picture), tag("figcaption", *lines))


def _nothing(title: str, said: str) -> Html:
    return tag("figure", tag("h2", text(title)), tag("figcaption", tag("p", text(said))))
