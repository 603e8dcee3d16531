"""Commands of the technician: the list, why, done, put off, out of service, and findings."""

from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.completing import Machine, Task, TaskOrTool
from pmtrack.cli.options import At, By, Exchanged, Json, Note, On, Readings, Wrapped
from pmtrack.cli.session import Session, date_of, moment_of
from pmtrack.screens.lines import say, tell

if TYPE_CHECKING:
    from pmtrack.actions.view import View
    from pmtrack.rules.shop import Tool as ToolRecord

OVERDUE_STATUS = 4
MOST_MINUTES = 100_000


def today(
    context: typer.Context,
    on: On = None,
    within: Annotated[
        int | None, typer.Option(min=0, max=3660, help="Also what is to be done in N days.")
    ] = None,
    every: Annotated[bool, typer.Option("--all", help="All tasks, also those not due.")] = False,
    fail_overdue: Annotated[
        bool, typer.Option("--fail-overdue", help="End with status 4 if something is overdue.")
    ] = False,
    json: Json = False,
) -> None:
    """What is due today, why, and with what in hand.

    Example: pmtrack today --within 14
    """
    from pmtrack.actions.today import today as list_of

    session: Session = context.obj
    with session.view(on) as (view, now):
        found = list_of(view, now, within, every)
    if json:
        from pmtrack.screens.lines import print_json
        from pmtrack.screens.today_json import as_json

        print_json(as_json(found))
    else:
        from pmtrack.screens.terminal import console
        from pmtrack.screens.today_screen import show_today

        show_today(found, console())
    if fail_overdue and any(due.state == "overdue" for due in found.items):
        raise typer.Exit(OVERDUE_STATUS)


def why(context: typer.Context, task: TaskOrTool, on: On = None, json: Json = False) -> None:
    """Why a task or a tool stands where it does. With cautions, steps and parts.

    Example: pmtrack why TP-1/monthly; or: pmtrack why RD-10
    """
    from pmtrack.actions.meant import task_meant, tool_meant

    session: Session = context.obj
    with session.view(on) as (view, _):
        code = tool_meant(view, task)
        tool = next((t for t in view.stored.tools if t.code == code), None)
        if tool:
            _why_tool(view, tool, json)
        else:
            _why_task(view, task_meant(view, task), json)


def _why_task(view: "View", name: str, json: bool) -> None:
    from pmtrack.actions.why import evidence
    from pmtrack.rules.shop import Machine as Record
    from pmtrack.screens import why_screen
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    due = view.due(view.task(name))
    machine = view.stored.machine(due.task.machine) or Record(due.task.machine, "")
    found = why_screen.Why(due, machine, evidence(view, due))
    if json:
        print_json(why_screen.as_json(found))
    else:
        why_screen.show_why(found, console())


def _why_tool(view: "View", tool: "ToolRecord", json: bool) -> None:
    from pmtrack.actions.why_tool import why_tool
    from pmtrack.rules.shop import Machine as Record
    from pmtrack.screens import why_tool_screen
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    machine = view.stored.machine(tool.machine) or Record(tool.machine, "")
    found = why_tool_screen.Shown(why_tool(view, tool), machine)
    if json:
        print_json(why_tool_screen.as_json(found))
    else:
        why_tool_screen.show_why_tool(found, console())


def done(
    context: typer.Context,
    task: Task,
    minutes: Annotated[
        int | None, typer.Option(max=MOST_MINUTES, help="Minutes that it took.")
    ] = None,
    dial: Readings = None,
    measure: Annotated[
        list[str] | None, typer.Option(help="A measured step, like pump-pressure=162.")
    ] = None,
    follow_up: Annotated[
        list[str] | None, typer.Option(help="A job that was found, like 'replace cracked hose'.")
    ] = None,
    wrapped: Wrapped = None,
    exchanged: Exchanged = None,
    confirm: Annotated[
        bool, typer.Option("--confirm", help="The dials are right, though hard to believe.")
    ] = False,
    note: Note = "",
    by: By = None,
    at: At = None,
) -> None:
    """Record that a task was done, and what was found.

    Example: pmtrack done TP-1/monthly --minutes 85 --dial hits=1204350
    """
    from pmtrack.actions.meant import task_meant
    from pmtrack.actions.technician import (
        NewCompletion,
        NewJob,
        complete,
        finish_completion,
        raise_job,
    )
    from pmtrack.cli.pairs import dials_from, quantities_from
    from pmtrack.screens.done_screen import show_done

    session: Session = context.obj
    with session.recording(by) as recorder:
        task = task_meant(recorder.view, task)
        completion = NewCompletion(
            task=task,
            moment=moment_of(recorder, at),
            minutes=minutes,
            dials=dials_from(dial, wrapped, exchanged, confirm),
            measured=quantities_from("--measure", measure),
            note=note,
        )
        noted = complete(recorder, completion)
        machine = recorder.view.task(task).machine
        raised = [
            raise_job(recorder, NewJob(machine, title, completion.moment, found_in=noted[0]))[1]
            for title in follow_up or ()
        ]
        told = finish_completion(recorder, completion, noted)
    show_done(told, raised)


def job(
    context: typer.Context,
    machine: Machine,
    title: Annotated[str, typer.Argument(help="What is to be done, like 'replace hose'.")],
    wanted: Annotated[
        str | None, typer.Option("--wanted", help="Date by which; 7 days from now if left out.")
    ] = None,
    found_in: Annotated[
        int | None, typer.Option(help="Number of the completion in which it was found.")
    ] = None,
    minutes: Annotated[
        int | None, typer.Option(min=0, max=MOST_MINUTES, help="Minutes it takes.")
    ] = None,
    by: By = None,
    at: At = None,
) -> None:
    """Put a one-off job on the list, until it is done.

    Example: pmtrack job TP-1 'replace cracked hose at the ram' --wanted 2026-12-01
    """
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.technician import NewJob, raise_job, same_job

    session: Session = context.obj
    with session.recording(by) as recorder:
        of = machine_meant(recorder.view, machine)
        new = NewJob(of, title, moment_of(recorder, at), date_of(wanted), found_in, minutes)
        number, task = raise_job(recorder, new)
        same = same_job(recorder.view, task)
    tell(f"entry {number}: {task.name} is on the list, wanted by {task.once and task.once.due_on}")
    if same:
        say(
            f"{same.name} is called the same and still to be done; "
            f"if it is the same job: pmtrack void {number} --why 'typed twice'"
        )


def defer(
    context: typer.Context,
    task: Task,
    until: Annotated[str, typer.Option(help="Through that date, like 2026-12-04.")],
    why: Annotated[str, typer.Option(help="The reason.")],
    by: By = None,
    at: At = None,
) -> None:
    """Put a task off through a date, with the reason.

    Example: pmtrack defer TP-1/monthly --until 2026-12-04 --why 'rush order'
    """
    from pmtrack.actions.meant import task_meant
    from pmtrack.actions.technician import defer as put_off
    from pmtrack.rules.dates import parse_date

    session: Session = context.obj
    with session.recording(by) as recorder:
        task = task_meant(recorder.view, task)
        number = put_off(recorder, task, parse_date(until), why, moment_of(recorder, at))
    tell(f"entry {number}: {task} is put off through {until}")


def idle(
    context: typer.Context,
    machine: Machine,
    why: Annotated[str, typer.Option(help="The reason.")],
    by: By = None,
    at: At = None,
) -> None:
    """Take a machine out of service: its tasks pause.

    Example: pmtrack idle PB-2 --why 'waiting for a back gauge drive'
    """
    _change_service(context, machine, why, (by, at))


def back(context: typer.Context, machine: Machine, by: By = None, at: At = None) -> None:
    """Bring a machine back into service.

    Its tasks stand where they would have stood.

    Example: pmtrack back PB-2
    """
    _change_service(context, machine, None, (by, at))


def _change_service(
    context: typer.Context, machine: str, why: str | None, made: tuple[str | None, str | None]
) -> None:
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.technician import change_service

    session: Session = context.obj
    by, at = made
    with session.recording(by) as recorder:
        machine = machine_meant(recorder.view, machine)
        moment = moment_of(recorder, at)
        number = change_service(recorder, machine, why is not None, why or "", moment)
    if why is not None:
        tell(f"entry {number}: {machine} is out of service; 'pmtrack back {machine}' ends it")
    else:
        tell(f"entry {number}: {machine} is back in service; see 'pmtrack today'")


def usage(context: typer.Context, on: On = None, json: Json = False) -> None:
    """How each meter stands: usage, rate, and what is estimated.

    Example: pmtrack usage --on 2026-11-25
    """
    from pmtrack.screens import usage_screen
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    with session.view(on) as (view, _):
        found = [
            usage_screen.MeterRow(machine.code, meter.name, view.standing(machine.code, meter.name))
            for machine in view.stored.machines_on(view.day)
            for meter in machine.meters
        ]
    if json:
        print_json([usage_screen.as_json(row) for row in found])
    else:
        usage_screen.show_usage(found, console())
