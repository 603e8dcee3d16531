"""The grid of a quarter's sheet: a row for each week, a column for each weekday."""

from collections.abc import Iterable
from datetime import date, timedelta
from fractions import Fraction
from itertools import groupby

from pmtrack.exports.html_page import Html, joined, short_day, tag, text
from pmtrack.exports.sheet_facts import QuarterSheet
from pmtrack.rules.load import WeekLoad
from pmtrack.rules.plan import PlacedJob, Visit
from pmtrack.rules.quantity import show
from pmtrack.rules.usage import ZERO

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_NONE = Html("")
LAW, DOWN, FIXED, EXPECTED = (
    ("§", "demanded by law or standard: not after its due day"),
    ("▼", "machine down"),
    ("●", "fixed to this day"),
    ("~", "expected from the counters, may move"),
)


def grid(sheet: QuarterSheet) -> Html:
    """The weeks as a table; its head, with the key to the marks, comes again on every page."""
    weeks = (_week(sheet, monday) for monday in sheet.mondays)
    widths = ("week", *("day" for _ in sheet.columns), "load")
    columns = tag("colgroup", *(Html(f'<col class="{width}">') for width in widths))
    return tag(
        "table",
        columns,
        _head(sheet),
        tag("tbody", *weeks),
        class_="grid",
    )


def by_machine(jobs: Iterable[PlacedJob]) -> list[Html]:
    """The jobs gathered by machine: `TP-1 weekly, § monthly`; by task where one comes twice."""
    ordered = sorted(jobs, key=lambda job: (job.task.name, job.key))
    return [
        tag(
            "span",
            tag("b", text(machine)),
            Html(" "),
            joined(map(_job, group), ", "),
            class_="jobs",
        )
        for machine, group in groupby(ordered, key=lambda job: job.task.machine)
    ]


def hours_text(hours: Fraction | float) -> str:
    """Hours with one decimal at most, like `4.5 h`."""
    return f"{show(hours)} h"


def _head(sheet: QuarterSheet) -> Html:
    days = (tag("th", text(_WEEKDAYS[n]), scope="col") for n in sheet.columns)
    key = tag("th", *_key(sheet), class_="key", colspan=str(len(sheet.columns) + 2))
    names = (tag("th", text("Week"), scope="col", class_="week"), *days)
    load = tag("th", text("In-house"), scope="col", class_="load")
    return tag("thead", tag("tr", key), tag("tr", *names, load))


def _key(sheet: QuarterSheet) -> Iterable[Html]:
    yield tag("span", text(f"{sheet.quarter.name} · {sheet.shop}"), class_="running")
    for sign, meaning in (LAW, DOWN, FIXED, EXPECTED):
        yield tag("span", tag("b", text(sign)), text(f" {meaning}"), class_="meaning")
    boxed = tag("i", text("boxed"), class_="boxed")
    yield tag("span", boxed, text(" visit of an outside firm"), class_="meaning")


def _week(sheet: QuarterSheet, monday: date) -> Html:
    days = (_day(sheet, monday + timedelta(days=n)) for n in sheet.columns)
    number = tag("b", text(f"W{monday:%V}"))
    since = tag("span", text(short_day(monday)))
    return tag("tr", tag("th", number, since, scope="row"), *days, _load(sheet, monday))


def _day(sheet: QuarterSheet, day: date) -> Html:
    jobs, visits = sheet.own_jobs(day), sheet.visits_on(day)
    kind, said = _standing(sheet, day)
    minutes = sum(job.task.minutes or 0 for job in jobs)
    figure = text(hours_text(Fraction(minutes, 60))) if minutes else _NONE
    heading = tag("div", tag("b", text(short_day(day))), tag("span", figure), class_="date")
    remark = tag("div", tag("span", text(said)), class_="said") if said else _NONE
    work = tag("div", joined(by_machine(jobs), " "), class_="own") if jobs else _NONE
    return tag("td", heading, remark, *map(_visit, visits), work, class_=kind)


def _standing(sheet: QuarterSheet, day: date) -> tuple[str, str]:
    """The class of a day's cell, and what it says when the shop does not work on it."""
    if not sheet.quarter.first <= day <= sheet.quarter.last:
        return "outside", f"not in {sheet.quarter.name}"
    closure = sheet.closure(day)
    if closure:
        return "closed", f"Closed: {closure.why}" if closure.why.strip() else "Closed"
    return ("open", "") if day.weekday() in sheet.weekdays else ("closed", "No shift")


def _visit(visit: Visit) -> Html:
    firm = tag("div", tag("b", text(visit.supplier.name)), class_="firm")
    return tag("div", firm, joined(by_machine(visit.jobs), " "), class_="visit")


def _job(job: PlacedJob) -> Html:
    """A job's code with its marks, each mark spelled out to a pointer or a screen reader."""
    marks = (
        (LAW, job.task.authority),
        (DOWN, job.task.machine_down),
        (FIXED, job.pinned),
        (EXPECTED, job.due_range),
    )
    signs = joined(tag("abbr", text(m[0]), title=m[1]) for m, wanted in marks if wanted)
    return tag("span", signs, text(job.task.code), title=job.task.title)


def _load(sheet: QuarterSheet, monday: date) -> Html:
    """The week's in-house hours against the crew's, as figures and as a bar on one scale."""
    load = sheet.load(monday)
    if load is None:
        return tag("td", text("no jobs"), class_="load")
    of = "" if load.available is None else f" of {hours_text(load.available)}"
    figures = [tag("div", tag("b", text(hours_text(load.hours))), text(of))]
    short = ZERO if load.available is None else load.hours - load.available
    if short > 0:
        figures.append(tag("div", tag("b", text(f"OVER by {hours_text(short)}"))))
    jobs = "1 job" if load.jobs == 1 else f"{load.jobs} jobs"
    return tag("td", *figures, _bar(sheet, load), tag("div", text(jobs)), class_="load")


def _bar(sheet: QuarterSheet, load: WeekLoad) -> Html:
    """Black for hours planned, white for hours free, dashed for hours that the crew lacks."""
    most = max((max(x.hours, x.available or x.hours) for x in sheet.loads), default=ZERO)
    room = load.hours if load.available is None else load.available
    spans = (
        ("fill", min(load.hours, room)),
        ("free", room - load.hours),
        ("over", load.hours - room),
    )
    pieces = (
        tag("span", class_=kind, style=f"width:{float(100 * hours / most):.1f}%")
        for kind, hours in spans
        if hours > 0
    )
    return tag("div", *pieces, class_="bar", aria_hidden="true")
