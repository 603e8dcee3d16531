"""A shift's figures: from options, or asked for one by one."""

import sys
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction

from pmtrack.actions.operator import log_shift, shift_date, shift_to_log
from pmtrack.actions.recorder import NewShift, Recorder
from pmtrack.actions.tool_room import not_fitted
from pmtrack.cli.pairs import dials_from, quantities_from
from pmtrack.cli.session import Session, date_of
from pmtrack.errors import MayBeConfirmed, Refused, UnreadableInput
from pmtrack.rules.dates import parse_moment
from pmtrack.rules.quantity import parse_quantity, show
from pmtrack.rules.shop import Machine
from pmtrack.rules.text import printable
from pmtrack.screens.lines import say, tell
from pmtrack.store import history

TRIES = 5


@dataclass(frozen=True)
class Figures:
    """What the options of `log` say, as typed."""

    counts: list[str] | None = None
    hits: str | None = None
    hours: str | None = None
    parts: str | None = None
    scrap: str | None = None
    program: str | None = None
    material: str | None = None
    dials: list[str] | None = None
    wrapped: list[str] | None = None
    exchanged: list[str] | None = None
    confirmed: bool = False
    read_at: str | None = None

    @property
    def told(self) -> bool:
        """Whether there is any figure."""
        single = (self.hits, self.hours, self.parts, self.scrap, self.program)
        return any(v is not None for v in single) or bool(self.counts or self.dials)

    def all_counts(self) -> dict[str, Fraction]:
        """Counts by meter. Raises UnreadableInput when one is given twice."""
        found = quantities_from("--count", self.counts)
        for name, text in (("hits", self.hits), ("hours", self.hours)):
            if text is not None:
                if name in found:
                    raise UnreadableInput(
                        f"{name} is given twice; keep --{name} or --count {name}="
                    )
                found[name] = parse_quantity(text)
        return found


def record_shift(
    session: Session,
    slot: tuple[str, str | None, str | None],
    figures: Figures,
    told_by: tuple[str | None, str],
) -> None:
    """Log a shift; with no figures, ask for them first."""
    machine, shift, day = slot
    if figures.told:
        _record(session, slot, figures, told_by)
        return
    shift, day, figures = _asked(session, (machine, shift, day), figures)
    try:
        _record(session, (machine, shift, day), figures, told_by)
    except MayBeConfirmed as refusal:
        say(str(refusal))
        if _line("Type yes if it is right", "Enter stops, nothing is logged").lower() != "yes":
            raise Refused("nothing was logged") from None
        _record(session, (machine, shift, day), replace(figures, confirmed=True), told_by)


def _record(
    session: Session,
    slot: tuple[str, str | None, str | None],
    figures: Figures,
    told_by: tuple[str | None, str],
) -> None:
    by, note = told_by
    with session.recording(by) as recorder:
        log = _new_shift(recorder, slot, figures)
        remarks = [*_same_before(recorder, log), *_not_fitted(recorder, log)]
        number = log_shift(recorder, log, note)
    tell(f"entry {number}: {_summary(log)}")
    for line in remarks:
        say(line)


def _new_shift(
    recorder: Recorder, slot: tuple[str, str | None, str | None], figures: Figures
) -> NewShift:
    machine, shift, day = slot
    name, on = _slot(recorder, shift, day)
    read_at = figures.read_at
    return NewShift(
        machine=machine,
        shift=name,
        day=on,
        counts=figures.all_counts(),
        dials=dials_from(figures.dials, figures.wrapped, figures.exchanged),
        parts=parse_quantity(figures.parts) if figures.parts is not None else None,
        scrap=parse_quantity(figures.scrap) if figures.scrap is not None else None,
        program=figures.program,
        material=figures.material,
        dial_at=None if read_at is None else parse_moment(read_at, recorder.bare.zone),
        confirmed=figures.confirmed,
    )


def _slot(recorder: Recorder, shift: str | None, day: str | None) -> tuple[str, date]:
    """The shift and its date: as said, or the last one that is half over."""
    if shift is None:
        found = shift_to_log(recorder.view, recorder.now)
        if found is None:
            raise Refused("no shift was scheduled lately; say which with --shift and --date")
        return found[0].name, date_of(day) or found[1]
    return shift, date_of(day) or shift_date(recorder.view, shift, recorder.now)


def _same_before(recorder: Recorder, log: NewShift) -> list[str]:
    """A remark when the shift has a log with the same figures already."""
    if not (log.counts or log.parts) or log.dials:
        return []
    same = [
        earlier
        for earlier in history.shift_logs(recorder.store, log.machine, log.day, log.day)
        if earlier.shift == log.shift
        and (earlier.program, earlier.material) == (log.program, log.material)
        and (earlier.parts, earlier.scrap) == (log.parts or 0, log.scrap or 0)
        and history.counts_of(recorder.store, earlier.entry) == log.counts
    ]
    return [
        f"entry {earlier.entry} has the same figures for that shift; "
        f"if it was typed twice: pmtrack void {earlier.entry} --why 'typed twice'"
        for earlier in same
    ]


def _not_fitted(recorder: Recorder, log: NewShift) -> list[str]:
    """A remark when the program hits with tools that are in no station."""
    program = next((p for p in recorder.view.stored.programs if p.code == log.program), None)
    if program is None or not log.parts:
        return []
    tools = [t.code for t in recorder.view.stored.tools if t.machine == log.machine]
    return not_fitted(recorder.view, {tool: {log.day} for tool in tools if tool in program.hits})


def _summary(log: NewShift) -> str:
    figures = [f"{show(value, 2)} {name}" for name, value in log.counts.items()]
    figures += [f"{name} dial {show(d.reading, 2)}" for name, d in log.dials.items()]
    if log.parts is not None:
        figures.append(f"{show(log.parts)} parts")
    if log.scrap is not None:
        figures.append(f"{show(log.scrap)} scrap")
    if log.program:
        figures.append(log.program)
    return f"{log.machine} {log.shift} {log.day}: {', '.join(figures)}"


# --- asking


def _asked(
    session: Session, slot: tuple[str, str | None, str | None], figures: Figures
) -> tuple[str, str, Figures]:
    """Ask for each figure, with what was logged last time and what is usual."""
    machine_code, shift, day = slot
    with session.view() as (view, now):
        recorder = Recorder(view, now, "asking")
        name, on = _slot(recorder, shift, day)
        machine = recorder.machine(machine_code, on)
        hints = _hints(recorder, machine, now)
    say(f"{machine.code} {machine.name}, {name} shift of {on}. Enter skips a line.")
    counts = [
        f"{meter.name}={value}"
        for meter in machine.meters
        if (value := _ask(meter.name, hints.get(meter.name, ""))) is not None
    ]
    parts, scrap = _ask("good parts", hints.get("parts", "")), _ask("scrap", "")
    program = _line("program", hints.get("program", "")) if parts else None
    return name, on.isoformat(), replace(
        figures, counts=counts, parts=parts, scrap=scrap, program=program or None
    )  # fmt: skip


def _hints(recorder: Recorder, machine: Machine, now: datetime) -> dict[str, str]:
    """Last time's figures and the usual ones of a machine, by what is asked."""
    hints: dict[str, str] = {}
    logs = history.last_shift_logs(recorder.store, machine.code, 1)
    counts = history.counts_of(recorder.store, logs[0].entry) if logs else {}
    for meter in machine.meters:
        rate = recorder.view.standing(machine.code, meter.name).rate.per_day
        usual = f"usual a day {show(rate)}" if rate is not None else ""
        last = f"last {show(counts[meter.name], 2)}" if meter.name in counts else ""
        hints[meter.name] = ", ".join(filter(None, (last, usual)))
    if logs:
        hints["parts"] = f"last {show(logs[0].parts)}"
        hints["program"] = f"last {logs[0].program}" if logs[0].program else ""
    return hints


def _ask(what: str, hint: str) -> str | None:
    """A number as typed, or None for an empty line; asks again for what is no number."""
    for _ in range(TRIES):
        text = _line(what, hint)
        if not text:
            return None
        try:
            parse_quantity(text)
        except UnreadableInput as error:
            say(str(error))
        else:
            return text
    raise UnreadableInput(f"no number for {what}; nothing was logged")


def _line(what: str, hint: str) -> str:
    """One line typed at a prompt; the prompt goes to standard error."""
    prompt = printable(f"{what}{f' ({hint})' if hint else ''}: ")
    print(prompt, end="", file=sys.stderr, flush=True)
    text = sys.stdin.readline() if sys.stdin else ""
    if not text:
        raise Refused("the input ended; nothing was logged")
    return text.strip()
