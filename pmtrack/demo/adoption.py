"""The first day: when each task was last done, as the old binder tells."""

from datetime import date, timedelta
from fractions import Fraction

from pmtrack.actions.recorder import Dial, Recorder
from pmtrack.actions.technician import NewCompletion, complete
from pmtrack.demo.chain import Chain
from pmtrack.demo.people import MANAGER
from pmtrack.demo.seed import stream
from pmtrack.demo.upkeep import Upkeep
from pmtrack.rules.facts import Moment
from pmtrack.rules.shop import Machine

_SHARE_GONE = (0.04, 0.9)  # of its interval, when the shop file was applied
_NOTE = "from the old binder"


class OldBinder:
    """Enters the last completion of every task before the shop file was applied."""

    def __init__(self, upkeep: Upkeep) -> None:
        self._upkeep = upkeep
        self._floor = upkeep.floor
        self._year = upkeep.floor.year
        self._draw = stream("adoption")

    def copy(self) -> None:
        """Enter them, the longest intervals first, and begin the chains."""
        bases: dict[str, date] = {}
        for chain in self._upkeep.chains.values():
            own = self._last_done(chain)
            for name in (chain.task.name, *chain.covers):
                bases[name] = max(own, bases.get(name, date.min))
            self._enter(chain, own)
        for name, base in bases.items():
            machine = self._machine(name)
            self._upkeep.begin(name, base, self._usage_on(machine, base))

    def _last_done(self, chain: Chain) -> date:
        back = timedelta(days=max(int(chain.length * self._draw.uniform(*_SHARE_GONE)), 1))
        found = self._year.moved(self._year.first - back, 0)
        in_service = self._machine(chain.task.name).in_service
        return max(found, in_service) if in_service and in_service < self._year.first else found

    def _machine(self, task: str) -> Machine:
        code = self._upkeep.chains[task].task.machine
        return next(m for m in self._floor.shop.machines if m.code == code)

    def _usage_on(self, machine: Machine, day: date) -> dict[str, Fraction]:
        """What the counters had made at the end of an earlier date."""
        since = self._year.workdays.between(day, self._year.first - timedelta(days=1))
        counters = self._floor.counters[machine.code]
        return {
            name: max(c.usage - int(c.daily * since), Fraction(0)) for name, c in counters.items()
        }

    def _enter(self, chain: Chain, day: date) -> None:
        machine, units = self._machine(chain.task.name), {i.unit for i in chain.task.every}
        usage = self._usage_on(machine, day)
        dials = {name: Dial(usage[name]) for name in usage if name in units}
        done = NewCompletion(chain.task.name, Moment(day), chain.task.minutes, dials, note=_NOTE)

        def write(recorder: Recorder) -> None:
            complete(recorder, done)

        self._floor.diary.note(self._year.adopted_at, MANAGER, write)
