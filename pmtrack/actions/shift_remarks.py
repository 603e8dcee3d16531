"""What makes one wonder about a shift that is logged: told beside its entry, never refused."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import zip_longest

from pmtrack.actions.recorder import NewShift, Recorder
from pmtrack.actions.shift_checks import Slot, slot_of
from pmtrack.actions.tool_room import said_loose
from pmtrack.rules.facts import ShiftLog, Span
from pmtrack.rules.quantity import show
from pmtrack.rules.tool_places import stays
from pmtrack.rules.usage import ZERO
from pmtrack.store import history, tool_history


def shift_remarks(recorder: Recorder, log: NewShift) -> list[str]:
    """What to tell of a log that is not recorded yet."""
    return [*_said_before(recorder, log), *_at_rest(recorder, log), *_not_fitted(recorder, log)]


def told_before(recorder: Recorder, machine: str, shift: str, day: date) -> list[str]:
    """What was logged for a shift of a machine already, an entry a line."""
    return [
        f"entry {log.entry} has {_figures(log, counts)} for that shift already"
        for log, counts in _logs(recorder, machine, shift, day)
    ]


def _logs(
    recorder: Recorder, machine: str, shift: str, day: date
) -> Iterator[tuple[ShiftLog, dict[str, Fraction]]]:
    """The logs of a shift that tell what was made, each with its counts."""
    for log in history.shift_logs(recorder.store, machine, day, day):
        if log.shift == shift:
            counts = history.counts_of(recorder.store, log.entry)
            if counts or log.parts or log.scrap:
                yield log, counts


def _figures(log: ShiftLog, counts: dict[str, Fraction]) -> str:
    told = [f"{show(amount, 2)} {name}" for name, amount in counts.items()]
    told += [f"{show(log.parts)} parts"] if log.parts else []
    told += [f"{show(log.scrap)} scrap"] if log.scrap else []
    return ", ".join([*told, *filter(None, [log.program, log.material])])


def _said_before(recorder: Recorder, new: NewShift) -> Iterator[str]:
    """The same figure of a shift told twice, by mistake; of another run it is another figure."""
    now = _amounts(new.counts, new.parts, new.scrap)
    for log, counts in _logs(recorder, new.machine, new.shift, new.day):
        before = _amounts(counts, log.parts, log.scrap)
        if not before.keys() & now.keys() or _other_run(recorder, log, new):
            continue
        if (before, log.program, log.material) == (now, new.program, new.material):
            yield (
                f"entry {log.entry} has the same figures for that shift; "
                f"if it was typed twice: pmtrack void {log.entry} --why 'typed twice'"
            )
        else:
            yield (
                f"entry {log.entry} has {_figures(log, counts)} for that shift already, and both "
                f"count; if it is the same run: pmtrack void {log.entry} --why 'logged anew'"
            )


def _amounts(
    counts: dict[str, Fraction], parts: Fraction | None, scrap: Fraction | None
) -> dict[str, Fraction]:
    """What was made, by what was counted."""
    made = {"parts": parts or ZERO, "scrap": scrap or ZERO}
    return counts | {what: amount for what, amount in made.items() if amount}


def _other_run(recorder: Recorder, log: ShiftLog, new: NewShift) -> bool:
    """Whether both say what ran, and it differs; a program says its material."""
    programs = recorder.view.stored.programs
    own = {program.code: program.material for program in programs}
    materials = (run.material or own.get(run.program or "") for run in (log, new))
    pairs = ((log.program, new.program), tuple(materials))
    return any(before and now and before != now for before, now in pairs)


@dataclass(frozen=True)
class _Rest:
    """A span in which a machine made nothing, it seems: why, and what ends it."""

    state: str
    span: Span
    why: str
    cure: str


def _at_rest(recorder: Recorder, new: NewShift) -> Iterator[str]:
    """A machine that made something though it was down, or out of service, all the shift."""
    if not (new.counts or new.parts):
        return
    slot, zone = slot_of(recorder, new.shift, new.day), recorder.bare.zone
    for rest in (*_stops(recorder, new.machine), *_spans_out(recorder, new.machine)):
        start, end = rest.span.start, rest.span.end
        if start > slot.start or (end is not None and end < slot.end):
            continue
        since = f"{start.astimezone(zone):%Y-%m-%d %H:%M}"
        if end is None:
            yield (
                f"{new.machine} is {rest.state} since {since} ({rest.why}); "
                f"if it runs: {rest.cure} --at WHEN"
            )
        else:
            yield (
                f"{new.machine} was {rest.state} from {since} to "
                f"{end.astimezone(zone):%Y-%m-%d %H:%M} ({rest.why}); check machine and date"
            )


def _stops(recorder: Recorder, machine: str) -> Iterator[_Rest]:
    for stop in history.stops(recorder.store, machine, recorder.view.day):
        why = f"{stop.cause}, entry {stop.entry}"
        yield _Rest("down", stop.span, why, f"pmtrack restart {machine}")


def _spans_out(recorder: Recorder, machine: str) -> Iterator[_Rest]:
    changes = history.service_changes(recorder.store, machine)
    for (entry, start, is_out), later in zip_longest(changes, changes[1:]):
        if is_out:
            span = Span(start, later[1] if later else None)
            yield _Rest("out of service", span, f"entry {entry}", f"pmtrack back {machine}")


def _not_fitted(recorder: Recorder, log: NewShift) -> list[str]:
    """A remark when the program hits with tools that were in no station in that shift."""
    program = next((p for p in recorder.view.stored.programs if p.code == log.program), None)
    if program is None or not log.parts:
        return []
    slot = slot_of(recorder, log.shift, log.day)
    tools = [t for t in recorder.view.stored.tools if t.machine == log.machine]
    return said_loose(
        [t.code for t in tools if t.code in program.hits and not _sat(recorder, t.code, slot)]
    )


def _sat(recorder: Recorder, tool: str, slot: Slot) -> bool:
    """Whether a tool sat in a station at some time of a shift."""
    events = tool_history.tool_events(recorder.store, [tool], date.max)
    return any(stay.lasts_into(slot.start, slot.end) for stay in stays(events))
