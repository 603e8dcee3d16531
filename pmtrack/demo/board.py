"""The evening before: the crew clears the board but for a few jobs, and puts one off."""

from datetime import date, timedelta
from fractions import Fraction

from pmtrack.demo.chain import NEVER, Chain
from pmtrack.demo.deferrals import put_off
from pmtrack.demo.upkeep import Upkeep

_OVERDUE, _DUE = 3, 5  # jobs that stay on the list
_NEARLY = Fraction(-1, 10)  # of a usage interval: it may be gone by the morning
_GRACE = Fraction(1, 10)  # of a usage interval
_PUT_OFF = timedelta(days=6)


class Board:
    """The jobs that are open when the last working day before today ends."""

    def __init__(self, upkeep: Upkeep) -> None:
        self._upkeep = upkeep
        self._year = upkeep.floor.year

    def clear(self, day: date) -> None:
        """Do what is due by today, but for a few jobs; put one off."""
        open_jobs = [c for c in self._upkeep.chains.values() if self._is_due(c)]
        overdue = sorted(filter(self._is_overdue, open_jobs), key=_left_behind_first)
        due = [c for c in open_jobs if not self._is_overdue(c)]
        kept = _own(overdue)[:_OVERDUE] + _own(due)[: _DUE + 1]
        for chain in open_jobs:
            if chain in kept:
                chain.planned = NEVER
            elif chain.base < day:
                self._upkeep.do(chain, day)
        soon = [c for c in self._upkeep.chains.values() if self._is_announced(c)]
        candidates = [*_own(due)[_DUE : _DUE + 1], *_own(soon), *_own(overdue)[2:3]]
        for chain in [c for c in candidates if not c.limits][:1]:
            self._put_off(chain, day)

    def _is_due(self, chain: Chain) -> bool:
        machine, today = chain.task.machine, self._year.today
        if chain.is_daily or self._upkeep.floor.is_out(machine, today):
            return False
        return chain.target.work_by <= today or self._upkeep.share_over(chain) >= _NEARLY

    def _is_overdue(self, chain: Chain) -> bool:
        late = chain.target.on_time_through < self._year.today
        return late or self._upkeep.share_over(chain) > _GRACE

    def _is_announced(self, chain: Chain) -> bool:
        return chain.target.announced <= self._year.today < chain.target.work_by

    def _put_off(self, chain: Chain, day: date) -> None:
        chain.planned = NEVER
        at = self._year.shifts(day)[0].end - timedelta(minutes=30)
        put_off(self._upkeep.floor, chain.task.name, self._year.today + _PUT_OFF, at)


def _left_behind_first(chain: Chain) -> tuple[bool, int]:
    """Those that nobody will get round to, then those that are least late."""
    return chain.planned != NEVER, -chain.target.on_time_through.toordinal()


def _own(chains: list[Chain]) -> list[Chain]:
    """Jobs of the shop's own crew that no law demands."""
    return [c for c in chains if not (c.task.authority or c.task.crew)]
