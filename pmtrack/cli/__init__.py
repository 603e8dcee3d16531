"""The command line: reads arguments, calls the actions, shows what they tell; one error door."""

import sys
from functools import cache
from pathlib import Path
from typing import Annotated

import typer
from typer.main import get_command

from pmtrack import __version__
from pmtrack.cli import streams
from pmtrack.cli.commands import Commands
from pmtrack.cli.session import Session
from pmtrack.errors import PmtrackError, Refused
from pmtrack.screens.lines import tell

app = typer.Typer(
    name="pmtrack",
    cls=Commands,
    help="Keeps the preventive maintenance of a sheet-metal fabrication shop on schedule.",
    epilog="New here? 'pmtrack demo' builds a shop with a year of history and shows its list.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def _version(wanted: bool) -> None:
    if wanted:
        tell(f"pmtrack {__version__}")
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
    context.obj.check_now()


def main(arguments: list[str] | None = None) -> int:
    """Run one command and tell its exit status: 0 done, 2 unreadable, 3 refused, 4 overdue."""
    from pmtrack.screens.lines import say

    streams.make_safe()
    try:
        status = _run(arguments)
        sys.stdout.flush()
    except PmtrackError as error:
        say(str(error))
        return error.exit_status
    except OSError as error:  # a path or an output that the system refuses
        streams.give_up_output()
        say(f"{error.filename or 'the answer'}: {(error.strerror or 'cannot be used').lower()}")
        return Refused.exit_status
    return status


_command = cache(get_command)  # a process that runs many commands reads the options once


def _run(arguments: list[str] | None) -> int:
    try:
        _command(app)(args=arguments, prog_name="pmtrack")
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    return 0
