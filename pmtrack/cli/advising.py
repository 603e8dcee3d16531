"""Commands that tell the manager what the failures say: trends, and which intervals to change."""

from typing import Annotated

import typer

from pmtrack.cli.options import Json, On
from pmtrack.cli.session import Session, date_of

From = Annotated[
    str | None, typer.Option("--from", help="First date, like 2026-01-01; else all that is known.")
]
To = Annotated[str | None, typer.Option("--to", help="Last date; else today.")]


def add_to(app: typer.Typer) -> None:
    """Add these commands."""
    for command in (trend,):
        app.command()(command)


def trend(
    context: typer.Context,
    machine: Annotated[str | None, typer.Argument(help="One machine in full, like TP-1.")] = None,
    first: From = None,
    last: To = None,
    on: On = None,
    json: Json = False,
) -> None:
    """Is a machine getting worse? Its failures over its operating hours.

    Example: pmtrack trend TP-1
    """
    from pmtrack.actions.failing import as_of
    from pmtrack.actions.trend import trends
    from pmtrack.screens import trend_screen
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    dates = date_of(first), date_of(last)
    with session.view(on) as (view, now):
        found = trends(view, as_of(view, now), machine, dates)
    if json:
        print_json(trend_screen.as_json(found))
    else:
        trend_screen.show_trends(found, console())
