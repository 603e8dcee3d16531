"""A shift's figures: from options, or asked for one by one."""

import sys
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import partial

from pmtrack.actions.meant import machine_meant, material_meant, program_meant, shift_meant
from pmtrack.actions.operator import log_shift, shift_date, shift_to_log
from pmtrack.actions.recorder import NewShift, Recorder
from pmtrack.actions.shift_remarks import shift_remarks, told_before
from pmtrack.cli.pairs import dials_from, quantities_from
from pmtrack.cli.session import Session, date_of
from pmtrack.errors import MayBeConfirmed, Refused, UnreadableInput
from pmtrack.rules.dates import parse_moment
from pmtrack.rules.quantity import parse_quantity, parse_whole, shorten, show
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


@dataclass(frozen=True)
class NamedShift:
    """Which shift of which machine is logged, and by whom, as typed."""

    machine: str
    shift: str | None
    date: str | None
    by: str | None
    note: str


def record_shift(session: Session, named: NamedShift, figures: Figures) -> None:
    """Log a shift; with no figures, ask for them first."""
    if figures.told:
        _record(session, named, figures)
        return
    named, figures = _ask_figures(session, named, figures)
    try:
        _record(session, named, figures)
    except MayBeConfirmed as refusal:
        say(str(refusal))
        answer = _line("Type yes if it is right", "Enter stops, nothing is logged")
        if answer.lower() not in ("y", "yes"):
            raise Refused("nothing was logged") from None
        _record(session, named, replace(figures, confirmed=True))


def _record(session: Session, named: NamedShift, figures: Figures) -> None:
    with session.recording(named.by) as recorder:
        log = _new_shift(recorder, named, figures)
        remarks = shift_remarks(recorder, log)
        number = log_shift(recorder, log, named.note)
    tell(f"entry {number}: {_summary(log)}")
    for line in remarks:
        say(line)


def _new_shift(recorder: Recorder, named: NamedShift, figures: Figures) -> NewShift:
    name, on = _slot(recorder, named)
    view, read_at, program = recorder.view, figures.read_at, figures.program
    return NewShift(
        machine=machine_meant(view, named.machine),
        shift=name,
        day=on,
        counts=figures.all_counts(),
        dials=dials_from(figures.dials, figures.wrapped, figures.exchanged),
        parts=parse_whole("parts", figures.parts) if figures.parts is not None else None,
        scrap=parse_whole("scrap", figures.scrap) if figures.scrap is not None else None,
        program=program and program_meant(view, program),
        material=figures.material and material_meant(view, figures.material),
        dial_at=None if read_at is None else parse_moment(read_at, recorder.bare.zone),
        confirmed=figures.confirmed,
    )


def _slot(recorder: Recorder, named: NamedShift) -> tuple[str, date]:
    """The shift and its date: as said, or the last one that is half over."""
    if named.shift is None:
        found = shift_to_log(recorder.view, recorder.now)
        if found is None:
            raise Refused("no shift was scheduled lately; say which with --shift and --date")
        return found[0].name, date_of(named.date) or found[1]
    shift = shift_meant(recorder.view, named.shift)
    return shift, date_of(named.date) or shift_date(recorder.view, shift, recorder.now)


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


def _ask_figures(
    session: Session, named: NamedShift, figures: Figures
) -> tuple[NamedShift, Figures]:
    """Ask for each figure, with what was logged last time and what is usual."""
    with session.view() as (view, now):
        recorder = Recorder(view, now, "asking")
        name, on = _slot(recorder, named)
        machine = recorder.machine(machine_meant(view, named.machine), on)
        hints = _hints(recorder, machine)
        before = told_before(recorder, machine.code, name, on)
        programs = [program.code for program in view.stored.programs]
    say(f"{machine.code} {machine.name}, {name} shift of {on}. Enter skips a line.")
    for line in before:
        say(line)
    counts = [
        f"{meter.name}={value}"
        for meter in machine.meters
        if (value := _ask(meter.name, hints.get(meter.name, ""))) is not None
    ]
    parts = _ask("good parts", hints.get("parts", ""), partial(parse_whole, "parts"))
    scrap = _ask("scrap", "", partial(parse_whole, "scrap"))
    program = _ask_program(hints.get("program", ""), programs) if parts else None
    told = replace(figures, counts=counts, parts=parts, scrap=scrap, program=program)
    return replace(named, shift=name, date=on.isoformat()), told


def _ask_program(hint: str, programs: list[str]) -> str | None:
    """A program of the shop as typed, or None for an empty line; asks again for another."""
    known = {code.casefold() for code in programs}
    for _ in range(TRIES):
        text = _line("program", hint)
        if not text:
            return None
        if text.casefold() in known:
            return text
        say(f"no program '{shorten(text)}'; the shop file has {', '.join(programs) or 'none'}")
    raise UnreadableInput("no program of the shop; nothing was logged")


def _hints(recorder: Recorder, machine: Machine) -> dict[str, str]:
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


def _ask(what: str, hint: str, read: Callable[[str], Fraction] = parse_quantity) -> str | None:
    """A number as typed, or None for an empty line; asks again for what is none, or below 0."""
    for _ in range(TRIES):
        text = _line(what, hint)
        if not text:
            return None
        try:
            number = read(text)
        except UnreadableInput as error:
            say(str(error))
            continue
        if number >= 0:
            return text
        say(f"{what} cannot be below 0")
    raise UnreadableInput(f"no number for {what}; nothing was logged")


def _line(what: str, hint: str) -> str:
    """One line typed at a prompt; the prompt goes to standard error."""
    prompt = printable(f"{what}{f' ({hint})' if hint else ''}: ")
    print(prompt, end="", file=sys.stderr, flush=True)
    text = sys.stdin.readline() if sys.stdin else ""
    if not text:
        raise Refused("the input ended; nothing was logged")
    return text.strip()
