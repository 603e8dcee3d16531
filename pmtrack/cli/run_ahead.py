"""Looks at work to come: a job before it starts, and the tools by the jobs that are planned."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated

import typer

from pmtrack.cli.completing import Program
from pmtrack.cli.options import Json, On
from pmtrack.cli.session import Session


def setup(
    context: typer.Context,
    program: Program,
    parts: Annotated[str, typer.Option(help="How many parts are to be made.")],
    material: Annotated[str | None, typer.Option(help="Material; else the program's.")] = None,
    machine: Annotated[str | None, typer.Option(help="Else that of the program's tools.")] = None,
    on: On = None,
    json: Json = False,
) -> None:
    """Which tools of a job to fit, sharpen or replace before it.

    Example: pmtrack setup KIOSK-DOOR --parts 300 --material stainless
    """
    from pmtrack.actions.meant import machine_meant, material_meant, program_meant
    from pmtrack.actions.run_ahead import Job, prepare
    from pmtrack.rules.planned_jobs import parse_parts
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.run_ahead_screen import as_json, show_preparation
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    whole = parse_parts(parts)
    with session.view(on) as (view, now):
        job = Job(
            program=program_meant(view, program),
            parts=whole,
            material=material and material_meant(view, material),
            machine=machine and machine_meant(view, machine),
        )
        told = prepare(view, job, now)
    if json:
        print_json(as_json(told))
    else:
        show_preparation(told, console())


@dataclass(frozen=True)
class ToolChoice:
    """Which tools, in which order, and in which form."""

    machine: str | None
    station: str | None
    dull_first: bool
    json: bool
    csv: Path | None


def by_jobs(session: Session, on: str | None, file: Path, choice: ToolChoice) -> None:
    """Show the tools with their days by the jobs of a file."""
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.planned_jobs import tools_by_jobs
    from pmtrack.actions.references import References
    from pmtrack.cli.files import contents
    from pmtrack.cli.tables import write_table
    from pmtrack.screens.jobs_screen import as_json, show_tools
    from pmtrack.screens.lines import print_json, say
    from pmtrack.screens.terminal import console

    data = contents(file)
    with session.view(on) as (view, _):
        machine = choice.machine
        if machine is not None:
            machine = References(view).machine(machine_meant(view, machine)).code
        told = tools_by_jobs(view, str(file), data, machine)
    tools = [found for found in told.tools if _is_in(found.wear.fitted, choice.station)]
    if choice.dull_first:
        tools.sort(key=lambda found: -found.wear.used)
    for line in told.remarks:
        say(line)
    if choice.csv is not None:
        write_table(choice.csv, session.store, [as_json(found) for found in tools])
    elif choice.json:
        print_json([as_json(found) for found in tools])
    else:
        show_tools(replace(told, tools=tools), console())


def _is_in(fitted: tuple[str, str] | None, station: str | None) -> bool:
    """Whether a tool is fitted in a station; always where none is named."""
    return station is None or (fitted is not None and fitted[1] == station)
