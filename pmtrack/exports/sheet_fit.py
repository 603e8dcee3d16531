"""The size of type with which a quarter's sheet fills two pages: as large as they have room for.

An estimate: letters are taken as of one width, and browsers break lines their own way. It only
chooses among sizes that can be read, so where it errs the sheet has a third page.
"""

from collections.abc import Iterable
from datetime import date, timedelta

from pmtrack.exports.job_text import STANDING_CAUTION
from pmtrack.exports.sheet_facts import QuarterSheet
from pmtrack.rules.plan import PlacedJob, Visit

SIZES = (9.0, 8.5, 8.0, 7.5, 7.0, 6.5)  # points; the last is the smallest ever used
_POINT = 0.3528  # mm
_LETTER = 0.47  # width of a letter against its height
_LINE = 1.15  # height of a line against that of its letters
_WIDE, _HIGH = 225.0, 362.0  # mm: the day columns of a page; the height of two, less their heads
_FOOT_COLUMNS, _FOOT_WIDE, _FOOT_SIZE = 3, 82.0, 8.0  # mm of a column; the largest type in points
_CALL_WIDE = 54.0  # mm for the firm and its jobs in the list of calls


def type_size(sheet: QuarterSheet) -> float:
    """The largest size, in points, with which all is expected on two landscape pages."""
    fitting = (size for size in SIZES if _rows(sheet, size) + _foot(sheet, size) <= _HIGH)
    return next(fitting, SIZES[-1])


def _rows(sheet: QuarterSheet, size: float) -> float:
    """The height of all weeks in mm; the tallest comes once more, since no week is broken."""
    letters = _letters(_WIDE / len(sheet.columns) - 2, size)
    line = size * _POINT * _LINE
    heights = [_week(sheet, monday, letters) * line + 1.3 for monday in sheet.mondays]
    return sum(heights) + max(heights) / 5


def _week(sheet: QuarterSheet, monday: date, letters: int) -> float:
    days = (monday + timedelta(days=n) for n in sheet.columns)
    return max(3.3, *(_day(sheet, day, letters) for day in days))


def _day(sheet: QuarterSheet, day: date, letters: int) -> float:
    """The lines of a day's cell."""
    visits = sum(_visit(visit, letters - 4) for visit in sheet.visits_on(day))
    return 1.2 + visits + _flow(_widths(sheet.own_jobs(day)), letters)


def _visit(visit: Visit, letters: int) -> float:
    firm = -(-len(visit.supplier.name) // letters)
    return firm + _flow(_widths(visit.jobs), letters) + 0.7


def _widths(jobs: Iterable[PlacedJob]) -> list[int]:
    """The letters that each machine's jobs take, with the gap after them."""
    widths: dict[str, int] = {}
    for job in jobs:
        before = widths.get(job.task.machine, len(job.task.machine) + 2)
        widths[job.task.machine] = before + len(job.task.code) + 3
    return list(widths.values())


def _flow(widths: Iterable[int], letters: int) -> int:
    """The lines that pieces of those widths fill, none broken that fits on a line."""
    lines, left = 0, 0
    for width in widths:
        if width > left:
            lines, left = lines + 1, letters
        lines, left = lines + max(0, width - 1) // letters, left - min(width, left)
    return lines


def _foot(sheet: QuarterSheet, size: float) -> float:
    """The height of the foot in mm, in its columns; a line and a half for each heading."""
    small = min(size, _FOOT_SIZE)
    wide, narrow = _letters(_FOOT_WIDE, small), _letters(_CALL_WIDE, small)
    remarks = (remark for job in sheet.jobs for remark in job.remarks)
    unfit = (f"{job.task.name} {job.reason} {job.cure} due Wed 17 Feb" for job in sheet.unfit)
    said = (STANDING_CAUTION, *sheet.notes, *(f"{'-' * 26}{text}" for text in remarks), *unfit)
    lines = sum(0.2 - (-len(text) // wide) for text in said)
    calls = (visit.supplier.name + "-" * sum(_widths(visit.jobs)) for visit in sheet.visits)
    lines += sum(0.2 - (-len(text) // narrow) for text in calls)
    return (lines + 9) * small * _POINT * _LINE / _FOOT_COLUMNS + 4


def _letters(wide: float, size: float) -> int:
    """How many letters of a size in points fit on a line of so many mm."""
    return max(1, int(wide / (size * _POINT * _LETTER)))
