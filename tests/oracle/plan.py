"""Section 6 again, by trying every plan of a small shop: no solver, no flows.

A way of a task is the days of its own jobs, given the days on which other jobs settle it.
`whole_plan` puts the ways of all tasks together.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property

from .shop import ONE_DAY, Plain, World, as_list, is_working, later, slack_days, work_by_of

A_JOB_TOO_SOON = 10  # before half of its interval
A_JOB, A_MOVE, A_BROKEN_PIN = 0.5, 100.0, 20_000.0
LEFT_OUT, LEFT_OUT_LAWFUL = 1000.0, 5000.0  # above the dearest day that the job has
BEYOND = timedelta(days=60)


@dataclass(frozen=True)
class Way:
    """One task's days: what its jobs cost, and what of it is left out, moved or unpinned."""

    days: tuple[date, ...] = ()
    cost: float = 0.0
    rigid: float = 0.0


@dataclass
class Instance:
    """A small shop (as in its file), the quarter, and for each task (by code) its last done day."""

    shop: Plain
    today: date
    last: date
    done: Mapping[str, date]
    saved: Mapping[str, frozenset[date]] = field(default_factory=dict)
    pins: Mapping[str, date] = field(default_factory=dict)
    taken: Mapping[date, float] = field(default_factory=dict)
    first: date = date.min

    @cached_property
    def world(self) -> World:
        """The shop as the other oracles see it."""
        return World(self.shop, [], self.today, self.today)

    @cached_property
    def open_days(self) -> list[date]:
        """The working days from today to past the quarter."""
        count = (self.last + BEYOND - self.today).days + 1
        days = (self.today + n * ONE_DAY for n in range(count))
        return [day for day in days if is_working(self.shop, day)]

    @cached_property
    def tasks(self) -> list[Plain]:
        """The tasks, each after those that cover it."""
        return sorted(self.shop["tasks"], key=lambda task: len(self.coverers(task["code"])))

    def coverers(self, code: str) -> set[str]:
        """The tasks that settle one."""
        found = {t["code"] for t in self.shop["tasks"] if code in t.get("covers", ())}
        return found.union(*(self.coverers(by) for by in found))

    def kept(self, code: str) -> set[date]:
        """The days of the saved plan that are still to come."""
        return {day for day in self.saved.get(code, ()) if day >= self.today}

    def notice(self, task: Plain) -> int:
        """The days of notice of the task's firm."""
        firms = {firm["code"]: firm["notice"] for firm in self.shop.get("suppliers", ())}
        return int(firms.get(task.get("crew"), 0))


@dataclass(frozen=True)
class Slot:
    """What can become of a task's next job."""

    due: date
    days: list[date]
    target: date
    latest: date
    skipped_to: date
    last: date
    overdue: bool = False
    beyond: bool = False  # due after the quarter


def slot(case: Instance, task: Plain, base: date) -> Slot:
    """The next job after a base."""
    parts = []
    for every in as_list(task["every"]):
        due = later(base, every)
        by, length = work_by_of(case.world, due, base), (due - base).days
        lawful = "authority" in task
        grace, lead = slack_days(task, "grace", length), slack_days(task, "lead", length)
        first = max(due - (lead if lawful else grace) * ONE_DAY, base + ONE_DAY)
        last = due if lawful else max(due, by) + grace * ONE_DAY
        parts.append((due, by, first, last))
    due, target, first, _ = min(parts, key=lambda part: part[0])
    last = min(part[3] for part in parts)
    if target < first:  # no working day from the window's first day to D
        after = due + ONE_DAY
        while not is_working(case.shop, after):
            after += ONE_DAY
        target, first = (after, first) if after <= last else (target, target)
    if due > case.last:
        return Slot(due, [], target, last, last, last, beyond=True)
    soonest = min(day for day in case.open_days if day > base)
    can = max(soonest, case.today + case.notice(task) * ONE_DAY)
    overdue = last < case.today
    if overdue:
        first, last = can, can + 14 * ONE_DAY
        target = min(day for day in case.open_days if day >= can)
    called = case.kept(task["code"])  # its firm knows of those days
    days = [
        day
        for day in case.open_days
        if first <= day <= last and (day >= can or (day >= soonest and day in called))
    ]
    if days:
        skipped_to = min(days, key=lambda day: (abs(day - target), day))
    else:
        skipped_to = min(day for day in case.open_days if day >= max(can, target))
    return Slot(due, days, target, max(last, skipped_to), skipped_to, last, overdue)


def distance(case: Instance, day: date, target: date) -> int:
    """Working days before the target, or twice those after it; a past target counts as today."""
    target = max(target, case.today)
    early = sum(day <= other < target for other in case.open_days)
    return early + 2 * sum(target <= other < day for other in case.open_days)


def ways(case: Instance, task: Plain, settled: tuple[date, ...]) -> list[Way]:
    """All ways of a task that is settled by others on those days, the cheapest first."""
    found = set(_ways_from(case, task, case.done[task["code"]], settled))
    pin = case.pins.get(task["code"])
    if any(pin in way.days for way in found):  # else it cannot be kept
        found = {
            way if pin in way.days else _dearer(way, A_BROKEN_PIN, A_BROKEN_PIN) for way in found
        }
    return sorted(found, key=lambda way: way.cost)


def _dearer(way: Way, cost: float, rigid: float, *days: date) -> Way:
    return Way((*days, *way.days), way.cost + cost, way.rigid + rigid)


def _ways_from(case: Instance, task: Plain, base: date, settled: tuple[date, ...]) -> Iterator[Way]:
    found = slot(case, task, base)
    kept = case.kept(task["code"])
    before = settled[0] if settled else date.max
    if settled and (found.beyond or settled[0] <= found.latest):
        yield from _settled(case, task, base, settled)
    if found.beyond and not settled:
        lost = A_MOVE * sum(base < day for day in kept)
        yield Way((), lost, lost)
    if not found.beyond and found.skipped_to < before:
        price = _missed(case, task, base, found)
        price += A_MOVE * sum(base < day <= found.skipped_to for day in kept)
        for way in _ways_from(case, task, found.skipped_to, settled):
            yield _dearer(way, price, price)
    for day in _own_days(case, task, base, found):
        if day < before:
            off, rigid = distance(case, day, found.target), _rigid(case, task, base, found, day)
            if day - base < (found.due - base) / 2:
                off += A_JOB_TOO_SOON
            for way in _ways_from(case, task, day, settled):
                yield _dearer(way, A_JOB + off + rigid, rigid, day)


def _settled(case: Instance, task: Plain, base: date, settled: tuple[date, ...]) -> Iterator[Way]:
    """The ways on which the next job is settled by another; after its last day as if left out."""
    found, on = slot(case, task, base), settled[0]
    lost = A_MOVE * sum(base < day <= on for day in case.kept(task["code"]))
    if not found.beyond and on > found.last:
        lost += _missed(case, task, base, found)
    for way in _ways_from(case, task, on, settled[1:]):
        yield _dearer(way, lost, lost)


def _rigid(case: Instance, task: Plain, base: date, found: Slot, day: date) -> float:
    """What a day costs because the saved plan's are given up, and an overdue job waits."""
    given_up = sum(base < other < day for other in case.kept(task["code"]))
    free = not found.overdue or day <= found.target or day == case.pins.get(task["code"])
    return A_MOVE * (given_up + (0 if free else distance(case, day, found.target)))


def _missed(case: Instance, task: Plain, base: date, found: Slot) -> float:
    """What it costs to miss a job: more than the dearest of its days."""
    days = _own_days(case, task, base, found)
    dearest = max((_rigid(case, task, base, found, day) for day in days), default=0.0)
    return dearest + (LEFT_OUT_LAWFUL if "authority" in task else LEFT_OUT)


def _own_days(case: Instance, task: Plain, base: date, found: Slot) -> list[date]:
    """The days of the window, and a pinned day nearer to this job's due day than to the others.

    A day before the quarter is for that quarter's plan. A job due after the quarter has no other
    day than one pinned in it.
    """
    pin = case.pins.get(task["code"])
    if pin is None or pin in found.days or pin not in case.open_days or pin < case.first:
        return found.days
    half = (found.due - base).days // 2 * ONE_DAY
    after, upto = max(base, found.due - half), found.due + half
    if "authority" in task:
        upto = found.due
    if found.beyond:
        upto = case.last
    return [*found.days, pin] if after < pin <= upto else found.days
