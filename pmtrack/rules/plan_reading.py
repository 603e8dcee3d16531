"""From the steps chosen for a task back to its jobs: those with a day, and those left out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from pmtrack.rules.explain import governs
from pmtrack.rules.facts import Base
from pmtrack.rules.forecast import Chain
from pmtrack.rules.plan import PlacedJob, UnfitJob
from pmtrack.rules.plan_steps import LAST, LEFT_OUT, OWN, Choice, Ground, Step, Wishes, choice
from pmtrack.rules.quantity import show
from pmtrack.rules.shop import Interval
from pmtrack.rules.situation import RuleDue

WIDE = timedelta(days=7)  # of a range, from which on a day is called uncertain
LEAST_SHORT = 0.1  # hours: a shortage of less is told as this


@dataclass(frozen=True)
class LeftOut:
    """A job without a day, the choice that it had, and its firm's notice in days."""

    key: str
    chain: Chain
    choice: Choice
    notice: int


@dataclass
class Jobs:
    """The jobs read from a plan."""

    placed: list[PlacedJob] = field(default_factory=list)
    left_out: list[LeftOut] = field(default_factory=list)


def read_way(chain: Chain, way: Iterable[Step], ground: Ground, wishes: Wishes, jobs: Jobs) -> None:
    """Add the jobs of one task, following the steps chosen for it."""
    for step in way:
        if step.kind == LAST:
            return
        day = date.fromordinal(step.head)
        found = choice(chain, ground, wishes)
        if step.kind == OWN:
            jobs.placed.append(_placed(chain, found, day, wishes))
        elif found.window is not None and (step.kind == LEFT_OUT or found.misses(step.head)):
            jobs.left_out.append(LeftOut(chain.key(found.window), chain, found, wishes.notice))
        chain = chain.done(day)


def _placed(chain: Chain, found: Choice, day: date, wishes: Wishes) -> PlacedJob:
    window = found.window
    assert window is not None  # noqa: S101 - a job on a day has one
    pinned = day.toordinal() in wishes.pinned
    return PlacedJob(
        key=chain.key(window),
        task=chain.task,
        due_on=window.due_on,
        day=day,
        window=(found.first, found.last),
        lead=window.lead_days,
        due_range=window.rule.due_range,
        pinned=pinned,
        why=tuple(why_due(window.rule, chain.situation.base)),
        remarks=tuple(_remarks(chain, found, day, pinned)),
    )


def why_due(rule: RuleDue, base: Base | None) -> list[str]:
    """Why a job is due when it is, for people."""
    since = f"since {base.moment.day} ({base.source})" if base else "not done before"
    lines = [f"Due {rule.due_on:%a %Y-%m-%d}: {governs(rule)}, {since}."]
    if isinstance(rule.rule, Interval) and not rule.rule.is_calendar:
        lines.append(f"Expected by usage: {show(rule.target or 0)} {rule.rule.unit}.")
    if rule.due_range:
        lines.append(f"80 % range {rule.due_range[0]} to {rule.due_range[1]}.")
    return lines


def _remarks(chain: Chain, found: Choice, day: date, pinned: bool) -> Iterable[str]:
    window = found.window
    assert window is not None  # noqa: S101
    if found.overdue:
        yield f"was due {window.due_on}: as soon as possible"
    elif pinned and not found.first <= day <= found.last:
        yield "pinned outside its window"
    elif window.widened and day.toordinal() == found.target:
        yield "its window falls on closed days: on the last working day before"
    if window.rule.due_range and not found.overdue:
        low, high = window.rule.due_range
        if high - low > WIDE and (low < found.first or high > found.last):
            yield f"its day is uncertain, 80 % range {low} to {high}: watch the meter"


def reasons(
    left_out: Iterable[LeftOut],
    ground: Ground,
    load: Mapping[int, float],
    room: float | None,
) -> list[UnfitJob]:
    """Why each job without a day has none, and what would cure it.

    `load` has the in-house minutes planned for each day (an ordinal), `room` those of the crew on a
    day.
    """
    return [_reason(job, ground, load, room) for job in left_out]


def _reason(
    job: LeftOut,
    ground: Ground,
    load: Mapping[int, float],
    room: float | None,
) -> UnfitJob:
    task, found = job.chain.task, job.choice
    if not found.days:
        kind, reason, cure = _no_day(job, ground)
    elif task.crew or room is None:
        kind, reason, cure = _no_shift(job)
    else:
        kind, reason, cure = _no_crew(job, load, room)
    assert found.window is not None  # noqa: S101
    return UnfitJob(
        key=job.key,
        task=task,
        kind=kind,
        reason=reason,
        cure=cure,
        due_on=found.window.due_on,
        window=(found.first, found.last),
        earliest=date.fromordinal(found.otherwise),
    )


def _no_day(job: LeftOut, ground: Ground) -> tuple[str, str, str]:
    notice = job.notice
    found, earliest = job.choice, date.fromordinal(job.choice.otherwise)
    without_notice = ground.between(max(found.first, job.chain.earliest), found.last)
    past = (earliest - found.last).days
    if notice and without_notice:
        return (
            "notice",
            f"{job.chain.task.crew} needs {notice} days' notice: with a call today it comes on "
            f"{earliest:%a %Y-%m-%d} at the earliest, {past} days after the last day on time",
            f"ask the firm to come by {found.last:%a %Y-%m-%d}, or book {earliest:%a %Y-%m-%d} now",
        )
    before = job.chain.calendars.shop.last_through(found.last)
    gone = f"; the last working day before was {before:%a %Y-%m-%d}" if before else ""
    late = f", or take {earliest:%a %Y-%m-%d}, {past} days after the last day on time"
    return (
        "closed",
        f"closed days and days past leave no working day from {found.first} to {found.last}{gone}",
        f"open the shop for it on a closed day{'' if job.chain.task.authority else late}",
    )


def _no_shift(job: LeftOut) -> tuple[str, str, str]:
    found, task = job.choice, job.chain.task
    what = f"a visit of {task.crew}" if task.crew else f"{task.machine}, which must stand for it,"
    return (
        "shift",
        f"on no day from {found.first} to {found.last} do the shifts leave {what} "
        f"{task.minutes or 0} min more",
        "pin it to a day outside its window, split it, or schedule a longer shift",
    )


def _room_but_no_day(job: LeftOut, day: date) -> tuple[str, str, str]:
    """The crew would have the time, on that day the most."""
    found, task = job.choice, job.chain.task
    if task.machine_down:
        return (
            "shift",
            f"on each day from {found.first} to {found.last} other work takes the crew's hours, or "
            f"the time in which {task.machine} may stand for it",
            "pin it to a day outside its window, split it, or schedule a longer shift",
        )
    return (
        "crew",
        f"the crew has time for it on {day:%a %Y-%m-%d}, but no plan was found that puts it there "
        "and leaves out no other job",
        f"pin it to that day: pmtrack pin {task.name} {day}",
    )


def _no_crew(job: LeftOut, load: Mapping[int, float], room: float) -> tuple[str, str, str]:
    found, minutes = job.choice, float(job.chain.task.minutes or 0)
    best = min(found.days, key=lambda day: (load.get(day, 0.0), day))
    day = date.fromordinal(best)
    short = (load.get(best, 0.0) + minutes - room) / 60
    if minutes > room:
        reason = f"it takes {minutes / 60:.1f} h, the crew has {room / 60:.1f} h a day"
        return "crew", reason, "raise crew_hours, or split the task in the shop file"
    if short <= 0:
        return _room_but_no_day(job, day)
    short = max(short, LEAST_SHORT)
    return (
        "crew",
        f"the crew's hours of {found.first} to {found.last} are taken: on the best day, "
        f"{day:%a %Y-%m-%d} (week {day.isocalendar().week}), they are short by {short:.1f} h",
        f"{short:.1f} h more crew on {day:%a %Y-%m-%d}, or another job moved off that day",
    )
