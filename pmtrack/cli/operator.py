"""Commands of the operator: a shift logged, a stop begun and ended, a mistake crossed out."""

from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.completing import Machine
from pmtrack.cli.options import At, By, Exchanged, Json, Note, Readings, Wrapped
from pmtrack.cli.session import Session, moment_of
from pmtrack.errors import UnreadableInput
from pmtrack.screens.lines import say, say_if_twice, tell

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pmtrack.rules.facts import Stop


def log(
    context: typer.Context,
    machine: Machine,
    shift: Annotated[
        str | None, typer.Option(help="Its name; else the last that is half over.")
    ] = None,
    date: Annotated[str | None, typer.Option(help="Date on which the shift began.")] = None,
    count: Annotated[
        list[str] | None, typer.Option(help="Usage of a meter, like cycles=310.")
    ] = None,
    hits: Annotated[str | None, typer.Option(help="Hits made.")] = None,
    hours: Annotated[str | None, typer.Option(help="Hours run.")] = None,
    parts: Annotated[str | None, typer.Option(help="Good parts made.")] = None,
    scrap: Annotated[str | None, typer.Option(help="Parts scrapped.")] = None,
    program: Annotated[str | None, typer.Option(help="Program that ran.")] = None,
    material: Annotated[str | None, typer.Option(help="Material; else the program's.")] = None,
    dial: Readings = None,
    wrapped: Wrapped = None,
    exchanged: Exchanged = None,
    confirm: Annotated[
        bool, typer.Option("--confirm", help="It is right, though it is hard to believe.")
    ] = False,
    note: Note = "",
    by: By = None,
    at: Annotated[
        str | None, typer.Option(help="When the counter was read, if not at shift end.")
    ] = None,
) -> None:
    """Log a shift in one line; with no figures, it asks for them.

    Example: pmtrack log TP-1 --shift day --hits 41200 --parts 310 --scrap 4
    """
    from pmtrack.cli.shift_entry import Figures, NamedShift, record_shift

    figures = Figures(
        counts=count, hits=hits, hours=hours, parts=parts, scrap=scrap, program=program,
        material=material, dials=dial, wrapped=wrapped, exchanged=exchanged, confirmed=confirm,
        read_at=at,
    )  # fmt: skip
    record_shift(context.obj, NamedShift(machine, shift, date, by, note), figures)


def stop(
    context: typer.Context,
    machine: Machine,
    cause: Annotated[str, typer.Option(help="What stopped it, like 'hydraulic leak'.")],
    planned: Annotated[
        bool, typer.Option("--planned", help="A stop that was planned, as for a service.")
    ] = False,
    start: Annotated[
        str | None, typer.Option("--from", help="When it stopped; now if left out.")
    ] = None,
    end: Annotated[
        str | None, typer.Option("--to", help="When it ran again; it still stands if left out.")
    ] = None,
    note: Note = "",
    by: By = None,
    at: At = None,
) -> None:
    """Log that a machine stopped; it stands until a restart.

    Example: pmtrack stop TP-1 --cause 'hydraulic leak'
    """
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.operator import NewStop, stopped
    from pmtrack.actions.operator import stop as add_stop

    if start is not None and at is not None:
        raise UnreadableInput("--from and --at say the same here: when it stopped; keep one")
    session: Session = context.obj
    with session.recording(by) as recorder:
        machine = machine_meant(recorder.view, machine)
        new = NewStop(
            machine=machine,
            cause=cause,
            start=moment_of(recorder, at if start is None else start),
            end=None if end is None else moment_of(recorder, end),
            planned=planned,
        )
        number = add_stop(recorder, new, note)
        found, zone = stopped(recorder, machine, number), recorder.bare.zone
    if found.ended:
        began = new.start.at.astimezone(zone) if new.start.at else new.start.day
        tell(
            f"entry {number}: {machine} stopped from {began:%Y-%m-%dT%H:%M} "
            f"to {found.ended.astimezone(zone):%Y-%m-%dT%H:%M}"
        )
    else:
        tell(f"entry {number}: {machine} is down; 'pmtrack restart {machine}' when it runs again")
    say_if_twice(found.twice)
    if found.beside and found.twice is None:
        say(f"{machine} was down already, for {_named(found.beside)}; a restart ends all of them")


def restart(context: typer.Context, machine: Machine, by: By = None, at: At = None) -> None:
    """Log that a machine runs again.

    Example: pmtrack restart TP-1
    """
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.operator import restart as add_restart

    session: Session = context.obj
    with session.recording(by) as recorder:
        machine = machine_meant(recorder.view, machine)
        number, ended = add_restart(recorder, machine, moment_of(recorder, at))
    tell(f"entry {number}: {machine} runs again after {_named(ended)}")


def _named(stops: "Iterable[Stop]") -> str:
    """Stops by cause and entry."""
    return ", ".join(f"{stop.cause} (entry {stop.entry})" for stop in stops)


def entries(
    context: typer.Context,
    machine: Annotated[str | None, typer.Option(help="Only of that machine.")] = None,
    last: Annotated[int | None, typer.Option(min=1, help="Only the last N.")] = None,
    json: Json = False,
) -> None:
    """What was entered, newest last.

    The last 30, or all as JSON, unless --last says otherwise.

    Example: pmtrack entries --machine TP-1 --last 10
    """
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.references import References
    from pmtrack.screens.entries_screen import show_entries
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console
    from pmtrack.store.entries import list_entries

    session: Session = context.obj
    with session.view() as (view, _):
        machine = machine and machine_meant(view, machine)
        if machine is not None and view.stored.machine(machine) is None:
            References(view).machine(machine)
        found = list_entries(view.store, machine, last or (None if json else 30))
        zone = view.bare.zone
    if json:
        print_json(found)
    else:
        show_entries(found, zone, console())


def void(
    context: typer.Context,
    entry: Annotated[int, typer.Argument(help="Its number.")],
    why: Annotated[str, typer.Option(help="The reason.")],
    by: By = None,
    at: At = None,
) -> None:
    """Cross an entry out; it stays readable.

    Example: pmtrack void 412 --why 'typed for the wrong machine'
    """
    from pmtrack.actions.crossing_out import void as cross_out
    from pmtrack.screens.crossed_out import show_crossed_out

    session: Session = context.obj
    with session.recording(by) as recorder:
        crossed = cross_out(recorder, entry, why, moment_of(recorder, at))
        zone = recorder.bare.zone
    show_crossed_out(crossed, zone)
