"""Entering stops: a short one when it is over, a long one when it begins and when it ends."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from pmtrack.actions.operator import NewStop, restart, stop
from pmtrack.demo.floor import Floor

_LONG = timedelta(minutes=45)


@dataclass(frozen=True)
class Outage:
    """A machine down between two instants, with the cause and whether it was planned."""

    machine: str
    cause: str
    start: datetime
    end: datetime
    planned: bool = False


def note_stop(floor: Floor, outage: Outage, by: str) -> None:
    """Have a stop entered; one that lasts beyond now is entered without its end."""
    floor.outages.add(outage.machine, outage.start, outage.end)
    start, end = floor.moment(outage.start), floor.moment(outage.end)
    new = NewStop(outage.machine, outage.cause, start, planned=outage.planned)
    over = outage.end <= floor.year.now
    if over and (outage.planned or outage.end - outage.start < _LONG):
        whole = NewStop(new.machine, new.cause, start, end, new.planned)
        floor.diary.note(outage.end, by, lambda recorder: stop(recorder, whole))
        return
    floor.diary.note(outage.start, by, lambda recorder: stop(recorder, new))
    if over:
        floor.diary.note(outage.end, by, lambda recorder: restart(recorder, new.machine, end))
