"""Which jobs are done when: the chains of all tasks, day by day."""

from datetime import date, timedelta
from fractions import Fraction
from functools import cached_property

from pmtrack.demo.chain import NEVER, Chain, length_in_days, target_after
from pmtrack.demo.deferrals import put_off
from pmtrack.demo.floor import Floor
from pmtrack.demo.habits import DAILY_DONE, DAILY_DONE_BY_LAW, Habits
from pmtrack.demo.jobs import Jobs
from pmtrack.demo.profile import ON_OVERTIME
from pmtrack.demo.seed import chance, stream
from pmtrack.rules.base import coverers

_SOON_COVERED = timedelta(days=6)  # a job waits so long for one that covers it
_SAME_VISIT = timedelta(days=14)  # an outside firm does along what comes up so soon
_FORESEEN = timedelta(days=14)  # a delay that the crew knows of
_PUT_OFF = 0.12  # share of late jobs that are put off with a reason
_PART_OF_DAY = Fraction(7, 10)  # of a day's usage that is seen coming
_SERVICE_DAYS = 28  # from this interval on a job with the machine down is a service


class Upkeep:
    """Keeps the chains of the tasks."""

    def __init__(self, floor: Floor) -> None:
        self.floor = floor
        self.habits = Habits(floor.year)
        self.jobs = Jobs(floor)
        self._draw = stream("upkeep")
        by = coverers(floor.shop.tasks)
        chains = [
            Chain(
                task,
                length_in_days(task, floor.year),
                tuple(name for name, covering in by.items() if task.name in covering),
            )
            for task in floor.shop.tasks
        ]
        # what covers others comes first, so that these are settled when their turn comes
        self.chains = {
            c.task.name: c for c in sorted(chains, key=lambda c: (-len(c.covers), -c.length))
        }
        self._covering = {name: by[name] for name in self.chains}

    def begin(self, name: str, base: date, usage: dict[str, Fraction]) -> None:
        """Start the chain of a task from a completion, with the usage at that time."""
        chain = self.chains[name]
        chain.begin(base, target_after(chain.task, base, self.floor.year), usage)
        near = (self.chains[other].planned for other in self._covering[name])
        chain.planned = self.habits.plan(chain, covered_on=min(near, default=NEVER))
        chain.patience = Fraction(self.habits.patience(chain))

    def work(self, day: date) -> None:
        """Do the jobs of a date."""
        for chain in self.chains.values():
            if self._is_wanted(chain, day):
                self.do(chain, day)
            elif self._will_be_late(chain, day) and chance(self._draw, _PUT_OFF):
                self._put_off(chain, day)

    def _will_be_late(self, chain: Chain, day: date) -> bool:
        """Whether it is the day to work by, and the crew knows that it will not manage."""
        late = chain.target.on_time_through < chain.planned <= day + _FORESEEN
        return day == chain.target.work_by and late and not chain.task.authority

    def _put_off(self, chain: Chain, day: date) -> None:
        at = self.floor.year.shifts(day)[0].start + timedelta(hours=2)
        put_off(self.floor, chain.task.name, chain.planned, at)

    def do(self, chain: Chain, day: date) -> None:
        """Do a job, and along with it what the same outside firm has to do soon."""
        if self._do(chain, day) and chain.task.crew:
            for other in self.chains.values():
                near = other.planned <= day + _SAME_VISIT and other.base < day
                if near and other.task.crew == chain.task.crew and self._is_free(other, day):
                    self._do(other, day)

    def _do(self, chain: Chain, day: date) -> bool:
        """Do a job; then it and those that it covers begin anew. False if not done by now."""
        if not self.jobs.do(chain, day):
            return False
        for name in (chain.task.name, *chain.covers):
            counters = self.floor.counters[chain.task.machine]
            self.begin(name, day, {unit: counter.usage for unit, counter in counters.items()})
        return True

    # --- whether a job is wanted

    def _is_wanted(self, chain: Chain, day: date) -> bool:
        if chain.base >= day or not self._is_free(chain, day):
            return False
        if chain.is_daily:
            return self._is_checked(chain, day)
        used_up = bool(chain.limits) and self.share_over(chain) >= chain.patience - 1
        return (chain.planned <= day or used_up) and not self._waits(chain, day)

    def _is_free(self, chain: Chain, day: date) -> bool:
        """Nobody works at a machine that is out, nor on a Saturday of overtime but to check."""
        overtime = day not in self.floor.year.workdays
        barred = overtime and not (chain.is_daily and chain.task.machine in ON_OVERTIME)
        return not barred and not self.floor.is_out(chain.task.machine, day)

    def _is_checked(self, chain: Chain, day: date) -> bool:
        done = DAILY_DONE_BY_LAW if chain.task.authority else DAILY_DONE
        recent = self.floor.year.is_recent(day, 3)
        return chain.planned <= day and (chance(self._draw, done) or recent)

    def share_over(self, chain: Chain) -> Fraction:
        """How far past its usage intervals a task will be in the course of the day."""
        counters = self.floor.counters[chain.task.machine]
        shares = [
            chain.share_over(unit, counters[unit].usage + counters[unit].daily * _PART_OF_DAY)
            for unit in chain.limits
        ]
        return max(shares, default=Fraction(-1))

    def _waits(self, chain: Chain, day: date) -> bool:
        """Whether a job that covers this one is near, and this one can wait."""
        near = (self.chains[name].planned for name in self._covering[chain.task.name])
        return chain.target.on_time_through > day + _SOON_COVERED and any(
            day < planned <= day + _SOON_COVERED for planned in near
        )

    # --- for the breakdowns

    def ages(self, day: date) -> dict[str, float]:
        """Share of the interval that has gone since each machine's service."""
        return {
            code: (day - chain.base).days / chain.length for code, chain in self._services.items()
        }

    @cached_property
    def _services(self) -> dict[str, Chain]:
        """The most frequent real service of each machine; what covers it restores it too."""
        services = [
            chain
            for chain in self.chains.values()
            if chain.task.machine_down and chain.length >= _SERVICE_DAYS
        ]
        longest_first = sorted(services, key=lambda chain: -chain.length)
        return {chain.task.machine: chain for chain in longest_first}
