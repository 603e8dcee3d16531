"""What the lives of tools tell of how often to sharpen them."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.options import Json, On
from pmtrack.cli.session import Session
from pmtrack.errors import UnreadableInput
from pmtrack.screens.lines import say

if TYPE_CHECKING:
    from pmtrack.actions.tool_advice import FamilyLife


def life(
    context: typer.Context,
    family: Annotated[
        str | None,
        typer.Argument(help="One family alone, like 'round punch', or a tool's code."),
    ] = None,
    machine: Annotated[str | None, typer.Option(help="Only tools of that machine.")] = None,
    on: On = None,
    json: Json = False,
    out: Annotated[
        Path | None, typer.Option(help="Write the family's life curve as a picture (SVG).")
    ] = None,
) -> None:
    """How long tools last, and how often to sharpen them.

    Example: pmtrack life "round punch" --out life.svg
    """
    from pmtrack.actions.tool_advice import family_lives
    from pmtrack.cli.files import keep_apart
    from pmtrack.screens.life_screen import as_json, show_families, show_family
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    if out is not None:
        if family is None:
            raise UnreadableInput("--out draws one family: name it, like life 'round punch'")
        keep_apart(out, session.store)
    with session.view(on) as (view, _):
        found = family_lives(view, machine, family)
        shop, day = view.shop.name, view.day
    if out is not None:
        _draw(out, found[0], f"{shop}, {day}")
    if json:
        print_json([as_json(one) for one in found])
    elif family is None:
        show_families(found, console())
    else:
        show_family(found[0], console())


def _draw(out: Path, found: "FamilyLife", where: str) -> None:
    from pmtrack.cli.files import write_whole
    from pmtrack.screens.life_picture import picture

    write_whole(out, picture(found, where))
    say(f"{out}: the life curve; any browser shows it")
