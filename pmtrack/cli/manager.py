"""Commands of the manager: the quarter's calendar, the report, imports, backup."""

import typer


def add_to(app: typer.Typer) -> None:
    """Add these commands."""
