"""Whether the entries are whole: numbers without gaps, each with its own row, readable times."""

from pmtrack.store.codec import YEARS
from pmtrack.store.database import Store
from pmtrack.store.tables import TABLES

_INSTANTS = (
    "store.made_at", "applied.at", "entry.at", "entry.recorded_at", "dial.at", "completion.at",
    "deferral.at", "stop.started", "stop.ended", "restart.at", "service_change.at", "export.at",
    "export_event.stamp", "plan.at",
)  # fmt: skip
_DATES = (
    "supplier.retired_on", "machine.retired_on", "meter.retired_on", "task.retired_on",
    "task.first_applied", "material.retired_on", "tool.retired_on", "program.retired_on",
    "entry.day", "shift_log.day", "dial.day", "deferral.until", "service_change.day",
    "pin.pinned_to", "plan_job.day",
)  # fmt: skip
_KINDS_OF = {"dial": ("dial", "shift", "completion")} | {
    table: tuple(kind for kind in TABLES if TABLES[kind] == table) for table in TABLES.values()
}
# columns that repeat what their entry says, for a faster search
_REPEATED = (
    ("shift_log", "day", "day"), ("completion", "at", "at"), ("deferral", "at", "at"),
    ("stop", "started", "at"), ("restart", "at", "at"), ("service_change", "at", "at"),
    ("service_change", "day", "day"), ("dial", "day", "day"),
)  # fmt: skip


def _numbers(store: Store) -> list[str]:
    """Entries are numbered one by one and never erased."""
    gaps = store.rows(
        "SELECT before + 1, id - 1 FROM (SELECT id, lag(id, 1, 0) OVER (ORDER BY id) AS before"
        " FROM entry) WHERE id <> before + 1"
    )
    return [
        f"entry {first} is missing" if first == last else f"entries {first} to {last} are missing"
        for first, last in gaps
    ]


def _rows(store: Store) -> list[str]:
    """Each entry has the row of its kind, and each row an entry of its kind."""
    faults = []
    for table, kinds in _KINDS_OF.items():
        own = kinds[:1] if table == "dial" else kinds
        faults += [
            f"entry {number}: what it says as a {kind} is missing"
            for number, kind in store.rows(
                f"SELECT id, kind FROM entry WHERE kind IN ({_marks(own)})"
                f" AND id NOT IN (SELECT entry FROM {table})",
                *own,
            )
        ]
        faults += [
            f"entry {number}: is a {kind}, yet has a row in {table}"
            for number, kind in store.rows(
                f"SELECT id, kind FROM entry WHERE kind NOT IN ({_marks(kinds)})"
                f" AND id IN (SELECT entry FROM {table})",
                *kinds,
            )
        ]
    return faults


def _marks(values: tuple[str, ...]) -> str:
    return ", ".join("?" * len(values))


def _repeated(store: Store) -> list[str]:
    return [
        f"entry {number}: {table} says {here}, the entry {there}"
        for table, column, of_entry in _REPEATED
        for number, here, there in store.rows(
            f"SELECT entry.id, own.{column}, entry.{of_entry} FROM {table} AS own"
            f" JOIN entry ON entry.id = own.entry WHERE own.{column} <> entry.{of_entry}"
        )
    ]


def _voids(store: Store) -> list[str]:
    return [
        f"entry {number}: crosses out entry {target}, which is itself a crossing-out"
        for number, target in store.rows(
            "SELECT void.entry, void.target FROM void JOIN entry ON entry.id = void.target"
            " WHERE entry.kind = 'void'"
        )
    ]


def _machines(store: Store) -> list[str]:
    counts = store.rows(
        "SELECT count.entry, count.machine, shift_log.machine FROM count"
        " JOIN shift_log ON shift_log.entry = count.entry WHERE count.machine <> shift_log.machine"
    )
    changes = store.rows(
        "SELECT entry.id, entry.kind FROM service_change JOIN entry"
        " ON entry.id = service_change.entry WHERE service_change.out <> (entry.kind = 'idle')"
    )
    return [
        *(f"entry {n}: a count of {one} in a shift of {other}" for n, one, other in counts),
        *(f"entry {n}: says {kind} and does the contrary" for n, kind in changes),
    ]


def _times(store: Store) -> list[str]:
    """Every instant and date is one of the calendar; adding nothing makes SQLite count it out."""
    faults = []
    for columns, read, what in (
        (_INSTANTS, "strftime('%Y-%m-%dT%H:%M:%SZ', {0}, '+0 days')", "instant"),
        (_DATES, "date({0}, '+0 days')", "date"),
    ):
        for name in columns:
            table, _, column = name.partition(".")
            for row, value in store.rows(
                f"SELECT rowid, {column} FROM {table}"
                f" WHERE {column} IS NOT NULL AND ({read.format(column)} IS NOT {column}"
                f" OR CAST(substr({column}, 1, 4) AS INTEGER) NOT BETWEEN ? AND ?)",
                YEARS[0],
                YEARS[-1],
            ):
                place = f"entry {row}" if table == "entry" else f"{table}, row {row}"
                faults.append(f"{place}: '{value}' is no {what} ({column})")
    return faults


CHECKS = {
    "numbers of entries": _numbers,
    "what entries say": _rows,
    "dates and instants": _times,
    "repeated columns": _repeated,
    "crossings-out": _voids,
    "machines of entries": _machines,
}
