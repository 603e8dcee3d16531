"""The days that the saved plans have for jobs: the last plan of each period counts."""

from dataclasses import dataclass
from datetime import date

from pmtrack.store.codec import to_date
from pmtrack.store.database import Store

# the last plan of each period, found by hopping from period to period along the index
_LAST_PLANS = (
    "WITH RECURSIVE each(period) AS (SELECT min(period) FROM plan UNION ALL"
    " SELECT (SELECT min(plan.period) FROM plan WHERE plan.period > each.period) FROM each"
    " WHERE each.period IS NOT NULL),"
    " last(id) AS MATERIALIZED (SELECT (SELECT max(id) FROM plan WHERE plan.period = each.period)"
    " FROM each WHERE each.period IS NOT NULL)"
)


def planned_on(store: Store, day: date) -> list[tuple[str, str, str | None]]:
    """Key, task and visit of each job that the last saved plan of any period has on a day.

    Where two periods' plans have the same job, the one saved later counts.
    """
    return store.rows(
        f"{_LAST_PLANS} SELECT job.key, job.task, json_extract(job.definition, '$.visit')"
        " FROM last JOIN plan_job AS job ON job.plan = last.id WHERE job.day = ?"
        " AND NOT EXISTS (SELECT 1 FROM last AS later JOIN plan_job AS other"
        " ON other.plan = later.id AND other.key = job.key WHERE later.id > last.id)"
        " ORDER BY job.task, job.key",
        day.isoformat(),
    )


def planned_days(store: Store, apart_from: str, since: date) -> dict[str, date]:
    """The day of each job, by key, from `since` on, in the saved plans of all periods but one."""
    rows = store.rows(
        f"{_LAST_PLANS} SELECT job.key, job.day FROM last JOIN plan ON plan.id = last.id"
        " JOIN plan_job AS job ON job.plan = last.id"
        " WHERE plan.period <> ? AND job.day >= ? ORDER BY last.id",
        apart_from,
        since.isoformat(),
    )
    return {key: to_date(day) for key, day in rows}


def days_ahead(store: Store, day: date) -> dict[str, date]:
    """The day of each job, by key, that the last saved plans have on `day` or later."""
    rows = store.rows(
        f"{_LAST_PLANS} SELECT job.key, job.day FROM last"
        " JOIN plan_job AS job ON job.plan = last.id WHERE job.day >= ? ORDER BY last.id",
        day.isoformat(),
    )
    return {key: to_date(found) for key, found in rows}


def planned_tasks(store: Store) -> dict[str, set[str]]:
    """The tasks of the last saved plan of each period, in order of the periods."""
    found: dict[str, set[str]] = {}
    for period, task in store.rows(
        f"{_LAST_PLANS} SELECT DISTINCT plan.period, job.task FROM last"
        " JOIN plan ON plan.id = last.id JOIN plan_job AS job ON job.plan = last.id"
        " ORDER BY plan.period"
    ):
        found.setdefault(period, set()).add(task)
    return found


@dataclass(frozen=True)
class PlannedElsewhere:
    """A job in another period's saved plan, without a day if it does not fit there.

    `later` tells that this plan was saved after that of the period that asks.
    """

    period: str
    key: str
    task: str
    day: date | None
    later: bool


def planned_elsewhere(store: Store, period: str) -> list[PlannedElsewhere]:
    """The jobs in the last saved plans of all periods but one, that of the later plan last."""
    rows = store.rows(
        f"{_LAST_PLANS} SELECT plan.period, job.key, job.task, job.day,"
        " last.id > coalesce((SELECT max(id) FROM plan WHERE period = ?1), 0)"
        " FROM last JOIN plan ON plan.id = last.id JOIN plan_job AS job ON job.plan = last.id"
        " WHERE plan.period <> ?1 ORDER BY last.id, job.key",
        period,
    )
    return [
        PlannedElsewhere(period, key, task, to_date(day) if day else None, bool(later))
        for period, key, task, day, later in rows
    ]
