"""Cross checks of tasks: what excludes one another, meters, covered tasks, dates of a rule."""

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from graphlib import CycleError, TopologicalSorter
from zoneinfo import ZoneInfo

from pmtrack.errors import UnreadableInput
from pmtrack.rules.quantity import shorten
from pmtrack.rules.recurrence import occurrences
from pmtrack.rules.shop import CALENDAR_UNITS, Allowance, Interval
from pmtrack.shopfile.calendar_values import FIRST_DAY, read_day, read_zone
from pmtrack.shopfile.catalog import Catalog, Entry, TaskOnMachines, entries, keys, texts
from pmtrack.shopfile.fault import Finding, Loc, instead, listed
from pmtrack.shopfile.references import repeated
from pmtrack.shopfile.schedule_values import read_allowance, read_interval, read_rule

_CENTURY = timedelta(days=36525)


def task_faults(catalog: Catalog) -> Iterator[Finding]:
    """Everything that is wrong between the keys of a task, or between it and other entries."""
    for task in catalog.tasks:
        yield from _excluded(task)
        yield from _unknown_meters(catalog, task)
        yield from _covers(catalog, task)
        yield from _measures(catalog, task)
        yield from _no_date(catalog.data, task)
    for machine in catalog.on_machine:
        yield from _circles(catalog, machine)


def _excluded(task: TaskOnMachines) -> Iterator[Finding]:
    entry, loc = task.entry, task.loc
    if "every" in entry and "on" in entry:
        yield (*loc, "on"), "stands beside every; keep one of the two"
    elif "every" not in entry and "on" not in entry:
        yield loc, "says neither every nor on; write every: 1 month or the like"
    if "grace" in entry and "authority" in entry:
        yield (*loc, "grace"), "stands beside authority, which allows none; take grace out"
    for key in ("grace", "lead"):
        yield from _same_unit(entry, key, loc)


def _same_unit(entry: Entry, key: str, loc: Loc) -> Iterator[Finding]:
    units: set[str] = set()
    for at, text in texts(entry, key, loc):
        allowance = _read(read_allowance, text)
        if allowance and allowance.unit in units:
            yield at, f"'{shorten(text)}' is a second one in the same unit; keep one"
        if allowance:
            units.add(allowance.unit)


def _read(
    reader: Callable[[object], Interval] | Callable[[object], Allowance], text: str
) -> Interval | Allowance | None:
    """The value of a text, or None where the model has already refused it."""
    try:
        return reader(text)
    except ValueError:
        return None


def _unknown_meters(catalog: Catalog, task: TaskOnMachines) -> Iterator[Finding]:
    for loc, meter, otherwise in _mentioned_meters(task):
        for machine in task.machines:
            known = catalog.meters[machine]
            if meter not in known:
                mend = instead(meter, known, otherwise)
                yield loc, f"'{shorten(meter)}' is no meter of {machine}; {mend}"


def _mentioned_meters(task: TaskOnMachines) -> Iterator[tuple[Loc, str, str]]:
    """Every mention of a meter: where, which, and what else could be written there."""
    for loc, text in texts(task.entry, "every", task.loc):
        interval = _read(read_interval, text)
        if interval and interval.unit not in CALENDAR_UNITS:
            yield loc, interval.unit, "count in days, weeks, months or years"
    for key in ("grace", "lead"):
        for loc, text in texts(task.entry, key, task.loc):
            allowance = _read(read_allowance, text)
            if allowance and allowance.unit not in ("%", "day"):
                yield loc, allowance.unit, "count in days"
    for meter in keys(task.entry, "last_done"):
        if meter != "on":
            yield (*task.loc, "last_done", meter), meter, "take it out"


def _covers(catalog: Catalog, task: TaskOnMachines) -> Iterator[Finding]:
    for loc, code in texts(task.entry, "covers", task.loc):
        if code == task.code:
            yield loc, f"'{shorten(code)}' is the task itself; take it out"
            continue
        for machine in task.machines:
            known = catalog.on_machine.get(machine, {})
            if code not in known and code not in catalog.unplaced:
                others = [other for other in known if other != task.code]
                mend = instead(code, others, f"take it out, or add it for {machine}")
                yield loc, f"{machine} has no task '{shorten(code)}'; {mend}"
    yield from repeated(catalog, texts(task.entry, "covers", task.loc), "in this list", "keep one")


def _circles(catalog: Catalog, machine: str) -> Iterator[Finding]:
    """Tasks that cover one another in a circle, each circle told at its first task."""
    tasks = catalog.on_machine[machine]
    graph = {
        code: [c for _, c in texts(task.entry, "covers") if c != code and c in tasks]
        for code, task in tasks.items()
    }
    while circle := _circle(graph):
        order = list(tasks)
        start = circle.index(min(circle, key=order.index))
        told = [*circle[start:], *circle[: start + 1]]
        names = listed(told) if len(told) > 8 else " covers ".join(told)
        yield (
            (*tasks[told[0]].loc, "covers"),
            f"a circle on {machine}: {names}; take one of them out",
        )
        graph = {code: covered for code, covered in graph.items() if code not in circle}


def _circle(graph: dict[str, list[str]]) -> list[str]:
    """Codes of which each covers the next and the last the first; empty without a circle."""
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        circle: list[str] = error.args[1]  # first and last are the same
        return circle[:0:-1]
    return []


def _measures(catalog: Catalog, task: TaskOnMachines) -> Iterator[Finding]:
    steps = list(entries(task.entry, "steps", task.loc))
    for loc, step in steps:
        if "measure" not in step:
            yield (*loc, "measure"), "is missing; write measure: and a name for the reading"
    named = (name for loc, step in steps for name in texts(step, "measure", loc))
    yield from repeated(catalog, named, "measured in this task,", "give it another name")


def _no_date(data: Entry, task: TaskOnMachines) -> Iterator[Finding]:
    rule = task.entry.get("on")
    starts = _start(data, task.entry)
    if not isinstance(rule, str) or starts is None:
        return
    loc = (*task.loc, "on")
    try:
        first = occurrences(read_rule(rule).rule, starts, zone_of(data))[0]
    except UnreadableInput as error:
        yield loc, str(error)
        return
    except ValueError:  # the model has told it
        return
    if first is None or first > starts + _CENTURY:
        yield loc, f"has no date in the 100 years from {starts}; write a rule that has"


def _start(data: Entry, entry: Entry) -> date | None:
    """The task's start or the shop's; None where it cannot be read.

    Without one the earliest day: the start is then the day of the first apply.
    """
    shop = data.get("shop")
    shops = shop.get("starts") if isinstance(shop, dict) else None
    written = entry.get("starts", shops)
    if written is None:
        return FIRST_DAY
    try:
        return read_day(written)
    except ValueError:
        return None


def zone_of(data: Entry) -> ZoneInfo:
    """The shop's zone, or UTC where it cannot be read."""
    shop = data.get("shop")
    try:
        return ZoneInfo(read_zone(shop["timezone"] if isinstance(shop, dict) else None))
    except (ValueError, KeyError):
        return ZoneInfo("UTC")
