"""The ways a task may go through a quarter: from each planned day to the days of the next job."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import NamedTuple

from pmtrack.rules.facts import Base
from pmtrack.rules.forecast import Chain
from pmtrack.rules.plan import Quarter
from pmtrack.rules.shop import Task
from pmtrack.rules.shoptime import ONE_DAY
from pmtrack.rules.windows import JobWindow
from pmtrack.rules.workdays import Workdays

START, END = 0, -1
OWN, SETTLED, LEFT_OUT, LAST = "own", "settled", "left out", "last"
CATCH_UP = timedelta(days=14)  # within which an overdue job is to find a day
AFTER_QUARTER = timedelta(days=60)  # the farthest that a job due in the quarter may slip
# A job is left out, or settled too late, only where it has no day, never because its day is dear:
#     breaks(left out) >= MISSED + breaks(own job on d), for every day d that it has.
# CATCH_UP has up to 14 working days, of which each that an overdue job waits is LATE breaks, so no
# fixed figure would do: the dearest day is added. What a day costs besides stays far below MISSED
# breaks. As one job more or less is one visit at most, and a visit costs less than a break, no job
# is left out and none that is overdue waits for the sake of fewer visits.
MISSED, MISSED_LAWFUL = 10, 50  # breaks beyond those of the dearest day
EARLY, LATE = 1, 2  # cost of a working day before and after the one to aim for
TOO_SOON = 10  # cost of a job before half its interval is over: more than the one before put off


class Step(NamedTuple):
    """From one day (ordinal) of a task to the next: by its own job, settled by another, left out.

    `cost` grows with the distance from the day to aim for, and where a job comes again before half
    its interval is over. `breaks` counts what a plan should do
    only where it must: a day of the saved plan given up, two for each day that an overdue job
    waits unless a person fixed it, and more than for any day where a job is left out or settled
    too late.
    """

    tail: int
    head: int
    kind: str
    cost: int = 0
    breaks: int = 0


@dataclass(frozen=True)
class Ground:
    """What a plan is made on: today, the quarter, the working days."""

    today: date
    quarter: Quarter
    workdays: Workdays

    @cached_property
    def days(self) -> tuple[int, ...]:
        """Working days from today to past the quarter's end, as ordinals."""
        first, last = self.today.toordinal(), (self.quarter.last + AFTER_QUARTER).toordinal()
        return tuple(d for d in range(first, last + 1) if date.fromordinal(d) in self.workdays)

    @cached_property
    def _rank(self) -> dict[int, int]:
        return {day: rank for rank, day in enumerate(self.days)}

    def is_open(self, day: int) -> bool:
        """Whether a plan may put a job on a day: a working day that has not passed."""
        return day in self._rank

    def between(self, first: date, last: date) -> tuple[int, ...]:
        """The working days from `first` to `last`, none before today."""
        return self.days[
            bisect_left(self.days, first.toordinal()) : bisect_right(self.days, last.toordinal())
        ]

    def distance(self, day: int, target: int) -> int:
        """Working days from the day to aim for, those after it counted twice."""
        rank = bisect_left(self.days, target)  # a target in the past counts as today
        off = self._rank[day] - rank
        return LATE * off if off > 0 else -EARLY * off


@dataclass(frozen=True)
class Wishes:
    """What bears on one task's days besides its windows.

    `notice` in days of its outside firm; `settling` the days on which a task that covers it may be
    done; `saved` the days that the saved plan has for it; `pinned` days that a person fixed.
    """

    notice: int = 0
    settling: frozenset[int] = frozenset()
    saved: frozenset[int] = frozenset()
    pinned: frozenset[int] = frozenset()

    def given_up(self, after: int, before: int) -> int:
        """How many saved days lie between two days."""
        return sum(after < day < before for day in self.saved)


@dataclass(frozen=True)
class Choice:
    """The days on which a chain's next job may be put; none where `ended` or nothing is possible.

    `otherwise` is the day from which the chain goes on where the job is left out. Where it has
    ended, its job is the next quarter's: only a pin brings it into this one. `half_over` is the
    first day on which half of the interval is over: a shutdown may want a job before it.
    """

    window: JobWindow | None
    first: date
    last: date
    target: int
    days: tuple[int, ...]
    otherwise: int
    ended: bool = False
    overdue: bool = False
    half_over: int = START

    def misses(self, day: int) -> bool:
        """Whether a covering job on that day would settle it after its last day."""
        return not self.ended and day > self.last.toordinal()


def choice(chain: Chain, ground: Ground, wishes: Wishes) -> Choice:
    """Where the next job of a chain may be put.

    A day that the saved plan has for it stays possible while its firm's notice runs: it was called.
    """
    window = chain.window
    possible = max(chain.earliest, ground.today + timedelta(days=wishes.notice))
    if window is None:
        return Choice(window, possible, possible, END, (), END, ended=True)
    first, last = window.first, window.last
    target, half_over = window.target.toordinal(), _half_over(chain, window)
    if window.due_on > ground.quarter.last:
        return Choice(window, first, last, target, (), END, True, half_over=half_over)
    overdue = window.last < ground.today
    if overdue:
        first, last = possible, possible + CATCH_UP
    called = ground.between(max(first, chain.earliest), min(last, possible - ONE_DAY))
    days = (
        *(day for day in called if day in wishes.saved),
        *ground.between(max(first, possible), last),
    )
    if overdue and days:
        target = days[0]
    otherwise = _otherwise(days, target, possible, ground)
    return Choice(window, first, last, target, days, otherwise, False, overdue, half_over)


def _half_over(chain: Chain, window: JobWindow) -> int:
    base = chain.situation.base
    if base is None:
        return START
    done = base.moment.day.toordinal()
    return done + (window.due_on.toordinal() - done + 1) // 2


def _otherwise(days: tuple[int, ...], target: int, possible: date, ground: Ground) -> int:
    """The possible day nearest to the target, or the first one after the window."""
    if days:
        return min(days, key=lambda day: (abs(day - target), day))
    at = bisect_left(ground.days, max(possible.toordinal(), target))
    return ground.days[min(at, len(ground.days) - 1)]


def steps_of(chain: Chain, ground: Ground, wishes: Wishes) -> tuple[Step, ...]:
    """All steps that a task can take through the quarter, from where its chain stands."""
    steps: list[Step] = []
    waiting, seen = [START], {START}
    while waiting:
        tail = waiting.pop()
        state = chain if tail == START else chain.done(date.fromordinal(tail))
        for step in _steps_from(tail, state, ground, wishes):
            steps.append(step)
            if step.head != END and step.head not in seen:
                seen.add(step.head)
                waiting.append(step.head)
    return tuple(sorted(steps))


def _steps_from(tail: int, chain: Chain, ground: Ground, wishes: Wishes) -> Iterable[Step]:
    after = chain.situation.base.moment.day.toordinal() if chain.situation.base else START
    found = choice(chain, ground, wishes)
    missed = MISSED_LAWFUL if chain.task.authority else MISSED
    days = (*found.days, *_pinned_days(chain, found, ground, wishes))
    own = [_own_step(tail, day, found, ground, wishes) for day in days]
    yield from own
    if found.ended:
        yield Step(tail, END, LAST, breaks=wishes.given_up(tail, ground.days[-1] + 1))
        latest = ground.days[-1]
    else:
        latest = max(found.last.toordinal(), found.otherwise)
        missed += max((step.breaks for step in own), default=0)
        breaks = wishes.given_up(tail, found.otherwise + 1) + missed
        yield Step(tail, found.otherwise, LEFT_OUT, breaks=breaks)
    for day in wishes.settling:
        if after < day <= latest:
            breaks = wishes.given_up(tail, day + 1) + missed * found.misses(day)
            yield Step(tail, day, SETTLED, breaks=breaks)


def _own_step(tail: int, day: int, found: Choice, ground: Ground, wishes: Wishes) -> Step:
    waits = found.overdue and day > found.target and day not in wishes.pinned
    off = ground.distance(day, found.target)
    cost = off + (TOO_SOON if day < found.half_over else 0)
    return Step(tail, day, OWN, cost, wishes.given_up(tail, day) + (off if waits else 0))


def _pinned_days(chain: Chain, found: Choice, ground: Ground, wishes: Wishes) -> Iterable[int]:
    """Pinned days outside the window to which this job may be pinned.

    One before the quarter is for the plan of that quarter; a job due after this one has no others.
    """
    if found.window is None:
        return
    first, last = pin_span(chain.task, chain.situation.base, found.window)
    first = max(first, ground.quarter.first)
    last = min(last, ground.quarter.last) if found.ended else last
    for day in wishes.pinned:
        inside = first.toordinal() <= day <= last.toordinal()
        if inside and ground.is_open(day) and day not in found.days:
            yield day


def pin_span(task: Task, base: Base | None, window: JobWindow) -> tuple[date, date]:
    """The first and last day outside its window to which a task's next job may be pinned.

    They lie nearer to its due day than to its neighbours'. What an authority demands is never put
    past its due date, a date of a schedule not before its lead, since it would not be settled then.
    """
    due = window.due_on
    if base is None:
        first, half = date.min, due - date.min
    else:
        half = timedelta(days=(due - base.moment.day).days // 2)
        first = max(base.moment.day, due - half) + ONE_DAY
    if task.on:
        first = max(first, window.work_by - timedelta(days=window.lead_days))
    return first, due if task.authority else due + min(half, date.max - due)
