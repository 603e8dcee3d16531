"""Commands of the tool room: how worn the tools are, and what was done to them."""

import dataclasses
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.completing import Tool
from pmtrack.cli.options import At, By, Json, Note, On
from pmtrack.cli.run_ahead import ToolChoice, by_jobs
from pmtrack.cli.session import Session, moment_of
from pmtrack.cli.tables import CsvFile, write_table
from pmtrack.errors import UnreadableInput
from pmtrack.screens.lines import say, say_if_twice, tell

if TYPE_CHECKING:
    from pmtrack.actions.tool_room import ToolDeed


def tooling(
    context: typer.Context,
    on: On = None,
    machine: Annotated[str | None, typer.Option(help="Only tools of that machine.")] = None,
    station: Annotated[str | None, typer.Option(help="Only what is fitted in it.")] = None,
    dull_first: Annotated[bool, typer.Option("--dull-first", help="The most worn first.")] = False,
    no_tool: Annotated[
        bool,
        typer.Option("--unallocated", help="Hits of each machine that reached no tool."),
    ] = False,
    jobs: Annotated[
        Path | None,
        typer.Option(help="CSV of planned jobs (date, program, parts): days by them."),
    ] = None,
    json: Json = False,
    csv: CsvFile = None,
) -> None:
    """How worn each tool is, and when to sharpen it.

    Example: pmtrack tooling --machine TP-1 --dull-first
    """
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.references import References
    from pmtrack.actions.tooling import tool_list
    from pmtrack.actions.unallocated import unallocated
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console
    from pmtrack.screens.today_json import tool_json
    from pmtrack.screens.tooling_screen import allocation_json, show_tooling, show_unallocated

    session: Session = context.obj
    if jobs is not None and no_tool:
        raise UnreadableInput("--jobs does not go with --unallocated; keep one")
    if jobs is not None:
        by_jobs(session, on, jobs, ToolChoice(machine, station, dull_first, json, csv))
        return
    with session.view(on) as (view, _):
        if machine is not None:
            machine = References(view).machine(machine_meant(view, machine)).code
        wears = [] if no_tool else tool_list(view, machine, station)
        found = [] if (json or csv) and not no_tool else unallocated(view, machine)
    if dull_first:
        wears.sort(key=lambda wear: -wear.used)
    if csv is not None:
        write_table(csv, session.store, [*map(tool_json, wears), *map(allocation_json, found)])
    elif json:
        print_json([*map(tool_json, wears), *map(allocation_json, found)])
    elif no_tool:
        show_unallocated(found, console())
    else:
        show_tooling(wears, [] if station else found, console())


def sharpen(
    context: typer.Context,
    tool: Tool,
    mm: Annotated[str, typer.Option(help="Ground off, in mm.")],
    why: Annotated[str, typer.Option(help="planned, burr or chipped.")],
    length: Annotated[
        str | None, typer.Option(help="Length measured afterwards, in mm, if it was.")
    ] = None,
    note: Note = "",
    by: By = None,
    at: At = None,
) -> None:
    """Record that a tool was sharpened: by how much, and why.

    Example: pmtrack sharpen RD-10 --mm 0.2 --why planned
    """
    from pmtrack.actions.tool_room import ToolDeed
    from pmtrack.rules.quantity import parse_quantity

    measured = None if length is None else parse_quantity(length)
    deed = ToolDeed("sharpen", mm=parse_quantity(mm), why=why, length=measured)
    _record(context, tool, deed, (by, at, note))


def fit(
    context: typer.Context,
    tool: Tool,
    station: Annotated[str, typer.Option(help="The station, like T12.")],
    machine: Annotated[str | None, typer.Option(help="Else the tool's own machine.")] = None,
    by: By = None,
    at: At = None,
) -> None:
    """Record that a tool was fitted in a station.

    Example: pmtrack fit RD-10 --station T12
    """
    from pmtrack.actions.tool_room import ToolDeed

    _record(context, tool, ToolDeed("fit", machine=machine, station=station), (by, at, ""))


def takeout(context: typer.Context, tool: Tool, by: By = None, at: At = None) -> None:
    """Record that a tool was taken out of its station.

    Example: pmtrack takeout RD-10
    """
    from pmtrack.actions.tool_room import ToolDeed

    _record(context, tool, ToolDeed("takeout"), (by, at, ""))


Ended = Annotated[
    str | None, typer.Option("--why", help="burr or chipped, if that ended it; else planned.")
]


def replace(
    context: typer.Context,
    tool: Tool,
    why: Ended = None,
    note: Note = "",
    by: By = None,
    at: At = None,
) -> None:
    """Record that a new tool took the place of a worn one.

    Example: pmtrack replace RD-10
    """
    from pmtrack.actions.tool_room import ToolDeed

    _record(context, tool, ToolDeed("replace", why=why), (by, at, note))


def scrap(
    context: typer.Context,
    tool: Tool,
    why: Ended = None,
    note: Note = "",
    by: By = None,
    at: At = None,
) -> None:
    """Record that a tool was scrapped.

    Example: pmtrack scrap RD-10 --why chipped --note 'cracked across the face'
    """
    from pmtrack.actions.tool_room import ToolDeed

    _record(context, tool, ToolDeed("scrap", why=why), (by, at, note))


def _record(
    context: typer.Context,
    tool: str,
    deed: "ToolDeed",
    made: tuple[str | None, str | None, str],
) -> None:
    from pmtrack.actions.meant import machine_meant, tool_meant
    from pmtrack.actions.tool_room import new_event, record_event, same_event
    from pmtrack.actions.tooling import ToolRecords
    from pmtrack.actions.view import View
    from pmtrack.rules.measured import length_remark
    from pmtrack.rules.wear import wear_of
    from pmtrack.screens.tool_lines import TOLD, next_line

    session: Session = context.obj
    by, at, note = made
    with session.recording(by) as recorder:
        tool = tool_meant(recorder.view, tool)
        if deed.machine is not None:
            deed = dataclasses.replace(deed, machine=machine_meant(recorder.view, deed.machine))
        event = new_event(recorder, tool, deed, moment_of(recorder, at))
        number = record_event(recorder, event, note)
        twice = same_event(recorder, event, number)
        after = View(recorder.store, recorder.view.day)
        records = ToolRecords(after)
        (bare,) = records.bare(recorder.tool(tool))
        record, life = records.of(bare)
        wear = wear_of(record, life)
    tell(f"entry {number}: {tool} {TOLD[deed.event]}; {next_line(wear)}")
    say_if_twice(twice)
    remark = length_remark(record.tool, record.events) if deed.length is not None else None
    if remark:
        say(remark)
