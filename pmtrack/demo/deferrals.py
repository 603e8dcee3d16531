"""Jobs put off, with the reason."""

from datetime import date, datetime

from pmtrack.actions.recorder import Recorder
from pmtrack.actions.technician import defer
from pmtrack.demo.floor import Floor
from pmtrack.demo.people import MANAGER

_REASONS = (
    "rush order, the machine cannot be spared",
    "parts promised for next week",
    "Lena is away on a course",
    "short of hands until then",
)


def put_off(floor: Floor, task: str, until: date, at: datetime) -> None:
    """Have a job put off through a date."""
    moment = floor.moment(at)
    why = _REASONS[until.toordinal() % len(_REASONS)]

    def write(recorder: Recorder) -> None:
        defer(recorder, task, until, why, moment)

    floor.diary.note(at, MANAGER, write)
