"""What makes one wonder about a shift that is logged: told beside its entry, never refused."""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from pmtrack.actions.recorder import NewShift, Recorder
from pmtrack.actions.shift_checks import slot_of
from pmtrack.actions.tool_room import not_fitted
from pmtrack.rules.facts import ShiftLog
from pmtrack.rules.quantity import show
from pmtrack.rules.usage import ZERO
from pmtrack.store import history
from pmtrack.store.running_stops import running_stops


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
    for log in history.shift_logs(recorder.store, machine, day, day):
        if log.shift == shift:
            yield log, history.counts_of(recorder.store, log.entry)


def _figures(log: ShiftLog, counts: dict[str, Fraction]) -> str:
    told = [f"{show(amount, 2)} {name}" for name, amount in counts.items()]
    told += [f"{show(log.parts)} parts"] if log.parts else []
    told += [f"{show(log.scrap)} scrap"] if log.scrap else []
    return ", ".join([*told, *filter(None, [log.program, log.material])]) or "no figures"


def _said_before(recorder: Recorder, new: NewShift) -> Iterator[str]:
    """The same shift logged twice by mistake; another program or material of it is another run."""
    if not (new.counts or new.parts) or new.dials:
        return
    for log, counts in _logs(recorder, new.machine, new.shift, new.day):
        figures = log.parts, log.scrap, counts
        same_run = (log.program, log.material) == (new.program, new.material)
        if same_run and figures == (new.parts or ZERO, new.scrap or ZERO, new.counts):
            yield (
                f"entry {log.entry} has the same figures for that shift; "
                f"if it was typed twice: pmtrack void {log.entry} --why 'typed twice'"
            )
        elif not _other_run(recorder, log, new):
            yield (
                f"entry {log.entry} has {_figures(log, counts)} for that shift already, and both "
                f"count; if it is the same run: pmtrack void {log.entry} --why 'logged anew'"
            )


def _other_run(recorder: Recorder, log: ShiftLog, new: NewShift) -> bool:
    """Whether both say what ran, and it differs; a program says its material."""
    programs = recorder.view.stored.programs
    own = {program.code: program.material for program in programs}
    materials = (run.material or own.get(run.program or "") for run in (log, new))
    pairs = ((log.program, new.program), tuple(materials))
    return any(before and now and before != now for before, now in pairs)


def _at_rest(recorder: Recorder, new: NewShift) -> Iterator[str]:
    """A machine that made something though it was down, or out of service, since before."""
    if not (new.counts or new.parts):
        return
    slot, zone = slot_of(recorder, new.shift, new.day), recorder.bare.zone
    for stop in running_stops(recorder.store, recorder.view.day, new.machine):
        if stop.span.start <= slot.start:
            since = stop.span.start.astimezone(zone)
            yield (
                f"{new.machine} is down since {since:%Y-%m-%d %H:%M}, {stop.cause} (entry "
                f"{stop.entry}); if it runs: pmtrack restart {new.machine} --at WHEN"
            )
    changes = history.service_changes(recorder.store, new.machine)
    if changes and changes[-1][2] and changes[-1][1] <= slot.start:
        entry, at, _ = changes[-1]
        yield (
            f"{new.machine} is out of service since {at.astimezone(zone):%Y-%m-%d %H:%M} (entry "
            f"{entry}), so that its tasks pause; if it is back: pmtrack back {new.machine}"
        )


def _not_fitted(recorder: Recorder, log: NewShift) -> list[str]:
    """A remark when the program hits with tools that are in no station."""
    program = next((p for p in recorder.view.stored.programs if p.code == log.program), None)
    if program is None or not log.parts:
        return []
    tools = [t.code for t in recorder.view.stored.tools if t.machine == log.machine]
    return not_fitted(recorder.view, {tool: {log.day} for tool in tools if tool in program.hits})
