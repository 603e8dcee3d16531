"""Section 5 again: base, due date, state, share used and order of the tasks.

Readings taken where the text leaves room:
- A base given as a date takes in every entry of that date; one given as an instant, entries up to
  that instant. A `last_done` after `on` has not happened yet.
- Calendar intervals are measured in actual days (b to D), so 10 % of February is 2 days.
- `grace: N <meter>` governs that meter's intervals only; `N%` is rounded down to whole days too.
- r = 0 is a rate: D is null, but the task stays ok until its count says otherwise.
- "once U is passed", for the range, means u >= U with the estimate.
- Without a base the shortest calendar interval governs, of usage intervals alone the first one,
  and the stale meter has no say.
- Out of service: D of a usage interval is null and so is no ground for `soon`.
- With authority "every t > D" holds for usage intervals as well.
"""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from math import ceil, sqrt

from . import usage as meters
from .shop import (
    CALENDAR,
    ONE_DAY,
    Job,
    Plain,
    World,
    as_date,
    as_list,
    covering,
    end_of_day,
    form,
    instant,
    is_out,
    later,
    nth_working_day,
    number,
    occurrences,
    slack_days,
    slack_units,
    split,
    starts_of,
    work_by_of,
    world_on,
)

RANK = {"overdue": 0, "due": 1, "soon": 2, "ok": 3}
WITHIN_TEN_NINETY = 1.2816  # the normal deviate of 90 %


@dataclass(frozen=True)
class Base:
    """The moment an interval runs from; `whole_day` when only its date is known."""

    moment: datetime
    day: date
    whole_day: bool
    readings: Plain


@dataclass(frozen=True)
class Line:
    """How one interval stands."""

    governs: str
    state: str
    due: date | None = None
    work_by: date | None = None
    used: Fraction | None = None
    estimated: bool = False
    due_range: list[date] | None = None


def base_of(world: World, job: Job) -> Base | None:
    """The latest completion or `last_done` of the task or of one that covers it."""
    found = []
    for task in world.shop["tasks"]:
        if task["code"] not in covering(world.shop, job.task["code"]) | {job.task["code"]}:
            continue
        if job.machine not in task["machines"]:
            continue
        for fact in world.of("completion", task=f"{job.machine}/{task['code']}"):
            found.append(base_at(world, fact["at"], {}))
        said = task.get("last_done")
        if said and as_date(said["on"]) <= world.on:
            readings = {key: said[key] for key in said if key != "on"}
            found.append(base_at(world, str(said["on"]), readings))
    return max(found, key=lambda base: base.moment, default=None)


def base_at(world: World, at: str, readings: Plain) -> Base:
    """A date counts at its end, after its night shift."""
    day, whole = as_date(at), "T" not in at
    moment = end_of_day(world.shop, day) if whole else instant(world.shop, at)
    return Base(moment, day, whole, readings)


def by_date(world: World, job: Job, due: date, after: date | None, interval: int) -> Line:
    """The state of a calendar or fixed interval of so many days that runs out on `due`."""
    task, t = job.task, world.on
    work_by = work_by_of(world, due, after)
    grace, lead = slack_days(task, "grace", interval), slack_days(task, "lead", interval)
    state = "ok"
    if t > max(due, work_by) + grace * ONE_DAY or ("authority" in task and t > due):
        state = "overdue"
    elif t >= work_by:
        state = "due"
    elif t >= work_by - lead * ONE_DAY:
        state = "soon"
    return Line("", state, due, work_by)


def fixed_line(world: World, job: Job, base: Base | None) -> Line:
    """How a fixed schedule stands."""
    task = job.task
    for day, gap in occurrences(task, starts_of(world, task)):
        opens = work_by_of(world, day, None) - slack_days(task, "lead", gap) * ONE_DAY
        if base is None or opens > base.day:
            line = replace(by_date(world, job, day, None, gap), governs=task["on"])
            return line if base is None else replace(line, used=share(world, base, day))
    return Line(task["on"], "ok")


def share(world: World, base: Base, due: date) -> Fraction:
    """The share of the days from b to D gone."""
    return Fraction((world.on - base.day).days, (due - base.day).days)


def calendar_line(world: World, job: Job, base: Base, interval: str) -> Line:
    """How a calendar interval stands."""
    due = later(base.day, interval)
    line = by_date(world, job, due, base.day, (due - base.day).days)
    return replace(line, governs=interval, used=share(world, base, due))


def baseless_line(world: World, job: Job) -> Line:
    """A task never done is due at `starts`, or the day first applied."""
    due, every = starts_of(world, job.task), as_list(job.task["every"])
    calendar = [text for text in every if split(text)[1] in CALENDAR]
    if calendar:
        text = min(calendar, key=lambda text: later(due, text))
        line = by_date(world, job, due, None, (later(due, text) - due).days)
        return replace(line, governs=text)
    lead = form(job.task, "lead", "day")
    task = {"lead": f"{7 if lead is None else lead} days", "grace": "0 days"}
    if "authority" in job.task:
        task["authority"] = job.task["authority"]
    return replace(by_date(world, Job(job.machine, task), due, None, 0), governs=every[0])


@dataclass(frozen=True)
class Run:
    """A usage interval's course: logged usage, the day it holds for, usage(b), the days added."""

    usage: Fraction
    anchor: date
    at_base: Fraction
    added: int


def run_of(world: World, job: Job, base: Base, meter: str) -> Run:
    """A meter without entries runs from the later of the base and `in_service`."""
    log, t = meters.record(world, job.machine, meter), world.on
    known = base.readings.get(meter)
    if not log.entries:
        said = next(m for m in world.shop["machines"] if m["code"] == job.machine)
        anchor = max(base.day, as_date(said.get("in_service", base.day)))
        level = number(known or 0)
        return Run(level, anchor, level, meters.days_added(log, anchor, t))

    def before_base(entry: meters.Entry) -> bool:
        return entry.day <= base.day if base.whole_day else entry.instant <= base.moment

    at_base = meters.usage_where(log.entries, before_base) if known is None else number(known)
    last = log.entries[-1].day
    return Run(meters.total(log, t), last, at_base, meters.days_added(log, last, t))


def usage_line(world: World, job: Job, base: Base, interval: str) -> Line:
    """How a usage interval stands."""
    amount, meter = split(interval)
    log, run = meters.record(world, job.machine, meter), run_of(world, job, base, meter)
    r, s = meters.rate(log, world.on)
    limit = run.at_base + amount
    u = run.usage + (r or 0) * run.added
    due, due_range = meters.crossing(log, limit), None
    if is_out(world, job.machine):
        due = None
    elif due is None and r:
        ahead = (limit - run.usage) / r
        due = nth_working_day(log.works, run.anchor, ceil(ahead))
        if s is not None and u < limit:
            x = Fraction(WITHIN_TEN_NINETY * s * sqrt(limit - run.usage) / float(r) ** 1.5)
            ends = (nth_working_day(log.works, run.anchor, ceil(ahead + y)) for y in (-x, x))
            due_range = [max(day, world.on) for day in ends]
    state = usage_state(world, job, interval, (u, run.at_base, due))
    line = Line(interval, state, due, None, (u - run.at_base) / amount)
    if r is None and (run.added > 3 or not log.entries):
        state = min(state, "soon", key=RANK.__getitem__)
        line = Line(interval, state, due, None, line.used if due else None)
    work_by = work_by_of(world, due, base.day) if due else None
    estimated = run.added > 0 and r is not None
    return replace(line, work_by=work_by, estimated=estimated, due_range=due_range)


def usage_state(
    world: World, job: Job, interval: str, course: tuple[Fraction, Fraction, date | None]
) -> str:
    """The right-hand column of the table of states."""
    (u, at_base, due), amount = course, split(interval)[0]
    limit, task = at_base + amount, job.task
    if u > limit + slack_units(task, "grace", interval):
        return "overdue"
    if "authority" in task and due is not None and world.on > due:
        return "overdue"
    if u >= limit:
        return "due"
    days = form(task, "lead", "day")
    near = timedelta(days=7 if days is None else int(days))
    half = u - at_base >= amount / 2 and due is not None and due <= world.on + near
    return "soon" if u >= limit - slack_units(task, "lead", interval) or half else "ok"


def governing(world: World, job: Job, base: Base | None) -> Line:
    """The interval in the worst state, of equal ones the one with the earliest D."""
    if "on" in job.task:
        return fixed_line(world, job, base)
    if base is None:
        return baseless_line(world, job)
    lines = []
    for text in as_list(job.task["every"]):
        rule = calendar_line if split(text)[1] in CALENDAR else usage_line
        lines.append(rule(world, job, base, text))
    return min(lines, key=lambda line: (RANK[line.state], line.due or date.max))


def further_state(world: World, job: Job, base: Base | None, state: str) -> str:
    """`retired` before all; `paused` and `deferred` in place of overdue, due or soon."""
    if world.of("retired", task=job.name):
        return "retired"
    if state == "ok":
        return state
    if is_out(world, job.machine):
        return "paused"
    deferrals = sorted(world.of("defer", task=job.name), key=lambda fact: str(fact["at"]))
    for fact in deferrals[-1:]:
        ended = base is not None and base.moment > instant(world.shop, fact["at"])
        if world.on <= as_date(fact["until"]) and not ended:
            return "deferred"
    return state


def today(shop: Plain, facts: list[Plain], on: date) -> list[Plain]:
    """The items that `today --all --json` gives, in the shop file's order."""
    world = world_on(shop, facts, on)
    jobs = [Job(machine, task) for task in shop["tasks"] for machine in task["machines"]]
    return [item(world, job) for job in jobs]


def item(world: World, job: Job) -> Plain:
    """One task's figures, numbers exact, dates as dates."""
    base, task = base_of(world, job), job.task
    line = governing(world, job, base)
    past = (world.on - line.due).days if line.due else 0
    return {
        "task": job.name,
        "machine": job.machine,
        "title": task["title"],
        "state": further_state(world, job, base, line.state),
        "due_on": line.due,
        "work_by": line.work_by,
        "governs": line.governs,
        "used": line.used,
        "estimated": line.estimated,
        "due_range": line.due_range,
        "days_past_due": max(past, 0),
        "authority": task.get("authority"),
        "minutes": task.get("minutes"),
        "crew": task.get("crew"),
    }
