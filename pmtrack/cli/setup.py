"""Commands that set a shop up: check and apply its file, and the demo."""

from datetime import date, timedelta
from pathlib import Path
from typing import Annotated

import typer

from pmtrack.cli.options import By
from pmtrack.cli.session import Session, who
from pmtrack.screens.lines import tell


def check(
    context: typer.Context, file: Annotated[Path, typer.Argument(help="The shop file.")]
) -> None:
    """Check a shop file, and change nothing.

    Every fault is told with its line, its place and the mend.

    Example: pmtrack check shop.yaml
    """
    from pmtrack.actions.setup import read_shop_file

    session: Session = context.obj
    shop = read_shop_file(file, session.now)
    counts = f"{len(shop.machines)} machines, {len(shop.tasks)} tasks, {len(shop.tools)} tools"
    tell(f"{file}: no faults; {counts}, {len(shop.programs)} programs")


def apply(
    context: typer.Context,
    file: Annotated[Path, typer.Argument(help="The shop file.")],
    by: By = None,
) -> None:
    """Take over a shop file: what it adds, changes, retires.

    Example: pmtrack apply shop.yaml
    """
    from pmtrack.actions.outdated_plans import outdated_plans
    from pmtrack.actions.setup import apply_shop, read_shop_file
    from pmtrack.rules.shoptime import local_date
    from pmtrack.rules.text import needed
    from pmtrack.screens.changes_screen import show_changes
    from pmtrack.screens.outdated_screen import say_outdated
    from pmtrack.store import open_store
    from pmtrack.store.damage import told_as_damage

    session: Session = context.obj
    shop = read_shop_file(file, session.now)
    now = session.now(shop.zone)
    name = needed(by or who(), "who records it", "--by Dana")
    store = open_store(session.store, create=True, now=now)
    try:
        with told_as_damage(store), store.writing():
            changes = apply_shop(store, shop, now, name)
            outdated = outdated_plans(store, changes, local_date(now, shop.zone))
    finally:
        store.close()
    show_changes(changes)
    say_outdated(outdated)


def demo(context: typer.Context) -> None:
    """Build an invented shop with a year of history.

    Example: pmtrack --store demo.db demo
    """
    from pmtrack.cli.technician import today
    from pmtrack.demo.making import make_demo, sample_shop
    from pmtrack.rules.shoptime import local_date
    from pmtrack.screens.lines import say

    session: Session = context.obj
    say(f"A year of an invented shop goes into {session.store} ...")
    shop = sample_shop()
    now = session.now(shop.zone)
    make_demo(session.store, shop, now)
    today(context)
    tell(_next_steps(str(session.store), local_date(now, shop.zone)))


def sample(
    file: Annotated[Path, typer.Argument(help="The file to write.")],
) -> None:
    """Write the sample shop file, to start your own from.

    Example: pmtrack sample shop.yaml
    """
    from pmtrack.cli.files import write_new
    from pmtrack.demo.making import sample_path

    write_new(file, sample_path().read_bytes())
    tell(f"{file}: written; change it to your shop, then 'pmtrack check {file}'")


def _next_steps(store: str, today: date) -> str:
    """What to try next in the demo store, one line for each deed."""
    from pmtrack.rules.dates import quarter_name

    past = f"--from {today - timedelta(days=60)} --to {today - timedelta(days=1)}"
    ahead = today + timedelta(days=92)
    quarter = quarter_name(ahead)
    deeds = (
        ("why TP-1/monthly", "technician: why, cautions, steps"),
        ("done TP-1/monthly --minutes 85", "technician: record it"),
        ("log PB-2 --count bends=900 --parts 140", "operator: a shift in one line"),
        (f"plan {quarter}", "manager: a day for every job of the quarter"),
        (f"calendar {quarter} --out pm.ics --no-daily", "manager: the quarter's calendar"),
        (f"report {past}", "manager: what downtime cost"),
    )
    command = "pmtrack" if store == "pmtrack.db" else f"pmtrack --store {store}"
    lines = [f"  {command} {deed}\n      {why}" for deed, why in deeds]
    return "\n".join(["", "Try next:", *lines])
