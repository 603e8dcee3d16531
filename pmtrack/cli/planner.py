"""Commands of the quarter's plan: choosing days, fixing one, the sheet, the cards, publishing."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pmtrack.cli.completing import Task
from pmtrack.cli.options import At, By, Json
from pmtrack.cli.session import Session, date_of, moment_of, who
from pmtrack.cli.tables import CsvFile, write_table
from pmtrack.screens.lines import say, tell

if TYPE_CHECKING:
    from pmtrack.actions.view import View
    from pmtrack.rules.plan import Plan, Quarter

Period = Annotated[str, typer.Argument(help="Like 2027-Q1.")]
NoDaily = Annotated[
    bool, typer.Option("--no-daily", help="Leave out what recurs every working day.")
]


def plan(
    context: typer.Context,
    quarter: Period,
    save: Annotated[
        bool, typer.Option("--save", help="Keep it as the quarter's plan; later ones follow it.")
    ] = False,
    jobs: Annotated[bool, typer.Option("--jobs", help="List each job with its day.")] = False,
    parts: Annotated[
        bool, typer.Option("--parts", help="List parts and consumables week by week.")
    ] = False,
    no_daily: NoDaily = False,
    by: By = None,
    json: Json = False,
    csv: CsvFile = None,
) -> None:
    """Choose a working day for every job of a quarter.

    Windows, crew hours, notice and visits are kept; with a plan saved before, only what
    must move moves, and why is told.

    Example: pmtrack plan 2027-Q1 --save
    """
    from pmtrack.actions.planning import parse_period, plan_quarter
    from pmtrack.actions.planning_view import shown_plan
    from pmtrack.rules.text import needed
    from pmtrack.screens.lines import print_json
    from pmtrack.screens.plan_screen import as_json, show_plan
    from pmtrack.screens.terminal import console

    session: Session = context.obj
    period = parse_period(quarter)
    name = needed(by or who(), "who records it", "--by Dana") if save else ""
    with session.view() as (view, _):
        found = plan_quarter(view, period)
        shown = shown_plan(view, period, found, no_daily)
    if csv is not None:  # before the plan is kept: if it fails, nothing is
        write_table(csv, session.store, as_json(shown)["jobs"])
    number = _save(session, period, found, name) if save else None
    if csv is None and json:
        print_json(as_json(shown))
    elif csv is None:
        show_plan(shown, console(), jobs, parts)
    if number is None:
        say(f"not saved; 'pmtrack plan {period.name} --save' keeps it")
    else:
        say(f"saved as plan {number} of {period.name}")


def _save(session: Session, period: "Quarter", found: "Plan", by: str) -> int:
    """Keep a plan. The store is not locked while the plan is worked out."""
    from pmtrack.store.plans import save_plan

    with session.recording(by) as recorder:
        return save_plan(recorder.store, period.name, recorder.now, by, found)


def pin(
    context: typer.Context,
    task: Task,
    day: Annotated[str, typer.Argument(help="The day to fix it to, like 2027-01-12.")],
    reason: Annotated[str, typer.Option("--why", help="Why that day.")] = "",
    by: By = None,
    at: At = None,
) -> None:
    """Fix a task's job to a day: the one that comes nearest to it.

    Example: pmtrack pin TP-1/half-year 2027-01-12 --why "the firm offered that day"
    """
    from pmtrack.actions.meant import task_meant
    from pmtrack.actions.pinning import new_pin
    from pmtrack.actions.pinning import pin as fix
    from pmtrack.actions.pinning import release as let_go
    from pmtrack.actions.planning import job_near, other_pins, quarters_with
    from pmtrack.rules.dates import parse_date, quarter_name

    session: Session = context.obj
    wanted = parse_date(day)
    with session.recording(by) as recorder:
        task = task_meant(recorder.view, task)
        job = job_near(recorder.view, task, wanted)
        moment = moment_of(recorder, at)
        replaced = other_pins(recorder.view, job)
        for old in replaced:
            let_go(recorder, task, old.day, moment)
        pinned = fix(recorder, new_pin(job, wanted, moment, reason))
        due = quarter_name(max(job.due_on, recorder.view.day))
        holders = quarters_with(recorder.view, job)
    tell(f"entry {pinned.entry}: {task}, due {job.due_on}, is fixed to {wanted:%a %Y-%m-%d}")
    for old in replaced:
        tell(f"  in place of {old.day:%a} {old.day}, entry {old.entry}")
    for warning in pinned.warnings:
        say(warning)
    period = min(quarter_name(wanted), due)
    for other in holders:
        if other not in (period, due):
            say(f"'pmtrack plan {other} --save' first lets it go")
    say(f"'pmtrack plan {period} --save' takes it into the plan")
    if period != due:
        say(f"then 'pmtrack plan {due} --save' counts it as done on that day")


def release(
    context: typer.Context,
    task: Task,
    day: Annotated[
        str | None, typer.Argument(help="The day it is fixed to, if there are several.")
    ] = None,
    by: By = None,
    at: At = None,
) -> None:
    """Let a task's fixed job move again.

    Example: pmtrack release TP-1/half-year
    """
    from pmtrack.actions.meant import task_meant
    from pmtrack.actions.pinning import release as let_go

    session: Session = context.obj
    with session.recording(by) as recorder:
        task = task_meant(recorder.view, task)
        number = let_go(recorder, task, date_of(day), moment_of(recorder, at))
    tell(f"entry {number}: {task} may move again")


def sheet(
    context: typer.Context,
    quarter: Period,
    out: Annotated[Path, typer.Option(help="The HTML file to write.")],
    no_daily: NoDaily = False,
) -> None:
    """Write the saved plan as a sheet for the wall. One or two landscape pages.

    Example: pmtrack sheet 2027-Q1 --out q1.html --no-daily
    """
    from pmtrack.actions.planning import parse_period
    from pmtrack.actions.planning_view import wall_sheet
    from pmtrack.cli.files import keep_apart, write_whole
    from pmtrack.exports.quarter_sheet import quarter_sheet
    from pmtrack.screens.outdated_screen import say_retired

    session: Session = context.obj
    keep_apart(out, session.store)
    period = parse_period(quarter)
    with session.view() as (view, _):
        plan, retired = _saved(view, period)
        made = quarter_sheet(wall_sheet(view, period, plan, no_daily))
    write_whole(out, made.encode())
    tell(f"{out}: the sheet of {period.name}; open it in a browser and print it")
    say_retired(period.name, retired)


def cards(
    context: typer.Context,
    quarter: Period,
    out: Annotated[Path, typer.Option(help="The HTML file to write.")],
    task: Annotated[str | None, typer.Option(help="Only that task's jobs.")] = None,
    week: Annotated[str | None, typer.Option(help="Only that week's, like 2027-W03.")] = None,
    no_daily: NoDaily = False,
) -> None:
    """Write a job card for each job of the saved plan. One a page, cautions first.

    Example: pmtrack cards 2027-Q1 --week 2027-W03 --out cards.html
    """
    from pmtrack.actions.meant import task_meant
    from pmtrack.actions.planning import parse_period
    from pmtrack.actions.planning_view import cards_of
    from pmtrack.cli.files import keep_apart, write_whole
    from pmtrack.exports.job_cards import job_cards
    from pmtrack.screens.outdated_screen import say_retired

    session: Session = context.obj
    keep_apart(out, session.store)
    period = parse_period(quarter)
    with session.view() as (view, _):
        plan, retired = _saved(view, period)
        found = cards_of(view, plan, task and task_meant(view, task), week, no_daily)
        made = job_cards(found)
    write_whole(out, made.encode())
    tell(f"{out}: {len(found)} job cards; open it in a browser and print it")
    say_retired(period.name, retired)


def publish(
    context: typer.Context,
    quarter: Period,
    url: Annotated[str, typer.Option(help="The calendar's address on the CalDAV server.")],
    todos: Annotated[bool, typer.Option("--todos", help="To-dos instead of events.")] = False,
    no_daily: NoDaily = False,
) -> None:
    """Put the saved plan onto a CalDAV calendar. Only what changed is changed.

    The login comes from PMTRACK_CALDAV_USER and PMTRACK_CALDAV_PASSWORD, or the keyring.
    It can be repeated: what is there already stays.

    Example: pmtrack publish 2027-Q1 --url https://calendar.example/maintenance/
    """
    from pmtrack.actions.calendar_file import QuarterFile, calendar_entries
    from pmtrack.actions.planned_calendar import as_planned
    from pmtrack.actions.planning import parse_period
    from pmtrack.cli.files import progress
    from pmtrack.publishing.address import parse_address
    from pmtrack.publishing.collection import publish as put
    from pmtrack.publishing.credentials import login_for
    from pmtrack.screens.calendar_screen import say_left_to_others
    from pmtrack.screens.outdated_screen import say_retired

    session: Session = context.obj
    period = parse_period(quarter)
    login_for(parse_address(url))  # what is refused here is not kept as published
    with session.recording(None) as recorder:
        view = recorder.view
        plan, retired = _saved(view, period)
        file = QuarterFile(view, period, plan)
        said = calendar_entries(file, as_planned(file, plan, no_daily), recorder.now)
        title = f"{view.shop.name}: maintenance"
    with progress("publishing") as advance:
        done = put(url, said.entries, todos, title, advance)
    made = "a new calendar; " if done.created else ""
    tell(f"{made}{done.added} added, {done.changed} changed, {done.unchanged} as they were")
    say_left_to_others(said.left)
    say_retired(period.name, retired)


def _saved(view: "View", period: "Quarter") -> tuple["Plan", list[str]]:
    """The saved plan of a quarter, and its tasks that were retired, which are left out of it.

    Raises Refused when there is none.
    """
    from pmtrack.actions.outdated_plans import without_retired
    from pmtrack.actions.planning import saved_plan
    from pmtrack.errors import Refused

    found = saved_plan(view, period)
    if found is None:
        raise Refused(
            f"no plan of {period.name} is saved; save one with 'pmtrack plan {period.name} --save'"
        )
    return without_retired(view, found)
