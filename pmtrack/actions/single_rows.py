"""Rows of a file recorded one by one, each by what its single command does."""

from collections.abc import Callable
from datetime import date

from pmtrack.actions import operator, technician, tool_room
from pmtrack.actions.recorder import Dial, Recorder
from pmtrack.errors import PmtrackError, Refused
from pmtrack.imports.fault import Fault
from pmtrack.imports.rows import Block, Row, RowReader
from pmtrack.store.codec import from_millionths, maybe_amount
from pmtrack.store.entries import last_number


class SingleRows:
    """Takes the rows of a file in the order of time; remembers which line made which entry."""

    def __init__(self, recorder: Recorder, reader: RowReader) -> None:
        self._recorder = recorder
        self._reader = reader
        self._record = _RECORD[reader.kind.name]
        self._stored = last_number(recorder.store)
        self._lines: dict[int, int] = {}  # entry to line
        self._once: dict[str, int] = {}  # one-off job to the line that completes it
        self._hits: dict[str, set[date]] = {}  # days of a tool's hits

    @property
    def entries(self) -> tuple[int, int] | None:
        """The first and last entry made."""
        return (min(self._lines), max(self._lines)) if self._lines else None

    def take(self, block: Block) -> list[Fault]:
        """Record the rows of a block; tells what cannot be."""
        faults = []
        for row in self._reader.rows(block):
            try:
                self._take_one(row)
            except PmtrackError as error:
                faults.append(Fault(row.line, str(error)))
                self._lines.setdefault(last_number(self._recorder.store), row.line)  # half-way?
        return faults

    def _take_one(self, row: Row) -> None:
        self._recorder.by = row.values["by"]
        self._recorder.line = row.line
        self._check_once(row)
        self._lines[self._record(self._recorder, row)] = row.line
        if self._reader.kind.name == "tool-counts":
            self._hits.setdefault(row.values["tool"], set()).add(row.values["at"].day)

    def _check_once(self, row: Row) -> None:
        """A one-off job is done once; what the store holds is checked by the command."""
        if self._reader.kind.name != "completions":
            return
        task = self._recorder.task(row.values["task"], row.values["at"].day)
        line = self._once.setdefault(task.name, row.line)
        if task.once and line != row.line:
            raise Refused(f"{task.name} is done already, in line {line}; delete one of them")

    def finish(self) -> list[Fault]:
        """Check the counters' readings together; tells what cannot be."""
        faults = self._recorder.faults()
        return [Fault(fault.line, fault.text) for fault in faults if fault.line is not None]

    def line_of(self, entry: int) -> int | None:
        """The line that made an entry, if one did."""
        return self._lines.get(entry) if entry > self._stored else None

    def remarks(self) -> list[str]:
        """What was taken though it looks odd."""
        return tool_room.not_fitted(self._recorder.view, self._hits)


# --- how a row of each kind is recorded; tells its entry


def _dials(recorder: Recorder, row: Row) -> int:
    wrapped, exchanged = row.values["wrapped"], row.values["exchanged"]
    if not row.meters:
        raise Refused("no reading; fill in the column of a meter")
    if wrapped and exchanged:
        raise Refused(
            "both wrapped and exchanged; a counter started over or is a new one: keep one"
        )
    sure = row.values["confirmed"]
    readings = {
        name: Dial(from_millionths(value), wrapped, exchanged, sure)
        for name, value in row.meters.items()
    }
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
        dials={
            name: Dial(from_millionths(value), confirmed=values["confirmed"])
            for name, value in row.meters.items()
        },
        note=values["note"] or "",
    )
    return technician.complete(recorder, done)[0]


def _tool_count(recorder: Recorder, row: Row) -> int:
    values = row.values
    counted = (from_millionths(values["hits"]), values["material"])
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
        mm=maybe_amount(values["mm"]),
        why=values["why"],
        machine=values["machine"],
        station=values["station"],
        length=maybe_amount(values["length"]),
    )
    new = tool_room.new_event(recorder, values["tool"], deed, values["at"])
    return tool_room.record_event(recorder, new)


_RECORD: dict[str, Callable[[Recorder, Row], int]] = {
    "dials": _dials,
    "stops": _stop,
    "completions": _completion,
    "tool-counts": _tool_count,
    "tool-events": _tool_event,
}
