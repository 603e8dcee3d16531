"""Commands that tell the manager what the failures say: trends, and which intervals to change."""

from typing import Annotated

import typer

from pmtrack.cli.options import Json, On
from pmtrack.cli.session import Session, date_of
from pmtrack.cli.tables import CsvFile, write_table
from pmtrack.errors import UnreadableInput

From = Annotated[
    str | None, typer.Option("--from", help="First date, like 2026-01-01; else all that is known.")
]
To = Annotated[str | None, typer.Option("--to", help="Last date; else today.")]


def trend(
    context: typer.Context,
    machine: Annotated[str | None, typer.Argument(help="One machine in full, like TP-1.")] = None,
    first: From = None,
    last: To = None,
    on: On = None,
    json: Json = False,
    csv: CsvFile = None,
) -> None:
    """Tell from a machine's failures whether it is getting worse.

    Example: pmtrack trend TP-1
    """
    from pmtrack.actions.failing import as_of
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.trend import trends
    from pmtrack.screens import trend_screen
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    dates = date_of(first), date_of(last)
    with session.view(on) as (view, now):
        of = machine and machine_meant(view, machine)
        found = trends(view, as_of(view, now), of, dates)
    if csv is not None:
        write_table(csv, session.store, trend_screen.as_json(found))
    elif json:
        print_json(trend_screen.as_json(found))
    else:
        trend_screen.show_trends(found, console())


def advice(
    context: typer.Context,
    task: Annotated[
        str | None, typer.Argument(help="One task with all its figures, like TP-1/monthly.")
    ] = None,
    machine: Annotated[str | None, typer.Option(help="Only tasks of that machine.")] = None,
    on: On = None,
    json: Json = False,
    csv: CsvFile = None,
) -> None:
    """Tell whether PM pays, and which intervals to change first.

    Example: pmtrack advice TP-1/monthly
    """
    from pmtrack.actions.advice import advice_for, advice_of
    from pmtrack.actions.failing import as_of, watches_of
    from pmtrack.actions.meant import machine_meant, task_meant
    from pmtrack.actions.pm_pays import pays_of
    from pmtrack.actions.three_things import things_of
    from pmtrack.rules.worth import first_things
    from pmtrack.screens.advice_screen import Advised, as_json, show_advice, task_json
    from pmtrack.screens.advice_task_screen import show_task
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    if task is not None and machine is not None:
        raise UnreadableInput("a task is of one machine: --machine does not go with it; keep one")
    with session.view(on) as (view, now):
        if task is not None:
            one = advice_for(view, as_of(view, now), task_meant(view, task))
            if csv is not None:
                write_table(csv, session.store, [task_json(one)])
            else:
                print_json(task_json(one)) if json else show_task(one, console())
            return
        machine = machine and machine_meant(view, machine)
        watches = watches_of(view, as_of(view, now), machine)
        tasks = advice_of(watch for watch in watches if watch.failures)
        things = first_things(things_of(view, watches, tasks))
        told = Advised(tasks, pays_of(watches), things, machine)
        if csv is not None:
            write_table(csv, session.store, as_json(told)["tasks"])
        else:
            print_json(as_json(told)) if json else show_advice(told, console())
