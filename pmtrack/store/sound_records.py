"""Whether the records in the store can be read: the description, saved plans, calendar files."""

from collections.abc import Callable
from typing import Any

from pmtrack.errors import PmtrackError
from pmtrack.rules.dates import parse_quarter
from pmtrack.rules.revision import CalendarJob
from pmtrack.rules.shop import Shop
from pmtrack.store.database import Store
from pmtrack.store.plans import read_job
from pmtrack.store.records import decode
from pmtrack.store.stored_shop import has_zone
from pmtrack.store.tables import DESCRIBED


def _read(reader: Callable[..., Any], *of: object) -> Any:
    """What a reader makes of a record; None if it cannot read it."""
    try:
        return reader(*of)
    except PmtrackError:
        return None


def _described(store: Store) -> list[str]:
    faults = []
    for table, kind, _, columns in DESCRIBED:
        names = ", ".join(columns)
        for definition, *said in store.rows(f"SELECT definition, {names} FROM {table}"):
            record = _read(decode, kind, definition)
            if record is None:
                faults.append(f"{table} {said[0]}: its description cannot be read")
            elif [getattr(record, column) for column in columns] != said:
                faults.append(f"{table} {said[0]}: its description is that of another")
    return faults


def _shops(store: Store) -> list[str]:
    faults = []
    for number, definition in store.rows("SELECT id, definition FROM applied ORDER BY id"):
        shop = _read(decode, Shop, definition)
        if shop is None:
            faults.append(f"shop, apply {number}: its description cannot be read")
        elif not has_zone(shop):
            faults.append(f"shop, apply {number}: its time zone cannot be read")
    return faults


def _jobs_raised(store: Store) -> list[str]:
    return [
        f"task {name}: entry {number}, which raised it, is a {kind} and no job"
        for name, number, kind in store.rows(
            "SELECT task.name, entry.id, entry.kind FROM task JOIN entry ON entry.id = raised_by"
            " WHERE entry.kind <> 'job'"
        )
    ]


def _plans(store: Store) -> list[str]:
    faults = [
        f"plan {number}: its quarter cannot be read"
        for number, period in store.rows("SELECT id, period FROM plan")
        if _read(parse_quarter, period) is None
    ]
    faults += [
        f"plan {number}, job {row[0]}: cannot be read"
        for number, *row in store.rows("SELECT plan, key, task, day, definition FROM plan_job")
        if _read(read_job, row, {}) is None
    ]
    return faults + [
        f"plan {number}, job {key}: there is no task {task}"
        for number, key, task in store.rows(
            "SELECT plan, key, task FROM plan_job WHERE task NOT IN (SELECT name FROM task)"
        )
    ]


def _events(store: Store) -> list[str]:
    faults = []
    for number, uid, task, definition in store.rows(
        "SELECT export, uid, task, definition FROM export_event"
    ):
        job = _read(decode, CalendarJob, definition)
        if job is None:
            faults.append(f"calendar file {number}, event {uid}: cannot be read")
        elif (job.uid, job.task) != (uid, task):
            faults.append(f"calendar file {number}, event {uid}: is that of another job")
    return faults


CHECKS = {
    "descriptions": _described,
    "shop": _shops,
    "jobs raised": _jobs_raised,
    "plans": _plans,
    "calendar files": _events,
}
