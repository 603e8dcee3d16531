"""Machines out of service: one for two weeks in the year, and one that still is."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.technician import change_service
from pmtrack.demo.diary import Diary
from pmtrack.demo.people import MANAGER
from pmtrack.demo.year import Year
from pmtrack.rules.facts import Moment

_TWO_WEEKS = ("TW-1", "waiting for a new torch cable")
_STILL = ("DS-1", "contact drum away at the grinder")
_SHARE_OF_YEAR = 0.6
_WORKING_DAYS_OUT = 5
_AFTER_START = timedelta(minutes=25)


@dataclass(frozen=True)
class IdleSpan:
    """A machine out from one working day, back on another; None while it still is out."""

    machine: str
    why: str
    out: date
    back: date | None

    def holds(self, day: date) -> bool:
        """Whether the machine is out at the end of that date."""
        return self.out <= day and (self.back is None or day < self.back)


def idle_spans(year: Year) -> tuple[IdleSpan, ...]:
    """The spans of the year, for the machines that the shop has."""
    begun = year.moved(year.first + timedelta(days=int(365 * _SHARE_OF_YEAR)), 1)
    still = year.moved(year.eve, -_WORKING_DAYS_OUT)
    spans = (
        IdleSpan(*_TWO_WEEKS, begun, year.moved(begun + timedelta(days=14), 1)),
        IdleSpan(*_STILL, still, None),
    )
    codes = {machine.code for machine in year.shop.machines}
    return tuple(span for span in spans if span.machine in codes)


def note_idle(diary: Diary, year: Year, span: IdleSpan) -> None:
    """Enter that the machine went out, and that it came back."""
    _note(diary, span, year.shifts(span.out)[0].start + _AFTER_START, out=True)
    if span.back is not None:
        _note(diary, span, year.shifts(span.back)[0].start, out=False)


def _note(diary: Diary, span: IdleSpan, at: datetime, out: bool) -> None:
    day = span.out if out or span.back is None else span.back
    why = span.why if out else ""

    def write(recorder: Recorder) -> None:
        change_service(recorder, span.machine, out, why, Moment(day, at))

    diary.note(at, MANAGER, write)
