"""Commands of the manager: the quarter's calendar, the report, and imports."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.options import By, Json, On
from pmtrack.cli.session import Session
from pmtrack.rules.grouping import Grouping
from pmtrack.screens.lines import say, tell

if TYPE_CHECKING:
    from pmtrack.actions.report import Report
    from pmtrack.rules.forecast import PlannedJob
    from pmtrack.rules.plan import PlacedJob


def calendar(
    context: typer.Context,
    quarter: Annotated[str, typer.Argument(help="Like 2027-Q1.")],
    out: Annotated[Path, typer.Option(help="The calendar file to write.")],
    todos: Annotated[bool, typer.Option("--todos", help="To-dos instead of events.")] = False,
    no_daily: Annotated[
        bool, typer.Option("--no-daily", help="Leave out what recurs every working day.")
    ] = False,
) -> None:
    """Write the quarter's jobs as a calendar file.

    Any calendar program reads it. Written again later, it revises the events of the
    file before: moved, added or cancelled.

    Example: pmtrack calendar 2027-Q1 --out q1.ics --no-daily
    """
    from pmtrack.actions.calendar import in_quarter, left_out, of_plan, on_due_days, quarter_jobs
    from pmtrack.actions.calendar_file import QuarterFile, calendar_entries
    from pmtrack.actions.outdated_plans import without_retired
    from pmtrack.actions.planned_calendar import as_planned
    from pmtrack.actions.planning import parse_period, saved_plan
    from pmtrack.actions.view import View
    from pmtrack.cli.files import keep_apart, write_whole
    from pmtrack.exports.icalendar_file import calendar_file
    from pmtrack.rules.load import week_loads
    from pmtrack.screens.calendar_screen import Written, say_left_to_others, show_calendar
    from pmtrack.screens.outdated_screen import say_paused, say_retired
    from pmtrack.store.exports import store_id

    session: Session = context.obj
    asked = parse_period(quarter)
    keep_apart(out, session.store)
    with session.recording(None) as recorder:
        view: View = recorder.view
        plan, retired, paused = saved_plan(view, asked), list[str](), list[str]()
        if plan:
            plan, retired = without_retired(view, plan)
        file = QuarterFile(view, asked, plan)
        jobs: Sequence[PlacedJob | PlannedJob]
        if plan:
            left, paused = of_plan(left_out(view, asked, no_daily), plan)
            jobs = plan.jobs
            told = as_planned(file, plan, no_daily)
        else:
            planned = quarter_jobs(view, asked, no_daily)
            jobs, left = planned.jobs, planned.left
            told = on_due_days(file, planned)
        said = calendar_entries(file, told, recorder.now)
        title = f"{view.shop.name}: maintenance {asked.name}"
        data = calendar_file(title, f"{store_id(view.store)}", said.entries, todos)
        write_whole(out, data)  # before the commit: if it fails, nothing is kept as published
        loads = week_loads(jobs, view.workdays, view.shop.crew_hours, (asked.first, asked.last))
    held = {job.key for job in told.wanted} if plan else set[str]()
    own = [entry for entry in said.entries if entry.job.key in held or in_quarter(entry.job, asked)]
    show_calendar(out, Written(own, said.revised, todos), left, loads)
    say_left_to_others(said.left)
    say_retired(asked.name, retired)
    say_paused(asked.name, paused)
    if plan and plan.unfit:
        say(
            f"{len(plan.unfit)} jobs have no day in the plan; 'pmtrack plan {asked.name}' tells why"
        )


def report(
    context: typer.Context,
    first: Annotated[str, typer.Option("--from", help="First date, like 2026-10-01.")],
    last: Annotated[str, typer.Option("--to", help="Last date, like 2026-10-31.")],
    machine: Annotated[str | None, typer.Option(help="Only that machine.")] = None,
    by: Annotated[Grouping, typer.Option(help="What a line stands for.")] = Grouping.MACHINE,
    before: Annotated[
        bool, typer.Option("--before", help="Beside the period of equal length before it.")
    ] = False,
    csv: Annotated[
        Path | None, typer.Option(help="Write the lines to this CSV file, for a spreadsheet.")
    ] = None,
    html: Annotated[
        Path | None,
        typer.Option(help="Write a page with pictures to this file, to print for a meeting."),
    ] = None,
    on: On = None,
    json: Json = False,
) -> None:
    """What downtime cost, and what caused it.

    Example: pmtrack report --from 2026-10-01 --to 2026-10-31 --by kind --before
    """
    from pmtrack.actions.failing import as_of
    from pmtrack.actions.meant import machine_meant
    from pmtrack.actions.report import Asked
    from pmtrack.actions.report import report as figures
    from pmtrack.actions.three_things import three_things
    from pmtrack.cli.files import keep_apart, write_whole
    from pmtrack.cli.meeting_page import meeting_page
    from pmtrack.rules.dates import parse_date
    from pmtrack.rules.shoptime import local_date
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.report_json import as_json
    from pmtrack.screens.report_screen import show_report
    from pmtrack.screens.terminal import console
    from pmtrack.screens.three_things_screen import show_three

    session: Session = context.obj
    dates = parse_date(first), parse_date(last)
    for file in (csv, html):
        if file is not None:
            keep_apart(file, session.store)
    with session.view(on) as (view, now):
        made_on = local_date(now, view.shop.zone)
        now = as_of(view, now)
        machine = machine and machine_meant(view, machine)
        asked = Asked(*dates, machine, by, before)
        found = figures(view, now, asked)
        page = None if html is None else meeting_page(view, now, asked, made_on)
        on_screen = not json and csv is None and html is None
        things = three_things(view, now, machine) if on_screen else []
    told = say if json else tell
    if csv is not None:
        _write_rows(csv, found, told)
    if html is not None and page is not None:
        write_whole(html, page)
        told(f"{html}: the report; any browser shows and prints it")
    if json:
        print_json(as_json(found))
    elif on_screen:
        show_report(found, console())
        show_three(things, console())


def _write_rows(path: Path, found: "Report", told: Callable[[str], None]) -> None:
    """Write the lines of a report as a CSV file, in one go."""
    from pmtrack.cli.files import write_whole
    from pmtrack.exports.csv_table import csv_table
    from pmtrack.screens.report_csv import report_rows

    header, rows = report_rows(found)
    write_whole(path, csv_table(header, rows))
    told(f"{path}: {len(rows)} rows by {found.by}")


def import_rows(
    context: typer.Context,
    kind: Annotated[
        str,
        typer.Argument(help="shifts, dials, stops, completions, tool-counts or tool-events."),
    ],
    file: Annotated[Path, typer.Argument(help="A CSV file with a header row.")],
    again: Annotated[
        bool, typer.Option("--again", help="Take rows that are in the store already once more.")
    ] = False,
    by: By = None,
) -> None:
    """Take the rows of a CSV file: all or none.

    Example: pmtrack import shifts november.csv
    """
    from pmtrack.actions.importing import import_file
    from pmtrack.cli.files import opened, progress

    session: Session = context.obj
    remarks = list[str]()
    with (
        opened(file) as source,
        session.recording(by) as recorder,
        progress(f"importing {file.name}") as advance,
    ):
        taken = import_file(
            recorder.view, kind, str(file), source, recorder.now, by, again, advance, remarks.append
        )
    tell(f"{taken.rows} {kind} rows taken from {file}{_entries(taken.entries)}")
    for line in remarks:
        say(line)


def _entries(made: tuple[int, int] | None) -> str:
    """The first and last number of what was entered."""
    if made is None:
        return ""
    first, last = made
    return f": entry {first}" if first == last else f": entries {first} to {last}"
