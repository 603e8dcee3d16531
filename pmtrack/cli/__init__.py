"""The command line: reads arguments, calls the actions, shows what they tell; one error door."""

import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from pmtrack import __version__
from pmtrack.cli import manager, operator, setup, technician, toolroom
from pmtrack.cli.session import Session
from pmtrack.errors import PmtrackError

app = typer.Typer(
    name="pmtrack",
    help="Keeps the preventive maintenance of a sheet-metal fabrication shop on schedule.",
    epilog="New here? 'pmtrack demo' builds a shop with a year of history and shows its list.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def _version(wanted: bool) -> None:
    if wanted:
        print(f"pmtrack {__version__}")
        raise typer.Exit


@app.callback()
def options(
    context: typer.Context,
    store: Annotated[Path, typer.Option(envvar="PMTRACK_STORE", help="The store's file.")] = Path(
        "pmtrack.db"
    ),
    now: Annotated[
        str | None,
        typer.Option(
            envvar="PMTRACK_NOW",
            help="Act as if it were that time, like 2026-11-25T14:05: for training and tests.",
        ),
    ] = None,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Tell the version.")
    ] = False,
) -> None:
    """Keeps the preventive maintenance of a sheet-metal fabrication shop on schedule."""
    context.obj = Session(store, now)


for module in (setup, technician, operator, toolroom, manager):
    module.add_to(app)


def main(arguments: list[str] | None = None) -> int:
    """Run one command and tell its exit status: 0 done, 2 unreadable, 3 refused, 4 overdue."""
    try:
        app(args=arguments, prog_name="pmtrack")
        return 0
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    except PmtrackError as error:
        from pmtrack.screens.terminal import say

        say(str(error))
        return error.exit_status
    except BrokenPipeError:  # the reader has seen enough, as in a pipe to head
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
