"""Whether the expected days can be relied on."""

from typing import Annotated

import typer

from pmtrack.cli.options import Json, On
from pmtrack.cli.session import Session


def backtest(
    context: typer.Context,
    machine: Annotated[str | None, typer.Argument(help="Only that machine's meters.")] = None,
    on: On = None,
    json: Json = False,
) -> None:
    """How often usage came to its mark within the range shown.

    Example: pmtrack backtest TP-1
    """
    from pmtrack.actions.backtest import backtest as replayed
    from pmtrack.actions.meant import machine_meant
    from pmtrack.cli.files import progress
    from pmtrack.screens.backtest_screen import as_json, show_backtest
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    with session.view(on) as (view, _), progress("replaying the meters") as advance:
        told = replayed(view, machine and machine_meant(view, machine), advance)
    if json:
        print_json(as_json(told))
    else:
        show_backtest(told, console())
