"""The words of a report's page: what its figures mean, and what each picture shows."""

from collections.abc import Sequence
from datetime import date
from statistics import median

from pmtrack.actions.meeting import Meeting
from pmtrack.actions.report import Figures, Report
from pmtrack.actions.trend import MachineTrend
from pmtrack.exports.html_page import short_day
from pmtrack.pictures.cause_bars import CauseBar
from pmtrack.pictures.on_time_line import MonthShare, floor_of
from pmtrack.pictures.week_bars import Series, WeekSpan
from pmtrack.rules.downtime import Downtime
from pmtrack.rules.grouping import Grouping
from pmtrack.rules.quantity import show
from pmtrack.screens.pays_screen import ASSOCIATION
from pmtrack.screens.report_cells import percent
from pmtrack.screens.trend_words import verdict_words, with_limits
from pmtrack.statistics.robust_slope import Line

MEANINGS = (
    ("Scheduled hours", "Hours of the shifts of the period up to now, less closures and, of a "
     "machine, the days at whose end it is out of service; in planned stops and down unplanned: "
     "the part of them in which a stop ran, each hour once, unplanned first. Hours of several "
     "machines are machine hours."),
    ("Availability", "Operating time / (schedule - planned stops), as in ISO 22400-2: planned "
     "maintenance is no loss of it. Operating time: scheduled hours in which the machine was not "
     "down."),
    ("MTBF", "Operating hours for each failure (IEC 60050-192), with two-sided 90 % bounds at a "
     "constant rate (NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1). Without a failure "
     "only a lower bound is known."),
    ("MTTR", "Mean clock hours from a failure's begin until the machine ran again, waiting "
     "included: time to restoration (EN 13306)."),
    ("Lost", "What the hours down would have made at the rate of the hours run; money: the hourly "
     "rate of the shop file times these hours."),
    ("On time", "Jobs due in the period that were done within their grace, of those decided (a "
     "compliance of planned work, as EN 15341 has it); by law: only those that a law or standard "
     "demands."),
    ("Mean of all machines", "Mean cumulative function with robust limits (Nelson, Technometrics "
     "37, 1995; Lawless and Nadeau, the same)."),
)  # fmt: skip
WARNINGS = (
    "Figures of few failures are rough: look at their limits. What goes together is association, "
    "not cause: busy weeks, hard jobs and old machines move downtime and output both.",
    "The maker's manual and the law go before any advice here; no check that a law or standard "
    "demands gets rarer on the strength of figures. Breakdowns do not count injuries: ask who "
    "answers for safety before a check gets rarer.",
)


def period_words(report: Report) -> str:
    """The dates of a report, like `1 Oct 2026 to 24 Nov 2026`."""
    return f"{dated(report.first)} to {dated(report.last)}"


def dated(day: date) -> str:
    """A date with its year, like `4 Dec 2026`."""
    return f"{short_day(day)} {day.year}"


def span_word(told: Meeting) -> str:
    """What a bar of the first picture stands for."""
    return "month" if told.spans_by is Grouping.MONTH else "week"


def weeks_said(told: Meeting, spans: Sequence[WeekSpan], made: Sequence[Series]) -> str:
    """The worst week, and what was made in it."""
    worst = max(range(len(spans)), key=lambda n: spans[n].unplanned)
    span, word = spans[worst], span_word(told)
    if not span.unplanned:
        return f"No {word} lost an hour to a breakdown."
    lost = [f"{show(span.unplanned)} h down unplanned", f"{show(span.planned)} h in planned stops"]
    made_then = [_made_in(series, spans, worst, word) for series in made]
    return (
        f"See the tallest black bar: the worst {word}, from {dated(span.first)}, had "
        f"{' and '.join(lost)}. {' '.join(made_then)}"
    )


def _made_in(series: Series, spans: Sequence[WeekSpan], at: int, word: str) -> str:
    amount = series.amounts[at]
    usual = [
        made for made, s in zip(series.amounts, spans, strict=True) if s.whole and made is not None
    ]
    if amount is None or not usual:
        return ""
    return (
        f"{series.name.split(' (')[0]} then: {show(amount, 0)} (half of the full {word}s have "
        f"more than {show(median(usual), 0)})."
    )


def slope_said(told: Meeting) -> str:
    """What output does in weeks with more downtime, on the machine that was down the most."""
    down = {f.name: f.throughput.downtime.unplanned_hours for f in told.report.machines}
    known = [
        (one, one.line)
        for one in told.pays.machines
        if isinstance(one.line, Line) and one.watch.machine.code in down
    ]
    if not known:
        return ""
    one, line = max(known, key=lambda pair: down[pair[0].watch.machine.code])
    slope = line.slope
    limits = f"{_signed(slope.low)} to {_signed(slope.high)}"
    sure = (slope.low or 0.0) * (slope.high or 0.0) > 0
    plain = "" if sure else " The limits hold 0: no link is seen."
    return (
        f"On {one.watch.machine.code}, each further unplanned hour in 100 scheduled went with "
        f"{_signed(slope.value)} of the {one.made} of a scheduled hour (90 % limits {limits}, "
        f"{line.points} weeks up to {dated(told.known_to)}).{plain} {ASSOCIATION}"
    )


def _signed(value: float | None) -> str:
    return "-" if value is None else f"{value:+.1f} %"


def causes_said(bars: Sequence[CauseBar], others: int, down: Downtime) -> str:
    """How much the causes shown took, and what is not shown."""
    first = f"See the top: '{bars[0].cause}' took {percent(bars[0].so_far)} of the hours down"
    if len(bars) > 1:
        first += f", the {len(bars)} causes shown {percent(bars[-1].so_far)}"
    rest = float(down.unplanned_hours) - sum(bar.hours for bar in bars)
    left = f" {others} other causes took {show(rest)} h together." if others else ""
    planned = down.planned_hours
    aside = f" Planned stops, {show(planned)} h, are left out." if planned else ""
    return f"{first}.{left}{aside}"


def failures_said(worst: Sequence[MachineTrend], fleet: int) -> str:
    """Whether the curves bend, and what the limits are."""
    told = [f"{one.watch.machine.code}: {verdict_words(one)}{_mtbf(one)}" for one in worst]
    band = (
        f" The grey band holds the mean of all {fleet} machines: one far above it fails more than "
        "they do."
        if fleet > 1
        else ""
    )
    return (
        "A curve that bends up from its straight line fails more and more often. "
        f"{'; '.join(told)}.{band}"
    )


def _mtbf(one: MachineTrend) -> str:
    growth = one.growth
    return f", MTBF now {with_limits(growth.mtbf)} h" if hasattr(growth, "mtbf") else ""


def _late(count: int) -> str:
    return f"{count} {'was' if count == 1 else 'were'} late" if count else "none was late"


def on_time_said(months: Sequence[MonthShare], shop: Figures) -> str:
    """The shares of the whole period, and the worst month."""
    worst = min((month.all, month.first) for month in months if month.all is not None)
    law = shop.demanded
    said = (
        f"Of {show(law.on_time + law.late)} jobs by law or standard {_late(law.late)}."
        if law.share is not None
        else "No job by law or standard was due."
    )
    floor = floor_of(months)
    cut = f" The axis begins at {floor} %." if floor else ""
    jobs = shop.on_time
    return (
        f"{show(jobs.on_time)} of {show(jobs.on_time + jobs.late)} jobs were on time, "
        f"{percent(jobs.share)}; worst in {worst[1]:%b %Y}, {percent(worst[0])}. {said}{cut}"
    )
