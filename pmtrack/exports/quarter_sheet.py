"""The quarter as a sheet for the shop's wall: one or two landscape pages, one HTML document."""

from pmtrack.exports.html_page import Html, page, short_day, tag, text
from pmtrack.exports.sheet_facts import QuarterSheet
from pmtrack.exports.sheet_fit import type_size
from pmtrack.exports.sheet_foot import foot
from pmtrack.exports.sheet_grid import grid
from pmtrack.exports.sheet_style import SHEET_STYLE
from pmtrack.rules.text import counted


def quarter_sheet(sheet: QuarterSheet) -> str:
    """The document; the same sheet gives the same text."""
    title = f"Maintenance plan {sheet.quarter.name}, {sheet.shop}"
    size = f"--size:{type_size(sheet)}pt"
    body = tag("main", _header(sheet), grid(sheet), foot(sheet), style=size)
    return page(title, SHEET_STYLE, body)


def _header(sheet: QuarterSheet) -> Html:
    quarter = sheet.quarter
    dates = f"{short_day(quarter.first)} to {short_day(quarter.last)} {quarter.last.year}"
    return tag(
        "header",
        tag("h1", text(f"Maintenance plan {quarter.name}")),
        tag("span", tag("b", text(sheet.shop)), text(", "), text(dates), class_="range"),
        tag("span", text(_sums(sheet)), class_="sums"),
    )


def _sums(sheet: QuarterSheet) -> str:
    parts = [counted(len(sheet.jobs), "job"), counted(len(sheet.visits), "visit")]
    if sheet.unfit:
        parts.append(f"{counted(len(sheet.unfit), 'job')} without a day (see below)")
    return f"{', '.join(parts)}; made on {sheet.made_on}"
