"""How punctual the crew is: most jobs about when due, some late, a few left out for a round."""

from dataclasses import dataclass
from datetime import date

from pmtrack.demo.chain import NEVER, Chain
from pmtrack.demo.seed import chance, stream
from pmtrack.demo.year import Year

DAILY_DONE, DAILY_DONE_BY_LAW = 0.96, 0.99
_LATE, _LEFT_OUT = 0.08, 0.02
_RECENT = 10  # working days up to now in which everything is about on time
_BACKLOG = 3  # jobs that nobody has got round to
_BACKLOG_SHARE = 0.5  # of the jobs that could be among them
_BACKLOG_DAYS = (2, 9)  # how long those are overdue now


@dataclass(frozen=True)
class Rhythm:
    """Working days from `work_by` on which a job is done, when early, on time and late."""

    usual: tuple[int, ...]
    late: tuple[int, ...]


_WEEKLY = Rhythm((0, 0, 0, 0, 0, 0, -1, -1, 1), (2, 3, 4))
_LONGER = Rhythm((-3, -2, -2, -1, -1, 0, 0, 0, 1, 2), (5, 6, 8, 10))
_BY_LAW = Rhythm((-3, -2, -1, -1, 0), (0,))
_WEEKLY_BY_LAW = Rhythm((0, 0, 0, 0, 0, -1), (0,))


def rhythm(chain: Chain) -> Rhythm:
    """How a task is done: what a law demands is never late."""
    weekly = chain.length <= 14
    if chain.task.authority:
        return _WEEKLY_BY_LAW if weekly else _BY_LAW
    return _WEEKLY if weekly else _LONGER


class Habits:
    """Draws the day that the crew has in mind for each job."""

    def __init__(self, year: Year) -> None:
        self._year = year
        self._draw = stream("habits")
        self._backlog: dict[str, str] = {}  # one task a machine

    def plan(self, chain: Chain, covered_on: date) -> date:
        """The working day on which a job that has just come up will be done.

        `covered_on` is the day in mind for the next job that covers it.
        """
        target = chain.target
        if target.work_by == NEVER:
            return NEVER
        if chain.is_daily:
            return target.work_by
        if self._is_left_behind(chain, covered_on):
            return NEVER
        day = self._year.moved(target.work_by, self._offset(chain))
        return max(day, self._year.moved(chain.base, 1))

    def _offset(self, chain: Chain) -> int:
        """Working days from the day to work by."""
        habit, target = rhythm(chain), chain.target
        late = chance(self._draw, _LATE)
        skipped = not chain.task.authority and chance(self._draw, _LEFT_OUT)
        if self._year.is_recent(target.work_by, _RECENT):
            return self._draw.choice(habit.usual[: len(habit.usual) - 1])
        if skipped and chain.length <= 31 and not chain.task.crew:
            return chain.length * 5 // 7
        return self._draw.choice(habit.late if late else habit.usual)

    def _is_left_behind(self, chain: Chain, covered_on: date) -> bool:
        """Whether it is one of the jobs that are overdue now."""
        task, past = chain.task, (self._year.today - chain.target.on_time_through).days
        if self._backlog.get(task.machine) == task.name:
            del self._backlog[task.machine]  # a job that covers it was done after all
        barred = task.authority or task.crew or task.machine in self._backlog
        covered = covered_on <= self._year.today
        if barred or covered or chain.limits or len(self._backlog) >= _BACKLOG:
            return False
        left = _BACKLOG_DAYS[0] <= past <= _BACKLOG_DAYS[1] and chance(self._draw, _BACKLOG_SHARE)
        if left:
            self._backlog[task.machine] = task.name
        return left

    def patience(self, chain: Chain) -> float:
        """The share of a usage interval after which the job is done."""
        if not chain.task.authority and chance(self._draw, _LATE):
            return self._draw.uniform(1.11, 1.2)
        return self._draw.uniform(0.93, 1.05)
