"""The technician's rounds: counters of machines at which nobody stands are read from the dial."""

from datetime import datetime, timedelta

from pmtrack.actions.recorder import Dial, Recorder
from pmtrack.demo.floor import Floor
from pmtrack.demo.people import MANAGER, technician
from pmtrack.demo.profile import READ_ON_ROUNDS
from pmtrack.demo.seed import chance, stream
from pmtrack.demo.year import Watch

_WEEKDAYS = (0, 3)  # Monday and Thursday
_DONE = 0.97
_HALF_SHOP = 12  # machines that the first technician sees to


class Rounds:
    """Has dials read."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._draw = stream("rounds")

    def open_books(self) -> None:
        """Have every counter read at adoption."""
        at = self._floor.year.adopted_at
        for code, counters in self._floor.counters.items():
            if counters:
                self._read(code, at, MANAGER)

    def walk(self, shift: Watch) -> None:
        """Have the counters read early in the first shift of a day, twice a week."""
        if shift.day.weekday() not in _WEEKDAYS or shift.day not in self._floor.year.workdays:
            return
        at = shift.start + timedelta(minutes=12)
        for number, machine in enumerate(self._floor.shop.machines):
            at += timedelta(minutes=2)
            read = machine.code in READ_ON_ROUNDS and machine.meters and chance(self._draw, _DONE)
            if read and at <= self._floor.year.now:
                self._read(machine.code, at, technician(number // _HALF_SHOP))

    def _read(self, code: str, at: datetime, by: str) -> None:
        dials: dict[str, Dial] = {
            name: counter.read() for name, counter in self._floor.counters[code].items()
        }
        moment = self._floor.moment(at)

        def write(recorder: Recorder) -> None:
            recorder.dials(code, dials, moment)

        self._floor.diary.note(at, by, write)
