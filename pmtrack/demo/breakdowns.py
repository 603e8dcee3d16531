"""Breakdowns: the longer ago the last service, the more of them."""

from datetime import timedelta

from pmtrack.demo.floor import Floor
from pmtrack.demo.profile import FAILURES, FIRST_SHIFT_ONLY, OTHER_FAILURES
from pmtrack.demo.seed import chance, stream
from pmtrack.demo.stops import Outage, note_stop
from pmtrack.demo.year import Watch

_SHIFTS_A_YEAR = (240, 430)  # of a machine on the first shift only, on both
_MEDIAN_MINUTES, _SCATTER = 85, 0.8
_SHORTEST, _LONGEST = 20, 360
_SPARE = timedelta(minutes=10)


def wear_out(age: float) -> float:
    """Breakdowns against the average at that share of the service interval: 0.5 up to 2."""
    return 0.5 + 1.5 * min(age, 1.2)


class Breakdowns:
    """Draws the unplanned stops of each shift."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._draw = stream("breakdowns")

    def run(self, shift: Watch, ages: dict[str, float]) -> None:
        """The stops of one shift; `ages` are shares of the service interval gone, by machine."""
        for machine in self._floor.shop.machines:
            code = machine.code
            if not machine.meters or (shift.place and code in FIRST_SHIFT_ONLY):
                continue
            failures, causes = FAILURES.get(code, OTHER_FAILURES)
            shifts = _SHIFTS_A_YEAR[code not in FIRST_SHIFT_ONLY]
            due = chance(self._draw, failures / shifts * wear_out(ages.get(code, 0.5)))
            if due and not self._floor.stands_still(code, shift.day):
                self._break(code, shift, self._draw.choice(causes))

    def _break(self, code: str, shift: Watch, cause: str) -> None:
        floor, length = self._floor, shift.end - shift.start
        minutes = _MEDIAN_MINUTES * self._draw.lognormvariate(0, _SCATTER)
        work = timedelta(minutes=int(min(max(minutes, _SHORTEST), _LONGEST)))
        at = shift.start + timedelta(minutes=int(length.seconds / 60 * self._draw.uniform(0.03, 1)))
        start = floor.outages.free_from(code, at, _SPARE)
        end = floor.year.after_work(start, work)
        ahead = floor.outages.next_after(code, start)
        if start + _SPARE > shift.end or start > floor.year.now or (ahead and ahead < end):
            return
        note_stop(floor, Outage(code, cause, start, end), floor.operator(code, shift.place))
