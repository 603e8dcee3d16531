"""Answers for scripts as a table for a spreadsheet: one row each, nested figures in columns."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

from pmtrack.exports.csv_table import Cell


def table_rows(items: Iterable[Mapping[str, Any]]) -> tuple[list[str], list[list[Cell]]]:
    """Header and rows; a figure within a figure is named by both, as `slope_low`."""
    flat = [_flat(item) for item in items]
    header = list(dict.fromkeys(name for item in flat for name in item))
    return header, [[item.get(name) for name in header] for item in flat]


def _flat(item: Mapping[str, Any], above: str = "") -> dict[str, Cell]:
    found: dict[str, Cell] = {}
    for name, value in item.items():
        if isinstance(value, Mapping):
            found |= _flat(value, f"{above}{name}_")
        else:
            found[f"{above}{name}"] = _cell(value)
    return found


def _cell(value: Any) -> Cell:
    """One value; of several, all in one cell."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "; ".join(str(_cell(each)) for each in value)
    return value if value is None or isinstance(value, int | float) else str(value)
