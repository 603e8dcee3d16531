"""Commands of the tool room: how worn the tools are, and what was done to them."""

from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.completing import Tool
from pmtrack.cli.options import At, By, Json, Note, On
from pmtrack.cli.session import Session, moment_of
from pmtrack.screens.lines import tell

if TYPE_CHECKING:
    from pmtrack.actions.tool_room import ToolDeed


def add_to(app: typer.Typer) -> None:
    """Add these commands."""
    for command in (tooling, sharpen, fit, takeout, replace, scrap):
        app.command()(command)


def tooling(
    context: typer.Context,
    on: On = None,
    machine: Annotated[str | None, typer.Option(help="Only tools of that machine.")] = None,
    dull_first: Annotated[bool, typer.Option("--dull-first", help="The most worn first.")] = False,
    json: Json = False,
) -> None:
    """How worn each tool is, and when to sharpen it.

    Example: pmtrack tooling --machine TP-1 --dull-first
    """
    from pmtrack.actions.references import References
    from pmtrack.actions.tooling import tool_list
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console
    from pmtrack.screens.today_screen import tool_json, tool_table

    session: Session = context.obj
    with session.view(on) as (view, _):
        if machine is not None:
            References(view).machine(machine)
        wears = tool_list(view, machine)
    if dull_first:
        wears.sort(key=lambda wear: -wear.used)
    if json:
        print_json([tool_json(wear) for wear in wears])
    else:
        console().print(tool_table(wears))


def sharpen(
    context: typer.Context,
    tool: Tool,
    mm: Annotated[str, typer.Option(help="Ground off, in mm.")],
    why: Annotated[str, typer.Option(help="planned, burr or chipped.")],
    note: Note = "",
    by: By = None,
    at: At = None,
) -> None:
    """Record that a tool was sharpened: by how much, and why.

    Example: pmtrack sharpen RD-10 --mm 0.2 --why planned
    """
    from pmtrack.actions.tool_room import ToolDeed
    from pmtrack.rules.quantity import parse_quantity

    deed = ToolDeed("sharpen", mm=parse_quantity(mm), why=why)
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


def replace(
    context: typer.Context, tool: Tool, note: Note = "", by: By = None, at: At = None
) -> None:
    """Record that a new tool took the place of a worn one.

    Example: pmtrack replace RD-10
    """
    from pmtrack.actions.tool_room import ToolDeed

    _record(context, tool, ToolDeed("replace"), (by, at, note))


def scrap(
    context: typer.Context, tool: Tool, note: Note = "", by: By = None, at: At = None
) -> None:
    """Record that a tool was scrapped.

    Example: pmtrack scrap RD-10 --note 'cracked across the face'
    """
    from pmtrack.actions.tool_room import ToolDeed

    _record(context, tool, ToolDeed("scrap"), (by, at, note))


def _record(
    context: typer.Context,
    tool: str,
    deed: "ToolDeed",
    made: tuple[str | None, str | None, str],
) -> None:
    from pmtrack.actions.tool_room import new_event, record_event
    from pmtrack.actions.tooling import ToolRecords
    from pmtrack.actions.view import View
    from pmtrack.screens.tool_lines import TOLD, next_line

    session: Session = context.obj
    by, at, note = made
    with session.recording(by) as recorder:
        moment = moment_of(recorder, at)
        number = record_event(recorder, new_event(recorder, tool, deed, moment), note)
        after = View(recorder.store, recorder.view.day)
        wear = ToolRecords(after).wear(next(t for t in after.shop.tools if t.code == tool))
    tell(f"entry {number}: {tool} {TOLD[deed.event]}; {next_line(wear)}")
