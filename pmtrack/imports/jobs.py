"""A file of planned jobs: which program is to be run on which day, and how many parts of it."""

from collections.abc import Iterable, Iterator
from io import BytesIO
from typing import Any

from pmtrack.errors import FaultyFile, Refused
from pmtrack.imports.csv_file import open_sheet
from pmtrack.imports.fault import Fault
from pmtrack.imports.forms import DAY, Form
from pmtrack.imports.kinds import Column, Kind
from pmtrack.imports.rows import Row, RowReader
from pmtrack.rules.planned_jobs import PlannedRun, parse_parts
from pmtrack.rules.quantity import shorten
from pmtrack.rules.shop import Shop


def read_jobs(name: str, data: bytes, shop: Shop) -> list[PlannedRun]:
    """The jobs of a file, in its order. Raises FaultyFile with all that is wrong."""
    sheet = open_sheet(BytesIO(data))
    reader = RowReader(sheet, _JOBS, shop, None)
    faults = [*sheet.faults, *reader.header_faults]
    blocks = list(reader.blocks(sheet.lines(faults), faults))
    rows = [row for block in blocks for row in reader.rows(block)]
    faults += _twice(rows)
    if faults:
        raise FaultyFile(list(dict.fromkeys(fault.render(name) for fault in sorted(faults))))
    return [_job(row) for row in rows]


def _job(row: Row) -> PlannedRun:
    values = row.values
    return PlannedRun(
        line=row.line,
        day=values["date"],
        program=values["program"],
        parts=values["parts"],
        material=values["material"],
        machine=values["machine"],
    )


def _twice(rows: Iterable[Row]) -> Iterator[Fault]:
    """A fault for each row that says the same as an earlier one."""
    first: dict[Any, int] = {}
    for row in rows:
        line = first.setdefault(row.key, row.line)
        if line != row.line:
            yield Fault(
                row.line,
                f"the same as line {line}; delete one, or if both are meant add their parts up",
            )


def _known(what: str, section: str) -> Form:
    """A cell that holds the code of something in a section of the shop file."""

    def read(text: str, shop: Shop) -> str:
        codes = [found.code for found in getattr(shop, section)]
        if text not in codes:
            known = ", ".join(codes) or "none"
            raise Refused(f"no {what} '{shorten(text)}'; the shop file has {known}")
        return text

    return Form(read)


_JOBS = Kind(
    "jobs",
    (
        Column("date", DAY),
        Column("program", _known("program", "programs")),
        Column("parts", Form(lambda text, _: parse_parts(text))),
        Column("material", _known("material", "materials"), optional=True, may_be_empty=True),
        Column("machine", _known("machine", "machines"), optional=True, may_be_empty=True),
    ),
    when="date",
)
