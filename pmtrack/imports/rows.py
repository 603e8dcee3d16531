"""The rows of a file, each cell read."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from pmtrack.errors import PmtrackError
from pmtrack.imports.csv_file import Line, read_sheet
from pmtrack.imports.fault import Fault
from pmtrack.imports.header import Layout, lay_out
from pmtrack.imports.kinds import Column, Kind, Values
from pmtrack.rules.shop import Shop
from pmtrack.store.codec import to_millionths

Key = tuple[Any, ...]


@dataclass(frozen=True)
class Row:
    """What a row says; `key` is equal for rows that are equal in all columns but `note`.

    The key holds the values as the store keeps them: those of the kind's columns, then the meters.
    """

    line: int
    values: Values
    meters: dict[str, Fraction]
    key: Key


@dataclass(frozen=True)
class Reading:
    """The rows that can be read, the faults of the others, and whether the header is right."""

    rows: list[Row]
    faults: list[Fault]
    sound_header: bool


def read_rows(data: bytes, kind: Kind, shop: Shop, by: str | None) -> Reading:
    """The rows of a file of that kind; `by` stands where a row does not say who."""
    sheet = read_sheet(data)
    if sheet.header is None:
        return Reading([], sheet.faults, False)
    reader = _RowReader(_with_default_by(kind, by), shop, by)
    layout, wrong = lay_out(sheet.header, reader.kind, shop)
    rows, faults = [], [*sheet.faults, *wrong]
    for line in sheet.rows:
        slips: list[str] = []
        row = reader.row(line, layout, slips)
        faults += [Fault(line.number, slip) for slip in slips]
        if not slips and not wrong:
            rows.append(row)
    return Reading(rows, faults, not wrong)


def _with_default_by(kind: Kind, by: str | None) -> Kind:
    """The kind with the column `by` optional, where it is known who stands for all."""
    if by is None:
        return kind
    return replace(
        kind,
        columns=tuple(
            replace(c, optional=True, may_be_empty=True) if c.name == "by" else c
            for c in kind.columns
        ),
    )


@dataclass(frozen=True)
class _RowReader:
    kind: Kind
    shop: Shop
    by: str | None

    def row(self, line: Line, layout: Layout, slips: list[str]) -> Row:
        """The row on a line; what cannot be read is added to `slips`."""
        values: Values = {column.name: column.form.blank for column in layout.left_out}
        values.update(self._cells(line, layout.columns, slips))
        values["by"] = values.get("by") or self.by
        found = self._cells(line, layout.meters, slips)
        meters = {name: value for name, value in found if value is not None}
        if slips:
            return Row(line.number, values, meters, ())
        self.kind.fill(values, self.shop)
        return Row(line.number, values, meters, self._key(values, meters))

    def _cells(
        self, line: Line, columns: tuple[tuple[int, Column], ...], slips: list[str]
    ) -> Iterator[tuple[str, Any]]:
        for index, column in columns:
            text = line.cells[index]
            if text:
                try:
                    yield column.name, column.form.read(text, self.shop)
                except PmtrackError as error:
                    slips.append(f"{column.name}: {error}")
            elif column.may_be_empty:
                yield column.name, column.form.blank
            else:
                slips.append(f"{column.name} is empty; fill it in")

    def _key(self, values: Values, meters: dict[str, Fraction]) -> Key:
        parts = []
        for column in self.kind.compared:
            value = values.get(column.name)
            parts.append(None if value is None else column.form.kept(value, self.shop))
        return (*parts, frozenset((name, to_millionths(value)) for name, value in meters.items()))
