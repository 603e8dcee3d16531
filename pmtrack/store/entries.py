"""The list of entries, and taking one out of what is derived."""

from fractions import Fraction
from typing import Any

from pmtrack.errors import Refused
from pmtrack.rules.facts import MeterEntry
from pmtrack.rules.quantity import plain
from pmtrack.rules.shop import Meter, Task
from pmtrack.store.codec import LARGEST_NUMBER, damaged, from_millionths, to_date, to_instant
from pmtrack.store.database import Store
from pmtrack.store.records import decode
from pmtrack.store.standing import stands
from pmtrack.store.tables import AMOUNTS, TABLES
from pmtrack.store.tallies import MeterTallies

_YES_NO = ("confirmed", "planned")
_LEFT_OUT = ("entry", "at", "day", "out")


def last_number(store: Store) -> int:
    """The number of the entry made last; 0 before the first."""
    row = store.row("SELECT COALESCE(max(id), 0) FROM entry")
    return int(row[0]) if row else 0


_ENTRY = (
    "SELECT entry.id, entry.kind, entry.at, entry.day, entry.whole_day, entry.by, entry.note,"
    " void.entry FROM entry LEFT JOIN void ON void.target = entry.id"
)


def list_entries(
    store: Store, machine: str | None = None, last: int | None = None
) -> list[dict[str, Any]]:
    """Entries in the order in which they were made, each with its own columns; the last ones.

    With `machine`, those of that machine, its tasks and its tools.
    """
    found: list[dict[str, Any]] = []
    for row in store.each(f"{_ENTRY} ORDER BY entry.id DESC"):
        if last is not None and len(found) >= last:
            break
        shown = _shown(store, row)
        if machine is None or _is_of(store, shown, machine):
            found.append(shown)
    return found[::-1]


def entry_of(store: Store, number: int) -> dict[str, Any]:
    """One entry as `list_entries` has it."""
    (row,) = store.rows(f"{_ENTRY} WHERE entry.id = ?", number)
    return _shown(store, row)


def jobs_found_in(store: Store, completion: int) -> dict[str, int]:
    """The one-off jobs that were found while a task was done, each with its entry."""
    rows = store.rows(
        "SELECT task.name, job.entry FROM job JOIN task ON task.raised_by = job.entry"
        f" WHERE job.found_in = ? AND {stands('job.entry')}"
        " ORDER BY job.entry",
        completion,
    )
    return dict(rows)


def _shown(store: Store, row: tuple[Any, ...]) -> dict[str, Any]:
    number, kind, at, day, whole_day, by, note, voided_by = row
    own = _own_columns(store, kind, number)
    head = {"entry": number, "kind": kind, "at": at, "by": by, "day": day}
    head["whole_day"] = bool(whole_day)
    tail: dict[str, Any] = {"note": note} if note else {}
    return head | own | tail | {"voided": voided_by is not None}


def _own_columns(store: Store, kind: str, number: int) -> dict[str, Any]:
    columns: dict[str, Any] = {}
    if kind in TABLES:
        table = TABLES[kind]
        found = next(store.db.query(f"SELECT * FROM {table} WHERE entry = ?", [number]), None)
        if found is None:
            raise damaged(f"entry {number} has lost what it tells")
        columns = {
            name: _value(table, name, value)
            for name, value in found.items()
            if name not in _LEFT_OUT
        }
    if kind == "job":
        columns |= _asked_for(store, columns["machine"], number)
    if kind == "shift":
        columns["counts"] = _by_name(store, "count", "meter, amount", number)
    dials = store.rows(
        "SELECT machine, meter, reading, wrapped, exchanged FROM dial WHERE entry = ?", number
    )
    if dials:
        columns["machine"] = dials[0][0]
        columns["dials"] = {
            meter: plain(from_millionths(reading)) for _, meter, reading, _, _ in dials
        }
        columns["wrapped"] = [meter for _, meter, _, wrapped, _ in dials if wrapped]
        columns["exchanged"] = [meter for _, meter, _, _, exchanged in dials if exchanged]
    if kind == "release":
        columns["task"] = named_in(store, "pin", "task", columns["target"])
    if kind == "completion":
        columns["measured"] = _by_name(store, "measurement", "name, value", number)
    return columns


def _asked_for(store: Store, machine: str, number: int) -> dict[str, Any]:
    """By when a job is wanted, and how many minutes it takes; they stand with its task."""
    row = store.row("SELECT definition FROM task WHERE name = ?", f"{machine}/job-{number}")
    if row is None:
        raise damaged(f"entry {number} has lost what it tells")
    task: Task = decode(Task, row[0])
    wanted = task.once.due_on.isoformat() if task.once else None
    return {"wanted": wanted, "minutes": task.minutes}


def _by_name(store: Store, table: str, columns: str, number: int) -> dict[str, Any]:
    rows = store.rows(f"SELECT {columns} FROM {table} WHERE entry = ?", number)
    return {name: plain(from_millionths(value)) for name, value in rows}


def _value(table: str, name: str, value: Any) -> Any:
    if value is None:
        return None
    if (table, name) in AMOUNTS:
        return plain(from_millionths(value))
    return bool(value) if name in _YES_NO else value


def _is_of(store: Store, shown: dict[str, Any], machine: str) -> bool:
    if shown["kind"] == "void":
        return False
    if "tool" in shown:
        row = store.row("SELECT machine FROM tool WHERE code = ?", shown["tool"])
        return bool(row and row[0] == machine) or shown.get("machine") == machine
    return shown.get("machine") == machine or str(shown.get("task", "")).startswith(f"{machine}/")


def cross_out(store: Store, number: int, target: int, why: str) -> None:
    """Note that the entry `number` crosses out another, and take that one out of the usage.

    Raises Refused when later dial readings rest on it.
    """
    store.add("void", entry=number, target=target, why=why)
    _take_out(store, target)


def standing_kind(store: Store, target: int) -> str:
    """The kind of an entry that stands.

    Refused when there is no such entry, or it is crossed out already or crosses out another.
    """
    known = 0 < target <= LARGEST_NUMBER
    row = store.row("SELECT kind FROM entry WHERE id = ?", target) if known else None
    if row is None:
        raise Refused(f"no entry {target}; see 'pmtrack entries'")
    if row[0] == "void":
        raise Refused(f"entry {target} crosses out another; enter the fact anew instead")
    by = store.row("SELECT entry FROM void WHERE target = ?", target)
    if by:
        raise Refused(f"entry {target} was crossed out already, by entry {by[0]}")
    return str(row[0])


def is_completion(store: Store, number: int) -> bool:
    """Whether the entry of that number, if there is one, is a completion."""
    known = 0 < number <= LARGEST_NUMBER
    return known and store.row("SELECT 1 FROM completion WHERE entry = ?", number) is not None


def named_in(store: Store, table: str, column: str, entry: int) -> str:
    """What an entry of a kind names, like the machine of a service change."""
    row = store.row(f"SELECT {column} FROM {table} WHERE entry = ?", entry)
    assert row is not None  # noqa: S101 - each entry has its row
    return str(row[0])


def _take_out(store: Store, target: int) -> None:
    """Take the counts and dials of an entry, if it has any, out of the usage."""
    counts = store.rows(
        "SELECT count.machine, count.meter, entry.at, entry.day, amount, 0, 0, 0 FROM count"
        " JOIN entry ON entry.id = count.entry WHERE count.entry = ?",
        target,
    )
    dials = store.rows(
        "SELECT machine, meter, at, day, reading, 1, wrapped, exchanged FROM dial WHERE entry = ?",
        target,
    )
    for machine, meter, at, day, value, is_dial, wrapped, exchanged in [*counts, *dials]:
        entry = MeterEntry(
            entry=target,
            at=to_instant(at),
            day=to_date(day),
            value=from_millionths(value),
            is_dial=bool(is_dial),
            wrapped=bool(wrapped),
            exchanged=bool(exchanged),
        )
        tallies = MeterTallies(store, machine, meter)
        if is_dial:
            _check_neighbours(tallies, entry, meter)
        tallies.remove(entry, _wraps_at(store, machine, meter))


def _check_neighbours(tallies: MeterTallies, entry: MeterEntry, meter: str) -> None:
    """Without a new counter's first reading the dials after it would run backwards."""
    before, after = tallies.around(entry)
    marked = after is not None and (after.wrapped or after.exchanged)
    if before and after and not marked and after.value < before.value:
        raise Refused(
            f"the {meter} readings after entry {entry.entry} rest on it (entry {after.entry} is "
            f"lower than entry {before.entry}); cross out entry {after.entry} first"
        )


def _wraps_at(store: Store, machine: str, meter: str) -> Fraction | None:
    row = store.row("SELECT definition FROM meter WHERE machine = ? AND name = ?", machine, meter)
    record: Meter = decode(Meter, row[0]) if row else Meter(meter)
    return record.wraps_at
