"""Taking over facts from a CSV file: all rows or none, each as its single command would."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from pmtrack.actions import operator, technician, tool_room
from pmtrack.actions.recorder import Dial, NewShift, Recorder
from pmtrack.actions.view import View
from pmtrack.errors import FaultyFile, PmtrackError, Refused
from pmtrack.imports.fault import Fault
from pmtrack.imports.kinds import Kind, kind_named
from pmtrack.imports.known import known_rows
from pmtrack.imports.rows import Row, read_rows

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Imported:
    """How many rows were taken, and the first and last entry made; None for a file of no row."""

    rows: int
    entries: tuple[int, int] | None


_STRIDE = 1000  # rows between two calls of progress
_NOBODY = "import"  # until the first row says who


def import_file(  # noqa: PLR0913 - what the command line says, as it is
    view: View,
    kind: str,
    name: str,
    data: bytes,
    now: datetime,
    by: str | None,
    again: bool,
    progress: Progress | None = None,
    remark: Callable[[str], None] | None = None,
) -> Imported:
    """Add the facts of a file within one transaction, and tell what was made of it.

    `by` stands for rows that do not say who. `progress` is told rows done and rows in all, `remark`
    what is taken though it looks odd. Raises FaultyFile with all that is wrong, or UnreadableInput
    if there is no such kind.
    """
    chosen = kind_named(kind)
    columns_of = replace(view.shop, machines=view.stored.machines)
    reading = read_rows(data, chosen, columns_of, by)
    faults = list(reading.faults)
    importing = _Import(Recorder(view, now, by or _NOBODY), chosen)
    if reading.sound_header:
        known = [] if again else list(known_rows(view.store, chosen, reading.rows))
        left_out = {fault.line for fault in known}
        rows = [row for row in reading.rows if row.line not in left_out]
        faults += known + importing.take(rows, progress)
    if faults:
        raise FaultyFile(list(dict.fromkeys(fault.render(name) for fault in sorted(faults))))
    if remark and kind == "tool-counts":
        loose = tool_room.not_fitted(
            view, [(r.values["tool"], r.values["at"]) for r in reading.rows]
        )
        for line in loose:
            remark(line)
    return Imported(len(reading.rows), importing.entries)


class _Import:
    """Records rows in the order of time; remembers which line made which entry."""

    def __init__(self, recorder: Recorder, kind: Kind) -> None:
        self._recorder = recorder
        self._kind = kind
        self._record = _RECORD[kind.name]
        self._faults: list[Fault] = []
        self._stored = self._last_entry()
        self._lines: dict[int, int] = {}  # entry to line
        self._once: dict[str, int] = {}  # one-off job to the line that completes it

    @property
    def entries(self) -> tuple[int, int] | None:
        """The first and last entry made."""
        return (min(self._lines), max(self._lines)) if self._lines else None

    def take(self, rows: list[Row], progress: Progress | None) -> list[Fault]:
        """Record the rows and check them together; tells all faults."""
        position = self._kind.position
        for done, row in enumerate(sorted(rows, key=lambda row: row.key[position])):
            if progress and done % _STRIDE == 0:
                progress(done, len(rows))
            self._take_one(row)
        self._finish()
        if progress:
            progress(len(rows), len(rows))
        made = {entry: line for entry, line in self._lines.items() if entry > self._stored}
        return [fault.in_terms_of_the_file(made) for fault in self._faults]

    def _take_one(self, row: Row) -> None:
        self._recorder.by = row.values["by"]
        self._recorder.where = f"{row.line}: "
        try:
            self._check_once(row)
            self._lines[self._record(self._recorder, row)] = row.line
        except PmtrackError as error:
            self._faults.append(Fault(row.line, str(error)))
            self._lines.setdefault(self._last_entry(), row.line)  # it may have failed half-way

    def _last_entry(self) -> int:
        """The number of the entry made last."""
        found = self._recorder.store.row("SELECT COALESCE(max(id), 0) FROM entry")
        return int(found[0]) if found else 0

    def _check_once(self, row: Row) -> None:
        """A one-off job is done once; what the store holds is checked by the command."""
        if self._kind.name != "completions":
            return
        task = self._recorder.task(row.values["task"], row.values["at"].day)
        line = self._once.setdefault(task.name, row.line)
        if task.once and line != row.line:
            raise Refused(f"{task.name} is done already, in line {line}; delete one of them")

    def _finish(self) -> None:
        try:
            self._recorder.finish()
        except FaultyFile as error:
            for told in error.faults:
                line, _, text = told.partition(": ")
                self._faults.append(Fault(int(line), text))


# --- how a row of each kind is recorded; tells its entry


def _shift(recorder: Recorder, row: Row) -> int:
    values = row.values
    told = (*row.meters, *(values[c] is not None for c in ("parts", "scrap", "program")))
    if not any(told):
        raise Refused("nothing to log; fill in parts, scrap, a program or a count")
    log = NewShift(
        machine=values["machine"],
        shift=values["shift"],
        day=values["date"],
        counts=row.meters,
        parts=values["parts"],
        scrap=values["scrap"],
        program=values["program"],
        material=values["material"],
        confirmed=values["confirmed"],
    )
    return recorder.shift(log)


def _dials(recorder: Recorder, row: Row) -> int:
    wrapped, exchanged = row.values["wrapped"], row.values["exchanged"]
    if not row.meters:
        raise Refused("no reading; fill in the column of a meter")
    if wrapped and exchanged:
        raise Refused(
            "both wrapped and exchanged; a counter started over or is a new one: keep one"
        )
    readings = {name: Dial(value, wrapped, exchanged) for name, value in row.meters.items()}
    return recorder.dials(row.values["machine"], readings, row.values["at"])


def _stop(recorder: Recorder, row: Row) -> int:
    values = row.values
    new = operator.NewStop(
        machine=values["machine"],
        cause=values["cause"],
        start=values["from"],
        end=values["to"],
        planned=values["planned"],
    )
    return operator.stop(recorder, new)


def _completion(recorder: Recorder, row: Row) -> int:
    values = row.values
    done = technician.NewCompletion(
        task=values["task"],
        moment=values["at"],
        minutes=values["minutes"],
        dials={name: Dial(value) for name, value in row.meters.items()},
        note=values["note"] or "",
    )
    return technician.complete(recorder, done)[0]


def _tool_count(recorder: Recorder, row: Row) -> int:
    values = row.values
    counted = (values["hits"], values["material"])
    return tool_room.record_count(recorder, values["tool"], values["at"], counted)


_CELLS_OF = {
    "sharpen": ("mm", "why", "length"),
    "fit": ("machine", "station"),
    "replace": ("why",),
    "scrap": ("why",),
}
_MAY_BE_EMPTY = (("sharpen", "length"), ("replace", "why"), ("scrap", "why"))


def _tool_event(recorder: Recorder, row: Row) -> int:
    values, event = row.values, row.values["event"]
    recorder.tool(values["tool"])
    for column in ("mm", "why", "machine", "station", "length"):
        wanted, filled = column in _CELLS_OF.get(event, ()), values[column] is not None
        if filled and not wanted:
            raise Refused(f"{column} does not go with {event}; leave its cell empty")
        if wanted and not filled and (event, column) not in _MAY_BE_EMPTY:
            raise Refused(f"{event} needs {column}; fill it in")
    deed = tool_room.ToolDeed(
        event=event,
        mm=values["mm"],
        why=values["why"],
        machine=values["machine"],
        station=values["station"],
        length=values["length"],
    )
    new = tool_room.new_event(recorder, values["tool"], deed, values["at"])
    return tool_room.record_event(recorder, new)


_RECORD: dict[str, Callable[[Recorder, Row], int]] = {
    "shifts": _shift,
    "dials": _dials,
    "stops": _stop,
    "completions": _completion,
    "tool-counts": _tool_count,
    "tool-events": _tool_event,
}
