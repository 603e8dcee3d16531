"""The tables of a report's page: a line for each machine, kind or span, and the causes."""

from collections.abc import Iterable, Sequence

from pmtrack.actions.report import Figures, Report
from pmtrack.exports.html_page import Html, tag, text
from pmtrack.rules.quantity import show
from pmtrack.screens.report_cells import mtbf, or_dash, out_lines, percent, scheduled

_CAUSES = 15  # rows; the rest is told as one line


def lines_table(report: Report) -> Html:
    """Hours, failures and losses; a line without a stop is named under the table."""
    lines = report.groups or report.machines
    by = str(report.by) if report.groups else "machine"
    told = [found for found in lines if _stopped(found)]
    quiet = [found.name for found in lines if not _stopped(found)]
    heads = [by.capitalize(), "Sched h", "Planned h", "Down h", "Availability", "Failures",
             "MTBF h (90 % bounds)", "MTTR h", "Parts lost", "Money lost", "PM h",
             "On time"]  # fmt: skip
    rows = [_line(found) for found in told]
    total = [_line(report.shop)] if len(lines) > 1 else []
    aside = f"Without a stop: {', '.join(quiet)}." if quiet else ""
    if out := out_lines(report.machines):
        aside = f"{aside} Out of service, so not scheduled: {'; '.join(out)}.".strip()
    return _section(f"By {by}", _table(heads, rows, total), aside)


def _stopped(found: Figures) -> bool:
    down = found.throughput.downtime
    return bool(down.unplanned_stops or down.unplanned_hours or down.planned_hours)


def _line(found: Figures) -> list[str]:
    down, lost = found.throughput.downtime, found.throughput.lost_unplanned
    return [
        found.name,
        scheduled(found),
        show(down.planned_hours),
        show(down.unplanned_hours),
        percent(down.availability),
        str(down.unplanned_stops),
        mtbf(found),
        or_dash(down.mttr_hours),
        or_dash(lost.parts, 0),
        or_dash(lost.money, 0),
        show(found.work.hours),
        percent(found.on_time.share),
    ]


def causes_table(report: Report) -> Html:
    """Every cause with its hours and what was lost in them, the most hours first."""
    if not report.causes:
        return _section("By cause", tag("p", text("No stop is known of these dates.")), "")
    heads = ["Cause", "Stops", "Planned h", "Down h", "Each h", "So far", "Parts lost",
             "Money lost"]  # fmt: skip
    rows = [
        [
            found.hours.cause,
            str(found.hours.count),
            show(found.hours.planned_hours),
            show(found.hours.unplanned_hours),
            or_dash(found.hours_each),
            percent(found.hours.cumulative_share),
            or_dash(found.lost.parts, 0),
            or_dash(found.lost.money, 0),
        ]
        for found in report.causes[:_CAUSES]
    ]
    left = report.causes[_CAUSES:]
    hours = sum(found.hours.hours for found in left)
    aside = f"{len(left)} further causes: {show(hours)} h together." if left else ""
    return _section("By cause, planned stops included", _table(heads, rows, []), aside)


def _table(heads: Sequence[str], rows: Iterable[list[str]], total: Iterable[list[str]]) -> Html:
    """A table whose first column is a name, and all others figures."""
    head = tag("tr", tag("th", text(heads[0]), scope="col"),
               *(tag("th", text(h), class_="n", scope="col") for h in heads[1:]))  # fmt: skip
    body = [_row(row, "") for row in rows] + [_row(row, "sum") for row in total]
    return tag("table", tag("thead", head), tag("tbody", *body))


def _row(cells: Sequence[str], class_: str) -> Html:
    name = tag("th", text(cells[0]), scope="row")
    figures = (tag("td", text(cell), class_="n") for cell in cells[1:])
    return tag("tr", name, *figures, **({"class_": class_} if class_ else {}))


def _section(title: str, body: Html, aside: str) -> Html:
    note = [tag("p", text(aside), class_="note")] if aside else []
    return tag("section", tag("h2", text(title)), body, *note)
