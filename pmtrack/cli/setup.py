"""Commands that set a shop up: check and apply its file, and the demo."""

from pathlib import Path
from typing import Annotated

import typer

from pmtrack.cli.options import By
from pmtrack.cli.session import Session, who
from pmtrack.screens.lines import tell


def add_to(app: typer.Typer) -> None:
    """Add these commands."""
    for command in (demo, sample, check, apply):
        app.command()(command)


def check(file: Annotated[Path, typer.Argument(help="The shop file.")]) -> None:
    """Check a shop file, and change nothing.

    Every fault is told with its line, its place and the mend.

    Example: pmtrack check shop.yaml
    """
    from pmtrack.actions.setup import read_shop_file

    shop = read_shop_file(file)
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
    from pmtrack.actions.setup import apply_shop, read_shop_file
    from pmtrack.rules.text import needed
    from pmtrack.screens.changes_screen import show_changes
    from pmtrack.store import open_store

    session: Session = context.obj
    shop = read_shop_file(file)
    now = session.now(shop.zone)
    name = needed(by or who(), "who records it", "--by Dana")
    store = open_store(session.store, create=True, now=now)
    try:
        with store.writing():
            changes = apply_shop(store, shop, now, name)
    finally:
        store.close()
    show_changes(changes)


def demo(context: typer.Context) -> None:
    """Build an invented shop with a year of history.

    Example: pmtrack --store demo.db demo
    """
    from pmtrack.cli.technician import today
    from pmtrack.demo.making import make_demo, sample_shop
    from pmtrack.screens.lines import say

    session: Session = context.obj
    say(f"A year of an invented shop goes into {session.store} ...")
    shop = sample_shop()
    make_demo(session.store, shop, session.now(shop.zone))
    today(context)
    tell(NEXT_STEPS)


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


NEXT_STEPS = """
Try next:
  pmtrack why TP-1/monthly                     technician: why, cautions, steps
  pmtrack done TP-1/monthly --minutes 85       technician: record it
  pmtrack log TP-1 --shift day --hits 41200    operator: a shift in one line
  pmtrack calendar 2027-Q1 --out q1.ics        manager: the quarter's calendar
  pmtrack report --from 2026-09-01 --to 2026-11-24"""
