"""Answers for scripts as rows of a spreadsheet."""

from datetime import date
from fractions import Fraction

from pmtrack.screens.table_csv import table_rows


def test_a_figure_within_a_figure_is_named_by_both() -> None:
    items = [
        {"machine": "TP-1", "slope": {"value": Fraction(1, 2), "low": None}, "pinned": True},
        {"machine": "PB-1", "day": date(2027, 1, 4), "window": [date(2027, 1, 4), 3]},
    ]
    header, rows = table_rows(items)
    assert header == ["machine", "slope_value", "slope_low", "pinned", "day", "window"]
    assert rows == [
        ["TP-1", 0.5, None, "yes", None, None],
        ["PB-1", None, None, None, "2027-01-04", "2027-01-04; 3"],
    ]


def test_no_items_make_no_columns() -> None:
    assert table_rows([]) == ([], [])
