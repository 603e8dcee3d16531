"""The report as rows for a spreadsheet: one row for each line, figures in columns."""

from collections.abc import Sequence
from datetime import date

from pmtrack.actions.report import Report
from pmtrack.exports.csv_table import Cell
from pmtrack.screens.report_figures import Line, Number, differences, lines, total_line


def report_rows(report: Report) -> tuple[list[str], list[list[Cell]]]:
    """Header and rows of the lines asked for; but by cause, the last row is all machines together.

    Beside a period before, each figure has two more columns: what it was, and the difference.
    """
    found = _all(report)
    names = list(found[0][1]) if found else []
    header = [str(report.by), "from", "to", *names]
    if report.earlier is None:
        return header, [_row(line) for line in found]
    earlier = {line[0]["group"]: line[1] for line in _all(report.earlier)}
    beside = [earlier.get(line[0]["group"]) for line in found]
    grown = differences(dict.fromkeys(names), {})
    header += [f"{name}_before" for name in names] + [f"{name}_difference" for name in grown]
    return header, [_row(line) + _beside(line[1], b) for line, b in zip(found, beside, strict=True)]


def _all(report: Report) -> list[Line]:
    total = total_line(report)
    return [*lines(report), *([total] if total else [])]


def _row(line: Line) -> list[Cell]:
    names, figures = line
    return [names["group"], *_dates(names["from"], names["to"]), *figures.values()]


def _dates(*days: date) -> Sequence[str]:
    return [day.isoformat() for day in days]


def _beside(figures: dict[str, Number], before: dict[str, Number] | None) -> list[Cell]:
    """What the figures were, and how much they have grown; empty without a line before."""
    was = before or {}
    return [*(was.get(name) for name in figures), *differences(figures, was).values()]
