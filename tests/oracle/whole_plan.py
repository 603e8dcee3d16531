"""Plans of a small shop, all tasks together: what one costs, and the best of all, by trying all."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from math import inf

from .plan import Instance, Way, ways
from .shop import Plain

A_HEAVY_MINUTE = 0.02
Counts = tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Whole:
    """A plan: each task's way."""

    case: Instance
    ways: Mapping[str, Way]

    @cached_property
    def by_day(self) -> dict[date, list[Plain]]:
        """The jobs of each day."""
        found: dict[date, list[Plain]] = {}
        for task in self.case.tasks:
            for day in self.ways[task["code"]].days if task["code"] in self.ways else ():
                found.setdefault(day, []).append(task)
        return found

    @cached_property
    def visits(self) -> dict[str, int]:
        """The visits of each firm."""
        days = {(t["crew"], day) for day, jobs in self.by_day.items() for t in jobs if "crew" in t}
        firms = [firm for firm, _ in days]
        return {firm: firms.count(firm) for firm in firms}

    def fits_machines_and_visits(self) -> bool:
        """No machine is down, and no firm there, for longer than the shifts."""
        for jobs in self.by_day.values():
            down = [(t["machines"][0], t["minutes"]) for t in jobs if t.get("machine_down")]
            firms = [(t["crew"], t["minutes"]) for t in jobs if "crew" in t]
            if not (_fit(down, self.shift) and _fit(firms, self.shift)):
                return False
        return True

    @property
    def shift(self) -> int:
        """The minutes of the shop's one shift."""
        return int(self.case.shop["shop"]["shift_minutes"])

    def heavy_minutes(self) -> float:
        """In-house minutes above three quarters of the crew's; endless where they have not so many.

        Minutes taken already count.
        """
        whole, heavy = float(self.case.shop["shop"]["crew_hours"]) * 60, 0.0
        for day, jobs in self.by_day.items():
            minutes = sum(task["minutes"] for task in jobs if "crew" not in task)
            taken = self.case.taken.get(day, 0.0)
            if minutes and minutes + taken > whole:
                return inf
            heavy += max(minutes - max(0.75 * whole - taken, 0.0), 0.0)
        return heavy


def _fit(jobs: list[tuple[str, int]], room: int) -> bool:
    """For each name: one job alone, or several that take no longer than the room."""
    return all(
        len(lengths) == 1 or sum(lengths) <= room
        for name in {name for name, _ in jobs}
        if (lengths := [minutes for other, minutes in jobs if other == name])
    )


def settling_days(case: Instance, task: Plain, chosen: Mapping[str, Way]) -> tuple[date, ...]:
    """The days of the jobs that cover a task."""
    by = case.coverers(task["code"])
    return tuple(sorted({day for code in by if code in chosen for day in chosen[code].days}))


class Search:
    """The best plans, by trying all; `known` keeps the ways of each task and settling days."""

    def __init__(self, case: Instance) -> None:
        self.case = case
        self._known: dict[tuple[str, tuple[date, ...]], list[Way]] = {}
        self._rest: dict[tuple[str, str], float] = {}

    def ways(self, task: Plain, chosen: Mapping[str, Way]) -> list[Way]:
        """The ways of the next task, the others being chosen."""
        key = task["code"], settling_days(self.case, task, chosen)
        if key not in self._known:
            self._known[key] = ways(self.case, task, key[1])
        return self._known[key]

    def rest(self, tasks: Iterable[Plain], what: str) -> float:
        """What tasks yet to come cost at least; nothing of those that others may settle."""
        return sum(self._least(task["code"], what) for task in tasks)

    def _least(self, code: str, what: str) -> float:
        if (code, what) not in self._rest:
            task = next(task for task in self.case.tasks if task["code"] == code)
            alone = [] if self.case.coverers(code) else self.ways(task, {})
            self._rest[code, what] = min((getattr(way, what) for way in alone), default=0.0)
        return self._rest[code, what]

    def fewest_visits(self) -> set[Counts]:
        """The visits of each firm in every plan that is best by jobs left out, moves and visits."""
        outside = {t["code"] for t in self.case.tasks if "crew" in t}
        outside |= {by for code in outside for by in self.case.coverers(code)}
        tasks = [task for task in self.case.tasks if task["code"] in outside]
        best, found = inf, set[Counts]()

        def go(at: int, chosen: dict[str, Way], cost: float) -> None:
            nonlocal best, found
            whole = Whole(self.case, chosen)
            total = cost + sum(whole.visits.values())
            if total + self.rest(tasks[at:], "rigid") > best + 1e-9:
                return
            if not whole.fits_machines_and_visits():
                return
            if at == len(tasks):
                found = found if total > best - 1e-9 else set()
                best = min(best, total)
                found.add(tuple(sorted(whole.visits.items())))
                return
            for way in self.ways(tasks[at], chosen):
                go(at + 1, chosen | {tasks[at]["code"]: way}, cost + way.rigid)

        go(0, {}, 0.0)
        return found

    def least_cost(self, visits: Counts) -> float:
        """The cost of the best plan with no more visits of each firm."""
        tasks, at_most, best = self.case.tasks, dict(visits), inf

        def go(at: int, chosen: dict[str, Way], cost: float) -> None:
            nonlocal best
            total = price(self.case, chosen, at_most) + cost
            if total + self.rest(tasks[at:], "cost") >= best - 1e-9:
                return
            if at == len(tasks):
                best = total
                return
            for way in self.ways(tasks[at], chosen):
                if cost + way.cost + self.rest(tasks[at + 1 :], "cost") >= best - 1e-9:
                    return
                go(at + 1, chosen | {tasks[at]["code"]: way}, cost + way.cost)

        go(0, {}, 0.0)
        return best


def price(case: Instance, chosen: Mapping[str, Way], at_most: Mapping[str, int]) -> float:
    """What the plan costs besides the tasks' own ways; endless where it breaks a limit."""
    whole = Whole(case, chosen)
    if any(count > at_most.get(firm, 0) for firm, count in whole.visits.items()):
        return inf
    if not whole.fits_machines_and_visits():
        return inf
    return A_HEAVY_MINUTE * whole.heavy_minutes()


def optima(case: Instance) -> set[float]:
    """The cost of the best plan, for each way in which the fewest visits may fall to the firms."""
    search = Search(case)
    return {search.least_cost(visits) for visits in search.fewest_visits()}


def cost_of(case: Instance, days: Mapping[str, Iterable[date]]) -> float:
    """What a plan given by the days of each task's own jobs costs; endless where it cannot be."""
    chosen: dict[str, Way] = {}
    for task in case.tasks:
        wanted = tuple(sorted(days.get(task["code"], ())))
        able = ways(case, task, settling_days(case, task, chosen))
        same = [way for way in able if way.days == wanted]
        if not same:
            return inf
        chosen[task["code"]] = same[0]
    no_limit = {task["crew"]: len(case.open_days) for task in case.tasks if "crew" in task}
    return sum(way.cost for way in chosen.values()) + price(case, chosen, no_limit)
