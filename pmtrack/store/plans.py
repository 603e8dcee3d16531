"""Saved plans, each kept whole but for its tasks' definitions, and the pins that stand."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from pmtrack.rules.facts import Pin
from pmtrack.rules.plan import PlacedJob, Plan, UnfitJob
from pmtrack.rules.plan_reasons import rule_text
from pmtrack.rules.shop import Task
from pmtrack.store.codec import to_date, to_instant, to_text
from pmtrack.store.database import Row, Store
from pmtrack.store.records import decode, encode
from pmtrack.store.standing import STANDS, stands


@dataclass(frozen=True)
class _Placed:
    """What is kept of a job that has a day, besides its key, task and day."""

    title: str
    rule: str
    due_on: date
    window: tuple[date, date]
    lead: int
    due_range: tuple[date, date] | None
    pinned: bool
    visit: str | None
    why: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class _Unfit:
    """What is kept of a job that has no day, besides its key and task."""

    title: str
    rule: str
    kind: str
    reason: str
    cure: str
    due_on: date | None
    window: tuple[date, date] | None
    earliest: date | None


@dataclass(frozen=True)
class Saving:
    """A saved plan's number, when it was saved and by whom."""

    number: int
    at: datetime
    by: str


def save_plan(store: Store, period: str, at: datetime, by: str, plan: Plan) -> int:
    """Keep a plan of a period; tells its number."""
    number = store.add("plan", period=period, at=to_text(at), by=by, gap=float(plan.gap))
    rows: list[Row] = [
        (number, job.key, job.task.name, job.day.isoformat(), encode(_placed(job)))
        for job in plan.jobs
    ]
    rows += [(number, job.key, job.task.name, None, encode(_unfit(job))) for job in plan.unfit]
    store.change_many(
        "INSERT INTO plan_job (plan, key, task, day, definition) VALUES (?, ?, ?, ?, ?)", rows
    )
    return number


def _placed(job: PlacedJob) -> _Placed:
    return _Placed(
        title=job.task.title,
        rule=rule_text(job.task),
        due_on=job.due_on,
        window=job.window,
        lead=job.lead,
        due_range=job.due_range,
        pinned=job.pinned,
        visit=job.visit,
        why=job.why,
        remarks=job.remarks,
    )


def _unfit(job: UnfitJob) -> _Unfit:
    return _Unfit(
        title=job.task.title,
        rule=rule_text(job.task),
        kind=job.kind,
        reason=job.reason,
        cure=job.cure,
        due_on=job.due_on,
        window=job.window,
        earliest=job.earliest,
    )


def last_saving(store: Store, period: str) -> Saving | None:
    """When and by whom a period's plan was saved last; None if it never was."""
    row = store.row("SELECT id, at, by FROM plan WHERE period = ? ORDER BY id DESC LIMIT 1", period)
    return Saving(row[0], to_instant(row[1]), row[2]) if row else None


def last_plan(store: Store, period: str, tasks: Mapping[str, Task]) -> Plan | None:
    """The plan of a period as saved last, None if there is none.

    Its jobs hold the tasks named in `tasks`; of others only machine, code and title are known.
    """
    found = store.row("SELECT id, gap FROM plan WHERE period = ? ORDER BY id DESC LIMIT 1", period)
    if found is None:
        return None
    rows = store.rows(
        "SELECT key, task, day, definition FROM plan_job WHERE plan = ? ORDER BY rowid", found[0]
    )
    return Plan(
        jobs=tuple(_placed_job(row, tasks) for row in rows if row[2] is not None),
        unfit=tuple(_unfit_job(row, tasks) for row in rows if row[2] is None),
        gap=found[1],
    )


def read_job(row: Row, tasks: Mapping[str, Task]) -> PlacedJob | UnfitJob:
    """A job of a saved plan from its key, task, day and definition. Refused if damaged."""
    return _unfit_job(row, tasks) if row[2] is None else _placed_job(row, tasks)


def _placed_job(row: Row, tasks: Mapping[str, Task]) -> PlacedJob:
    key, name, day, definition = row
    kept: _Placed = decode(_Placed, definition)
    return PlacedJob(
        key=key,
        task=tasks.get(name) or _bare(name, kept.title),
        due_on=kept.due_on,
        day=to_date(day),
        window=kept.window,
        lead=kept.lead,
        due_range=kept.due_range,
        pinned=kept.pinned,
        visit=kept.visit,
        why=kept.why,
        remarks=kept.remarks,
    )


def _unfit_job(row: Row, tasks: Mapping[str, Task]) -> UnfitJob:
    key, name, _, definition = row
    kept: _Unfit = decode(_Unfit, definition)
    return UnfitJob(
        key=key,
        task=tasks.get(name) or _bare(name, kept.title),
        kind=kept.kind,
        reason=kept.reason,
        cure=kept.cure,
        due_on=kept.due_on,
        window=kept.window,
        earliest=kept.earliest,
    )


def _bare(name: str, title: str) -> Task:
    machine, _, code = name.partition("/")
    return Task(machine=machine, code=code, title=title)


def rules_when_saved(store: Store, period: str) -> dict[str, str]:
    """What made each task due when the period's plan was saved last, as `rule_text` writes it."""
    rows = store.rows(
        "SELECT DISTINCT task, json_extract(definition, '$.rule') FROM plan_job"
        " WHERE plan = (SELECT max(id) FROM plan WHERE period = ?)",
        period,
    )
    return dict(rows)


# a pin is replaced by a later one of its job, whatever became of that one, unless it is voided
_PINS_STANDING = (
    "SELECT pin.entry, pin.task, pin.key, pin.pinned_to, pin.why FROM pin"
    " JOIN entry ON entry.id = pin.entry"
    f" WHERE entry.day <= ?1 AND pin.pinned_to >= ?2 AND {STANDS}"
    " AND NOT EXISTS (SELECT 1 FROM release JOIN entry AS r ON r.id = release.entry"
    "  WHERE release.target = pin.entry AND r.day <= ?1"
    f"  AND {stands('r.id')})"
    " AND NOT EXISTS (SELECT 1 FROM pin AS other JOIN entry AS o ON o.id = other.entry"
    "  WHERE other.key = pin.key AND (o.at, o.id) > (entry.at, entry.id) AND o.day <= ?1"
    f"  AND {stands('o.id')})"
    " ORDER BY pin.pinned_to, pin.task, pin.entry"
)


def standing_pins(store: Store, on: date | None = None) -> list[Pin]:
    """The pins that stand, by day: neither released, voided nor replaced.

    With `on`, as of the end of that day: those made by then, to days that are not past then.
    """
    made_by, since = (on or date.max).isoformat(), (on or date.min).isoformat()
    return [
        Pin(entry, task, key, to_date(pinned_to), why)
        for entry, task, key, pinned_to, why in store.rows(_PINS_STANDING, made_by, since)
    ]
